#include "framing/roof.h"

#include <algorithm>
#include <cmath>

namespace warmside::framing {

namespace {

using assembly::Roof;
using Form = assembly::Roof::Form;

constexpr std::array<const char*, 4> names{"south", "east", "north", "west"};
const Exact none;
const Exact lookout_thick = Exact::sixty_fourths_of_inch(96);

Side opposite(Side side) {
    return static_cast<Side>((static_cast<int>(side) + 2) % 4);
}

bool faces_y(Side side) {
    return side == Side::south || side == Side::north;
}

}  // namespace

const char* name_of(Side side) {
    return names[static_cast<std::size_t>(side)];
}

Ways ways_of(Side side) {
    switch (side) {
        case Side::south: return {{1, 0}, {0, 1}};
        case Side::east: return {{0, 1}, {-1, 0}};
        case Side::north: return {{-1, 0}, {0, -1}};
        case Side::west: break;
    }
    return {{0, -1}, {1, 0}};
}

Exact RoofPlan::along(Side side) const {
    return faces_y(side) ? plan.whole.u.size() : plan.whole.v.size();
}

Exact RoofPlan::across(Side side) const {
    return faces_y(side) ? plan.whole.v.size() : plan.whole.u.size();
}

assembly::Point RoofPlan::left_corner(Side side) const {
    const Field& f = plan.whole;
    switch (side) {
        case Side::south: return {f.u.low, f.v.low};
        case Side::east: return {f.u.high, f.v.low};
        case Side::north: return {f.u.high, f.v.high};
        case Side::west: break;
    }
    return {f.u.low, f.v.high};
}

double RoofPlan::v_at(double level, double w) const {
    return level / std::cos(pitch) + (w - low.metres()) * std::tan(pitch);
}

std::vector<Side> rakes_of(const Roof& roof) {
    bool across_x = roof.ridge != "north-south";  // the slopes face north and south
    if (roof.form == Form::hip) return {};
    if (roof.form == Form::shed) across_x = roof.high_side == "north" || roof.high_side == "south";
    return across_x ? std::vector{Side::east, Side::west} : std::vector{Side::south, Side::north};
}

std::vector<Side> eaves_of(const RoofPlan& p) {
    const Roof& roof = *p.roof;
    switch (roof.form) {
        case Form::hip: return {Side::south, Side::east, Side::north, Side::west};
        case Form::gable:
            return roof.ridge == "north-south" ? std::vector{Side::east, Side::west}
                                               : std::vector{Side::south, Side::north};
        case Form::shed:
            for (const Side side : {Side::south, Side::east, Side::north, Side::west}) {
                if (roof.high_side == name_of(side)) return {opposite(side)};
            }
            break;
        case Form::flat: break;
    }
    // A flat roof spans the short way.
    return {p.plan.whole.v.size() <= p.plan.whole.u.size() ? Side::south : Side::west};
}

Exact rake_drop(const RoofPlan& plan) {
    return plan.overhang > none && plan.roof->form != Form::hip ? lookout_thick : none;
}

const assembly::Assembly& wall_under(const RoofPlan& p, Side side) {
    const Ways ways = ways_of(side);
    const assembly::Assembly* out = p.wall;
    double longest = 0.0;
    for (const assembly::Face& face : p.house->faces) {
        if (face.storey != p.storey->name) continue;
        const double length = (face.to.x - face.from.x).metres() * ways.along[0] +
                              (face.to.y - face.from.y).metres() * ways.along[1];
        if (length <= longest) continue;
        longest = length;
        const auto* named = face.assembly.empty() ? nullptr : p.house->find(face.assembly);
        out = named ? named : p.wall;
    }
    return *out;
}

Plate plate_of(const RoofPlan& p, const assembly::Assembly& wall) {
    const Exact board = Exact::nearest(p.house->details.member.value);
    const auto build = build_of(wall);
    if (!build) return {section_of(board, p.seat), joist_lumber(*p.house), board};
    const assembly::Framing& framing = *build->bearer().framing;
    const bool solid = framing.kind == assembly::Framing::Kind::solid;
    return {solid ? section_of(framing) : section_of(board, framing.depth), plate_lumber(*p.house, framing),
            solid ? framing.width : board};
}

Panel slope_panel(const RoofPlan& p, Side side, Exact run) {
    const Ways ways = ways_of(side);
    const assembly::Point corner = p.left_corner(side);
    const double sine = std::sin(p.pitch), cosine = std::cos(p.pitch), out = p.overhang.metres();
    const auto axis = [&](std::size_t i) {
        const double at = i == 0 ? corner.x.metres() : corner.y.metres();
        // From the tail's lowest edge down by the layers inside of the rafters.
        return at - out * (ways.along[i] + ways.inwards[i]) + p.low.metres() * sine * ways.inwards[i];
    };
    const double tail = p.plate().metres() - (p.overhang + p.seat).metres() * std::tan(p.pitch);
    Panel panel{.kind = Panel::Kind::roof,
                .name = "roof " + p.roof->name + " " + name_of(side),
                .assembly = p.covering ? p.covering->name : "",
                .storey = p.storey->name,
                .from = none,
                .length = p.along(side) + p.overhang * 2,
                .height = outward(p.v_at(run.metres(), p.top.metres())),
                .opaque_from = none,
                .opaque_length = p.along(side) + p.overhang * 2,
                .origin = {axis(0), axis(1), tail - p.low.metres() * cosine}};
    panel.u = {ways.along[0], ways.along[1], 0.0};
    panel.v = {cosine * ways.inwards[0], cosine * ways.inwards[1], sine};
    panel.w = {-sine * ways.inwards[0], -sine * ways.inwards[1], cosine};
    return panel;
}

void put_rafter(const RoofPlan& p, Panel& panel, Exact centre, Exact run, Exact low, double cheek) {
    const double length = run.metres() / std::cos(p.pitch) + p.depth.metres() * std::tan(p.pitch);
    const Exact left = centre - half(p.thick);
    // A rafter that lies lower has its plumb cuts further down the slope.
    const Exact shift = Exact::nearest((low - p.low).metres() * std::tan(p.pitch));
    Member* m = put(panel, Role::rafter, p.section, p.lumber, {left, left + p.thick},
                    {shift, shift + outward(length)}, {low, low + p.depth}, 1, p.layer);
    if (!m) return;
    m->end_cut = {p.pitch, p.pitch};
    m->bevel = {0.0, cheek};
}

}  // namespace warmside::framing
