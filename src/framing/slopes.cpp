// Rafters, lookouts and the plates of gable walls in one plane of a roof.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>
#include <numbers>

#include "framing/roof.h"

namespace warmside::framing {

namespace {

using Form = assembly::Roof::Form;
using assembly::RoofStrip;

const Exact none;
constexpr double hair = 1e-6;
const Exact lookout_spacing = Exact::sixty_fourths_of_inch(24 * 64);
// Shorter bits of a rafter beside a valley are filled on site.
constexpr double least_rafter = 3 * 0.0254;

// What a rafter covers in plan: level distances from the tail, along the side where it is longest.
struct Reach {
    double from = 0.0, to = 0.0;
    // Which side is the longer where an end is cut at 45 degrees in plan: 1 that of high places, -1 the
    // other.
    int low_cheek = 0, high_cheek = 0;
};

class Plane {
public:
    Plane(const RoofPlan& plan, const RoofPlane& edge, std::string name)
        : p_(plan), edge_(edge), ways_(ways_of(edge.side)), inner_(within()) {
        ridge_ = p_.ridge.thickness.metres() / 2;
        // Half of the thickness of a hip or valley, measured along a rafter.
        slant_ = ridge_ * std::numbers::sqrt2;
        panel(std::move(name));
    }

    Panel build() {
        if (inner_) {
            lay_out();
            if (p_.rafters) rafters();
            lookouts();
            if (p_.rafters && !p_.roof->over_attic && p_.roof->form != Form::flat && !p_.hip()) rake_plates();
        }
        cover_plane(p_, edge_, panel_);
        for (const Member& m : panel_.members) panel_.height = std::max(panel_.height, m.box.high[1]);
        mark_members(panel_);
        return std::move(panel_);
    }

private:
    void panel(std::string name) {
        const double sine = std::sin(p_.pitch), cosine = std::cos(p_.pitch);
        double most = 0.0;
        for (const RoofStrip& s : edge_.strips) most = std::max({most, s.high_from, s.high_to});
        const double start = ways_.rising() ? edge_.from() : edge_.to();
        const bool on_x = assembly::runs_east_west(edge_.side);
        // From the tail's lowest edge down by the layers inside of the rafters.
        const double line = edge_.line + p_.low.metres() * sine * ways_.inwards[on_x ? 1 : 0];
        const Exact length = Exact::nearest(edge_.to()) - Exact::nearest(edge_.from());
        panel_ = Panel{.kind = Panel::Kind::roof,
                       .name = std::move(name),
                       .assembly = p_.covering ? p_.covering->name : "",
                       .storey = p_.storey->name,
                       .from = none,
                       .length = length,
                       .height = outward(p_.v_at(most, p_.top.metres())),
                       .opaque_from = none,
                       .opaque_length = length,
                       .origin = {on_x ? start : line, on_x ? line : start,
                                  p_.underside(0.0) - p_.low.metres() * cosine}};
        panel_.u = {ways_.along[0], ways_.along[1], 0.0};
        panel_.v = {cosine * ways_.inwards[0], cosine * ways_.inwards[1], sine};
        panel_.w = {-sine * ways_.inwards[0], -sine * ways_.inwards[1], cosine};
    }

    // The same plane over the walls' frames.
    const RoofPlane* within() const {
        const RoofPlane* best = nullptr;
        double most = 0.0;
        for (const RoofPlane& plane : p_.frame.planes) {
            const double off = std::abs(plane.line - edge_.line);
            if (plane.side != edge_.side || std::abs(off - p_.overhang.metres()) > hair) continue;
            const double both = std::min(plane.to(), edge_.to()) - std::max(plane.from(), edge_.from());
            if (both > most) {
                most = both;
                best = &plane;
            }
        }
        return best;
    }

    // Place on u of a place of the house; intervals likewise.
    Exact u_at(double at) const {
        const Exact place = Exact::nearest(at);
        return ways_.rising() ? place - Exact::nearest(edge_.from()) : Exact::nearest(edge_.to()) - place;
    }
    Interval u_of(double a, double b) const {
        const Exact p = u_at(a), q = u_at(b);
        return {std::min(p, q), std::max(p, q)};
    }

    // Does the plane end at a place in a rake over its whole height there?
    bool ends_in_rake(double at, bool at_high) const {
        for (const RoofStrip& s : inner_->strips) {
            if (std::abs((at_high ? s.to : s.from) - at) > hair) continue;
            if ((at_high ? s.high_to - s.low_to : s.high_from - s.low_from) > hair) return true;
        }
        return false;
    }

