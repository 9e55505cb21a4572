#include "leakage/air_flow.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "climate/calendar.h"
#include "leakage/defaults.h"
#include "leakage/wind.h"

using namespace warmside;
using namespace warmside::leakage;

namespace {

using assembly::Layer;

constexpr std::size_t hours = climate::hours_in_year;
constexpr climate::Plane north{0.0, std::numbers::pi / 2}, south{std::numbers::pi, std::numbers::pi / 2};

climate::Year steady(double temperature, double wind, double direction) {
    climate::Year year;
    year.temperature.assign(hours, temperature);
    year.vapour_pressure.assign(hours, 300.0);
    year.pressure.assign(hours, 101325.0);
    year.wind_speed.assign(hours, wind);
    year.wind_direction.assign(hours, direction);
    return year;
}
climate::Indoor room(double temperature) {
    climate::Indoor in;
    in.temperature.assign(hours, temperature);
    in.vapour_pressure.assign(hours, 300.0);
    return in;
}

Layer board(const char* name, double metres) {
    Layer layer;
    layer.material = material::built_in().material(name);
    REQUIRE(layer.material);
    layer.thickness = units::Exact::nearest(metres);
    return layer;
}
assembly::Assembly wall(const char* sheathing = "osb") {
    assembly::Assembly a;
    a.layers = {board("gypsum board", 0.0127), board("stone wool batt", 0.14), board(sheathing, 0.0111)};
    return a;
}

// Flow out of all faces by thin bands, apart from the program's closed integral.
double net(const Pressures& p, std::size_t hour, double exponent) {
    const Envelope& e = p.envelope;
    double sum = 0.0, size = 0.0;
    const auto add = [&](double area, double dp) {
        const double flow = area * std::copysign(std::pow(std::abs(dp), exponent), dp);
        sum += flow;
        size += std::abs(flow);
    };
    for (const Patch& wall : e.walls) {
        const double c = wall_pressure_coefficient(p.direction[hour] - wall.azimuth);
        constexpr int bands = 4000;
        for (int k = 0; k < bands; ++k) {
            const double z = wall.bottom + (k + 0.5) / bands * (wall.top - wall.bottom);
            add(wall.area / bands, p.inside[hour] + p.buoyancy[hour] * z - p.wind[hour] * c);
        }
    }
    const double angle = p.direction[hour] - e.slope_azimuth, behind = angle + std::numbers::pi;
    REQUIRE(e.attic);
    const double c =
        0.25 * (roof_pressure_coefficient(angle, e.pitch) + roof_pressure_coefficient(behind, e.pitch) +
                wall_pressure_coefficient(angle) + wall_pressure_coefficient(behind));
    add(e.top_area, p.inside[hour] + p.buoyancy[hour] * e.top_height - p.wind[hour] * c);
    return sum / size;
}

}  // namespace

TEST_CASE("no wind and no difference of temperature: no pressure, no flow") {
    const assembly::House house;
    const auto p = pressures(house, steady(293.15, 0.0, 0.0), room(293.15));
    REQUIRE(p);
    CHECK(std::abs(p->inside[100]) < 1e-9);
    const auto flow = air_flow(house, wall(), north, *p);
    REQUIRE(flow);
    CHECK(std::abs(flow->spread[100]) < 1e-9);
}

TEST_CASE("in the cold, air leaves above and enters below, with the neutral level between") {
    const assembly::House house;
    const auto p = pressures(house, steady(253.15, 0.0, 0.0), room(294.15));
    REQUIRE(p);
    CHECK(across(*p, north, 0.0)[0] < 0.0);
    CHECK(across(*p, north, p->envelope.top_height)[0] > 0.0);
    const double neutral = -p->inside[0] / p->buoyancy[0];
    CHECK(neutral > 0.5 * p->envelope.top_height);  // the top leaks too
    CHECK(neutral < p->envelope.top_height);
    const auto flow = air_flow(house, wall(), north, *p);
    REQUIRE(flow);
    CHECK(flow->spread[0] > 0.0);
    CHECK(flow->concentrated[0] > defaults()->concentration() * flow->spread[0]);
    CHECK(flow->outward_winter == doctest::Approx(flow->spread[0]));
    const auto warm = air_flow(house, wall(), north, steady(308.15, 0.0, 0.0), room(294.15));
    REQUIRE(warm);
    CHECK(warm->spread[0] < 0.0);
}

