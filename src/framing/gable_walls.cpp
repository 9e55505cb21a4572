// Walls between the plate and a roof without an attic.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "framing/roof.h"

namespace warmside::framing {

namespace {

using Form = assembly::Roof::Form;

const Exact none;
// Studs shorter than this are filled with blocks on site.
const Exact least_stud = Exact::sixty_fourths_of_inch(3 * 64);

class GableWall {
public:
    GableWall(const RoofPlan& plan, Side side, const Build& build)
        : p_(plan),
          side_(side),
          framed_(build.bearer()),
          plate_(plate_of(plan, *build.assembly)),
          length_(plan.along(side)),
          t_(plate_.thick) {
        const Field &in = p_.plan.inside, &frame = p_.plan.whole;
        const Ways ways = ways_of(side);
        const assembly::Point corner = p_.left_corner(side);
        const Exact outer = framed_.depth.high;
        const Exact left = side == Side::south   ? in.u.low - frame.u.low
                           : side == Side::east  ? in.v.low - frame.v.low
                           : side == Side::north ? frame.u.high - in.u.high
                                                 : frame.v.high - in.v.high;
        start_ = none - left;
        const auto at = [&](std::size_t i) {
            return (i == 0 ? corner.x : corner.y).metres() + left.metres() * ways.along[i] +
                   outer.metres() * ways.inwards[i];
        };
        panel_ = Panel{.kind = Panel::Kind::gable_wall,
                       .name = fmt::format("gable {} of roof {}", name_of(side), p_.roof->name),
                       .assembly = build.assembly->name,
                       .storey = p_.storey->name,
                       .from = start_,
                       .length = length_,
                       .opaque_from = none,
                       .opaque_length = length_ - left * 2,
                       .origin = {at(0), at(1), p_.plate().metres()},
                       .u = {ways.along[0], ways.along[1], 0.0},
                       .v = {0.0, 0.0, 1.0},
                       .w = {-ways.inwards[0], -ways.inwards[1], 0.0}};
    }

    Panel build() {
        plate();
        const Exact thick = framed_.framing->width;
        const Interval run{none, length_};
        for (const Exact at : centres(run, framed_.framing->spacing, framed_.framing->spacing, thick))
            stud({at - half(thick), at - half(thick) + thick});
        if (p_.roof->form == Form::shed && side_ == high()) top_plates();
        Exact top;
        for (const Member& m : panel_.members) top = std::max(top, m.box.high[1]);
        panel_.height = top;
        mark_members(panel_);
        return std::move(panel_);
    }

private:
    Side high() const { return static_cast<Side>((static_cast<int>(eaves_of(p_).front()) + 2) % 4); }

    // Level distance from the frame's outer face at the low eave, of a place u on the frame.
    double inwards(Exact u) const {
        if (p_.roof->form == Form::gable) return std::min(u, length_ - u).metres();
        if (side_ == high()) return (p_.across(side_) - framed_.depth.size()).metres();
        // Seen from outside, the low eave lies to the left where it is the side before this one.
        const bool low_left = static_cast<int>(eaves_of(p_).front()) == (static_cast<int>(side_) + 3) % 4;
        return (low_left ? u : length_ - u).metres();
    }

    // Above the plate, to the underside of the sloping (or level) plates.
    double underside(double in) const {
        const double plates = t_.metres() * p_.house->details.top_plates.value;
        const double rise = (in - p_.seat.metres()) * std::tan(p_.pitch);
        if (p_.roof->form == Form::shed && side_ == high()) return rise - plates;
        return rise - (plates + rake_drop(p_).metres()) / std::cos(p_.pitch);
    }

    void stud(const Interval& u) {
        double longest = 0.0, shortest = 1e9;
        for (const Exact at : {u.low, u.high, std::clamp(half(length_), u.low, u.high)}) {
            const double high = underside(inwards(at));
            longest = std::max(longest, high);
            shortest = std::min(shortest, high);
        }
        const Exact length = outward(longest) - t_;
        if (Exact::nearest(shortest) - t_ < least_stud) return;
        Member* m =
            put(panel_, Role::stud, section_of(*framed_.framing), stud_lumber(*p_.house, *framed_.framing),
                {start_ + u.low, start_ + u.high}, {t_, t_ + length}, framed_.depth, 1, framed_.layer);
        if (m && longest > shortest) m->end_cut = {0.0, p_.pitch};
    }

    // As far as there is room for it under the slope.
    void plate() {
        Interval run{none, length_};
        if (p_.roof->form != Form::shed || side_ != high()) {
            const double least =
                (t_.metres() - underside(p_.seat.metres())) / std::tan(p_.pitch) + p_.seat.metres();
            const Exact in = Exact::nearest(least);
            const bool left = inwards(none) < inwards(half(length_)),
                       right = inwards(length_) < inwards(half(length_));
            if (left) run.low = in;
            if (right) run.high = length_ - in;
        }
        if (run.size() <= none) return;
        for (const Interval& piece : pieces_of(run, {}))
            level(Role::bottom_plate, {start_ + piece.low, start_ + piece.high}, none);
    }

    void top_plates() {
        const Exact base = outward(underside(inwards(none)));
        for (int i = 0; i < p_.house->details.top_plates.value; ++i) {
            for (const Interval& piece : pieces_of({none, length_}, {}))
                level(Role::top_plate, {start_ + piece.low, start_ + piece.high}, base + t_ * i);
        }
    }

    void level(Role role, const Interval& u, Exact at) {
        put(panel_, role, plate_.section, plate_.lumber, u, {at, at + t_}, framed_.depth, 0, framed_.layer);
    }

    const RoofPlan& p_;
    Side side_;
    const FramedLayer& framed_;
    Plate plate_;
    Exact length_;
    Exact t_, start_;
    Panel panel_;
};

}  // namespace

void frame_gable_walls(const RoofPlan& p, std::vector<Panel>& panels, Problems& notes) {
    if (p.roof->over_attic || p.pitch <= 0.0 || p.roof->form == Form::hip || p.roof->form == Form::flat)
        return;
    auto sides = rakes_of(*p.roof);
    if (p.roof->form == Form::shed)
        sides.push_back(static_cast<Side>((static_cast<int>(eaves_of(p).front()) + 2) % 4));
    for (const Side side : sides) {
        if (const auto build = build_of(wall_under(p, side)))
            panels.push_back(GableWall(p, side, *build).build());
    }
    notes.push_back(
        note(fmt::format("roof {}: the walls above the plate are framed on the plates below; balloon "
                         "framing or a brace at the joint is for an engineer",
                         p.roof->name),
             p.where()));
}

}  // namespace warmside::framing
