// Rafters, ridge, hips, lookouts, strapping and sheets on the slopes of a roof.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

#include "framing/roof.h"

namespace warmside::framing {

namespace {

using Form = assembly::Roof::Form;

const Exact none;
const Exact lookout_spacing = Exact::sixty_fourths_of_inch(24 * 64);
// Deck where the file names none: 7/16 in OSB, span rating 24/16 (common practice).
const Exact standard_deck = Exact::sixty_fourths_of_inch(28);

class Slope {
public:
    Slope(const RoofPlan& plan, Side side, bool mirrored, Exact run)
        : p_(plan), side_(side), mirrored_(mirrored), run_(run), panel_(slope_panel(plan, side, run)) {
        frame_ = {p_.overhang, p_.overhang + p_.along(side)};
    }

    Panel take() { return std::move(panel_); }

    /// Rafters of a gable, shed or flat roof, `run` level to their upper cut.
    void commons(Exact run) {
        const auto places = placed(centres(frame_, frame_.low + p_.spacing, p_.spacing, p_.thick));
        const Exact drop = rake_drop(p_);
        for (const Exact at : places) {
            const bool end = at == places.front() || at == places.back();
            put_rafter(p_, panel_, at, run, end ? p_.low - drop : p_.low);
        }
        if (places.size() > 2) {
            first_ = places[1] - half(p_.thick);
            last_ = places[places.size() - 2] + half(p_.thick);
        }
    }

    /// Commons between the hips, jacks under them. Both hips rise from the corners at 45 degrees in plan.
    void hipped() {
        const Exact ridge = half(p_.ridge.thickness);
        // Half the hip's thickness, measured along a jack.
        const Exact hip = Exact::nearest(p_.ridge.thickness.metres() * std::numbers::sqrt2 / 2);
        const Exact whole = panel_.length, middle = half(whole);
        const bool end = whole == run_ * 2;
        std::vector<Exact> places;
        // A hip end is laid out from its king common, in the middle.
        const Exact start = end ? middle - p_.spacing * ((middle - frame_.low).count() / p_.spacing.count())
                                : frame_.low + p_.spacing;
        for (Exact at = start; at + p_.thick < frame_.high; at += p_.spacing) {
            if (at >= frame_.low + p_.thick) places.push_back(at);
        }
        for (const Exact at : placed(places)) {
            const Exact corner = std::min(at, whole - at);
            if (corner + half(p_.thick) >= run_)
                put_rafter(p_, panel_, at, run_ - ridge, p_.low);
            else
                put_rafter(p_, panel_, at, corner + half(p_.thick) - hip, p_.low, std::numbers::pi / 4);
        }
    }

    /// Flat 2x4 over the lowered end rafter or gable truss, to the edge of the roof. Between trusses `inner`
    /// is the first one's place from the frame's end.
    void lookouts(std::optional<Exact> inner) {
        if (rake_drop(p_) == none) return;
        const Section flat = named_section(*p_.house, "2x4");
        const Interval w{p_.low + p_.depth - flat.thickness, p_.low + p_.depth};
        const Exact left = inner ? frame_.low + *inner : first_, right = inner ? frame_.high - *inner : last_;
        if (left <= none || right <= left) return;
        const Exact start = Exact::nearest(p_.v_at(0.0, w.high.metres()));
        const Exact stop =
            Exact::nearest(p_.v_at((run_ - half(p_.ridge.thickness)).metres(), w.low.metres()));
        for (Exact at = start; at + flat.width <= stop; at += lookout_spacing) {
            const Interval v{at, at + flat.width};
            put(panel_, Role::lookout, flat, joist_lumber(*p_.house), {none, left}, v, w, 0);
            put(panel_, Role::lookout, flat, joist_lumber(*p_.house), {right, panel_.length}, v, w, 0);
        }
    }

    /// Plates in the slope that the studs of a gable wall meet, under the end rafters; `left` and `right` are
    /// its walls' sides.
    void rake_plates(Side left, Side right) {
        rake_plate(left, true);
        rake_plate(right, false);
    }

