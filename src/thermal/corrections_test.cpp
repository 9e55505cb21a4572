#include "thermal/corrections.h"

#include <doctest/doctest.h>

#include "thermal/code_tables.h"
#include "thermal/ground.h"

using namespace warmside;
using namespace warmside::thermal;

TEST_CASE("air voids weigh with the square of the layer's part in the whole") {
    CHECK(*void_correction(1, 4.0, 4.0) == 0.01);
    CHECK(*void_correction(2, 2.0, 4.0) == doctest::Approx(0.01));
    CHECK(*void_correction(0, 2.0, 4.0) == 0.0);
    CHECK(void_correction(3, 2.0, 4.0).error().code == Code::out_of_range);
    CHECK_FALSE(void_correction(1, 5.0, 4.0));
}

TEST_CASE("fasteners that stop half way count half") {
    const FastenerSet through{.per_area = 4.0,
                              .cross_section = 2e-5,
                              .conductivity = 50,
                              .layer_thickness = 0.1,
                              .penetration = 0.1};
    FastenerSet half = through;
    half.penetration = 0.05;
    // 0.8 x 50 x 4 x 2e-5 / 0.1
    CHECK(*fastener_correction(through, 3.0, 3.0) == doctest::Approx(0.032));
    CHECK(*fastener_correction(half, 3.0, 3.0) == doctest::Approx(0.016));
    half.penetration = 0.2;
    CHECK_FALSE(fastener_correction(half, 3.0, 3.0));
}

TEST_CASE("corrections below 3 % of U are left out") {
    CHECK(counted_correction(0.0059, 0.2) == 0.0);
    CHECK(counted_correction(0.0061, 0.2) == 0.0061);
}

TEST_CASE("a floor on the ground loses less when insulated or larger, and both formulas meet") {
    const Ground ground{.conductivity = 2.0, .wall_thickness = 0.4};
    const FloorPlan plan{80, 36};
    CHECK(slab(plan, ground, 5.0)->u < slab(plan, ground, 0.0)->u);
    CHECK(slab({320, 72}, ground, 0.0)->u < slab(plan, ground, 0.0)->u);
    CHECK(basement_floor(plan, ground, 0.0, 2.0)->u < slab(plan, ground, 0.0)->u);
    // At d_t = B' the two formulas of the standard differ by less than 2 %.
    const double meet = (plan.characteristic() - 0.4) / 2.0 - 0.21;
    CHECK(slab(plan, ground, meet - 1e-6)->u ==
          doctest::Approx(slab(plan, ground, meet + 1e-6)->u).epsilon(0.02));
}

TEST_CASE("a very shallow basement wall loses what its own resistance lets through") {
    // z to 0: U -> 2 k/(pi z) (3/2) z/d_w = 3 k/(pi d_w), near k/d_w = 1/R
    const Ground ground{.conductivity = 2.0, .inside_film = 0.13};
    const double u = *basement_wall(ground, 1.0, 2.0, 1e-6);
    CHECK(u == doctest::Approx(3.0 / 3.14159265 / 2.17).epsilon(1e-4));
    CHECK(*basement_wall(ground, 1.0, 2.0, 2.0) < u);
}

TEST_CASE("grounds and floors that cannot be are refused") {
    CHECK_FALSE(slab({0, 36}, {}, 0.0));
    CHECK_FALSE(slab({80, 36}, {.conductivity = 0.0}, 0.0));
    CHECK_FALSE(slab({80, 36}, {}, -1.0));
    CHECK_FALSE(basement_wall({}, 1.0, 1.0, 0.0));
}

TEST_CASE("paths of a table wall need shares that sum to 1") {
    CHECK(*table_wall_u({.common = 1.0, .cavity = 1.0}) == 0.5);
    CHECK_FALSE(table_wall_u({.common = 1.0, .cavity = 1.0, .studs_share = 0.8, .headers_share = 0.3}));
    CHECK_FALSE(table_wall_u({.common = 0.0}));
}

TEST_CASE("a linear bridge spreads over the area; no area is refused") {
    CHECK(*with_linear(0.2, 0.1, 10, 50) == doctest::Approx(0.22));
    CHECK_FALSE(with_linear(0.2, 0.1, 10, 0));
    CHECK_FALSE(zone_resistance(0.5, 0.4, 1, 2));
    CHECK_FALSE(surface_factor(283.15, 293.15, 293.15));
}
