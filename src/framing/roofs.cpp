#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "assembly/check.h"
#include "framing/roof.h"

namespace warmside::framing {

namespace {

using assembly::House;
using assembly::Roof;
using Form = assembly::Roof::Form;

const Exact none;
// Upper chord of a truss: 2x4, as the maker may choose otherwise (assumed).
constexpr const char* chord = "2x4";
const Exact most_seat = Exact::sixty_fourths_of_inch(224);

// A ridge or hip is as deep as the plumb cut of the rafters against it (IRC R802.3, seen in excerpt).
void choose_ridge(RoofPlan& p, Problems& notes) {
    const double needed = p.depth.metres() / std::cos(p.pitch);
    for (const char* name : {"2x4", "2x6", "2x8", "2x10", "2x12"}) {
        p.ridge = named_section(*p.house, name);
        p.ridge_lumber = joist_lumber(*p.house);
        if (p.ridge.width.metres() >= needed) return;
    }
    const Exact eighth = Exact::sixty_fourths_of_inch(8);
    const auto steps = static_cast<std::int64_t>(std::ceil(needed / eighth.metres() - 1e-6));
    p.ridge = section_of(p.ridge.thickness, eighth * steps);
    p.ridge_lumber = "laminated veneer lumber";
    const bool has_ridge = p.rafters && (p.roof->form == Form::gable || p.roof->form == Form::hip);
    if (!has_ridge) return;
    notes.push_back(
        note(fmt::format("roof {}: no 2x is as deep as the plumb cut of {} rafters, {}; the ridge is taken "
                         "as laminated veneer lumber",
                         p.roof->name, p.section.name, units::inches(needed)),
             p.where()));
}

void choose_rafters(RoofPlan& p) {
    const Roof& roof = *p.roof;
    p.spacing = roof.spacing;
    const bool own = !roof.over_attic && p.covering;
    const auto* framing = own ? assembly::main_framing(*p.covering) : nullptr;
    if (framing && (framing->member == roof.member || !p.rafters)) {
        p.section = section_of(*framing);
        p.thick = framing->width;
        p.depth = framing->depth;
        p.lumber = framing->kind == assembly::Framing::Kind::solid ? joist_lumber(*p.house) : "I-joist";
    } else {
        p.section = named_section(*p.house, p.rafters ? roof.member : chord);
        p.thick = p.section.thickness;
        p.depth = p.section.width;
        p.lumber = joist_lumber(*p.house);
    }
    if (framing) {
        p.layer = layer_of(*p.covering, framing);
        for (int i = 0; i < p.layer; ++i) p.low += p.covering->layers[static_cast<std::size_t>(i)].thickness;
        p.top = p.low + std::max(p.depth, p.covering->layers[static_cast<std::size_t>(p.layer)].thickness);
    } else {
        p.top = p.low + p.depth;
    }
}

// An outline moved out by the same distance all round; nothing where it then meets itself.
std::optional<std::vector<assembly::Point>> grown(const std::vector<assembly::Point>& outline, Exact by) {
    auto out = outline;
    const std::size_t n = outline.size();
    for (std::size_t i = 0; i < n; ++i) {
        const assembly::Point &a = outline[i], &b = outline[(i + 1) % n];
        for (assembly::Point* p : {&out[i], &out[(i + 1) % n]}) {
            if (a.y == b.y)
                p->y = b.x > a.x ? a.y - by : a.y + by;
            else
                p->x = b.y > a.y ? a.x + by : a.x - by;
        }
    }
    Problems problems;
    assembly::check_outline("roof", out, {}, std::vector<Place>(n), problems);
    return problems.empty() ? std::optional(out) : std::nullopt;
}

// Why a roof is not framed.
void refuse(const Roof& roof, const char* why, Problems& notes) {
    notes.push_back(
        note(fmt::format("roof {}: {}; the roof is not framed", roof.name, why), roof.origin.where));
}

bool find_shape(RoofPlan& p, Problems& notes) {
    const auto outline = grown(p.plan.outline, p.overhang);
    if (!outline) {
        refuse(*p.roof, "its overhangs meet across a corner of the outline", notes);
        return false;
    }
    auto frame = assembly::roof_shape(p.plan.outline, *p.roof),
         edge = assembly::roof_shape(*outline, *p.roof);
    if (!frame || !edge || frame->bodies.size() != edge->bodies.size()) {
        refuse(*p.roof, "the outline does not divide into a main body and wings no wider than it", notes);
        return false;
    }
    p.frame = std::move(*frame);
    p.edge = std::move(*edge);
    if (p.frame.turned) {
        notes.push_back(note(
            fmt::format("roof {}: only with its main ridge {} no wing is wider than the body "
                        "it stands at; it is framed so",
                        p.roof->name, p.frame.bodies.front().ridge_east_west ? "east-west" : "north-south"),
            p.where()));
    }
    return true;
}

std::optional<RoofPlan> plan_roof(const House& house, const assembly::Assembly& wall, const Roof& roof,
                                  Problems& notes) {
    RoofPlan p{.house = &house, .wall = &wall, .roof = &roof, .storey = assembly::storey_under(house, roof)};
    if (!p.storey) return std::nullopt;
    auto plan = plan_of(house, *p.storey, wall);
    if (!plan) {
        refuse(roof, "an edge of the outline does not run along an axis", notes);
        return std::nullopt;
    }
    p.plan = std::move(*plan);
    p.built = assembly::built_as(house, roof);
    p.rafters = roof.structure == Roof::Structure::rafters;
    p.pitch = roof.form == Form::flat ? 0.0 : roof.pitch;
    p.overhang = roof.overhang > none ? p.plan.beyond + roof.overhang : none;
    p.covering = roof.over_attic ? house.find(roof.deck) : p.built;
    const auto build = build_of(wall);
    p.seat = std::min(build ? build->bearer().depth.size() : most_seat, most_seat);
    choose_rafters(p);
    if (p.depth <= none || p.spacing <= p.thick || !find_shape(p, notes)) return std::nullopt;
    choose_ridge(p, notes);
    return p;
}

void note_wings(const RoofPlan& p, Problems& notes) {
    if (p.frame.bodies.empty() && p.ridged()) {
        notes.push_back(
            note(fmt::format("roof {}: the outline does not divide into a main body and wings, so its "
                             "{} are not placed",
                             p.roof->name, p.rafters ? "ceiling joists" : "trusses"),
                 p.where()));
    }
    if (p.frame.bodies.size() < 2) return;
    const char* what =
        p.rafters
            ? "where a wing meets the main body no wall carries the feet of its joists; the beam there, and "
              "what carries ridges and valleys, are not listed: an engineer sizes them"
            : "the main trusses run through; the girder or beam that carries their ends where a wing meets "
              "them is not listed, their maker or an engineer sizes it";
    notes.push_back(note(fmt::format("roof {}: {}", p.roof->name, what), p.where()));
}

void say_what_is_left_out(const RoofPlan& p, Problems& notes) {
    notes.push_back(
        note(fmt::format("roof {}: fascia, barge boards, bracing of trusses and ties against uplift are not "
                         "listed",
                         p.roof->name),
             p.where()));
    if (p.rafters && !p.roof->over_attic && (p.roof->form == Form::gable || p.roof->form == Form::hip)) {
        notes.push_back(
            note(fmt::format("roof {}: no ceiling joists tie the walls, so the ridge is a beam that carries "
                             "half the roof; an engineer sizes it and its posts",
                             p.roof->name),
                 p.where()));
    }
    if (!p.covering) {
        notes.push_back(
            note(fmt::format("roof {}: no deck is named; its sheets are taken as 7/16 in OSB", p.roof->name),
                 p.where()));
    }
}

}  // namespace

Result<std::vector<Panel>> frame_roofs(const House& house, const assembly::Assembly& wall, Problems& notes) {
    std::vector<Panel> panels;
    for (const Roof& roof : house.roofs) {
        const auto plan = plan_roof(house, wall, roof, notes);
        if (!plan) continue;
        // Trusses without an attic are counted likewise; their lining lies on the slope.
        if (roof.over_attic || !plan->rafters) panels.push_back(frame_ceiling(*plan, notes));
        frame_slopes(*plan, panels, notes);
        frame_valley_sets(*plan, panels);
        note_wings(*plan, notes);
        frame_gable_walls(*plan, panels, notes);
        say_what_is_left_out(*plan, notes);
    }
    return panels;
}

}  // namespace warmside::framing
