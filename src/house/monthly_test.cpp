#include "house/monthly.h"

#include <cmath>
#include <doctest/doctest.h>
#include <vector>

namespace warmside::house {

namespace {
constexpr double kwh = 3.6e6;
}

TEST_CASE("the factor runs smoothly through g = 1, from 1 to 1/g") {
    for (const double a : {1.0, 3.0, 8.0}) {
        CHECK(utilisation(0.0, a) == 1.0);
        CHECK(utilisation(1.0, a) == doctest::Approx(a / (a + 1.0)));
        CHECK(utilisation(1.0 + 1e-6, a) == doctest::Approx(utilisation(1.0 - 1e-6, a)).epsilon(1e-5));
        double before = 1.0;
        for (double g = 0.05; g < 6.0; g += 0.05) {
            const double eta = utilisation(g, a);
            CHECK(eta < before);
            CHECK(eta < 1.0 / std::max(g, 1.0) + 1e-12);
            before = eta;
        }
        CHECK(utilisation(1e6, a) == doctest::Approx(1e-6));
    }
    CHECK(utilisation(2.0, 400.0) == doctest::Approx(0.5));
}

TEST_CASE("three months by the method") {
    MonthlyHouse house;
    house.conductance = 150.0;
    house.capacity = 23.1e6;
    house.outdoor.fill(300.0);
    // energy-checks.json, iso13790-monthly (computed)
    house.outdoor[0] = 273.15 - 11.1;
    house.outdoor[3] = 273.15 + 5.0;
    house.outdoor[9] = 273.15 + 8.5;
    house.gains[0] = 780.0 * kwh;
    house.gains[3] = 1150.0 * kwh;
    house.gains[9] = 900.0 * kwh;
    house.gains[6] = 500.0 * kwh;
    const auto done = monthly_need(house);
    REQUIRE(done);
    CHECK(done->time_constant / 3600.0 == doctest::Approx(42.7778).epsilon(1e-5));
    CHECK(done->exponent == doctest::Approx(3.85185).epsilon(1e-5));
    CHECK(done->heating[0] / kwh == doctest::Approx(2692.69).epsilon(1e-5));
    CHECK(done->heating[3] / kwh == doctest::Approx(580.00).epsilon(1e-4));
    CHECK(done->heating[9] / kwh == doctest::Approx(466.85).epsilon(1e-4));
    CHECK(done->heating[6] == 0.0);
    CHECK(done->year == doctest::Approx(done->heating[0] + done->heating[3] + done->heating[9]));
}

TEST_CASE("what cannot be is refused") {
    MonthlyHouse house;
    CHECK(monthly_need(house).error().code == Code::out_of_range);
    house.conductance = 100.0;
    house.capacity = 1e7;
    house.outdoor.fill(270.0);
    house.gains[2] = -1.0;
    CHECK(monthly_need(house).error().code == Code::out_of_range);
}

TEST_CASE("each cell stores by the share of the step that reaches it") {
    Network n;
    n.zones.push_back({.name = "room", .capacity = 2e5});
    n.boundaries.push_back({.name = "outside", .conductance = {25.0, {}}, .temperature = {273.15, {}}});
    Element wall{.name = "wall", .area = 10.0, .boundary = 0};
    wall.conductance = {4.0, 1.0, 0.5, 2.0};
    wall.capacity = {3e4, 1e4, 2e4};
    n.elements.push_back(wall);
    Element inner{.name = "partition", .area = 7.0, .beyond = 0};
    inner.conductance = {4.0, 4.0};
    inner.capacity = {1e4};
    n.elements.push_back(inner);
    // resistances: 1/(2.5 + 5.13), 0.25, 1, 2, 0.5 to the outer surface; its film of 1/25 belongs to the
    // boundary
    const double film = 1.0 / 7.63, total = film + 3.75;
    const double by_hand = 2e5 +
                           10.0 * (3e4 * (1.0 - (film + 0.25) / total) + 1e4 * (1.0 - (film + 1.25) / total) +
                                   2e4 * (1.0 - (film + 3.25) / total)) +
                           7.0 * 1e4;
    CHECK(stored_per_kelvin(n, 0) == doctest::Approx(by_hand));
}

TEST_CASE("months of an hourly series") {
    std::vector<double> hourly(8760, 2.0);
    for (std::size_t hour = 0; hour < 744; ++hour) hourly[hour] = 5.0;
    CHECK(monthly_mean(hourly)[0] == doctest::Approx(5.0));
    CHECK(monthly_mean(hourly)[11] == doctest::Approx(2.0));
    CHECK(monthly_energy(hourly)[1] == doctest::Approx(2.0 * 672.0 * 3600.0));
}

}  // namespace warmside::house