TEST_CASE("walls alone, no wind: the neutral level is half way up, whatever the exponent") {
    // The top has no area: the balance of a straight pressure over one height is odd about its middle.
    const Driven bottom = mean_power(-3.0, 3.0, 0.65);
    CHECK(std::abs(bottom.flow) < 1e-15);
    CHECK(bottom.slope == doctest::Approx(std::pow(3.0, 0.65) / 3.0).epsilon(1e-12));
}

TEST_CASE("the mean of the power over a height agrees with thin bands and with its own slope") {
    for (const auto& [a, b] : {std::pair{-1.0, 4.0}, {2.0, 2.5}, {3.0, 3.00001}, {-5.0, -0.1}, {0.0, 1e-3}}) {
        double sum = 0.0;
        constexpr int bands = 200000;
        for (int k = 0; k < bands; ++k) {
            const double p = a + (b - a) * (k + 0.5) / bands;
            sum += std::copysign(std::pow(std::abs(p), 0.65), p) / bands;
        }
        CHECK(mean_power(a, b, 0.65).flow == doctest::Approx(sum).epsilon(1e-6));
        const double step = 1e-5;
        const double slope =
            (mean_power(a + step, b + step, 0.65).flow - mean_power(a - step, b - step, 0.65).flow) /
            (2 * step);
        CHECK(mean_power(a, b, 0.65).slope == doctest::Approx(slope).epsilon(2e-3));
    }
}

TEST_CASE("what comes in goes out, in any weather") {
    const assembly::House house;
    unsigned state = 7;
    const auto draw = [&](double least, double most) {
        state = state * 1664525U + 1013904223U;
        return least + (most - least) * (state >> 8U) / 16777216.0;
    };
    climate::Year year = steady(273.15, 0.0, 0.0);
    for (std::size_t i = 0; i < hours; ++i) {
        year.temperature[i] = draw(233.15, 313.15);
        year.wind_speed[i] = draw(0.0, 1.0) < 0.1 ? 0.0 : draw(0.0, 20.0);
        year.wind_direction[i] = draw(0.0, 2.0 * std::numbers::pi);
    }
    const auto p = pressures(house, year, room(294.15));
    REQUIRE(p);
    for (std::size_t i = 0; i < hours; i += 97) CHECK(std::abs(net(*p, i, defaults()->exponent)) < 1e-5);
}

TEST_CASE("wind presses air in on its side and draws it out beside it") {
    const assembly::House house;
    const auto p = pressures(house, steady(293.15, 6.0, 0.0), room(293.15));
    REQUIRE(p);
    CHECK(across(*p, north, 2.5)[0] < 0.0);
    CHECK(across(*p, south, 2.5)[0] == doctest::Approx(across(*p, north, 2.5)[0] + 0.6 * p->wind[0]));
    CHECK(across(*p, {0.5 * std::numbers::pi, north.tilt}, 2.5)[0] > 0.0);
}

TEST_CASE("a fan adds its pressure everywhere; a leakier house has the same pressures and more flow") {
    assembly::House house;
    const auto year = steady(263.15, 3.0, 1.0);
    const auto plain = pressures(house, year, room(294.15));
    house.air.fan = 5.0;
    const auto blown = pressures(house, year, room(294.15));
    REQUIRE(plain);
    REQUIRE(blown);
    CHECK(across(*blown, south, 1.0)[5] == doctest::Approx(across(*plain, south, 1.0)[5] + 5.0));
    house.air.fan = 0.0;
    house.air.leakage = 2.0 * defaults()->at_75_pa[1] * std::pow(50.0 / 75.0, defaults()->exponent);
    const auto leaky = air_flow(house, wall(), south, year, room(294.15));
    house.air.leakage = -1.0;
    const auto usual = air_flow(house, wall(), south, year, room(294.15));
    REQUIRE(leaky);
    REQUIRE(usual);
    CHECK(leaky->spread[5] == doctest::Approx(2.0 * usual->spread[5]));
    CHECK(leaky->assumes.find("as stated") != std::string::npos);
}