    // Places of rafters in the house: on the storey's grid, flush with the rakes; from its middle where hips
    // meet over it.
    void lay_out() {
        const double from = inner_->from(), to = inner_->to(), t = p_.thick.metres();
        const double module = p_.spacing.metres();
        low_rake_ = ends_in_rake(from, false);
        high_rake_ = ends_in_rake(to, true);
        const Field& whole = p_.plan.whole;
        double start = (assembly::runs_east_west(edge_.side) ? whole.u.low : whole.v.low).metres();
        if (const auto peak = lone_peak()) start = *peak;
        start += std::ceil((from - start) / module - 1e-9) * module;
        const double first = from + t / 2, last = to - t / 2;
        if (low_rake_) places_.push_back(first);
        for (double at = start; at <= to + hair; at += module) {
            if (at < (low_rake_ ? first : from) + t - hair) continue;
            if (at > (high_rake_ ? last : to) - t + hair) continue;
            places_.push_back(at);
        }
        if (high_rake_) end_high(last, module, t);
        if (!p_.ridged()) keep_clear(t);
    }

    void end_high(double last, double module, double t) {
        // A mark that the end member covers would leave too wide a bay: its member stands against the end.
        if (places_.empty() || last - places_.back() > module + hair) places_.push_back(last - t);
        if (last - places_.back() >= t - hair) places_.push_back(last);
    }

    // Under a shed or a flat roof the plane is longer on one side of an inner rake: a rafter across the rake
    // stands against it on that side, or one on each side where both go on alone.
    void keep_clear(double t) {
        std::vector<double> out;
        for (const double at : places_) {
            const auto rake = rake_under(at - t / 2, at + t / 2);
            const auto [below, above] = rake ? going_on(*rake) : std::pair{false, false};
            if (below) out.push_back(*rake - t / 2);
            if (above) out.push_back(*rake + t / 2);
            if (!below && !above) out.push_back(at);
        }
        places_ = std::move(out);
    }
    std::optional<double> rake_under(double a, double b) const {
        for (const RoofStrip& s : inner_->strips) {
            if (s.from > a + hair && s.from < b - hair && s.from > inner_->from() + hair) return s.from;
        }
        return std::nullopt;
    }
    // Does the plane have places just below a rake, or above it, that it lacks on the other side?
    std::pair<bool, bool> going_on(double rake) const {
        const auto lone = [&](bool below) {
            return std::any_of(inner_->strips.begin(), inner_->strips.end(), [&](const RoofStrip& s) {
                if (std::abs((below ? s.to : s.from) - rake) > hair) return false;
                return std::none_of(inner_->strips.begin(), inner_->strips.end(), [&](const RoofStrip& o) {
                    return std::abs((below ? o.from : o.to) - rake) < hair &&
                           o.low_at(rake) < s.low_at(rake) + hair && o.high_at(rake) > s.high_at(rake) - hair;
                });
            });
        };
        return {lone(true), lone(false)};
    }

    // Where a plane that has no ridge comes to its point.
    std::optional<double> lone_peak() const {
        double most = 0.0, at = 0.0;
        for (const RoofStrip& s : inner_->strips) {
            if (s.high != RoofEdge::hip) return std::nullopt;
            if (s.high_to > most + hair) most = s.high_to, at = s.to;
        }
        return most > 0.0 ? std::optional(at) : std::nullopt;
    }

    // What rafters reach over: under ridges, hips and valleys all of the plane, whose tails meet in the
    // valleys; else what lies over the walls, and the overhang at its ends.
    const std::vector<RoofStrip>& strips() const { return p_.ridged() ? edge_.strips : inner_->strips; }
    double beyond() const { return p_.ridged() ? 0.0 : p_.overhang.metres(); }

    // Strips that hang together over a rafter's thickness, those under its middle first.
    std::vector<std::vector<const RoofStrip*>> under(double a, double b) const {
        std::vector<std::vector<const RoofStrip*>> out;
        const double middle = (a + b) / 2;
        for (const RoofStrip& s : strips()) {
            if (s.from <= middle && middle < s.to) out.push_back({&s});
        }
        for (auto& chain : out) {
            if (!p_.ridged()) break;
            for (const RoofStrip& s : strips()) {
                // A valley beside it may still take a corner of its tail.
                if (&s != chain.front() && s.to > a - slant_ + hair && s.from < b + slant_ - hair &&
                    adjoins(*chain.front(), s, middle))
                    chain.push_back(&s);
            }
        }
        return out;
    }