    /// Layers of the covering: strapping, sheets and membranes, inside and outside of the rafters.
    void cover() {
        if (!p_.covering) {
            sheets(-1, {p_.top, p_.top + standard_deck}, true);
            return;
        }
        const auto& layers = p_.covering->layers;
        Exact at;
        for (std::size_t i = 0; i < layers.size(); ++i) {
            const bool outside = static_cast<int>(i) > p_.layer;
            if (static_cast<int>(i) == p_.layer) {
                at = p_.top;
                continue;
            }
            const Interval w{at, at + layers[i].thickness};
            at = w.high;
            layer(static_cast<int>(i), layers[i], w, outside);
        }
    }

private:
    void rake_plate(Side side, bool at_left) {
        const auto& wall = wall_under(p_, side);
        const auto build = build_of(wall);
        if (!build) return;
        const Plate plate = plate_of(p_, wall);
        const Exact t = plate.thick, deep = build->bearer().depth.size();
        const Interval u =
            at_left ? Interval{frame_.low, frame_.low + deep} : Interval{frame_.high - deep, frame_.high};
        const Exact begin = p_.overhang + p_.seat;
        const double level = (run_ - begin).metres();
        const Exact length = outward(level / std::cos(p_.pitch) + t.metres() * std::tan(p_.pitch));
        Exact top = p_.low - rake_drop(p_);
        for (int i = 0; i < p_.house->details.top_plates.value; ++i, top = top - t) {
            const Exact from = Exact::nearest(p_.v_at(begin.metres(), (top - t).metres()));
            Member* m = put(panel_, Role::top_plate, plate.section, plate.lumber, u, {from, from + length},
                            {top - t, top}, 1);
            if (m) m->end_cut = {p_.pitch, p_.pitch};
        }
    }

    // Opposite slopes carry their rafters at the same places of the house.
    std::vector<Exact> placed(std::vector<Exact> places) const {
        if (!mirrored_) return places;
        for (Exact& at : places) at = panel_.length - at;
        std::reverse(places.begin(), places.end());
        return places;
    }

    // What the slope covers at height w: outside all of it, inside between the inside faces of the walls.
    Field reach(const Interval& w, bool outside) const {
        const double z = w.low.metres();
        const Field& in = p_.plan.inside;
        const Field& frame = p_.plan.whole;
        if (outside)
            return {{none, panel_.length},
                    {Exact::nearest(p_.v_at(0.0, z)), Exact::nearest(p_.v_at(run_.metres(), z))}};
        const bool y = side_ == Side::south || side_ == Side::north;
        const Interval a = y ? in.u : in.v, b = y ? frame.u : frame.v;
        const bool turned = side_ == Side::north || side_ == Side::west;
        const Exact before = turned ? b.high - a.high : a.low - b.low;
        const Exact eave = side_ == Side::south   ? in.v.low - frame.v.low
                           : side_ == Side::north ? frame.v.high - in.v.high
                           : side_ == Side::east  ? frame.u.high - in.u.high
                                                  : in.u.low - frame.u.low;
        const Exact left = frame_.low + before;
        return {{left, left + a.size()},
                {Exact::nearest(p_.v_at((p_.overhang + eave).metres(), z)),
                 Exact::nearest(p_.v_at(run_.metres(), z))}};
    }

    void sheets(int index, const Interval& w, bool outside) {
        const Field field = reach(w, outside);
        Extent extent;
        if (p_.roof->form == Form::hip) {
            // The row's lower edge is its longest; the hip's line runs at 45 degrees in plan.
            extent = [this, field](Exact v) {
                const Exact in = Exact::nearest((v - field.v.low).metres() * std::cos(p_.pitch));
                return Interval{field.u.low + in, field.u.high - in};
            };
        }
        lay_sheets(*p_.house, panel_, index, field, w, 0, extent);
    }

    void layer(int index, const assembly::Layer& layer, const Interval& w, bool outside) {
        if (layer.framing) strapping(index, *layer.framing, w, outside);
        if (is_sheet(layer)) sheets(index, w, outside);
        if (layer.membrane) lay_runs(*p_.house, panel_, index, reach(w, outside), w);
    }

