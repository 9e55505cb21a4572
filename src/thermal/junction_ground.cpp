// Where walls meet slabs and basements; upright sections with the ground in them.
#include <algorithm>

#include "thermal/ground.h"
#include "thermal/junction_draft.h"

namespace warmside::thermal {

using assembly::Details;
using conduction::rectangle;

namespace {

constexpr double concrete_conductivity = 2.0;  // W/(m K), ISO 10456, 2400 kg/m3 (memory)
constexpr double foam_conductivity = 0.035;    // W/(m K), edge insulation
constexpr double panel_conductivity = 0.13;    // W/(m K), wood panels, ISO 10456 (memory)
constexpr double on_grade = 0.04;              // m2 K/W, ISO 13370

FloorPlan plan_of(const GroundPlan& ground) {
    return {.area = ground.area, .perimeter = ground.perimeter};
}

// Half of the floor inside; ground of 2.5 times its breadth outside and below (ISO 10211), 20 m at most.
struct Extent {
    double inside = 0.0, around = 0.0;
};
Extent extent_of(const GroundPlan& ground) {
    const double b = plan_of(ground).characteristic();
    return {0.5 * b, std::min(2.5 * b, 20.0)};
}

constexpr const char* external_note =
    "External dimensions: the floor to the wall's outer face, the wall from the finished floor.";

}  // namespace

Result<JunctionDrawing> sill_on_slab(const Buildup& wall, const Buildup& slab, const Details& details,
                                     const GroundPlan& ground) {
    const auto iso = thermal::slab(plan_of(ground),
                                   {.conductivity = ground.conductivity,
                                    .wall_thickness = wall.thickness(),
                                    .inside_film = slab.inside_film,
                                    .outside_film = on_grade},
                                   slab.resistance());
    if (!iso) return fail(iso.error());
    const Extent extent = extent_of(ground);
    const double far = reach(wall.thickness()), outer = wall.outer(), s = details.member.value;
    const double grade = -ground.above_grade, under = -slab.thickness();
    const double left = -extent.inside, right = outer + extent.around, bottom = grade - extent.around;
    // The foundation wall is as thick as stated below the slab; beside it, foam and wall hide under the sill.
    const double foam = std::clamp(details.edge_insulation.value, 0.0, 0.5 * outer);
    const double stem = std::min(details.stem_wall.value, 0.5 * extent.inside);
    const double inner_edge = std::max(outer - stem, foam);

    Draft draft(JunctionKind::sill_slab);
    draft.lay("ground", rectangle({left, bottom}, {right, grade}), ground.conductivity);
    if (under > grade) draft.lay("fill", rectangle({left, grade}, {outer, under}), ground.conductivity);
    draft.air(outdoors, rectangle({outer, grade}, {right, std::max(0.0, grade + air_strip)}), on_grade);
    draft.air(outdoors, rectangle({outer, 0.0}, {wall.thickness() + air_strip, far}), wall.outside_film);
    draft.air(indoors, rectangle({left, 0.0}, {0.0, far}), wall.inside_film);
    draft.upright(wall, 0.0, far);
    draft.lay(
        "foundation wall",
        rectangle({outer - stem, grade - details.foundation_depth.value}, {outer, std::min(under, grade)}),
        concrete_conductivity);
    if (under > grade)
        draft.lay("foundation wall", rectangle({outer - stem, grade}, {outer, under}), concrete_conductivity);
    draft.lay("foundation wall", rectangle({inner_edge, under}, {outer, 0.0}), concrete_conductivity);
    if (foam > 0.0)
        draft.lay("edge insulation", rectangle({inner_edge - foam, under}, {inner_edge, 0.0}),
                  foam_conductivity);
    for (std::size_t i = 0; i < slab.sheets.size(); ++i) {
        const auto sheet = draft.lay(
            slab.sheets[i].name, rectangle({left, -slab.depth(i + 1)}, {inner_edge - foam, -slab.depth(i)}),
            slab.sheets[i].conductivity);
        if (i == 0) draft.own_film(sheet, slab.inside_film);
    }
    draft.plates(wall, "bottom plate", 0.0, details.bottom_plates.value * s);
    JunctionDrawing& out = draft.out();
    out.internal = out.overall = far * wall.u() + extent.inside * iso->u;
    out.external = out.internal + wall.thickness() * iso->u;
    out.sharp = {{0.0, 0.0}};
    out.notes.emplace_back(external_note);
    out.notes.emplace_back(
        "Against the floor's U by ISO 13370: where its formula and the section differ, psi has it.");
    return std::move(draft).done();
}

Result<JunctionDrawing> sill_on_basement(const Buildup& wall, const Buildup& basement, const Buildup& floor,
                                         const Details& details, const GroundPlan& ground, double zone) {
    Ground soil{.conductivity = ground.conductivity,
                .wall_thickness = basement.thickness(),
                .inside_film = floor.inside_film,
                .outside_film = on_grade};
    const auto iso_floor = basement_floor(plan_of(ground), soil, floor.resistance(), ground.depth);
    if (!iso_floor) return fail(iso_floor.error());
    soil.inside_film = basement.inside_film;
    const auto iso_wall =
        basement_wall(soil, iso_floor->equivalent - 0.5 * ground.depth, basement.resistance(), ground.depth);
    if (!iso_wall) return fail(iso_wall.error());
    const double bare_u = 1.0 / (basement.inside_film + basement.resistance() + on_grade);

    const Extent extent = extent_of(ground);
    const double s = details.member.value, far = zone + reach(wall.thickness()), outer = wall.outer();
    const double deck = std::min(details.deck.value, 0.25 * zone), rim = details.rim_board.value;
    const double grade = -ground.above_grade, bottom = grade - ground.depth - extent.around;
    const double down = grade - ground.depth, under = down - floor.thickness();
    // Concrete: the sheet that conducts most. Its outer face stands under that of the framing.
    std::size_t core = 0;
    for (std::size_t i = 1; i < basement.sheets.size(); ++i) {
        if (basement.sheets[i].conductivity > basement.sheets[core].conductivity) core = i;
    }
    const double shift = outer - basement.depth(core + 1), left = shift - extent.inside;
    const double right = outer + extent.around;

    Draft draft(JunctionKind::sill_basement);
    draft.lay("ground", rectangle({left, bottom}, {right, grade}), ground.conductivity);
    draft.air(outdoors, rectangle({outer, grade}, {right, std::max(0.0, grade + air_strip)}), on_grade);
    draft.air(outdoors, rectangle({outer, 0.0}, {wall.thickness() + air_strip, far}), wall.outside_film);
    draft.air(indoors, rectangle({left, down}, {outer, far}), wall.inside_film);
    for (std::size_t i = 0; i < basement.sheets.size(); ++i) {
        draft.lay(basement.sheets[i].name,
                  rectangle({shift + basement.depth(i), i < core ? down : under},
                            {shift + basement.depth(i + 1), 0.0}),
                  basement.sheets[i].conductivity);
    }
    // Foam between slab and concrete, as far as the insulation inside of the concrete covers it.
    const double concrete = shift + basement.depth(core);
    const double foam = std::min(details.edge_insulation.value, basement.depth(core));
    if (foam > 0.0)
        draft.lay("edge insulation", rectangle({concrete - foam, under}, {concrete, down}),
                  foam_conductivity);
    for (std::size_t i = 0; i < floor.sheets.size(); ++i) {
        const auto sheet =
            draft.lay(floor.sheets[i].name,
                      rectangle({left, down - floor.depth(i + 1)}, {concrete - foam, down - floor.depth(i)}),
                      floor.sheets[i].conductivity);
        if (i == 0) draft.own_film(sheet, floor.inside_film);
    }
    draft.upright(wall, 0, wall.first_structural(), zone, far);
    draft.upright(wall, wall.first_structural(), wall.sheets.size(), 0.0, far);
    if (!details.rim_insulated.value)
        draft.air(indoors, rectangle({wall.inner(), 0.0}, {outer - rim, zone - deck}), wall.inside_film);
    const double sill = std::min(0.1397, basement.sheets[core].thickness);  // a 2x6 lying flat
    draft.member("sill plate", rectangle({outer - sill, 0.0}, {outer, s}), wall.wood());
    draft.member("rim board", rectangle({outer - rim, s}, {outer, zone - deck}), wall.wood());
    draft.member("deck", rectangle({std::max(left, -1.0), zone - deck}, {outer, zone}), panel_conductivity);
    draft.plates(wall, "bottom plate", zone, zone + details.bottom_plates.value * s);
    JunctionDrawing& out = draft.out();
    out.internal = (far - zone) * wall.u() + ground.above_grade * bare_u + ground.depth * *iso_wall +
                   extent.inside * iso_floor->u;
    out.overall = out.internal + zone * wall.u();
    out.external = out.overall + basement.thickness() * iso_floor->u;
    out.sharp = {{wall.inner(), 0.0}};
    out.notes.emplace_back(
        "Against U of basement wall and floor by ISO 13370: psi holds sill, floor edge and footing.");
    return std::move(draft).done();
}

}  // namespace warmside::thermal