    static bool adjoins(const RoofStrip& m, const RoofStrip& s, double middle) {
        const double at = s.from >= middle ? s.from : s.to, in = std::clamp(at, m.from, m.to);
        return std::min(s.high_at(at), m.high_at(in)) - std::max(s.low_at(at), m.low_at(in)) > hair;
    }

    // Level that a strip's upper line comes to where it goes on over the next strips.
    double peak_of(const RoofStrip& s) const {
        const bool up = s.high_to >= s.high_from;
        const double top = std::max(s.high_from, s.high_to), end = up ? s.to : s.from;
        if (s.high != RoofEdge::hip) return top;
        for (const RoofStrip& next : strips()) {
            const bool beside = std::abs((up ? next.from : next.to) - end) < hair &&
                                std::abs((up ? next.high_from : next.high_to) - top) < hair;
            const bool rises = (up ? next.high_to - next.high_from : next.high_from - next.high_to) > hair;
            if (beside && rises) return peak_of(next);
        }
        return top;
    }

    // Between its lower and its upper end; level from the tail.
    Reach reach(const std::vector<const RoofStrip*>& chain, double a, double b) const {
        const double out = beyond();
        Reach r{.from = -1e9, .to = 1e9};
        double hip = 1e9, hip_top = 0.0;
        int rises = 0;
        for (const RoofStrip* s : chain) {
            const bool over = s->from < b - hair && s->to > a + hair;
            // The end of a ridge runs on by half its thickness.
            if (s->high == RoofEdge::ridge && s->from < b + ridge_ - hair && s->to > a - ridge_ + hair)
                r.to = std::min(r.to, s->high_from + out - ridge_);
            if (!over && s->low != RoofEdge::valley) continue;
            if (s->low == RoofEdge::valley) {
                const double low = s->low_at(a), high = s->low_at(b);
                r.from = std::max(r.from, std::min(low, high) + slant_ + out);
                // Not where the whole end stays clear of it.
                if (std::max(low, high) + slant_ + out > hair) r.low_cheek = high < low ? 1 : -1;
                if (!over) continue;
            } else {
                r.from = std::max(r.from, std::max(s->low_from, s->low_to));
            }
            if (s->high == RoofEdge::verge) {
                r.to = std::min(r.to, s->high_from + 2 * out);
                continue;
            }
            // Under a ridge, or under the end of one where hips meet.
            const double top = peak_of(*s) + out - ridge_;
            r.to = std::min(r.to, top);
            const double under = std::max(s->high_at(a), s->high_at(b)) - slant_ + out;
            if (s->high != RoofEdge::hip || under >= hip) continue;
            hip = under;
            hip_top = top;
            rises = s->high_at(b) > s->high_at(a) ? 1 : -1;
        }
        // A hip that takes no more than a corner of it is cut for as well, unless its point lies beside it.
        const double t = p_.thick.metres();
        if (hip < hip_top + t - slant_ - hair && hip < r.to + t - hair) r.high_cheek = rises;
        r.to = std::min(r.to, hip);
        return r;
    }
    void put_rafter(double at, const Reach& r, Exact low) {
        if (r.to - r.from < least_rafter) return;
        const double length = (r.to - r.from) / std::cos(p_.pitch) + p_.depth.metres() * std::tan(p_.pitch);
        const Exact left = u_at(at) - half(p_.thick);
        const Exact from = Exact::nearest(p_.v_at(r.from, low.metres()));
        Member* m = put(panel_, Role::rafter, p_.section, p_.lumber, {left, left + p_.thick},
                        {from, from + outward(length)}, {low, low + p_.depth}, 1, p_.layer);
        if (!m) return;
        m->end_cut = {p_.pitch, p_.pitch};
        const double cheek = ways_.rising() ? std::numbers::pi / 4 : -std::numbers::pi / 4;
        m->bevel = {r.low_cheek * cheek, r.high_cheek * cheek};
        rafters_.push_back({at, r, v_of(m->box)});
    }

    void rafters() {
        const auto supports = supports_of(p_);
        const Exact drop = rake_drop(p_);
        for (std::size_t k = 0; k < places_.size(); ++k) {
            // From left to right as seen from outside.
            const std::size_t i = ways_.rising() ? k : places_.size() - 1 - k;
            const double at = places_[i], a = at - p_.thick.metres() / 2, b = a + p_.thick.metres();
            const bool end = (low_rake_ && i == 0) || (high_rake_ && i + 1 == places_.size());
            for (const auto& chain : under(a, b)) {
                const Reach whole = reach(chain, a, b);
                for (const Reach& part : parted(whole, supports, a, b))
                    put_rafter(at, part, end ? p_.low - drop : p_.low);
            }
        }
    }