    void strapping(int index, const assembly::Framing& framing, const Interval& w, bool outside) {
        const Role role = outside ? Role::batten : Role::furring;
        const Section section = section_of(framing);
        const Field field = reach(w, outside);
        const Interval depth{w.low, w.low + framing.depth};
        const bool up = framing.run == assembly::Run::vertical;
        const Interval& across = up ? field.u : field.v;
        if (framing.spacing <= none) return;
        for (const Exact at : centres(across, across.low + framing.spacing, framing.spacing, framing.width)) {
            const Interval wide{at - half(framing.width), at - half(framing.width) + framing.width};
            Interval length = up ? field.v : field.u;
            if (p_.roof->form == Form::hip) {
                const double cosine = std::cos(p_.pitch);
                if (up) {
                    const Exact corner = std::min(wide.low - field.u.low, field.u.high - wide.high);
                    length.high =
                        std::min(length.high, field.v.low + Exact::nearest(corner.metres() / cosine));
                } else {
                    const Exact in = Exact::nearest((wide.high - field.v.low).metres() * cosine);
                    length = {field.u.low + in, field.u.high - in};
                }
            }
            if (length.size() <= none) continue;
            for (const Interval& piece : pieces_of(length, {})) {
                put(panel_, role, section, joist_lumber(*p_.house), up ? wide : piece, up ? piece : wide,
                    depth, up ? 1 : 0, index);
            }
        }
    }

