#include "leakage/infiltration.h"

#include <doctest/doctest.h>

#include <cmath>

#include "air/moist_air.h"
#include "leakage/test_weather.h"
#include "leakage/ventilation.h"
#include "leakage/wind.h"

using namespace warmside;
using namespace warmside::leakage;

namespace {

using Guard = assembly::Ventilation::Guard;
using Kind = assembly::Ventilation::Kind;

assembly::House house_with(double air_changes_at_50) {
    assembly::House house;
    house.air.blower_door = air_changes_at_50 / 3600.0;
    return house;
}

// Flow out and in by thin bands, apart from the program's closed integrals, m3/s.
struct Bands {
    double out = 0.0, in = 0.0;
};
Bands bands_of(const Pressures& p, std::size_t hour) {
    const Envelope& e = p.envelope;
    const double c = p.leakage.at(1.0) / leaky_area(e);
    Bands sum;
    const auto add = [&](double area, double dp) {
        (dp > 0.0 ? sum.out : sum.in) += c * area * std::pow(std::abs(dp), p.leakage.exponent);
    };
    for (const Patch& wall : e.walls) {
        const double k = wall_pressure_coefficient(p.direction[hour] - wall.azimuth);
        constexpr int bands = 4000;
        for (int i = 0; i < bands; ++i) {
            const double z = wall.bottom + (i + 0.5) / bands * (wall.top - wall.bottom);
            add(wall.area / bands, p.inside[hour] + p.buoyancy[hour] * z - p.wind[hour] * k);
        }
    }
    const double angle = p.direction[hour] - e.slope_azimuth, behind = angle + 3.141592653589793;
    const double k =
        0.25 * (roof_pressure_coefficient(angle, e.pitch) + roof_pressure_coefficient(behind, e.pitch) +
                wall_pressure_coefficient(angle) + wall_pressure_coefficient(behind));
    add(e.top_area, p.inside[hour] + p.buoyancy[hour] * e.top_height - p.wind[hour] * k);
    return sum;
}

}  // namespace

TEST_CASE("what comes in is what goes out and what the fans draw, in any weather") {
    for (const double fans : {-0.08, -0.02, 0.0, 0.03}) {
        auto house = house_with(3.0);
        house.services.ventilation.kind = stated(fans > 0.0 ? Kind::supply : Kind::exhaust);
        house.services.ventilation.flow = stated(std::abs(fans));
        auto year = steady_year(263.15, 4.0, 0.5);
        for (std::size_t i = 0; i < 40; ++i) {
            year.temperature[i] = 243.15 + 1.9 * static_cast<double>(i);
            year.wind_speed[i] = 0.31 * static_cast<double>(i);
            year.wind_direction[i] = 0.77 * static_cast<double>(i);
        }
        const auto p = pressures(house, year, steady_room(294.15));
        REQUIRE(p);
        CHECK(p->imbalance == doctest::Approx(fans));
        for (std::size_t i = 0; i < 40; ++i) {
            const Bands flow = bands_of(*p, i);
            CHECK(p->inflow[i] == doctest::Approx(flow.in).epsilon(1e-4));
            CHECK(flow.in + fans == doctest::Approx(flow.out).epsilon(1e-4).scale(1e-3));
        }
    }
}

TEST_CASE("a fan in still air of one temperature raises the house by the power law alone") {
    auto house = house_with(1.0);
    house.services.ventilation.kind = stated(Kind::exhaust);
    house.services.ventilation.flow = stated(0.03);
    const auto p = pressures(house, steady_year(294.15, 0.0, 0.0), steady_room(294.15));
    REQUIRE(p);
    CHECK(p->inside[7] == doctest::Approx(fan_pressure(p->leakage, -0.03)).epsilon(1e-9));
    CHECK(p->inflow[7] == doctest::Approx(0.03).epsilon(1e-9));
    CHECK(p->leakage.at(-p->inside[7]) == doctest::Approx(0.03).epsilon(1e-9));
}

TEST_CASE("a stated pressure of the fans stands for their flow; a fan in a house without leaks is refused") {
    auto house = house_with(2.0);
    house.services.ventilation.kind = stated(Kind::exhaust);
    house.services.ventilation.flow = stated(0.03);
    house.air.fan = 4.0;
    const auto p = pressures(house, steady_year(263.15, 2.0, 0.0), steady_room(294.15));
    REQUIRE(p);
    CHECK(p->imbalance == 0.0);
    house.air.fan = 0.0;
    house.air.blower_door = 0.0;
    const auto sealed = pressures(house, steady_year(263.15, 2.0, 0.0), steady_room(294.15));
    REQUIRE_FALSE(sealed);
    CHECK(sealed.error().what == "air pressures: unbalanced fans in a house without leaks");
}

TEST_CASE("what blows in through a wall: all, none, or the part below the neutral level") {
    CHECK(inward_power(1.0, 4.0, 0.65) == 0.0);
    CHECK(inward_power(-4.0, -1.0, 0.65) == doctest::Approx(-mean_power(-4.0, -1.0, 0.65).flow));
    // -2 to 2 Pa: half of the wall, mean of |p|^n over it: 2^n/(n + 1)
    CHECK(inward_power(-2.0, 2.0, 0.65) == doctest::Approx(0.5 * std::pow(2.0, 0.65) / 1.65).epsilon(1e-12));
    CHECK(inward_power(2.0, -2.0, 0.65) == doctest::Approx(inward_power(-2.0, 2.0, 0.65)));
}