TEST_CASE("a blower-door figure passes its share through walls and top") {
    assembly::House house;
    house.air.blower_door = 1.0 / 3600.0;
    const auto e = envelope_of(house);
    REQUIRE(e);
    const auto tight = tightness_of(house, wall(), *e);
    REQUIRE(tight);
    double area = e->top_area;
    for (const Patch& wall : e->walls) area += wall.area;
    CHECK(tight->at_50_pa * area == doctest::Approx(0.53 * e->volume / 3600.0));
}

TEST_CASE("by default an assembly leaks as much as the class of its outer layers may") {
    const assembly::House house;
    const auto e = envelope_of(house);
    REQUIRE(e);
    const auto leak = [&](const assembly::Assembly& a) {
        const auto tight = tightness_of(house, a, *e);
        REQUIRE(tight);
        return tight->at_50_pa *
               3600.0;  // m3/(h m2), as the reference's own conversions (leak-4Pa, computed)
    };
    // 0.05, 0.10, 0.15 and 0.20 L/(s m2) at 75 Pa
    assembly::Assembly a = wall();
    material::Material outside = *a.layers[2].material;
    a.layers[2].material = &outside;
    for (const auto& [permeance, expected] :
         {std::pair{30e-12, 0.138}, {100e-12, 0.277}, {500e-12, 0.415}, {2000e-12, 0.553}}) {
        outside.permeability = {{0.0, 1.0}, {0.0111 * permeance, 0.0111 * permeance}};
        CHECK(outer_permeance(a) == doctest::Approx(permeance).epsilon(1e-6));
        CHECK(leak(a) == doctest::Approx(expected).epsilon(0.004));
    }
    a.layers.pop_back();  // nothing outside of the insulation
    CHECK(leak(a) == doctest::Approx(0.553).epsilon(0.004));
}

TEST_CASE("the envelope of a house with storeys: one wall a side, over both storeys") {
    assembly::House house;
    const auto corner = [](double x, double y) {
        return assembly::Point{units::Exact::nearest(x), units::Exact::nearest(y)};
    };
    for (const double floor : {0.0, 2.8}) {
        assembly::Storey storey;
        storey.name = floor > 0.0 ? "upper" : "ground";
        storey.floor = units::Exact::nearest(floor);
        storey.height = units::Exact::nearest(2.5);
        storey.outline = {corner(0, 0), corner(10, 0), corner(10, 7), corner(0, 7)};
        house.storeys.push_back(storey);
    }
    const auto e = envelope_of(house);
    REQUIRE(e);
    CHECK_FALSE(e->assumed);
    REQUIRE(e->walls.size() == 4);
    CHECK(e->walls[0].azimuth ==
          doctest::Approx(std::numbers::pi));  // the first edge runs east: it looks south
    CHECK(e->walls[0].area == doctest::Approx(50.0));
    CHECK(e->walls[0].top == doctest::Approx(5.3));
    CHECK(e->top_area == doctest::Approx(70.0));
    CHECK(e->upper_floor == doctest::Approx(2.8));
}

TEST_CASE("a year with a short column is refused by name") {
    const assembly::House house;
    climate::Year year = steady(263.15, 3.0, 1.0);
    year.wind_speed.pop_back();
    const auto p = pressures(house, year, room(294.15));
    REQUIRE_FALSE(p);
    CHECK(p.error().what == "air pressures: wind speed has 8759 hours, not 8760");
}

TEST_CASE("a broken file of defaults is refused with its place") {
    const auto read = read_defaults("d.toml", "[assembly]\nat_75_pa = [\"2 m\"]\nexponent = 0.65\n");
    REQUIRE_FALSE(read);
    CHECK(read.error().where.line > 0);
    REQUIRE(defaults());
    CHECK(defaults()->concentration() == doctest::Approx(1.65));
}
