#include "takeoff/bays.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <tuple>

#include "takeoff/areas.h"

namespace warmside::takeoff {

namespace {

using assembly::Framing;
using framing::Box;
using framing::Member;
using framing::Panel;
using framing::Role;

struct Span {
    Exact low, high;
    [[nodiscard]] Exact size() const { return high - low; }
    [[nodiscard]] bool covers(const Span& b) const { return low <= b.low && b.high <= high; }
};
struct Rect {
    Span across, along;
};
/// Something in the field, so deep through the layer.
struct Taken {
    Rect at;
    Exact depth;
};

Rect rect_of(const Box& box, std::size_t across) {
    const std::size_t along = 1 - across;
    return {{box.low[across], box.high[across]}, {box.low[along], box.high[along]}};
}

std::vector<Exact> sorted(std::vector<Exact> cuts) {
    std::sort(cuts.begin(), cuts.end());
    cuts.erase(std::unique(cuts.begin(), cuts.end()), cuts.end());
    return cuts;
}

/// Free stretches of one strip, with the depth that is free there.
using Stretch = std::tuple<Exact, Exact, Exact>;  // low, high, depth

std::vector<Stretch> free_stretches(const std::vector<Rect>& field, const std::vector<Taken>& taken,
                                    const Span& strip, Exact thickness) {
    std::vector<const Rect*> here;
    std::vector<const Taken*> in_it;
    std::vector<Exact> cuts;
    for (const Rect& rect : field) {
        if (!rect.across.covers(strip)) continue;
        here.push_back(&rect);
        cuts.insert(cuts.end(), {rect.along.low, rect.along.high});
    }
    for (const Taken& each : taken) {
        if (!each.at.across.covers(strip)) continue;
        in_it.push_back(&each);
        cuts.insert(cuts.end(), {each.at.along.low, each.at.along.high});
    }
    cuts = sorted(std::move(cuts));
    std::vector<Stretch> out;
    for (std::size_t i = 1; i < cuts.size(); ++i) {
        const Span part{cuts[i - 1], cuts[i]};
        if (std::none_of(here.begin(), here.end(), [&](const Rect* r) { return r->along.covers(part); }))
            continue;
        Exact depth = thickness;
        for (const Taken* each : in_it)
            if (each->at.along.covers(part)) depth = depth - each->depth;
        if (depth <= Exact{}) continue;
        if (!out.empty() && std::get<1>(out.back()) == part.low && std::get<2>(out.back()) == depth)
            std::get<1>(out.back()) = part.high;
        else
            out.emplace_back(part.low, part.high, depth);
    }
    return out;
}

/// `field` less what is taken, as rectangles that are as wide as can be without a change of their ends.
std::vector<Bay> free_rectangles(const std::vector<Rect>& field, const std::vector<Taken>& taken,
                                 Exact thickness) {
    std::vector<Exact> cuts;
    for (const Rect& rect : field) cuts.insert(cuts.end(), {rect.across.low, rect.across.high});
    for (const Taken& each : taken) cuts.insert(cuts.end(), {each.at.across.low, each.at.across.high});
    cuts = sorted(std::move(cuts));
    std::vector<Bay> out;
    std::map<Stretch, Exact> open;  // and where on `across` it began
    const auto close = [&](const Stretch& stretch, Exact from, Exact to) {
        const auto& [low, high, depth] = stretch;
        Bay bay{.across = to - from, .along = high - low, .depth = depth};
        bay.area = bay.across.metres() * bay.along.metres();
        out.push_back(bay);
    };
    for (std::size_t i = 1; i < cuts.size(); ++i) {
        std::map<Stretch, Exact> now;
        for (const Stretch& each : free_stretches(field, taken, {cuts[i - 1], cuts[i]}, thickness)) {
            const auto before = open.find(each);
            now[each] = before == open.end() ? cuts[i - 1] : before->second;
        }
        for (const auto& [stretch, from] : open)
            if (!now.contains(stretch)) close(stretch, from, cuts[i - 1]);
        open = std::move(now);
    }
    for (const auto& [stretch, from] : open) close(stretch, from, cuts.back());
    return out;
}

std::vector<const Member*> members_of(const Panel& panel, std::size_t layer) {
    std::vector<const Member*> out;
    for (const Member& member : panel.members)
        if (member.layer == static_cast<int>(layer)) out.push_back(&member);
    return out;
}

/// The axis across the members: on a wall as the layer says, else the other one than most of their length
/// runs along (a wall's plates may be longer than its studs together).
std::size_t across_of(const Panel& panel, const Framing& framing, const std::vector<const Member*>& members) {
    if (panel.kind == Panel::Kind::wall) return framing.run == assembly::Run::vertical ? 0 : 1;
    std::array<double, 3> sum{};
    for (const Member* m : members) sum[static_cast<std::size_t>(m->along)] += m->length.metres();
    return sum[0] > sum[1] ? 1 : 0;
}

/// What the members that run along enclose. Plates do not count: the upper one laps over the next wall's.
Rect hull(const std::vector<const Member*>& members, std::size_t across) {
    std::optional<Rect> out;
    for (const Member* m : members) {
        if (static_cast<std::size_t>(m->along) != 1 - across) continue;
        const Rect at = rect_of(m->box, across);
        if (!out) out = at;
        out->across = {std::min(out->across.low, at.across.low), std::max(out->across.high, at.across.high)};
        out->along = {std::min(out->along.low, at.along.low), std::max(out->along.high, at.along.high)};
    }
    return out.value_or(rect_of(members.front()->box, across));
}

/// The sheets of the nearest layer inside of this one; of any layer where none lies there.
std::vector<Rect> covered(const Panel& panel, std::size_t layer, std::size_t across) {
    int nearest = -2;
    for (const auto& sheet : panel.sheets)
        if (sheet.layer < static_cast<int>(layer)) nearest = std::max(nearest, sheet.layer);
    for (const auto& sheet : panel.sheets)
        if (nearest == -2) nearest = sheet.layer;
    std::vector<Rect> out;
    for (const auto& sheet : panel.sheets)
        if (sheet.layer == nearest) out.push_back(rect_of(sheet.box, across));
    return out;
}

bool repeats(const Member& member, const Framing& framing, std::size_t across) {
    return framing.kind != Framing::Kind::solid && static_cast<std::size_t>(member.along) == 1 - across &&
           member.box.size(static_cast<int>(across)) == framing.width;
}

/// What a member takes of the field: of an I-joist or truss the web, in the middle of its width.
Taken taken_by(const Member& member, const Framing& framing, Exact thickness, std::size_t across) {
    Taken out{rect_of(member.box, across), std::min(member.box.size(2), thickness)};
    // Of a roof's truss only its lower chord lies in the wool, as the layer's framing says.
    if (member.role == Role::truss) out.depth = std::min(out.depth, framing.depth);
    if (!repeats(member, framing, across)) return out;
    const Exact web = framing.web_thickness;
    const Exact low = out.at.across.low + units::half(framing.width - web);
    out.at.across = {low, low + web};
    return out;
}

/// m3 of a member's flanges beside its web; webs with gaps give back what taken_by took too much.
double flanges_of(const Member& member, const Framing& f) {
    const double depth = f.depth.metres(), width = f.width.metres(), flange = f.flange_depth.metres();
    const double web = f.web_thickness.metres();
    const double wood = 2.0 * flange * width + (depth - 2.0 * flange) * web * f.web_share;
    return (wood - depth * web) * member.length.metres();
}

/// Between the studs of a wall under a slope.
std::vector<Bay> under_slope(const std::vector<const Member*>& members, Exact thickness) {
    std::vector<const Member*> studs;
    Exact first = members.front()->box.high[0], last = members.front()->box.low[0];
    for (const Member* m : members) {
        if (m->along == 1) studs.push_back(m);
        if (m->role != Role::bottom_plate) continue;
        first = std::min(first, m->box.low[0]);
        last = std::max(last, m->box.high[0]);
    }
    std::sort(studs.begin(), studs.end(),
              [](const Member* a, const Member* b) { return a->box.low[0] < b->box.low[0]; });
    std::vector<Bay> out;
    // Heights of the slope over the plate at the two sides of a bay, the greater one and the mean.
    const auto add = [&](Exact wide, double left, double right, double slope) {
        if (wide <= Exact{}) return;
        const double peak = left == right ? 0.5 * wide.metres() * slope : 0.0;
        const double mean = 0.5 * (left + right) + 0.5 * peak;
        const Exact along = Exact::nearest(std::max(left, right) + peak);
        out.push_back({wide, along, thickness, wide.metres() * mean});
    };
    const auto high = [&](std::size_t i) { return studs[i]->box.size(1).metres(); };
    // From a stud's longer edge to its shorter one; the stud under the ridge falls to both sides.
    const auto fall = [&](std::size_t i) {
        const bool before = i == 0 || high(i - 1) < high(i);
        const bool after = i + 1 == studs.size() || high(i + 1) < high(i);
        const bool ridge = before && after && studs.size() > 1;
        return studs[i]->box.size(0).metres() * std::tan(studs[i]->end_cut[1]) * (ridge ? 0.5 : 1.0);
    };
    for (std::size_t i = 0; i < studs.size(); ++i) {
        const double slope = std::tan(studs[i]->end_cut[1]);
        if (i == 0) add(studs[i]->box.low[0] - first, 0.0, high(i) - fall(i), slope);
        if (i + 1 == studs.size()) {
            add(last - studs[i]->box.high[0], high(i) - fall(i), 0.0, slope);
            continue;
        }
        // The shorter stud meets the bay with its longer edge, the longer stud with its shorter one; two
        // equal ones beside the ridge both with the longer.
        const double left = high(i) > high(i + 1) ? high(i) - fall(i) : high(i);
        const double right = high(i + 1) > high(i) ? high(i + 1) - fall(i + 1) : high(i + 1);
        add(studs[i + 1]->box.low[0] - studs[i]->box.high[0], left, right, slope);
    }
    return out;
}

}  // namespace

double Bays::volume() const {
    double sum = -flanges;
    for (const Bay& bay : bays) sum += bay.volume();
    return std::max(0.0, sum);
}

Bays bays_of(const assembly::House& house, const Panel& panel, const assembly::Layer& layer,
             std::size_t index) {
    Bays out;
    const auto members = members_of(panel, index);
    if (members.empty() || !layer.framing) return out;
    const Framing& framing = *layer.framing;
    out.placed = true;
    if (panel.kind == Panel::Kind::gable_wall) {
        out.bays = under_slope(members, layer.thickness);
        return out;
    }
    const std::size_t across = across_of(panel, framing, members);
    std::vector<Rect> field;
    std::vector<Taken> taken;
    if (panel.kind != Panel::Kind::wall) field = covered(panel, index, across);
    if (field.empty()) field.push_back(hull(members, across));
    for (const Member* m : members) {
        taken.push_back(taken_by(*m, framing, layer.thickness, across));
        if (repeats(*m, framing, across)) out.flanges += flanges_of(*m, framing);
    }
    if (panel.kind == Panel::Kind::wall && panel.face < house.faces.size()) {
        for (const auto& o : house.faces[panel.face].openings) {
            const Box box{{o.left, o.sill, {}}, {o.left + o.width, o.sill + o.height, layer.thickness}};
            taken.push_back({rect_of(box, across), layer.thickness});
        }
    }
    out.bays = free_rectangles(field, taken, layer.thickness);
    return out;
}

double loose_volume(const assembly::House& house, const Panel& panel, const assembly::Layer& layer,
                    std::size_t index) {
    double thickness = layer.thickness.metres();
    for (const auto& slice : assembly::slices(layer)) thickness -= slice.thickness * slice.share;
    return std::max(0.0, layer_area(house, panel, static_cast<int>(index)) * thickness);
}

std::vector<Bay> rim_bays(const Panel& panel, Exact fill) {
    std::vector<Bay> out;
    for (const Member& rim : panel.members) {
        if (rim.role != Role::rim) continue;
        const auto along = static_cast<std::size_t>(rim.along), across = 1 - along;
        const Exact depth = fill - rim.box.size(static_cast<int>(across));
        if (depth <= Exact{}) continue;
        const Exact middle = units::half(rim.box.low[along] + rim.box.high[along]);
        // The floor lies on the side that its sheets cover.
        const bool above = std::any_of(panel.sheets.begin(), panel.sheets.end(), [&](const auto& sheet) {
            return sheet.box.low[along] <= middle && middle <= sheet.box.high[along] &&
                   sheet.box.low[across] <= rim.box.high[across] &&
                   rim.box.high[across] < sheet.box.high[across];
        });
        const Span beside = above ? Span{rim.box.high[across], rim.box.high[across] + depth}
                                  : Span{rim.box.low[across] - depth, rim.box.low[across]};
        const std::vector<Rect> field{{{rim.box.low[along], rim.box.high[along]}, beside}};
        std::vector<Taken> taken;
        for (const Member& m : panel.members)
            if (&m != &rim) taken.push_back({rect_of(m.box, along), m.box.size(2)});
        const Exact high = rim.box.size(2);
        for (const Bay& free : free_rectangles(field, taken, high)) {
            if (free.depth < high) continue;
            Bay bay{.across = free.across, .along = high, .depth = free.along};
            bay.area = bay.across.metres() * bay.along.metres();
            out.push_back(bay);
        }
    }
    return out;
}

}  // namespace warmside::takeoff