    // In two where a valley runs on under it.
    std::vector<Reach> parted(const Reach& whole, const std::vector<Support>& supports, double a,
                              double b) const {
        const bool on_x = assembly::runs_east_west(edge_.side);
        for (const Support& s : supports) {
            const auto& from = s.valley.to;
            const auto level = [&](const assembly::RoofPoint& point) {
                const double across = on_x ? point.y : point.x;
                return std::abs(across - edge_.line);
            };
            // Only the plane that it lies in.
            if (std::abs(level(from) - from.level) > hair || std::abs(level(s.end) - s.end.level) > hair)
                continue;
            const double at0 = on_x ? from.x : from.y, at1 = on_x ? s.end.x : s.end.y;
            if (b <= std::min(at0, at1) - slant_ + hair || a >= std::max(at0, at1) + slant_ - hair) continue;
            const auto at = [&](double u) {
                return from.level + (u - at0) * (s.end.level - from.level) / (at1 - at0);
            };
            const double least = std::min(at(a), at(b)), most = std::max(at(a), at(b));
            // Its end lies beside the valley's.
            if (least - slant_ > whole.to - hair || most + slant_ < whole.from + hair) return {whole};
            Reach lower = whole, upper = whole;
            lower.to = std::min(whole.to, most - slant_);
            lower.high_cheek = at(b) > at(a) ? 1 : -1;
            upper.from = std::max(whole.from, least + slant_);
            upper.low_cheek = at(b) < at(a) ? 1 : -1;
            return {lower, upper};
        }
        return {whole};
    }

    // Flat 2x4 over the lowered end rafter or gable truss, from the rake's edge to the next rafter or truss.
    void lookouts() {
        if (rake_drop(p_) == none) return;
        const Section flat = named_section(*p_.house, "2x4");
        const Interval w{p_.low + p_.depth - flat.thickness, p_.low + p_.depth};
        const Exact start = Exact::nearest(p_.v_at(0.0, w.high.metres()));
        for (const bool high : {false, true}) {
            if (!(high ? high_rake_ : low_rake_)) continue;
            const double rake = high ? edge_.to() : edge_.from();
            for (Exact at = start; at + flat.width <= panel_.height; at += lookout_spacing) {
                const Interval v{at, at + flat.width};
                const double lower = (v.low.metres() - p_.v_at(0.0, w.high.metres())) * std::cos(p_.pitch),
                             upper = (v.high.metres() - p_.v_at(0.0, w.low.metres())) * std::cos(p_.pitch);
                const auto inner = inner_place(high, v, lower, upper);
                if (!inner) continue;
                put(panel_, Role::lookout, flat, joist_lumber(*p_.house), u_of(rake, *inner), v, w, 0);
            }
        }
    }
    // Face of the first rafter or truss beside a rake that reaches over these levels; nothing where a valley
    // or the ridge lies nearer.
    std::optional<double> inner_place(bool high, const Interval& v, double lower, double upper) const {
        const double t = p_.thick.metres(), sign = high ? -1.0 : 1.0;
        const double rake = high ? inner_->to() : inner_->from();
        std::optional<double> best;
        if (!p_.rafters) {
            best = rake + sign * (p_.spacing.metres() - t / 2);
        } else {
            bool carries = false;
            for (const Placed& each : rafters_) {
                const double in = sign * (each.at - rake);
                if (in < t || !each.v.overlaps(v)) continue;
                if (best && in >= sign * (*best - rake) + t / 2) continue;
                best = each.at - sign * t / 2;
                carries = each.reach.from <= lower && each.reach.to >= upper;
            }
            if (!carries) return std::nullopt;
        }
        if (!best || sign * (*best - rake) > 2 * p_.spacing.metres()) return std::nullopt;
        const double out = beyond();
        for (const double at : {rake + sign * hair, *best}) {
            const bool inside = std::any_of(strips().begin(), strips().end(), [&](const RoofStrip& s) {
                const double low = s.low == RoofEdge::valley ? s.low_at(at) + out + slant_ : s.low_at(at);
                const double top = s.high_at(at) + out + (s.high == RoofEdge::verge ? out : -ridge_);
                return s.from - hair <= at && at <= s.to + hair && low <= lower + hair && upper <= top + hair;
            });
            if (!inside) return std::nullopt;
        }
        return best;
    }

