#include "moisture/monthly.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "moisture/surface.h"

using namespace warmside;
using namespace warmside::moisture;

namespace {

constexpr double still_air = 2.0e-10;  // kg/(s m Pa), ISO 13788

/// iso13788-own-wall, our own example: painted gypsum, wool 140, osb, stone wool 60, ventilated cavity.
const std::vector<SteadyLayer> own_wall{{0.13, 0.0},
                                        {0.08, 0.5 / still_air},
                                        {3.8889, 0.168 / still_air},
                                        {0.11, 2.0 / still_air},
                                        {1.7143, 0.072 / still_air},
                                        {0.13, 0.0}};

/// Duluth, class 3 x 1.1; January to December.
std::array<MonthlyAir, 12> duluth() {
    constexpr std::array<double, 12> te{-13.0, -8.2, -2.6, 4.0, 12.4, 16.2,
                                        17.8,  17.5, 12.9, 6.0, -4.5, -11.1};
    constexpr std::array<double, 12> pe{142.5,  206.7,  344.2,  487.7, 906.7, 1380.5,
                                        1548.1, 1559.1, 1189.8, 682.3, 314.0, 164.5};
    std::array<MonthlyAir, 12> air;
    for (std::size_t m = 0; m < 12; ++m) {
        air[m].outside = {273.15 + te[m], pe[m]};
        air[m].inside = {293.15, pe[m] + 1.1 * humidity_class_excess(3, air[m].outside.temperature)};
    }
    return air;
}

}  // namespace

TEST_CASE("the monthly example condenses from November, peaks in March and is dry in July") {
    const auto got = monthly_condensation(own_wall, duluth());
    REQUIRE(got);
    CHECK(got->first_month == 11);
    REQUIRE(got->plane.size() == 1);
    CHECK(got->plane[0] == 3);  // films count as layers: wool | osb
    // iso13788-own-wall (computed)
    CHECK(std::abs(got->condensed[0][10] - 0.21355) < 0.002);
    CHECK(std::abs(got->condensed[0][0] - 0.33295) < 0.002);
    CHECK(std::abs(got->condensed[0][3] + 0.13713) < 0.002);
    CHECK(std::abs(got->peak - 1.23577) < 0.0124);
    CHECK(got->peak_month == 3);
    CHECK(got->dry_month == 7);
    CHECK(got->dries_out);
}

TEST_CASE("a wall that condenses in no month has no water and no first month") {
    auto wall = own_wall;
    wall[1].vapour_resistance = 50.0 / still_air;
    const auto got = monthly_condensation(wall, duluth());
    REQUIRE(got);
    CHECK(got->first_month == 0);
    CHECK(got->peak == 0.0);
    CHECK(got->dries_out);
}

TEST_CASE("a wall that condenses all year does not dry out") {
    std::array<MonthlyAir, 12> air;
    air.fill({.inside = {293.15, 1400.0}, .outside = {263.15, 200.0}});
    const auto got = monthly_condensation(own_wall, air);
    REQUIRE(got);
    CHECK(got->first_month == 1);
    CHECK_FALSE(got->dries_out);
    CHECK(got->peak_month == 12);
}

TEST_CASE("vapour is neither made nor lost: in, out and condensing rates close") {
    const auto air = duluth();
    for (const auto& month : air) {
        const auto p = steady_profile(own_wall, month.inside, month.outside);
        REQUIRE(p);
        double condensing = 0.0;
        for (const double rate : p->rate) condensing += rate;
        CHECK(p->flux_in - p->flux_out == doctest::Approx(condensing).epsilon(1e-9));
        for (std::size_t i = 0; i < p->saturation.size(); ++i)
            CHECK(p->vapour_pressure[i] <= p->saturation[i] * (1 + 1e-9));
    }
}

TEST_CASE("cutting a layer in two changes nothing") {
    auto cut = own_wall;
    const SteadyLayer half{own_wall[2].resistance / 2, own_wall[2].vapour_resistance / 2};
    cut[2] = half;
    cut.insert(cut.begin() + 2, half);
    const auto a = monthly_condensation(own_wall, duluth()), b = monthly_condensation(cut, duluth());
    REQUIRE(a);
    REQUIRE(b);
    CHECK(a->peak == doctest::Approx(b->peak).epsilon(1e-9));
}

TEST_CASE("air over saturation and negative resistances are refused") {
    const auto wet = steady_profile(own_wall, {293.15, 3000.0}, {263.15, 200.0});
    REQUIRE_FALSE(wet);
    CHECK(wet.error().what.find("indoor air holds 3000 Pa") == 0);
    auto wall = own_wall;
    wall[2].resistance = -1.0;
    CHECK_FALSE(steady_profile(wall, {293.15, 1000.0}, {263.15, 200.0}));
    wall[2].resistance = std::numeric_limits<double>::quiet_NaN();
    CHECK_FALSE(steady_profile(wall, {293.15, 1000.0}, {263.15, 200.0}));
    const std::array<std::size_t, 1> face{0};
    CHECK_FALSE(steady_profile(own_wall, {293.15, 1000.0}, {263.15, 200.0}, face));
}

TEST_CASE("an inner face below the dew point, with a film of no vapour resistance, is refused") {
    const std::vector<SteadyLayer> glass{{0.13, 0.0}, {0.005, 1e15}, {0.04, 0.0}};
    const auto got = steady_profile(glass, {293.15, 1400.0}, {263.15, 200.0});
    REQUIRE_FALSE(got);
    CHECK(got.error().code == Code::unsupported);
}

TEST_CASE("the dew point is the inverse of saturation") {
    for (double T = 235.0; T < 320.0; T += 1.3)
        CHECK(dew_point_iso13788(saturation_iso13788(T)) == doctest::Approx(T).epsilon(1e-12));
}

TEST_CASE("the least surface factor of 20 degC, 50 % and -5 degC is 0.705") {
    // iso13788-frsi; 12.6 degC is that of DIN 4108-2
    const auto need = surface_need(293.15, 0.5 * saturation_iso13788(293.15), 268.15, 0.8);
    CHECK(std::abs(need.factor - 0.705) < 0.001);
    CHECK(std::abs(need.temperature - 273.15 - 12.62) < 0.02);
}