TEST_CASE("recovery and its frost guard, by hand") {
    const Recovery preheat{0.75, 0.4, 263.15, Guard::preheat}, bypass{0.75, 0.4, 263.15, Guard::bypass};
    // 5 K below freezing: 268.15 + 0.75 x 25
    CHECK(supplied(preheat, 268.15, 293.15, 40.0).temperature == doctest::Approx(286.9));
    CHECK(supplied(preheat, 268.15, 293.15, 40.0).preheat == 0.0);
    // -25 degC outdoors: warmed by 15 K to -10 degC, then 263.15 + 0.75 x 30
    CHECK(supplied(preheat, 248.15, 293.15, 40.0).temperature == doctest::Approx(285.65));
    CHECK(supplied(preheat, 248.15, 293.15, 40.0).preheat == doctest::Approx(600.0));
    CHECK(supplied(bypass, 248.15, 293.15, 40.0).temperature == 248.15);
    CHECK(supplied(bypass, 248.15, 293.15, 40.0).moisture == 0.0);
    CHECK(supplied(bypass, 268.15, 293.15, 40.0).moisture == 0.4);
    assembly::Ventilation v;
    v.sensible = stated(0.75);
    CHECK(recovery_of(v).sensible == 0.0);  // exhaust alone recovers nothing
}

TEST_CASE("a year of supply air: capacity by hand, preheat in the cold hours alone") {
    auto year = steady_year(273.15, 0.0, 0.0, 0.0);
    for (std::size_t i = 0; i < 100; ++i) year.temperature[i] = 243.15;
    const auto s = supply({0.8, 0.0, 258.15, Guard::preheat}, 0.03, year, steady_room(293.15, 0.0));
    REQUIRE(s);
    // 101325/(287.042 x 293.15) x 0.03 = 0.0361245 kg/s, x 1006 = 36.341 W/K
    CHECK(s->dry_flow[0] == doctest::Approx(0.0361245).epsilon(1e-5));
    CHECK(s->capacity[0] == doctest::Approx(36.341).epsilon(1e-4));
    CHECK(s->preheat[0] == doctest::Approx(15.0 * 36.341).epsilon(1e-4));
    CHECK(s->guarded == 100);
    CHECK(s->preheat_energy == doctest::Approx(3600.0 * 100.0 * s->preheat[0]));
    CHECK(s->temperature[200] == doctest::Approx(289.15));
    year.pressure.pop_back();
    CHECK(supply({}, 0.03, year, steady_room(293.15)).error().what ==
          "supply air: station pressure has 8759 hours, not 8760");
}

TEST_CASE("leaks and fans superposed: balanced adds, unbalanced by the root of squares") {
    CHECK(superposed(0.03, 0.02, 0.02) == doctest::Approx(0.05));
    CHECK(superposed(0.03, 0.0, 0.04) == doctest::Approx(0.05));
    CHECK(superposed(0.0, 0.01, 0.04) == doctest::Approx(0.04));
}

TEST_CASE("the models' shelter and storeys stay inside their tables") {
    CHECK(basic_infiltration(0.05, 9, 9, 39.0, 6.7) == basic_infiltration(0.05, 3, 5, 39.0, 6.7));
    CHECK(basic_infiltration(0.05, 0, 0, 39.0, 6.7) == basic_infiltration(0.05, 1, 1, 39.0, 6.7));
    CHECK(basic_infiltration(0.05, 2, 3, -39.0, 6.7) == basic_infiltration(0.05, 2, 3, 39.0, 6.7));
}

TEST_CASE("the balance within a fifth of the enhanced model (its authors' claim, memory)") {
    const auto house = house_with(3.0);
    const auto year = steady_year(254.15, 0.0, 0.0);
    const auto room = steady_room(293.15);
    const auto p = pressures(house, year, room);
    REQUIRE(p);
    const auto air = air_exchange(house, year, room, *p);
    REQUIRE(air);
    MESSAGE("winter air changes an hour: balance ", 3600.0 * air->winter, ", basic ",
            3600.0 * air->winter_basic, ", enhanced ", 3600.0 * air->winter_enhanced);
    const auto windy_year = steady_year(254.15, 5.0, 0.4);
    const auto windy = pressures(house, windy_year, room);
    const auto blown = air_exchange(house, windy_year, room, *windy);
    MESSAGE("with wind: balance ", 3600.0 * blown->winter, ", basic ", 3600.0 * blown->winter_basic,
            ", enhanced ", 3600.0 * blown->winter_enhanced);
    CHECK(air->winter == doctest::Approx(air->winter_enhanced).epsilon(0.2));
    CHECK(blown->winter == doctest::Approx(blown->winter_enhanced).epsilon(0.2));
    CHECK(air->leaks_heat[0] == doctest::Approx(air->leaks[0] * 1.389 * 1006.0).epsilon(0.01));
}
