// What must hold of any junction. Values are in proof/thermal/junctions.toml.
#include "thermal/junction.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numeric>

#include "air/saturation.h"
#include "base/what.h"
#include "thermal/built.h"
#include "thermal/ground.h"
#include "thermal/made_up.h"

using namespace warmside;
using namespace warmside::thermal;

namespace {

Buildup wall(double core = 0.14) {
    return made_up::buildup(core);
}

Junction solved(const JunctionDrawing& drawing, bool plain = true) {
    const auto out = solve(drawing, {.plain = plain});
    REQUIRE_MESSAGE(out, (out ? std::string() : drawing.name + ": " + out.error().what));
    return *out;
}

const assembly::Details details;
constexpr GroundPlan ground{.area = 70.0, .perimeter = 34.0};

/// One of each kind.
std::vector<JunctionDrawing> all() {
    assembly::Details with_stud;
    with_stud.partition_stud.value = true;
    const Buildup floor = made_up::flat_buildup(0.25, 0.17);
    std::vector<JunctionDrawing> out{outer_corner(wall(), details),
                                     inner_corner(wall(), details),
                                     partition(wall(), with_stud),
                                     rim_joist(wall(), details, 0.3),
                                     balcony_ledger(wall(), details, 0.3),
                                     exposed_floor(wall(), floor, details, false),
                                     exposed_floor(wall(), floor, details, true),
                                     eave_under_attic(wall(), made_up::flat_buildup(0.4, 0.1), details, 0.6),
                                     eave_under_roof(wall(), made_up::flat_buildup(0.3, 0.1), details, 0.6),
                                     eave_under_roof(wall(), made_up::flat_buildup(0.3, 0.1), details, 0.0),
                                     gable_under_attic(wall(), made_up::flat_buildup(0.4, 0.1), details),
                                     window(JunctionKind::window_head, wall(), details),
                                     window(JunctionKind::window_jamb, wall(), details),
                                     window(JunctionKind::window_sill, wall(), details)};
    auto on_slab = sill_on_slab(wall(), made_up::slab_buildup(), details, ground);
    REQUIRE(on_slab);
    out.push_back(*on_slab);
    GroundPlan deep = ground;
    deep.depth = 2.0;
    Buildup basement{.name = "made up",
                     .sheets = {{"foam", 0.1, 0.036}, {"concrete", 0.2, 2.0, true}},
                     .inside_film = 0.13,
                     .outside_film = 0.0};
    auto on_basement = sill_on_basement(wall(), basement, made_up::slab_buildup(), details, deep, 0.3);
    REQUIRE(on_basement);
    out.push_back(*on_basement);
    return out;
}

}  // namespace

TEST_CASE("every kind of junction makes a model without a problem, and its numbers are possible") {
    for (const JunctionDrawing& drawing : all()) {
        CAPTURE(drawing.name);
        Problems problems;
        conduction::check(drawing.model, problems);
        CHECK(problems.empty());
        const Junction j = solved(drawing);
        CHECK(j.factor > 0.0);
        CHECK(j.factor < 1.0);
        CHECK(j.humidity > 0.0);
        CHECK(j.humidity < 0.8);
        CHECK(j.error >= 0.0);
        CHECK(j.error <= 0.002);
        CHECK(std::abs(j.psi_internal) < 0.6);
        const bool inwards = drawing.kind == JunctionKind::inner_corner;
        CHECK((inwards ? j.psi_external >= j.psi_overall : j.psi_external <= j.psi_overall + 1e-12));
        REQUIRE(j.psi_plain);
        // Wood conducts more than the wool it replaces; a partition's stud stands in what is warm.
        if (drawing.kind != JunctionKind::partition) CHECK(j.psi_internal > *j.psi_plain - 0.001);
        CHECK(j.factor_glazing.has_value() == !drawing.glazing.empty());
    }
}

// SAP 2012 Table K1, internal dimensions, W/(m K): what accredited details reach, and twice that for others
// (as quoted by a block association; evidence: quoted). Orders of size for walls of another kind, so no
// tighter.
TEST_CASE(
    "psi of timber frame lies on the good side of what a published table gives those who compute nothing") {
    const auto psi = [](const JunctionDrawing& drawing) { return solved(drawing, false).psi_internal; };
    const double jamb = psi(window(JunctionKind::window_jamb, wall(), details));
    CHECK(jamb > 0.0);
    CHECK(jamb < 0.10);  // E4
    const double head = psi(window(JunctionKind::window_head, wall(), details));
    CHECK(head > 0.0);
    CHECK(head < 0.30);  // E2, accredited
    const auto sill = sill_on_slab(wall(), made_up::slab_buildup(), details, ground);
    REQUIRE(sill);
    CHECK(psi(*sill) > 0.0);
    CHECK(psi(*sill) < 0.32);  // E5
    const double inward = psi(inner_corner(wall(), details));
    CHECK(inward < 0.0);  // E17
    CHECK(inward > -0.18);
}

