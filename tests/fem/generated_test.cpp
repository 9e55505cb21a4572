// Couplings of what the program draws by itself, junctions and a repeating cell, against finite elements.
#include <doctest/doctest.h>

#include "compare.h"
#include "thermal/junction.h"
#include "thermal/made_up.h"
#include "thermal/repeating.h"

using namespace warmside;
using namespace warmside::thermal;

namespace {

const Buildup wall = made_up::buildup();
const assembly::Details details;

void compare(const JunctionDrawing& drawing) {
    conduction::Model model = drawing.model;
    model.name = drawing.name.empty() ? name_of(drawing.kind) : drawing.name;
    fem::compare(model, fem::plane_sizes);
}

}  // namespace

TEST_CASE("drawn: outer corner") {
    compare(outer_corner(wall, details));
}

TEST_CASE("drawn: rim joist") {
    compare(rim_joist(wall, details, 0.3));
}

TEST_CASE("drawn: sill on a slab, with the ground") {
    const Buildup slab{.name = "made up",
                       .sheets = {{"concrete", 0.1, 2.0}, {"foam", 0.15, 0.036, true}},
                       .inside_film = 0.17,
                       .outside_film = 0.0};
    const auto drawing = sill_on_slab(wall, slab, details, {.area = 70.0, .perimeter = 34.0});
    REQUIRE(drawing.has_value());
    compare(*drawing);
}

TEST_CASE("drawn: eave under an attic") {
    compare(eave_under_attic(wall, made_up::flat_buildup(0.4, 0.1), details, 0.6));
}

TEST_CASE("drawn: eave under an insulated roof") {
    compare(eave_under_roof(wall, made_up::flat_buildup(0.3, 0.1), details, 0.6));
}

TEST_CASE("drawn: window jamb") {
    compare(window(JunctionKind::window_jamb, wall, details));
}

TEST_CASE("drawn: studs across an inner cavity's furring") {
    const auto assembly = made_up::inner_cavity();
    const auto states = winter_states(assembly, made_up::cold);
    REQUIRE(states.has_value());
    const auto cell = repeating_cell(assembly, *states, Include::all);
    REQUIRE(cell.has_value());
    CHECK(cell->model.geometry == conduction::Geometry::solid);
    conduction::Model model = cell->model;
    model.name = "inner cavity";
    fem::compare(model, fem::solid_sizes);
}