    // Plates in the slope that the studs of a gable wall meet, under the end rafters.
    void rake_plates() {
        const double t = p_.thick.metres();
        for (const Rake& rake : rakes_of(p_)) {
            if (assembly::runs_east_west(rake.side) == assembly::runs_east_west(edge_.side)) continue;
            const bool high = rake.side == Side::east || rake.side == Side::north;
            const double at = rake.line + (high ? -t : t) / 2;
            const double a = std::abs(rake.from - inner_->line), b = std::abs(rake.to - inner_->line);
            for (const RoofStrip& s : inner_->strips) {
                if (s.from > at || s.to <= at || !beside(rake)) continue;
                rake_plate(rake, s, std::max(std::min(a, b), s.low_at(rake.line)),
                           std::min(std::max(a, b), s.high_at(rake.line)));
            }
        }
    }
    // On the side of the eave that the plane lies on.
    bool beside(const Rake& rake) const {
        const double middle = (rake.from + rake.to) / 2;
        const bool before = edge_.side == Side::south || edge_.side == Side::west;
        return before ? middle > inner_->line : middle < inner_->line;
    }
    // Between two levels over the frame.
    void rake_plate(const Rake& rake, const RoofStrip& s, double low, double high) {
        const auto& wall = wall_under(p_, rake.side);
        const auto build = build_of(wall);
        if (!build || high <= low) return;
        const Plate plate = plate_of(p_, wall);
        const Exact t = plate.thick;
        const double deep = build->bearer().depth.size().metres();
        const bool inwards = rake.side == Side::east || rake.side == Side::north;
        const Interval u = u_of(rake.line, rake.line + (inwards ? -deep : deep));
        const double out = p_.overhang.metres();
        const double begin = low + out + (low < hair ? p_.seat.metres() : 0.0);
        const double end = high + out + (s.high == RoofEdge::verge ? out : 0.0);
        const Exact length = outward((end - begin) / std::cos(p_.pitch) + t.metres() * std::tan(p_.pitch));
        Exact top = p_.low - (ends_plane(p_, rake) ? rake_drop(p_) : none);
        for (int i = 0; i < p_.house->details.top_plates.value; ++i, top = top - t) {
            const Exact from = Exact::nearest(p_.v_at(begin, (top - t).metres()));
            Member* m = put(panel_, Role::top_plate, plate.section, plate.lumber, u, {from, from + length},
                            {top - t, top}, 1);
            if (m) m->end_cut = {p_.pitch, p_.pitch};
        }
    }

    const RoofPlan& p_;
    const RoofPlane& edge_;
    Ways ways_;
    const RoofPlane* inner_;
    Panel panel_;
    double ridge_ = 0.0, slant_ = 0.0;
    bool low_rake_ = false, high_rake_ = false;
    std::vector<double> places_;
    struct Placed {
        double at = 0.0;
        Reach reach;
        Interval v;
    };
    std::vector<Placed> rafters_;
};

void warn_long(const RoofPlan& p, const std::vector<Panel>& panels, Problems& notes) {
    Exact longest;
    for (const Panel& panel : panels) {
        for (const Member& m : panel.members) {
            if (m.role == Role::rafter || m.role == Role::hip || m.role == Role::valley)
                longest = std::max(longest, m.length);
        }
    }
    if (longest > longest_piece) {
        notes.push_back(
            note(fmt::format("roof {}: its longest rafter, hip or valley is {}, longer than lumber "
                             "comes",
                             p.roof->name, units::feet_inches(longest.metres())),
                 p.where()));
    }
}

}  // namespace

Panel frame_plane(const RoofPlan& p, const RoofPlane& plane, std::string name) {
    return Plane(p, plane, std::move(name)).build();
}

void frame_slopes(const RoofPlan& p, std::vector<Panel>& panels, Problems& notes) {
    std::vector<Panel> own;
    std::map<Side, int> number;
    // Sides in the order of the compass; of one side from the west or south.
    std::vector<const RoofPlane*> order;
    for (const RoofPlane& plane : p.edge.planes) order.push_back(&plane);
    std::stable_sort(order.begin(), order.end(), [](const RoofPlane* a, const RoofPlane* b) {
        return a->side != b->side ? a->side < b->side : a->from() < b->from();
    });
    for (const RoofPlane* plane : order) {
        std::string name = fmt::format("roof {} {}", p.roof->name, assembly::name_of(plane->side));
        if (const int n = ++number[plane->side]; n > 1) name += fmt::format(" {}", n);
        own.push_back(frame_plane(p, *plane, std::move(name)));
    }
    if (p.rafters && p.ridged()) {
        warn_uncarried(p, notes);
        frame_lines(p, own);
    }
    warn_long(p, own, notes);
    std::move(own.begin(), own.end(), std::back_inserter(panels));
}

}  // namespace warmside::framing
