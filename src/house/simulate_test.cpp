#include "house/simulate.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "house/balance.h"

namespace warmside::house {

namespace {

// One zone behind one wall of `cells` equal cells, R 2 m2 K/W and 100 kJ/(m2 K), outside at 273.15 K.
Network room(int cells) {
    Network n;
    n.zones.push_back({.name = "room", .capacity = 1e5});
    n.boundaries.push_back({.name = "outside", .conductance = {25.0, {}}, .temperature = {273.15, {}}});
    Element wall{.name = "wall", .area = 30.0, .boundary = 0};
    for (int i = 0; i <= cells; ++i)
        wall.conductance.push_back((i == 0 || i == cells ? 2.0 * cells : 1.0 * cells) / 2.0);
    wall.capacity.assign(static_cast<std::size_t>(cells), 1e5 / cells);
    n.elements.push_back(wall);
    return n;
}

double u_of_room() {
    // The air drives both films: the radiant node of one surface follows that surface, so only convection
    // counts.
    return 1.0 / (1.0 / 2.5 + 2.0 + 1.0 / 25.0);
}

}  // namespace

TEST_CASE("a held zone's steady load is area x U x difference") {
    Network n = room(10);
    n.zones[0].heating.constant = 293.15;
    const auto done = steady(n, 0);
    REQUIRE(done);
    CHECK(done->heating[0] == doctest::Approx(30.0 * u_of_room() * 20.0).epsilon(1e-12));
    CHECK(done->inward[0] == doctest::Approx(-done->heating[0]).epsilon(1e-12));
}

TEST_CASE("a year of unchanging weather comes to the steady load") {
    Network n = room(10);
    n.zones[0].heating.constant = 293.15;
    const auto run = simulate(n);
    REQUIRE(run);
    CHECK(run->heating[0].back() == doctest::Approx(30.0 * u_of_room() * 20.0).epsilon(1e-9));
    CHECK(run->worst_balance < 1e-8 * run->largest_flow);
}

// A lump without films to speak of: T' = -(T - T_out)/tau, solved exactly by the exponential.
TEST_CASE("a lump cools by the exponential: first order with one stage, second with two") {
    Network n;
    n.zones.push_back({.name = "lump", .capacity = 1e6});
    n.links.push_back({.name = "air", .zone = 0, .conductance = {50.0, {}}, .temperature = {273.15, {}}});
    const double tau = 1e6 / 50.0;
    const auto error = [&](Stepping::Scheme scheme, int steps) {
        const auto run =
            simulate(n, {.hours = 10, .steps = steps, .scheme = scheme, .run_in = 0, .start = 293.15});
        REQUIRE(run);
        return std::abs(run->air[0].back() - (273.15 + 20.0 * std::exp(-36000.0 / tau)));
    };
    using enum Stepping::Scheme;
    CHECK(error(first_order, 40) / error(first_order, 80) == doctest::Approx(2.0).epsilon(0.02));
    CHECK(error(second_order, 40) / error(second_order, 80) == doctest::Approx(4.0).epsilon(0.02));
}

// Carslaw and Jaeger 2.6 (memory): at depth x of a half-space a surface swing fades as exp(-x/d), d = sqrt(a
// P/pi), and lags by x/d.
TEST_CASE("a daily swing fades in a deep wall as it does in a half-space") {
    constexpr double conductivity = 1.0, volumetric = 2e6, cell = 0.01, period = 86400.0;
    Network n;
    n.zones.push_back({.name = "room", .capacity = 1e12});
    Boundary outside{.name = "outside", .conductance = {1e6, {}}, .temperature = {}};
    for (int h = 0; h < hours_in_year; ++h)
        outside.temperature.hourly.push_back(280.0 +
                                             10.0 * std::cos(2.0 * std::numbers::pi * (h + 0.5) / 24.0));
    n.boundaries.push_back(outside);
    const double depth = std::sqrt(conductivity / volumetric * period / std::numbers::pi);
    const auto amplitude = [&](int cells) {
        Network copy = n;
        Element slab{.name = "slab", .area = 1.0, .boundary = 0};
        slab.convection = slab.radiation = 0.0;
        slab.convection = 1e-9;  // the inner surface is as good as adiabatic
        slab.capacity.assign(static_cast<std::size_t>(cells), volumetric * cell);
        slab.conductance.assign(static_cast<std::size_t>(cells) + 1, conductivity / cell);
        slab.conductance.front() = slab.conductance.back() = 2.0 * conductivity / cell;
        copy.elements.push_back(slab);
        const auto run = simulate(copy, {.hours = 24 * 60,
                                         .steps = 20,
                                         .scheme = Stepping::Scheme::second_order,
                                         .run_in = 0,
                                         .start = 280.0});
        REQUIRE(run);
        double high = -1e9, low = 1e9;
        for (int h = 24 * 58; h < 24 * 60; ++h) {
            // convection x (T_s - T_air) with the air as good as fixed at its start
            const double t = 280.0 + run->inward[0][static_cast<std::size_t>(h)] / 1e-9;
            high = std::max(high, t);
            low = std::min(low, t);
        }
        return (high - low) / 2.0;
    };
    // An adiabatic end reflects: the swing there is twice that of the half-space less terms of exp(-3 x/d).
    // The cells cost 0.6 %, the weather that stands still for an hour 0.3 %.
    const double x = 0.60;
    CHECK(amplitude(60) == doctest::Approx(2.0 * 10.0 * std::exp(-x / depth)).epsilon(0.01));
}

TEST_CASE("set-points hold, limits give, and what is missed is counted") {
    Network n = room(5);
    n.zones[0].heating.constant = 293.15;
    n.zones[0].heating_limit = 100.0;
    const auto run = simulate(n);
    REQUIRE(run);
    CHECK(run->heating[0].back() == doctest::Approx(100.0));
    CHECK(run->air[0].back() < 293.0);
    CHECK(run->unmet > 8000);
    n.zones[0].convective.constant = 5000.0;
    n.zones[0].cooling.constant = 299.15;
    const auto hot = simulate(n);
    REQUIRE(hot);
    CHECK(hot->air[0].back() == doctest::Approx(299.15));
    CHECK(hot->cooling[0].back() == doctest::Approx(5000.0 - 30.0 * u_of_room() * 26.0).epsilon(1e-6));
    CHECK(hot->unmet == 0);
}

TEST_CASE("a gain in one zone warms another as much as the same gain there warms it") {
    Network n = room(4);
    n.zones.push_back({.name = "attic", .capacity = 5e4});
    Element ceiling{.name = "ceiling", .area = 50.0, .zone = 0, .beyond = 1};
    ceiling.conductance = {1.0, 0.5, 3.0};
    ceiling.capacity = {2e4, 1e4};
    ceiling.convection = 5.0;
    ceiling.convection_beyond = 0.7;
    n.elements.push_back(ceiling);
    Element roof{.name = "roof", .area = 60.0, .zone = 1, .boundary = 0, .conductance = {4.0}};
    n.elements.push_back(roof);
    n.links.push_back({.name = "hatch", .zone = 0, .beyond = 1, .conductance = {3.0, {}}});
    const auto warmed = [&](std::size_t by, std::size_t at, bool radiant) {
        Network heated = n;
        (radiant ? heated.zones[by].radiant : heated.zones[by].convective).constant = 500.0;
        const auto with = steady(heated, 0), without = steady(n, 0);
        REQUIRE(with);
        REQUIRE(without);
        return radiant ? with->radiant[at] - without->radiant[at] : with->air[at] - without->air[at];
    };
    CHECK(warmed(0, 1, false) == doctest::Approx(warmed(1, 0, false)).epsilon(1e-10));
    CHECK(warmed(0, 1, true) == doctest::Approx(warmed(1, 0, true)).epsilon(1e-10));
    CHECK(warmed(0, 1, false) > 0.1);
}

TEST_CASE("a film that follows the temperatures settles at its own law, and the balance closes") {
    Network n = room(10);
    n.zones[0].heating.constant = 293.15;
    n.elements[0].film = Film::wall;
    n.elements[0].radiation = 0.0;
    const auto done = steady(n, 0);
    REQUIRE(done);
    // Flow q through film 1.31 dT^(1/3), wall 2.0 and 1/25: q = 1.31 dT^(4/3) and dT = 20 - q (2 + 1/25)
    const double q = done->heating[0] / 30.0, warmer = 20.0 - q * 2.04;
    CHECK(q == doctest::Approx(1.31 * std::pow(warmer, 4.0 / 3.0)).epsilon(1e-9));
    const auto run = simulate(n);
    REQUIRE(run);
    CHECK(run->heating[0].back() == doctest::Approx(done->heating[0]).epsilon(1e-9));
    CHECK(run->worst_balance < 1e-8 * run->largest_flow);
    // Warm floors and cold ceilings stir the air, cold floors and warm ceilings still it.
    CHECK(free_convection(Film::floor, 8.0) == doctest::Approx(2.0 * 1.52));
    CHECK(free_convection(Film::floor, -8.0) == doctest::Approx(2.0 * 0.76));
    CHECK(free_convection(Film::ceiling, -8.0) == free_convection(Film::floor, 8.0));
    CHECK(free_convection(Film::ceiling, 8.0) == free_convection(Film::floor, -8.0));
}

TEST_CASE("films between two zones follow on both sides") {
    Network n = room(4);
    n.zones[0].heating.constant = 293.15;
    n.zones.push_back({.name = "cold store", .capacity = 1e5, .cooling = {275.0, {}}});
    Element between{.name = "partition", .area = 10.0, .zone = 0, .beyond = 1, .conductance = {2.0}};
    between.film = between.film_beyond = Film::wall;
    between.radiation = between.radiation_beyond = 0.0;
    n.elements.push_back(between);
    const auto done = steady(n, 0);
    REQUIRE(done);
    const double q = -done->inward[1] / 10.0, each = std::pow(q / 1.31, 0.75);
    CHECK(done->air[1] == doctest::Approx(275.0));
    CHECK(2.0 * each + q / 2.0 == doctest::Approx(18.15).epsilon(1e-9));
}

TEST_CASE("what cannot be is refused with the part's name") {
    const auto refused = [](auto change, const char* what) {
        Network n = room(3);
        change(n);
        const auto run = simulate(n);
        REQUIRE_FALSE(run);
        CHECK(run.error().what == what);
    };
    refused([](Network& n) { n.elements[0].area = 0.0; }, "wall: area is not above 0");
    refused([](Network& n) { n.elements[0].boundary = 7; }, "wall: the boundary does not exist");
    refused([](Network& n) { n.elements[0].capacity.pop_back(); },
            "wall: needs one conductance more than cells");
    refused([](Network& n) { n.elements[0].conductance[1] = NAN; }, "wall: conductance is not above 0");
    refused([](Network& n) { n.boundaries[0].temperature.hourly = {273.0}; },
            "outside: temperature has 1 hours");
    refused([](Network& n) { n.zones[0].heating.constant = 300.0, n.zones[0].cooling.constant = 299.0; },
            "room: heating set-point is not below cooling set-point");
    Network n = room(3);
    CHECK_FALSE(simulate(n, {.first_hour = 8000, .hours = 1000}));
}

TEST_CASE("a zone that nothing holds and nothing leaves has no steady state") {
    Network n;
    n.zones.push_back({.name = "void", .capacity = 1e5});
    CHECK_FALSE(steady(n, 0));
}

}  // namespace warmside::house
