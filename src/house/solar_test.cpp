#include "house/solar.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "climate/sky.h"
#include "house/simulate.h"

namespace warmside::house {

namespace {

constexpr double south = std::numbers::pi;

const climate::Year& year() {
    static const climate::Year made = [] {
        const auto place = climate::find_place("Duluth");
        REQUIRE(place);
        auto generated = climate::generate(**place);
        REQUIRE(generated);
        return std::move(*generated);
    }();
    return made;
}

double sum(const std::vector<double>& v) {
    double s = 0.0;
    for (const double each : v) s += each;
    return s;
}

}  // namespace

TEST_CASE("a black surface at the boundary's temperature gives to air and sky what it takes from the sun") {
    const climate::Plane wall{.azimuth = south};
    const Boundary b = outdoors(year(), wall, 0.6, 0.9);
    const auto solar = climate::solar_on(year(), wall);
    const auto sky = climate::sky_temperature(year());
    for (std::size_t i = 0; i < solar.size(); i += 7) {
        const double air = year().temperature[i], t = b.temperature.hourly[i];
        const double radiant = climate::radiant_temperature(wall.tilt, sky[i], air);
        const double film = climate::convective_film(year().wind_speed[i]);
        const double exchange = b.conductance.hourly[i] - film;
        REQUIRE(film * (t - air) + exchange * (t - radiant) == doctest::Approx(0.6 * solar[i]).epsilon(1e-9));
        // Linear radiation is near the real one
        REQUIRE(
            exchange ==
            doctest::Approx(4.0 * 0.9 * 5.670374419e-8 * std::pow(0.5 * (air + radiant), 3)).epsilon(0.02));
    }
}

TEST_CASE("without sun and sky the boundary is the air") {
    climate::Year dark = year();
    for (auto* column : {&dark.global, &dark.direct, &dark.diffuse}) column->assign(hours_in_year, 0.0);
    const Boundary b = outdoors(dark, {.azimuth = 0.0}, 0.6, 0.0);
    for (std::size_t i = 0; i < 8760; i += 100)
        CHECK(b.temperature.hourly[i] == doctest::Approx(dark.temperature[i]));
}

TEST_CASE("a clear hole passes all that falls on it; a screen takes beam and sky but no ground") {
    SolarBehaviour hole;
    hole.transmitted.fill(1.0);
    hole.transmitted_diffuse = 1.0;
    const auto sun = climate::sun_on(year(), {.azimuth = south});
    const Frontage window{1.0, 1.0};
    const auto all = window_sun(sun, south, hole, window);
    CHECK(sum(all.transmitted) ==
          doctest::Approx(sum(sun.beam) + sum(sun.sky) + sum(sun.ground)).epsilon(1e-12));
    const std::vector<Screen> roof{overhang(window, 0.0, 1e4, 1e5, 1e5)};
    const auto dark = window_sun(sun, south, hole, window, roof);
    CHECK(sum(dark.transmitted) == doctest::Approx(sum(sun.ground)).epsilon(0.02));
    const std::vector<Screen> eave{overhang(window, 0.3, 0.6, 1.0, 1.0)};
    const auto less = window_sun(sun, south, hole, window, eave);
    CHECK(sum(less.transmitted) < sum(all.transmitted));
    CHECK(sum(less.transmitted) > sum(dark.transmitted));
}

TEST_CASE("SHGC is what a room at the outdoor temperature gains from a window in the engine") {
    // Sun at both faces and through, by the chain without mass, against T + sum A_i N_i of the glazing
    // itself.
    const Glazing triple{.panes = {{}, {}, {}}, .gaps = {{.thickness = 0.012}, {.thickness = 0.016}}};
    const auto glass = behaviour(triple, nfrc_summer);
    const auto heat = heat_through(triple, nfrc_summer);
    REQUIRE(glass);
    REQUIRE(heat);
    Network n;
    n.zones.push_back({.name = "room", .capacity = 1.0, .heating = {280.0, {}}, .cooling = {280.001, {}}});
    n.boundaries.push_back({.name = "outside",
                            .conductance = {heat->outside, {}},
                            .temperature = {280.0 + 500.0 * glass->outer[0] / heat->outside, {}}});
    n.elements.push_back({.name = "window",
                          .area = 2.0,
                          .boundary = 0,
                          .conductance = {glass->conductance},
                          .convection = heat->inside,
                          .radiation = 0.0,
                          .gain = {500.0 * glass->inner[0], {}}});
    n.zones[0].convective.constant = 2.0 * 500.0 * glass->transmitted[0];
    const auto run = steady(n, 0);
    REQUIRE(run);
    CHECK(run->cooling[0] / (2.0 * 500.0) == doctest::Approx(glass->gain).epsilon(1e-4));
}

TEST_CASE("light in a room: all of it lands, and the floor that it meets first keeps its share and more") {
    const std::vector<LitSurface> black{{10.0, 1.0, 0.0}, {20.0, 1.0, 1.0}};
    const auto all = sun_shares(black);
    REQUIRE(all);
    CHECK((*all)[1] == 1.0);
    // Two surfaces of absorptance a = 0.5 facing each other: the first keeps a sum (1 - a)^2k = a/(1 -
    // (1-a)^2)
    const std::vector<LitSurface> pair{{10.0, 0.5, 1.0}, {10.0, 0.5, 0.0}};
    CHECK((*sun_shares(pair))[0] == doctest::Approx(0.5 / 0.75));
    // The room of ASHRAE 140's case 600: floor, ceiling, east, west, north, south, glass. The standard's
    // table (memory): floor 0.642, ceiling 0.168, walls 0.038, 0.038, 0.053, 0.026, out through the glass
    // 0.035, by view factors. By area the ceiling gets less and the walls more: no check but that floor and
    // loss are near.
    const std::vector<LitSurface> room{{48.0, 0.6, 1.0}, {48.0, 0.6, 0.0}, {16.2, 0.6, 0.0}, {16.2, 0.6, 0.0},
                                       {21.6, 0.6, 0.0}, {9.6, 0.6, 0.0},  {12.0, 0.86, 0.0}};
    const auto shares = sun_shares(room);
    REQUIRE(shares);
    CHECK(sum(*shares) == doctest::Approx(1.0).epsilon(1e-12));
    CHECK((*shares)[0] == doctest::Approx(0.642).epsilon(0.03));
    CHECK((*shares)[6] == doctest::Approx(0.035).epsilon(0.5));
    CHECK_FALSE(sun_shares(std::vector<LitSurface>{{1.0, 0.5, 0.5}, {1.0, 0.5, 0.4}}));
    CHECK_FALSE(sun_shares(std::vector<LitSurface>{{1.0, 0.0, 1.0}, {1.0, 0.0, 0.0}}));
    CHECK_FALSE(sun_shares(std::vector<LitSurface>{{1.0, 0.5, 1.0}}));
}

TEST_CASE("the film of the wind is larger on rough walls and with more wind") {
    const climate::Plane wall{.azimuth = south};
    const auto glass = wind_film(year(), wall, 1.5, 1.0), siding = wind_film(year(), wall, 1.5, 1.67);
    climate::Year calm = year();
    calm.wind_speed.assign(hours_in_year, 0.0);
    const auto still = wind_film(calm, wall, 1.5, 1.67);
    for (std::size_t i = 0; i < 8760; i += 50) {
        CHECK(siding[i] >= glass[i]);
        CHECK(still[i] == doctest::Approx(1.31 * std::cbrt(5.0)));
    }
}

}  // namespace warmside::house
