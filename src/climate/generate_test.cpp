#include "climate/generate.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "air/saturation.h"
#include "climate/generate_parts.h"

using namespace warmside;
using climate::generated::Series;

namespace {

double mean(const Series& x) {
    double sum = 0.0;
    for (const double value : x) sum += value;
    return sum / static_cast<double>(x.size());
}

double variance(const Series& x) {
    const double middle = mean(x);
    double sum = 0.0;
    for (const double value : x) sum += (value - middle) * (value - middle);
    return sum / static_cast<double>(x.size());
}

double lag(const Series& x) {
    const double middle = mean(x);
    double sum = 0.0;
    for (std::size_t i = 1; i < x.size(); ++i) sum += (x[i] - middle) * (x[i - 1] - middle);
    return sum / static_cast<double>(x.size() - 1) / variance(x);
}

}  // namespace

TEST_CASE("every built-in year keeps the contract of a year") {
    for (const auto& place : climate::places()) {
        CAPTURE(place.name);
        const auto year = climate::generate(place);
        REQUIRE(year);
        const auto checked = climate::check(*year);
        if (!checked) FAIL_CHECK(checked.error().what);
        CHECK(year->notes.size() >= 4);
        CHECK(year->origin.source.starts_with("generated from monthly means"));
        const auto [low, high] = std::ranges::minmax(year->temperature);
        CHECK(low > 220.0);
        CHECK(high < 318.0);
        CHECK(*std::ranges::max_element(year->wind_speed) <= 31.0);
        CHECK(*std::ranges::max_element(year->rain) * 3600.0 <= 50.001);
        CHECK(std::ranges::all_of(year->wind_direction, [](double d) { return d >= 0.0 && d <= 6.2832; }));
        CHECK(std::ranges::all_of(year->cloud, [](double c) { return c >= 0.0 && c <= 1.0; }));
    }
}

TEST_CASE("no vapour above saturation in any hour of any place") {
    for (const auto& place : climate::places()) {
        CAPTURE(place.name);
        const auto year = climate::generate(place);
        REQUIRE(year);
        double closest = -100.0;
        for (std::size_t h = 0; h < year->temperature.size(); ++h) {
            closest = std::max(closest, air::dew_point(year->vapour_pressure[h]) - year->temperature[h]);
        }
        CHECK(closest <= 1e-6);
    }
}

TEST_CASE("no radiation at night, beam below the extraterrestrial, and the parts add up") {
    for (const char* name : {"Duluth", "Fairbanks", "Gunnison", "Boston"}) {
        CAPTURE(name);
        const auto& place = **climate::find_place(name);
        const auto year = climate::generate(place);
        REQUIRE(year);
        const auto sun = climate::generated::sun_of(place);
        int night = 0;
        for (std::size_t h = 0; h < year->global.size(); ++h) {
            CHECK(year->global[h] >= 0.0);
            CHECK(year->direct[h] >= 0.0);
            CHECK(year->diffuse[h] >= -1e-9);
            CHECK(year->global[h] <= sun.outside[h] + 1e-9);
            CHECK(year->direct[h] <= sun.beam_outside[h] + 1e-9);
            CHECK(year->diffuse[h] + year->direct[h] * sun.sine[h] == doctest::Approx(year->global[h]));
            if (sun.outside[h] > 0.0) continue;
            ++night;
            CHECK(year->global[h] == 0.0);
            CHECK(year->direct[h] == 0.0);
        }
        CHECK(night > 3800);
        CHECK(night < 4500);
    }
}

TEST_CASE("the same place and seed give the same bits, another seed another year with the same means") {
    const auto& place = **climate::find_place("Caribou");
    const auto one = climate::generate(place), two = climate::generate(place),
               other = climate::generate(place, 2);
    REQUIRE(one);
    REQUIRE(two);
    REQUIRE(other);
    for (const auto column :
         {&climate::Year::temperature, &climate::Year::vapour_pressure, &climate::Year::global,
          &climate::Year::rain, &climate::Year::wind_speed, &climate::Year::wind_direction,
          &climate::Year::cloud, &climate::Year::diffuse}) {
        CHECK((*one).*column == (*two).*column);
        CHECK((*one).*column != (*other).*column);
    }
    const auto a = climate::figures_of(*one), b = climate::figures_of(*other);
    for (std::size_t m = 0; m < 12; ++m) {
        CHECK(a.temperature[m] == doctest::Approx(b.temperature[m]));
        CHECK(a.global[m] == doctest::Approx(b.global[m]));
        CHECK(a.wind_speed[m] == doctest::Approx(b.wind_speed[m]).epsilon(0.001));
        CHECK(a.rain[m] == doctest::Approx(b.rain[m]).epsilon(0.001));
    }
}

