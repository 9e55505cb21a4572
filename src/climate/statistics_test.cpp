#include "climate/statistics.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "air/saturation.h"

using namespace warmside;

namespace {

climate::Year still_year(double temperature, double vapour_pressure) {
    climate::Year year;
    for (auto* column :
         {&year.temperature, &year.vapour_pressure, &year.pressure, &year.wind_speed, &year.wind_direction,
          &year.global, &year.direct, &year.diffuse, &year.cloud, &year.rain}) {
        column->assign(climate::hours_in_year, 0.0);
    }
    year.temperature.assign(climate::hours_in_year, temperature);
    year.vapour_pressure.assign(climate::hours_in_year, vapour_pressure);
    return year;
}

}  // namespace

TEST_CASE("degree days of a constant year are 365 times the distance to 65 degF") {
    const double base = 273.15 + (65.0 - 32.0) / 1.8;
    const auto figures = climate::figures_of(still_year(base - 10.0, 500.0));
    CHECK(figures.heating_degree_days == doctest::Approx(3650.0));
    CHECK(figures.hourly_spread == doctest::Approx(0.0));
    CHECK(climate::figures_of(still_year(base + 1.0, 500.0)).heating_degree_days == doctest::Approx(0.0));
}

TEST_CASE("a daily wave of amplitude A spreads the hours by A over root 2 and the days not at all") {
    auto year = still_year(280.0, 500.0);
    for (std::size_t h = 0; h < year.temperature.size(); ++h) {
        year.temperature[h] += 6.0 * std::cos(2.0 * std::numbers::pi * static_cast<double>(h % 24) / 24.0);
    }
    const auto figures = climate::figures_of(year);
    CHECK(figures.hourly_spread == doctest::Approx(6.0 / std::numbers::sqrt2));
    CHECK(figures.hourly_spread_in_month == doctest::Approx(6.0 / std::numbers::sqrt2));
    CHECK(figures.daily_spread == doctest::Approx(0.0));
    CHECK(figures.heating_degree_days == doctest::Approx(365.0 * (273.15 + 33.0 / 1.8 - 280.0)));
}

TEST_CASE("steps between months spread the year but not the months") {
    auto year = still_year(270.0, 300.0);
    for (std::size_t h = 24 * 181; h < 24 * 365; ++h) year.temperature[h] = 290.0;  // July on
    const auto figures = climate::figures_of(year);
    CHECK(figures.daily_spread_in_month == doctest::Approx(0.0));
    CHECK(figures.daily_spread == doctest::Approx(20.0 * std::sqrt(181.0 * 184.0) / 365.0));
}

TEST_CASE("rain figures count wet hours and weigh the wind in front of the wettest face") {
    auto year = still_year(285.0, 1000.0);
    year.rain[100] = 2.0 / 3600.0;
    year.rain[5000] = 1.0 / 3600.0;
    year.wind_speed[100] = 5.0;
    year.wind_speed[5000] = 4.0;
    year.wind_direction[100] = std::numbers::pi;         // south
    year.wind_direction[5000] = 1.5 * std::numbers::pi;  // west
    const auto figures = climate::figures_of(year);
    CHECK(figures.wet_hours == 2);
    CHECK(figures.rain_sum == doctest::Approx(3.0));
    CHECK(figures.largest_rain == doctest::Approx(2.0));
    CHECK(figures.rain[0] == doctest::Approx(2.0));
    // south 10, west 4, south-west (10 + 4) / root 2 = 9.9
    CHECK(figures.driving == doctest::Approx(10.0));
}

TEST_CASE("a place with an hourly file has its own statistics, another borrows") {
    const auto own = climate::statistics_of(**climate::find_place("Duluth"));
    CHECK(own.own);
    CHECK(own.months[0].daily_sd == doctest::Approx(7.0).epsilon(0.01));  // January of the file: 7.0 K
    const auto lent = climate::statistics_of(**climate::find_place("Hibbing"));
    CHECK_FALSE(lent.own);
    CHECK(lent.from.find("Duluth") != std::string::npos);
    // Duluth, 90 km away, weighs most.
    CHECK(std::abs(lent.months[0].daily_sd - own.months[0].daily_sd) < 0.3);
    const auto refused = climate::statistics_of(**climate::find_place("Duluth"), false);
    CHECK_FALSE(refused.own);
    CHECK(refused.months[0].daily_sd != own.months[0].daily_sd);
}

TEST_CASE("every rose sums to one") {
    for (const auto& place : climate::places()) {
        CAPTURE(place.name);
        const auto statistics = climate::statistics_of(place);
        const auto sum = [](const climate::Rose& rose) {
            double total = 0.0;
            for (const double share : rose.share) total += share;
            return total;
        };
        for (const auto& rose : statistics.seasons) CHECK(sum(rose) == doctest::Approx(1.0).epsilon(0.001));
        CHECK(sum(statistics.driving_rain) == doctest::Approx(1.0).epsilon(0.001));
    }
}
