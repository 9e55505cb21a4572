#include "climate/indoor.h"

#include <cmath>
#include <doctest/doctest.h>
#include <numbers>

#include "air/saturation.h"

using namespace warmside;
using namespace warmside::climate;

namespace {

Year year_of(double (*temperature)(int hour)) {
    Year year;
    for (int hour = 0; hour < hours_in_year; ++hour) {
        year.temperature.push_back(temperature(hour));
        year.vapour_pressure.push_back(200.0);
    }
    return year;
}

Year steady(double t) {
    Year year;
    year.temperature.assign(hours_in_year, t + 273.15);
    year.vapour_pressure.assign(hours_in_year, 200.0);
    return year;
}

Indoor air_of(const IndoorChoice& choice, const Year& year) {
    auto indoor = indoor_air(choice, year);
    REQUIRE(indoor);
    return *std::move(indoor);
}

double humidity(const Indoor& indoor) {
    return indoor.vapour_pressure[0] / air::over_water(indoor.temperature[0]);
}

}  // namespace

TEST_CASE("the simplified line of ASHRAE 160 has its published values") {
    // reference ashrae160-indoor-simplified (memory)
    const double rows[][2] = {{-20, 40}, {-10, 40}, {-5, 45}, {0, 50}, {10, 60}, {20, 70}, {30, 70}};
    for (const auto& [t, percent] : rows) {
        CHECK(ashrae160_humidity(t + 273.15) * 100.0 == doctest::Approx(percent).epsilon(1e-9));
    }
}

TEST_CASE("EN 15026 runs from 20 degC and 30 % to 25 degC and 60 %, high load 10 % more") {
    // EN 15026 annex C (memory)
    CHECK(en15026_temperature(263.15) == doctest::Approx(293.15));
    CHECK(en15026_temperature(283.15) == doctest::Approx(293.15));
    CHECK(en15026_temperature(288.15) == doctest::Approx(295.65));
    CHECK(en15026_temperature(303.15) == doctest::Approx(298.15));
    CHECK(en15026_humidity(253.15, false) == doctest::Approx(0.3));
    CHECK(en15026_humidity(278.15, false) == doctest::Approx(0.45));
    CHECK(en15026_humidity(293.15, false) == doctest::Approx(0.6));
    CHECK(en15026_humidity(278.15, true) == doctest::Approx(0.55));
}

TEST_CASE("ISO 13788 classes fall from their limit at 0 degC to nothing at 20 degC") {
    // reference iso13788-classes: class 3 quoted, others memory
    const double limits[] = {270, 540, 810, 1080, 1360};
    for (int c = 1; c <= 5; ++c) {
        CHECK(iso13788_excess(c, 263.15) == limits[c - 1]);
        CHECK(iso13788_excess(c, 273.15) == limits[c - 1]);
        CHECK(iso13788_excess(c, 283.15) == doctest::Approx(limits[c - 1] / 2));
        CHECK(iso13788_excess(c, 295.15) == doctest::Approx(0.0));
    }
}

TEST_CASE("each model gives a steady climate its rule") {
    CHECK(humidity(air_of({.model = IndoorModel::en15026_normal}, steady(-20))) == doctest::Approx(0.3));
    CHECK(humidity(air_of({.model = IndoorModel::en15026_high}, steady(-20))) == doctest::Approx(0.4));
    CHECK(humidity(air_of({.model = IndoorModel::ashrae160_simplified}, steady(0))) == doctest::Approx(0.5));
    const auto fixed =
        air_of({.model = IndoorModel::fixed, .temperature = 295.15, .relative_humidity = 0.35}, steady(5));
    CHECK(humidity(fixed) == doctest::Approx(0.35));
    CHECK(fixed.temperature[4000] == 295.15);
    CHECK(fixed.assumes == "indoor 22 degC, 35 %");
    const auto classed = air_of({.model = IndoorModel::iso13788_class, .humidity_class = 2}, steady(-5));
    CHECK(classed.vapour_pressure[123] == doctest::Approx(740.0));
    CHECK(classed.assumes == "indoor 21 degC, ISO 13788 humidity class 2");
}

TEST_CASE("the indoor air follows the mean of the last 24 hours, not the hour") {
    // A daily swing of 10 K leaves no trace; a step is felt over one day.
    const auto swinging =
        air_of({.model = IndoorModel::ashrae160_simplified},
               year_of([](int hour) { return 273.15 + 10.0 * std::sin(hour * std::numbers::pi / 12.0); }));
    for (std::size_t i = 0; i < hours_in_year; i += 5) {
        CHECK(swinging.vapour_pressure[i] / air::over_water(294.15) == doctest::Approx(0.5));
    }
    const auto stepping = air_of({.model = IndoorModel::ashrae160_simplified},
                                 year_of([](int hour) { return hour < 4000 ? 263.15 : 293.15; }));
    const auto at = [&](std::size_t i) { return stepping.vapour_pressure[i] / air::over_water(294.15); };
    CHECK(at(3999) == doctest::Approx(0.4));
    CHECK(at(4011) == doctest::Approx(0.55));
    CHECK(at(4023) == doctest::Approx(0.7));
    // The year is a ring: its first hours look back to December.
    CHECK(at(0) > 0.65);
}

TEST_CASE("vapour indoors never exceeds saturation") {
    Year damp = steady(18);
    damp.vapour_pressure.assign(hours_in_year, 2050.0);
    const auto indoor =
        air_of({.model = IndoorModel::iso13788_class, .temperature = 291.15, .humidity_class = 5}, damp);
    for (const double p : indoor.vapour_pressure) CHECK(p <= air::over_water(291.15));
}

TEST_CASE("cooling holds temperature and humidity down while it is warm outdoors, and only then") {
    const Year year = year_of([](int hour) { return hour < 4000 ? 283.15 : 303.15; });
    const IndoorChoice open{.model = IndoorModel::en15026_high};
    IndoorChoice cooled = open;
    cooled.cooling = 297.15;
    cooled.cooled_humidity = 0.55;
    const auto without = air_of(open, year), with = air_of(cooled, year);
    CHECK(with.temperature[3000] == without.temperature[3000]);
    CHECK(with.vapour_pressure[3000] == without.vapour_pressure[3000]);
    CHECK(without.temperature[6000] == doctest::Approx(298.15));
    CHECK(with.temperature[6000] == 297.15);
    CHECK(with.vapour_pressure[6000] == doctest::Approx(0.55 * air::over_water(297.15)));
    CHECK(with.assumes ==
          "indoor 20 to 25 degC, 40 to 70 %, EN 15026 high load, cooled to 24 degC and 55 % in summer");
}

TEST_CASE("indoor air from the house is refused where only the weather is known") {
    const auto none = indoor_air({.model = IndoorModel::house}, steady(5));
    REQUIRE_FALSE(none);
    CHECK(none.error().code == Code::unsupported);
    CHECK(none.error().what == "indoor air \"from the house\" cannot be computed from the weather alone");
    CHECK(none.error().suggestion == "model = \"normal load\" in [indoor]");
}
