// Where walls meet floors above ground; upright sections, x from the wall's inner face outwards.
#include <algorithm>

#include "thermal/junction_draft.h"

namespace warmside::thermal {

using assembly::Details;
using conduction::rectangle;

namespace {

constexpr double panel_conductivity = 0.13;    // W/(m K), wood panels, ISO 10456 (memory)
constexpr double concrete_conductivity = 2.0;  // W/(m K), ISO 10456, 2400 kg/m3 (memory)

// Two walls on a floor between them; y = 0 at the top of the lower wall.
Draft between_storeys(JunctionKind kind, const Buildup& wall, const Details& details, double zone) {
    Draft draft(kind);
    const double far = reach(wall.thickness()), top = zone + far, s = details.member.value;
    const double deck = std::min(details.deck.value, 0.5 * zone), joists = zone - deck;
    const double inner = wall.inner(), outer = wall.outer();
    const double rim = std::min(details.rim_board.value, wall.sheets[wall.last_structural()].thickness);
    draft.air(outdoors, rectangle({wall.thickness() - air_strip, -far}, {wall.thickness() + air_strip, top}),
              wall.outside_film);
    draft.air(indoors, rectangle({-far, -far}, {0.0, top}), wall.inside_film);
    draft.upright(wall, -far, top);
    // The lining stops at the joists; behind the rim board there is wool, or the room's air.
    const double filled = details.rim_insulated.value ? inner : outer - rim;
    if (filled > 0.0) draft.air(indoors, rectangle({0.0, 0.0}, {filled, joists}), wall.inside_film);
    draft.member("rim board", rectangle({outer - rim, 0.0}, {outer, joists}), wall.wood());
    draft.member("deck", rectangle({-far, joists}, {outer, zone}), panel_conductivity);
    draft.plates(wall, "top plates", -details.top_plates.value * s, 0.0);
    draft.plates(wall, "bottom plate", zone, zone + details.bottom_plates.value * s);
    JunctionDrawing& out = draft.out();
    out.internal = 2.0 * far * wall.u();
    out.overall = out.external = out.internal + zone * wall.u();
    out.sharp = {{filled, 0.0}, {filled, joists}, {0.0, zone}};
    return draft;
}

}  // namespace

JunctionDrawing rim_joist(const Buildup& wall, const Details& details, double zone) {
    return between_storeys(JunctionKind::rim_joist, wall, details, zone).done();
}

JunctionDrawing balcony_ledger(const Buildup& wall, const Details& details, double zone) {
    Draft draft = between_storeys(JunctionKind::balcony_ledger, wall, details, zone);
    const std::size_t sheathing = std::min(wall.last_structural() + 2, wall.sheets.size());
    const double from = wall.depth(sheathing), to = std::max(wall.thickness(), from + details.member.value);
    const double top = zone - std::min(details.deck.value, 0.5 * zone);
    const double height = std::min(details.ledger.value, top);
    draft.member("ledger", rectangle({from, top - height}, {to, top}), wall.wood());
    // A ledger on a bare wall stands out into the air.
    if (to > wall.thickness()) {
        const double far = reach(wall.thickness());
        const double low = -far, high = zone + far;
        draft.out().model.regions.front().shape =
            rectangle({wall.thickness() - air_strip, low}, {to + air_strip, high});
    }
    draft.out().notes.emplace_back("The bolts of the ledger are not drawn.");
    return std::move(draft).done();
}

JunctionDrawing exposed_floor(const Buildup& wall, const Buildup& floor, const Details& details,
                              bool crawl_space) {
    Draft draft(crawl_space ? JunctionKind::sill_crawl_space : JunctionKind::exposed_floor);
    const double far = reach(wall.thickness()), left = -reach(floor.thickness());
    const double outer = wall.outer(), s = details.member.value, under = -floor.thickness();
    const double stem = std::min(details.stem_wall.value, outer - left - 0.5);
    const double bottom = crawl_space ? under - s - 1.0 : under - air_strip;
    // y = 0 at the floor. Air below the floor, outside of the wall, in the room.
    draft.air(outdoors, rectangle({left, bottom}, {outer, 0.0}), floor.outside_film);
    draft.air(outdoors, rectangle({outer, bottom}, {wall.thickness() + air_strip, far}), wall.outside_film);
    draft.air(indoors, rectangle({left, 0.0}, {0.0, far}), wall.inside_film);
    draft.upright(wall, 0, wall.last_structural() + 1, 0.0, far);
    draft.upright(wall, wall.last_structural() + 1, wall.sheets.size(), under, far);
    for (std::size_t i = 0; i < floor.sheets.size(); ++i) {
        const auto sheet =
            draft.lay(floor.sheets[i].name, rectangle({left, -floor.depth(i + 1)}, {outer, -floor.depth(i)}),
                      floor.sheets[i].conductivity);
        if (i == 0) draft.own_film(sheet, floor.inside_film);
    }
    const double rim = details.rim_board.value;
    for (std::size_t i = 0; i < floor.sheets.size(); ++i) {
        const Sheet& sheet = floor.sheets[i];
        if (!sheet.structural) continue;
        draft.member("rim board", rectangle({outer - rim, -floor.depth(i + 1)}, {outer, -floor.depth(i)}),
                     sheet.wood);
    }
    draft.plates(wall, "bottom plate", 0.0, details.bottom_plates.value * s);
    if (crawl_space) {
        draft.lay("foundation wall", rectangle({outer - stem, bottom}, {outer, under - s}),
                  concrete_conductivity);
        draft.member("sill plate", rectangle({outer - stem, under - s}, {outer, under}), wall.wood());
        draft.out().notes.emplace_back(
            "The crawl space is taken as cold as outdoors: in a closed one less heat is lost.");
    }
    JunctionDrawing& out = draft.out();
    out.internal = out.overall = far * wall.u() - left * floor.u();
    out.external = out.internal + floor.thickness() * wall.u() + wall.thickness() * floor.u();
    out.sharp = {{0.0, 0.0}};
    return std::move(draft).done();
}

}  // namespace warmside::thermal