TEST_CASE("psi by internal and by external dimensions of a corner differ by 2 U T") {
    const Junction j = solved(plain_corner(wall()), false);
    CHECK(j.psi_internal - j.psi_external == doctest::Approx(2.0 * wall().u() * wall().thickness()));
    CHECK(j.psi_internal == j.psi_overall);
}

TEST_CASE("a third stud only makes a corner worse, and a bare rim is worse than an insulated one") {
    assembly::Details two, three, bare;
    two.corner_studs.value = 2;
    three.corner_studs.value = 3;
    CHECK(solved(outer_corner(wall(), three), false).psi_internal >
          solved(outer_corner(wall(), two), false).psi_internal);
    bare.rim_insulated.value = false;
    const Junction filled = solved(rim_joist(wall(), details, 0.3), false);
    const Junction empty = solved(rim_joist(wall(), bare, 0.3), false);
    CHECK(empty.psi_internal > filled.psi_internal);
    CHECK(empty.factor < filled.factor);
}

TEST_CASE("an eave of hardly any pitch is the flat one, so cut cells and square ones agree") {
    const Junction level =
        solved(eave_under_roof(wall(), made_up::flat_buildup(0.3, 0.1), details, 0.0), false);
    const Junction slight =
        solved(eave_under_roof(wall(), made_up::flat_buildup(0.3, 0.1), details, 0.002), false);
    CHECK(slight.psi_internal == doctest::Approx(level.psi_internal).epsilon(0.02));
}

TEST_CASE("a lower heel leaves less insulation over the plates: more heat, colder corner") {
    assembly::Details high, low;
    high.heel.value = 0.5;
    low.heel.value = 0.12;
    const Junction tall = solved(eave_under_attic(wall(), made_up::flat_buildup(0.4, 0.1), high, 0.5), false);
    const Junction squeezed =
        solved(eave_under_attic(wall(), made_up::flat_buildup(0.4, 0.1), low, 0.5), false);
    CHECK(squeezed.psi_internal > tall.psi_internal);
    CHECK(squeezed.factor < tall.factor);
}

TEST_CASE("foam at the slab's edge takes away heat, and soil of clay less than sand") {
    assembly::Details bare;
    bare.edge_insulation.value = 0.0;
    const auto with = sill_on_slab(wall(), made_up::slab_buildup(), details, ground);
    const auto without = sill_on_slab(wall(), made_up::slab_buildup(), bare, ground);
    REQUIRE(with);
    REQUIRE(without);
    CHECK(solved(*without, false).psi_internal > solved(*with, false).psi_internal + 0.05);
    GroundPlan clay = ground;
    clay.conductivity = 1.5;
    const auto drier = sill_on_slab(wall(), made_up::slab_buildup(), details, clay);
    REQUIRE(drier);
    CHECK(solved(*drier, false).coupling < solved(*with, false).coupling);
}

TEST_CASE("a floor of no area has no sill") {
    CHECK_FALSE(sill_on_slab(wall(), made_up::slab_buildup(), details, {.area = 0.0, .perimeter = 10.0}));
}

TEST_CASE("a surface at indoor temperature takes 80 % indoors; a colder one less") {
    CHECK(highest_humidity(1.0, 263.15) == doctest::Approx(0.8));
    CHECK(highest_humidity(0.7, 263.15) < highest_humidity(0.8, 263.15));
    CHECK(highest_humidity(0.7, 263.15) < highest_humidity(0.7, 273.15));
}

TEST_CASE("built R closes the stair: treads sum, and U is clear-field U with psi l over the area") {
    Worth worth{.clear_r = 4.0, .clear_u = 0.25};
    worth.stair = {{"fasteners", "", 4.0, 4.0, 0.25},
                   {"plates and headers", "", -1.0, 3.0, 1.0 / 3.0},
                   {"junctions", "", std::nullopt, 3.0, 1.0 / 3.0}};
    std::vector<Junction> junctions(2);
    junctions[0] = {.psi_internal = 0.06, .psi_plain = 0.02, .length = 30.0};
    junctions[1] = {.psi_internal = -0.02, .psi_plain = -0.03, .length = 10.0};
    complete(worth, junctions, 100.0);
    // By hand: (0.06 x 30 - 0.02 x 10)/100 = 0.016; wood (0.04 x 30 + 0.01 x 10)/100 = 0.013.
    REQUIRE(worth.built_r);
    CHECK(1.0 / *worth.built_r == doctest::Approx(0.266));
    CHECK(worth.stair[1].u_after == doctest::Approx(0.263));
    CHECK(worth.stair[2].u_after == doctest::Approx(0.266));
    double sum = 0.0;
    for (const Tread& tread : worth.stair) sum += tread.r_change.value_or(0.0);
    CHECK(sum == doctest::Approx(*worth.built_r).epsilon(1e-14));
    CHECK(junction_heat(junctions) == doctest::Approx(1.6));
    const auto why = derive_built(worth, junctions, 100.0, details);
    REQUIRE(why.size() == 3);
    CHECK(why[0].path == "built_r");
}