    const RoofPlan& p_;
    Side side_;
    bool mirrored_;
    Exact run_;
    Panel panel_;
    Interval frame_;      // of the wall's frame, on u
    Exact first_, last_;  // faces of the first and last rafter between the rakes that look to them
};

// A panel that holds one stick, from the house's point `origin` along `v`.
Panel lone(const RoofPlan& p, std::string name, const std::array<double, 3>& origin,
           const std::array<double, 3>& along) {
    Panel panel{
        .kind = Panel::Kind::roof, .name = std::move(name), .storey = p.storey->name, .origin = origin};
    panel.v = along;
    const double level = std::hypot(along[0], along[1]);
    panel.u = {along[1] / level, -along[0] / level, 0.0};
    panel.w = {panel.u[1] * along[2], -panel.u[0] * along[2], panel.u[0] * along[1] - panel.u[1] * along[0]};
    return panel;
}

void add_ridge(const RoofPlan& p, Exact length, Exact run, Side eave, Exact start,
               std::vector<Panel>& panels) {
    const Ways ways = ways_of(eave);
    const assembly::Point corner = p.left_corner(eave);
    // Its top is level with the rafters' upper edges at the plumb cut.
    const double up = p.plate().metres() + (run - p.overhang - p.seat).metres() * std::tan(p.pitch) +
                      p.depth.metres() / std::cos(p.pitch) - p.ridge.width.metres();
    const double in = (run - p.overhang).metres(), along = start.metres();
    Panel panel = lone(p, "roof " + p.roof->name + " ridge",
                       {corner.x.metres() + ways.along[0] * along + ways.inwards[0] * in,
                        corner.y.metres() + ways.along[1] * along + ways.inwards[1] * in, up},
                       {ways.along[0], ways.along[1], 0.0});
    for (const Interval& piece : pieces_of({none, length}, {})) {
        const Exact left = none - half(p.ridge.thickness);
        put(panel, Role::ridge, p.ridge, p.ridge_lumber, {left, left + p.ridge.thickness}, piece,
            {none, p.ridge.width}, 1);
    }
    panel.from = none - half(p.ridge.thickness);
    panel.length = p.ridge.thickness;
    panel.height = length;
    mark_members(panel);
    panels.push_back(std::move(panel));
}

void add_hips(const RoofPlan& p, Exact run, std::vector<Panel>& panels) {
    const double tangent = std::tan(p.pitch) / std::numbers::sqrt2;  // of the hip: it runs sqrt 2 as far
    const double angle = std::atan(tangent);
    const double short_by = p.ridge.thickness.metres() / std::numbers::sqrt2;  // half of it, at 45 degrees
    const double level = run.metres() * std::numbers::sqrt2 - short_by;
    const Exact length = outward(level / std::cos(angle) + p.ridge.width.metres() * tangent);
    for (const Side side : {Side::south, Side::east, Side::north, Side::west}) {
        const Ways ways = ways_of(side);
        const assembly::Point corner = p.left_corner(side);
        std::array<double, 3> origin{corner.x.metres(), corner.y.metres(),
                                     p.plate().metres() - (p.overhang + p.seat).metres() * std::tan(p.pitch)};
        std::array<double, 3> along{};
        for (std::size_t i = 0; i < 2; ++i) {
            origin[i] -= p.overhang.metres() * (ways.along[i] + ways.inwards[i]);
            along[i] = (ways.along[i] + ways.inwards[i]) / std::numbers::sqrt2 * std::cos(angle);
        }
        along[2] = std::sin(angle);
        Panel panel =
            lone(p, fmt::format("roof {} hip {}", p.roof->name, static_cast<int>(side) + 1), origin, along);
        const Exact left = none - half(p.ridge.thickness);
        Member* m = put(panel, Role::hip, p.ridge, p.ridge_lumber, {left, left + p.ridge.thickness},
                        {none, length}, {none, p.ridge.width}, 1);
        if (m) {
            m->end_cut = {angle, angle};
            m->bevel = {std::numbers::pi / 4, std::numbers::pi / 4};
        }
        panel.from = left;
        panel.length = p.ridge.thickness;
        panel.height = length;
        mark_members(panel);
        panels.push_back(std::move(panel));
    }
}

void warn_long(const RoofPlan& p, const std::vector<Panel>& panels, Problems& notes) {
    Exact longest;
    for (const Panel& panel : panels) {
        for (const Member& m : panel.members) {
            if (m.role == Role::rafter || m.role == Role::hip) longest = std::max(longest, m.length);
        }
    }
    if (longest > longest_piece) {
        notes.push_back(note(fmt::format("roof {}: its longest rafter or hip is {}, longer than lumber comes",
                                         p.roof->name, units::feet_inches(longest.metres())),
                             p.where()));
    }
}

}  // namespace

void frame_slopes(const RoofPlan& p, std::vector<Panel>& panels, Problems& notes) {
    const bool hip = p.roof->form == Form::hip, ridged = p.roof->form == Form::gable || hip;
    const Side main = hip && p.along(Side::south) < p.across(Side::south) ? Side::west : eaves_of(p).front();
    const Exact span = p.across(main);
    const Exact run = ridged ? p.overhang + half(span) : span + p.overhang * 2;
    std::vector<Panel> own;
    for (const Side side : eaves_of(p)) {
        const bool mirrored = side == Side::north || side == Side::west;
        Slope slope(p, side, mirrored && ridged, run);
        if (p.rafters && hip) slope.hipped();
        if (p.rafters && !hip) slope.commons(ridged ? run - half(p.ridge.thickness) : run);
        if (!hip) slope.lookouts(p.rafters ? std::nullopt : std::optional(p.spacing - half(p.thick)));
        if (p.rafters && !p.roof->over_attic && p.roof->form != Form::flat && !hip) {
            const Side right = static_cast<Side>((static_cast<int>(side) + 1) % 4);
            const Side left = static_cast<Side>((static_cast<int>(side) + 3) % 4);
            slope.rake_plates(left, right);
        }
        slope.cover();
        own.push_back(slope.take());
        mark_members(own.back());
    }
    if (p.rafters && ridged) {
        const Exact ridge = hip ? p.along(main) - span : p.along(main) + p.overhang * 2;
        if (ridge > none) {
            const Exact start = hip ? half(span) - half(p.ridge.thickness) : none - p.overhang;
            add_ridge(p, hip ? ridge + p.ridge.thickness : ridge, run, main, start, own);
        }
        if (hip) add_hips(p, run, own);
    }
    warn_long(p, own, notes);
    std::move(own.begin(), own.end(), std::back_inserter(panels));
}

}  // namespace warmside::framing
