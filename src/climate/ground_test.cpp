#include "climate/ground.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace warmside::climate;

namespace {

constexpr double turn = 2.0 * std::numbers::pi;
constexpr AnnualWave wave{277.15, 15.0, 500.0};

Year waving(double mean, double amplitude, double coldest, double daily) {
    Year year;
    for (int i = 0; i < hours_in_year; ++i)
        year.temperature.push_back(mean - amplitude * std::cos(turn * (i + 0.5 - coldest) / hours_in_year) +
                                   daily * std::cos(turn * i / 24.0));
    return year;
}

}  // namespace

TEST_CASE("the annual wave of a cosine with days laid over it is that cosine") {
    const auto found = annual_wave(waving(280.0, 12.5, 400.0, 6.0));
    CHECK(found.mean == doctest::Approx(280.0).epsilon(1e-9));
    CHECK(found.amplitude == doctest::Approx(12.5).epsilon(1e-9));
    CHECK(found.coldest == doctest::Approx(400.0).epsilon(1e-6));
    // The coldest hour may lie just before the new year.
    CHECK(annual_wave(waving(280.0, 12.5, 8700.0, 0.0)).coldest == doctest::Approx(8700.0).epsilon(1e-6));
}

TEST_CASE("the surface has the air's wave, and deep ground its mean") {
    CHECK(ground_temperature(wave, clay, 0.0, wave.coldest) == doctest::Approx(262.15));
    CHECK(ground_temperature(wave, clay, 0.0, wave.coldest + 4380.0) == doctest::Approx(292.15));
    const auto deep = ground_temperature(wave, clay, 40.0);
    CHECK(*std::max_element(deep.begin(), deep.end()) - wave.mean < 1e-5);
    CHECK(wave.mean - *std::min_element(deep.begin(), deep.end()) < 1e-5);
}

TEST_CASE("the wave solves the equation of heat conduction") {
    // dT/dt = (k/C) d2T/dz2 by central differences
    const double h = 0.02, t = 12.0;
    for (const double z : {0.3, 1.0, 2.5, 6.0}) {
        for (const double hour : {0.0, 2000.0, 7000.0}) {
            const auto at = [&](double depth, double when) {
                return ground_temperature(wave, sand, depth, when);
            };
            const double by_time = (at(z, hour + t) - at(z, hour - t)) / (2.0 * t * 3600.0);
            const double bend = (at(z + h, hour) - 2.0 * at(z, hour) + at(z - h, hour)) / (h * h);
            CHECK(by_time ==
                  doctest::Approx(sand.conductivity / sand.heat_capacity * bend).epsilon(1e-3).scale(1e-7));
        }
    }
}

TEST_CASE("at the penetration depth the swing is 1/e and a 2 pi-th of a year late") {
    const double d = penetration_depth(sand);
    const auto at = ground_temperature(wave, sand, d);
    const auto coldest = std::min_element(at.begin(), at.end());
    CHECK(wave.mean - *coldest == doctest::Approx(15.0 / std::numbers::e).epsilon(1e-5));
    CHECK(static_cast<double>(coldest - at.begin()) + 0.5 ==
          doctest::Approx(500.0 + hours_in_year / turn).epsilon(1e-3));
}