TEST_CASE("rain falls above freezing, in cloudier, damper and duller hours than the rest of its month") {
    for (const auto& place : climate::places()) {
        CAPTURE(place.name);
        const auto year = climate::generate(place);
        REQUIRE(year);
        const auto figures = climate::figures_of(*year);
        CHECK(figures.wet_cloud > figures.mean_cloud + 0.15);
        double humidity = 0.0;
        for (std::size_t h = 0; h < year->rain.size(); ++h) {
            humidity += climate::relative_humidity(*year, h) / climate::hours_in_year;
            if (year->rain[h] > 0.0) CHECK(year->temperature[h] > 273.15);
        }
        CHECK(figures.wet_humidity > humidity + 0.1);
        CHECK(figures.wet_hours > 50);
        CHECK(figures.wet_hours < 600);
    }
}

TEST_CASE("the hours follow on each other: no leaps at midnight or at the turn of a month") {
    for (const auto& place : climate::places()) {
        CAPTURE(place.name);
        const auto year = climate::generate(place);
        REQUIRE(year);
        double midnight = 0.0, other = 0.0;
        for (std::size_t h = 1; h < year->temperature.size(); ++h) {
            const double step = std::abs(year->temperature[h] - year->temperature[h - 1]);
            CHECK(step < 15.0);  // the real files of the 18 stations have 6 to 14.5 K
            (h % 24 == 0 ? midnight : other) += step / (h % 24 == 0 ? 364.0 : 8760.0 - 365.0);
        }
        CHECK(midnight < 2.0 * other);
    }
}

TEST_CASE("impossible months are refused with a reason") {
    auto place = **climate::find_place("Duluth");
    place.months[5].global = 460.0;
    auto sunny = climate::generate(place);
    REQUIRE_FALSE(sunny);
    CHECK(sunny.error().code == Code::out_of_range);
    CHECK(sunny.error().what.starts_with("month 6 of Duluth has a clearness index of 0.9"));
    place = **climate::find_place("Duluth");
    place.months[0].dew_point = place.months[0].temperature + 1.0;
    CHECK(climate::generate(place).error().what.starts_with("month 1 of Duluth has impossible weather"));
    place = **climate::find_place("Duluth");
    place.months[11].rain = -1.0;
    CHECK_FALSE(climate::generate(place));
}

TEST_CASE("persistent draws have the asked variance and lag") {
    climate::generated::Draws draws(7);
    for (const double wanted : {0.0, 0.3, 0.9}) {
        CAPTURE(wanted);
        const Series x = climate::generated::persistent(draws, 200000, [&](int) { return wanted; });
        CHECK(std::abs(mean(x)) < 0.03);
        CHECK(variance(x) == doctest::Approx(1.0).epsilon(0.04));
        CHECK(std::abs(lag(x) - wanted) < 0.01);
    }
}

TEST_CASE("gamma draws have mean and variance equal to their shape") {
    climate::generated::Draws draws(11);
    for (const double shape : {0.1, 0.5, 1.0, 4.0}) {
        CAPTURE(shape);
        Series x(200000);
        for (double& value : x) value = draws.gamma(shape);
        CHECK(mean(x) == doctest::Approx(shape).epsilon(0.03));
        CHECK(variance(x) == doctest::Approx(shape).epsilon(0.05));
    }
}

TEST_CASE("the curve through means keeps the mean of every block") {
    const std::array means{-13.0, -8.2, -2.6, 4.0, 12.4, 16.2, 17.8, 17.5, 12.9, 6.0, -4.5, -11.1};
    const Series curve = climate::generated::through_means(means, climate::days_in_month);
    REQUIRE(curve.size() == 365);
    for (std::size_t m = 0; m < 12; ++m) {
        double sum = 0.0;
        for (int d = climate::month_starts[m]; d < climate::month_starts[m + 1]; ++d)
            sum += curve[static_cast<std::size_t>(d)];
        CHECK(sum / climate::days_in_month[m] == doctest::Approx(means[m]).epsilon(1e-5));
    }
    for (std::size_t d = 1; d < curve.size(); ++d) CHECK(std::abs(curve[d] - curve[d - 1]) < 0.6);
}
