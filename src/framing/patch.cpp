#include "framing/patch.h"

#include <algorithm>
#include <cmath>

namespace warmside::framing {

namespace {

using assembly::RoofStrip;

const Exact none;
// Closer than this, m, places are the same; smaller pieces, m2, are none.
constexpr double hair = 1e-6;
constexpr double least_area = 1e-4;

// Where a line over from..to is at `level`, if it crosses it there.
void crossing(const RoofStrip& s, double at_from, double at_to, double level, std::vector<double>& out) {
    if ((at_from < level) == (at_to < level)) return;
    out.push_back(s.from + (s.to - s.from) * (level - at_from) / (at_to - at_from));
}

// u from..to where a line is at least (or at most) a level.
Interval where(const RoofStrip& s, double at_from, double at_to, double level, bool least) {
    const double sign = least ? 1.0 : -1.0;
    const double a = sign * (at_from - level), b = sign * (at_to - level);
    double low = s.from, high = s.to;
    if (a < -hair && b < -hair) return {};
    if (a < -hair) low = s.to - (s.to - s.from) * b / (b - a);
    if (b < -hair) high = s.from + (s.to - s.from) * a / (a - b);
    return {Exact::nearest(low), Exact::nearest(high)};
}

bool joined(const RoofStrip& a, const RoofStrip& b) {
    return std::abs(a.to - b.from) < hair &&
           std::min(a.high_to, b.high_from) - std::max(a.low_to, b.low_from) > hair;
}

// Strips that hang together, from left to right.
std::vector<Patch> chains(Patch patch) {
    std::stable_sort(patch.begin(), patch.end(),
                     [](const RoofStrip& a, const RoofStrip& b) { return a.from < b.from; });
    std::vector<Patch> out;
    for (const RoofStrip& s : patch) {
        const auto chain =
            std::find_if(out.begin(), out.end(), [&](const Patch& c) { return joined(c.back(), s); });
        if (chain == out.end())
            out.push_back({s});
        else
            chain->push_back(s);
    }
    return out;
}

double area_of(const Patch& patch) {
    double out = 0.0;
    for (const RoofStrip& s : patch) out += s.area();
    return out;
}

bool is_box(const Patch& chain, const Field& box) {
    return std::abs(area_of(chain) - box.u.size().metres() * box.v.size().metres()) < least_area;
}

}  // namespace

double area_of(const std::vector<Spot>& outline) {
    double twice = 0.0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Spot &a = outline[i], &b = outline[(i + 1) % outline.size()];
        twice += a.u.metres() * b.v.metres() - b.u.metres() * a.v.metres();
    }
    return twice / 2;
}

double area_of(const Sheet& sheet) {
    const auto of = [](const Box& b) { return b.size(0).metres() * b.size(1).metres(); };
    double out = sheet.outline.empty() ? of(sheet.box) : area_of(sheet.outline);
    for (const Box& each : sheet.cut_outs) out -= of(each);
    return out;
}

Patch patch_of(const Field& field) {
    RoofStrip s{.from = field.u.low.metres(), .to = field.u.high.metres()};
    s.low_from = s.low_to = field.v.low.metres();
    s.high_from = s.high_to = field.v.high.metres();
    return {s};
}

Patch clipped(const Patch& patch, const RoofStrip& r) {
    Patch out;
    for (const RoofStrip& s : patch) {
        const double from = std::max(s.from, r.from), to = std::min(s.to, r.to);
        if (to - from <= hair) continue;
        std::vector<double> places{from, to};
        for (const double level : {r.low_from, r.high_from}) {
            crossing(s, s.low_from, s.low_to, level, places);
            crossing(s, s.high_from, s.high_to, level, places);
        }
        std::erase_if(places, [&](double at) { return at < from || at > to; });
        std::sort(places.begin(), places.end());
        for (std::size_t i = 0; i + 1 < places.size(); ++i) {
            RoofStrip each = s;
            each.from = places[i];
            each.to = places[i + 1];
            if (each.to - each.from <= hair) continue;
            each.low_from = std::max(s.low_at(each.from), r.low_from);
            each.low_to = std::max(s.low_at(each.to), r.low_from);
            each.high_from = std::min(s.high_at(each.from), r.high_from);
            each.high_to = std::min(s.high_at(each.to), r.high_from);
            if (each.high_from + each.high_to - each.low_from - each.low_to > hair) out.push_back(each);
        }
    }
    return out;
}

std::optional<Field> around(const Patch& patch) {
    if (patch.empty()) return std::nullopt;
    double u0 = patch.front().from, u1 = u0, v0 = patch.front().low_from, v1 = v0;
    for (const RoofStrip& s : patch) {
        u0 = std::min(u0, s.from);
        u1 = std::max(u1, s.to);
        v0 = std::min({v0, s.low_from, s.low_to});
        v1 = std::max({v1, s.high_from, s.high_to});
    }
    return Field{{Exact::nearest(u0), Exact::nearest(u1)}, {Exact::nearest(v0), Exact::nearest(v1)}};
}

