#include "thermal/air_layer.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <limits>
#include <numbers>

using namespace warmside;
using namespace warmside::thermal;

namespace {
constexpr double pi = std::numbers::pi;
double still(double thickness, HeatFlow flow) {
    return *air_layer_resistance({.thickness = thickness, .flow = flow});
}
}  // namespace

TEST_CASE("heat leaves a wall sideways, a roof upwards, a floor over outside air downwards") {
    CHECK(heat_flow(pi / 2) == HeatFlow::horizontal);
    CHECK(heat_flow(0.0) == HeatFlow::up);
    CHECK(heat_flow(pi) == HeatFlow::down);
    CHECK(heat_flow(pi / 4) == HeatFlow::up);
    // ISO 6946: within 30 degrees of the horizontal plane
    CHECK(heat_flow(pi / 3) == HeatFlow::horizontal);
    CHECK(heat_flow(pi / 3 - 0.01) == HeatFlow::up);
}

TEST_CASE("heat that comes in from a warmer outside turns the direction") {
    CHECK(heat_flow(0.0, false) == HeatFlow::down);
    CHECK(heat_flow(pi, false) == HeatFlow::up);
    CHECK(heat_flow(pi / 2, false) == HeatFlow::horizontal);
}

TEST_CASE("inside films grow from upward to downward heat flow") {
    CHECK(iso_films(HeatFlow::up).inside < iso_films(HeatFlow::horizontal).inside);
    CHECK(iso_films(HeatFlow::horizontal).inside < iso_films(HeatFlow::down).inside);
    CHECK(handbook_films(HeatFlow::up).inside < handbook_films(HeatFlow::down).inside);
    CHECK(handbook_films(HeatFlow::horizontal).inside == doctest::Approx(0.68 * 0.176110184).epsilon(1e-8));
}

TEST_CASE("a thicker still air layer never resists less") {
    for (const HeatFlow flow : {HeatFlow::up, HeatFlow::horizontal, HeatFlow::down}) {
        double last = 0.0;
        for (int mm = 0; mm <= 300; ++mm) {
            const double r = still(mm / 1000.0, flow);
            REQUIRE(r >= last);
            last = r;
        }
    }
}

TEST_CASE("a foil face makes a still air layer resist more, cold does too") {
    const AirLayer plain{.thickness = 0.02};
    AirLayer foil = plain, cold = plain;
    foil.emissivity_outside = 0.05;
    cold.temperature = 263.15;
    CHECK(*air_layer_resistance(foil) > 2.0 * *air_layer_resistance(plain));
    CHECK(*air_layer_resistance(cold) > *air_layer_resistance(plain));
}

TEST_CASE("air layers outside the method are refused") {
    CHECK(air_layer_resistance({.thickness = 0.31}).error().code == Code::out_of_range);
    CHECK_FALSE(air_layer_resistance({.thickness = -0.01}));
    CHECK_FALSE(air_layer_resistance({.thickness = 0.02, .emissivity_inside = 0.0}));
    CHECK_FALSE(
        air_layer_resistance({.thickness = 0.02, .temperature = std::numeric_limits<double>::quiet_NaN()}));
}

TEST_CASE("between 500 and 1500 mm2 of opening the total moves from unventilated to ventilated") {
    CHECK(slightly_ventilated_total(3.0, 2.0, 400) == 3.0);
    CHECK(slightly_ventilated_total(3.0, 2.0, 1000) == doctest::Approx(2.5));
    CHECK(slightly_ventilated_total(3.0, 2.0, 2000) == 2.0);
}

TEST_CASE("the handbook's air spaces are read back at the nodes and lie between them elsewhere") {
    // ASHRAE Handbook Fundamentals 2021 (SI) ch. 26 Table 3 (seen): 20 and 40 mm vertical, 10 degC, 5.6 K, E
    // 0.82
    const AirSpace space{.thickness = 0.02, .temperature_difference = 5.6};
    CHECK(*handbook_air_space(space) == doctest::Approx(0.18));
    AirSpace colder = space;
    colder.temperature = 273.15;
    CHECK(*handbook_air_space(colder) > 0.18);
    CHECK(*handbook_air_space(colder) < 0.22);
    AirSpace shinier = space;
    shinier.emittance = 0.1;
    CHECK(*handbook_air_space(shinier) < 0.61);
    CHECK(*handbook_air_space(shinier) > 0.41);
    AirSpace inches = space;  // 3/4 in is what the table prints as 20 mm
    inches.thickness = 0.01905;
    CHECK(*handbook_air_space(inches) == doctest::Approx(0.18));
}

TEST_CASE("outside its rows the handbook's table gives nothing") {
    CHECK_FALSE(handbook_air_space({.thickness = 0.005}));
    CHECK_FALSE(handbook_air_space({.thickness = 0.2}));
    CHECK_FALSE(handbook_air_space({.thickness = 0.02, .emittance = 0.9}));
    CHECK_FALSE(handbook_air_space({.thickness = 0.02, .temperature = 310.0}));
    CHECK_FALSE(handbook_air_space({.thickness = 0.02, .temperature_difference = 30.0}));
    CHECK_FALSE(handbook_air_space({.thickness = 0.09, .temperature = 270.0, .flow = HeatFlow::up}));
}

TEST_CASE("where both hold, the ISO formula and the handbook's table agree within 5 % for plain faces") {
    for (const double thickness : {0.02, 0.04, 0.09}) {
        const double table =
            *handbook_air_space({.thickness = thickness, .emittance = 0.82, .temperature_difference = 5.6});
        CHECK(still(thickness, HeatFlow::horizontal) == doctest::Approx(table).epsilon(0.05));
    }
}
