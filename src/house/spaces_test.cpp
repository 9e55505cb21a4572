#include "house/spaces.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <numeric>

#include "house/outdoors.h"

namespace warmside::house {

namespace {

using assembly::Roof;
using units::Exact;

constexpr double pi = std::numbers::pi;

// A house of x by y metres under a roof of 45 degrees.
void put(assembly::House& house, double x, double y, Roof::Form form, const char* ridge) {
    assembly::Storey s;
    s.name = "main";
    s.height = Exact::nearest(2.5);
    const Exact o = Exact::nearest(0.0), a = Exact::nearest(x), b = Exact::nearest(y);
    s.outline = {{o, o}, {a, o}, {a, b}, {o, b}};
    house.storeys.push_back(s);
    Roof roof;
    roof.name = "main";
    roof.form = form;
    roof.pitch = form == Roof::Form::flat ? 0.0 : pi / 4;
    roof.ridge = ridge;
    roof.high_side = "north";
    house.roofs.push_back(roof);
}

climate::Year windy(double wind) {
    climate::Year y;
    for (auto* column : {&y.temperature, &y.vapour_pressure, &y.pressure, &y.wind_speed, &y.wind_direction,
                         &y.global, &y.direct, &y.diffuse, &y.cloud, &y.rain})
        column->assign(hours_in_year, 0.0);
    y.temperature.assign(hours_in_year, 270.0);
    y.vapour_pressure.assign(hours_in_year, 300.0);
    y.pressure.assign(hours_in_year, 101325.0);
    y.wind_speed.assign(hours_in_year, wind);
    return y;
}

}  // namespace

TEST_CASE("slopes sum to the roof's surface and look the way that its form says") {
    struct Case {
        Roof::Form form;
        const char* ridge;
        std::vector<double> azimuths, shares;
    };
    const Case cases[] = {
        {Roof::Form::gable, "east-west", {0.0, pi}, {0.5, 0.5}},
        {Roof::Form::gable, "north-south", {pi / 2, 1.5 * pi}, {0.5, 0.5}},
        {Roof::Form::shed, "", {pi}, {1.0}},
        {Roof::Form::flat, "", {0.0}, {1.0}},
        // 10 x 6: ends 2 (6 x 3)/2 of 60 m2 in plan.
        {Roof::Form::hip, "", {0.0, pi, pi / 2, 1.5 * pi}, {0.35, 0.35, 0.15, 0.15}},
    };
    for (const Case& c : cases) {
        assembly::House house;
        put(house, 10.0, 6.0, c.form, c.ridge);
        const auto areas = assembly::areas(house);
        const auto slopes = slopes_of(house, house.roofs[0], areas.roofs[0]);
        REQUIRE(slopes.size() == c.azimuths.size());
        for (std::size_t i = 0; i < slopes.size(); ++i) {
            CHECK(slopes[i].plane.azimuth == doctest::Approx(c.azimuths[i]));
            CHECK(slopes[i].area == doctest::Approx(c.shares[i] * areas.roofs[0].surface));
        }
    }
}

TEST_CASE("air through vents by hand") {
    const auto year = windy(4.0);
    // 0.6 x 0.2 m2/(2 sqrt 2) x sqrt 0.6 x 0.5 x 4 m/s
    const double by_hand = 0.6 * 0.2 / 2.8284271247 * 0.7745966692 * 0.5 * 4.0;
    CHECK(attic_air(0.2, 0.5, 0.0, year, false).at(17) == doctest::Approx(by_hand));
    CHECK(attic_air(0.2, 0.5, 0.0, year, true).constant == doctest::Approx(by_hand));
    CHECK(attic_air(0.0, 0.5, 0.013, year, false).at(0) == 0.013);
    // ISO 13370, 9.2: 1450 eps v f_w/B' of a floor is 1208 x 0.6 A v f_w over its area.
    const double flow = crawl_space_air(0.054, 0.0, year, false).at(0);
    CHECK(1208.0 * flow ==
          doctest::Approx(1450.0 * 0.0015 * 4.0 * 0.05 / (80.0 / 18.0) * 80.0).epsilon(0.001));
}

TEST_CASE("the space under a roof over no rectangle has a height all the same") {
    assembly::House house;
    put(house, 10.0, 6.0, Roof::Form::gable, "east-west");
    auto areas = assembly::areas(house);
    CHECK(volume_under(house, house.roofs[0], areas.roofs[0]) == doctest::Approx(10.0 * 6.0 * 3.0 / 2));
    areas.roofs[0].volume = 0.0;
    CHECK(volume_under(house, house.roofs[0], areas.roofs[0]) == doctest::Approx(60.0 * 1.5));
}

TEST_CASE("what stands outside: sol-air by hand, shade, shelter, the design hour") {
    auto year = windy(3.0);
    year.temperature.assign(hours_in_year, 280.0);
    year.cloud.assign(hours_in_year, 1.0);
    year.latitude = 0.8;
    year.direct[4380] = 600.0;
    year.diffuse[4380] = year.global[4380] = 100.0;
    const climate::Plane flat{0.0, 0.0};
    const Outer outer{.plane = flat, .absorptance = 0.7, .emissivity = 0.9, .film = 0.04};
    const Boundary b = boundary_of(outer, year, {});
    const auto face = climate::weather_on(year, flat);
    REQUIRE(face.solar[4380] > 100.0);
    const double middle = 0.5 * (280.0 + face.radiant[4380]);
    const double radiation = 4.0 * 0.9 * 5.670374419e-8 * middle * middle * middle;
    CHECK(b.conductance.at(4380) == doctest::Approx(16.0 + radiation));
    CHECK(b.temperature.at(4380) ==
          doctest::Approx((16.0 * 280.0 + radiation * face.radiant[4380] + 0.7 * face.solar[4380]) /
                          (16.0 + radiation)));
    Outer shaded = outer;
    shaded.kind = Outer::Kind::shaded;
    CHECK(boundary_of(shaded, year, {}).temperature.at(4380) == 280.0);
    CHECK(boundary_of(shaded, year, {}).conductance.at(4380) > 16.0);
    Outer sheltered = outer;
    sheltered.kind = Outer::Kind::sheltered;
    sheltered.film = 0.13;
    CHECK(boundary_of(sheltered, year, {}).conductance.at(4380) == doctest::Approx(1.0 / 0.13));
    CHECK(boundary_of(sheltered, year, {}).temperature.at(4380) == 280.0);
    const Boundary design = boundary_of(outer, year, 250.0);
    CHECK(design.conductance.at(0) == doctest::Approx(25.0));
    CHECK(design.temperature.at(0) == 250.0);
}

}  // namespace warmside::house