std::vector<Spot> outline_of(const Patch& patch) {
    std::vector<Spot> out, upper;
    const auto all = chains(patch);
    if (all.size() != 1) return out;
    const auto add = [](std::vector<Spot>& to, double u, double v) {
        const Spot spot{Exact::nearest(u), Exact::nearest(v)};
        if (to.empty() || to.back().u != spot.u || to.back().v != spot.v) to.push_back(spot);
    };
    for (const RoofStrip& s : all.front()) {
        add(out, s.from, s.low_from);
        add(out, s.to, s.low_to);
        add(upper, s.from, s.high_from);
        add(upper, s.to, s.high_to);
    }
    for (auto at = upper.rbegin(); at != upper.rend(); ++at) {
        if (out.back().u != at->u || out.back().v != at->v) out.push_back(*at);
    }
    if (out.size() > 1 && out.front().u == out.back().u && out.front().v == out.back().v) out.pop_back();
    return out;
}

std::vector<Interval> widths(const Patch& patch, const Interval& v, bool whole) {
    std::vector<Interval> found;
    for (const RoofStrip& s : patch) {
        const double low = v.low.metres(), high = v.high.metres();
        const Interval under = where(s, s.low_from, s.low_to, whole ? low : high, false);
        const Interval over = where(s, s.high_from, s.high_to, whole ? high : low, true);
        const Interval both{std::max(under.low, over.low), std::min(under.high, over.high)};
        if (under.size() > none && over.size() > none && both.size() > none) found.push_back(both);
    }
    std::sort(found.begin(), found.end(), [](const Interval& a, const Interval& b) { return a.low < b.low; });
    std::vector<Interval> out;
    for (const Interval& each : found) {
        if (!out.empty() && each.low - out.back().high <= Exact::nearest(hair))
            out.back().high = std::max(out.back().high, each.high);
        else
            out.push_back(each);
    }
    return out;
}

std::vector<Interval> heights(const Patch& patch, const Interval& u, bool longest) {
    RoofStrip all{.from = u.low.metres(), .to = u.high.metres()};
    all.low_from = -1e6;
    all.high_from = 1e6;
    std::vector<Interval> out;
    for (const Patch& chain : chains(clipped(patch, all))) {
        double low = chain.front().low_from, high = chain.front().high_from;
        for (const RoofStrip& s : chain) {
            for (const double each : {s.low_from, s.low_to})
                low = longest ? std::min(low, each) : std::max(low, each);
            for (const double each : {s.high_from, s.high_to})
                high = longest ? std::max(high, each) : std::min(high, each);
        }
        // What does not reach over all of u is no stretch of a whole stick.
        const bool through = chain.front().from < all.from + hair && chain.back().to > all.to - hair;
        if ((through || longest) && high - low > hair)
            out.push_back({Exact::nearest(low), Exact::nearest(high)});
    }
    return out;
}

void cut_sheets(Panel& panel, int layer, const Patch& patch, const Field& field, const Interval& w,
                bool upright) {
    for (const Patch& chain : chains(clipped(patch, patch_of(field).front()))) {
        const auto box = around(chain);
        if (!box || area_of(chain) < least_area) continue;
        Sheet sheet{.layer = layer,
                    .box = {{box->u.low, box->v.low, w.low}, {box->u.high, box->v.high, w.high}},
                    .long_side_up = upright};
        if (!is_box(chain, *box)) sheet.outline = outline_of(chain);
        panel.sheets.push_back(std::move(sheet));
    }
}

void lay_sheets(const assembly::House& house, Panel& panel, int layer, const Patch& patch, const Interval& w,
                bool upright) {
    const Exact wide = house.practice.sheet_width.value, length = house.practice.sheet_length.value;
    const auto field = around(patch);
    if (!field || wide <= none || length <= none) return;
    const Interval rows = upright ? field->u : field->v, whole = upright ? field->v : field->u;
    int number = 0;
    for (Exact at = rows.low; at < rows.high; at += wide, ++number) {
        const Interval row{at, std::min(at + wide, rows.high)};
        for (Exact from = number % 2 == 0 ? whole.low : whole.low - half(length); from < whole.high;
             from += length) {
            const Interval piece{std::max(from, whole.low), std::min(from + length, whole.high)};
            cut_sheets(panel, layer, patch, upright ? Field{row, piece} : Field{piece, row}, w, upright);
        }
    }
}

void lay_runs(const assembly::House& house, Panel& panel, int layer, const Patch& patch, const Interval& w) {
    const Exact wide = house.practice.roll_width.value, lap = house.practice.lap.value;
    const auto field = around(patch);
    if (!field || wide <= lap) return;
    for (Exact at = field->v.low; at < field->v.high;) {
        const bool lowest = at == field->v.low;
        const Exact low = lowest ? at : at - lap;
        const Exact high = std::min(low + wide, field->v.high);
        for (const Interval& u : widths(patch, {low, high}, false)) {
            panel.runs.push_back({.layer = layer,
                                  .box = {{u.low, low, w.low}, {u.high, high, w.high}},
                                  .lap = lowest ? none : lap});
        }
        if (!lowest) {
            for (const Interval& u : widths(patch, {at, at}, true))
                panel.seams.push_back({.layer = layer, .kind = Seam::Kind::lap, .length = u.size()});
        }
        at = high;
    }
}

}  // namespace warmside::framing
