// The house model against SUNDIALS CVODE on the same networks, and what must hold for any network.
// Agreement asked for: 1e-5 (issue 7), taken of the swing of the zone's temperature over the run.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "house/simulate.h"
#include "ode.h"
#include "random_network.h"

using namespace warmside::house;
using Scheme = Stepping::Scheme;

namespace {

double swing(const std::vector<double>& t) {
    const auto [low, high] = std::minmax_element(t.begin(), t.end());
    return *high - *low;
}

}  // namespace

TEST_CASE("three days of zones that float agree with CVODE to 1e-5 of their swing") {
    for (const std::uint64_t seed : {1u, 2u, 3u}) {
        const Network n = random_network::make(
            seed, {.zones = 3, .elements_a_zone = 4, .cells = 8, .kept = false, .one_way = seed == 3});
        constexpr int hours = 72;
        const auto theirs = ode::march(n, hours, 285.0, 1e-10, 1e-9);
        const auto ours = simulate(
            n, {.hours = hours, .steps = 512, .scheme = Scheme::second_order, .run_in = 0, .start = 285.0});
        REQUIRE(ours);
        for (std::size_t z = 0; z < theirs.size(); ++z) {
            double worst = 0.0;
            for (std::size_t h = 0; h < hours; ++h)
                worst = std::max(worst, std::abs(ours->air[z][h] - theirs[z][h]));
            INFO("seed ", seed, ", zone ", z, ": ", worst, " K of ", swing(theirs[z]), " K");
            CHECK(worst < 1e-5 * swing(theirs[z]));
        }
    }
}

TEST_CASE("the coarse step of a year is as good as the documents say") {
    // docs/methods/house.md: zone temperatures of implicit Euler in steps of an hour, root mean square.
    const Network n = random_network::make(4, {.zones = 3, .elements_a_zone = 5, .cells = 12, .kept = false});
    constexpr int hours = 24 * 60;
    const auto fine = simulate(
        n, {.hours = hours, .steps = 32, .scheme = Scheme::second_order, .run_in = 0, .start = 285.0});
    const auto coarse = simulate(n, {.hours = hours, .run_in = 0, .start = 285.0});
    REQUIRE(fine);
    REQUIRE(coarse);
    for (std::size_t z = 0; z < n.zones.size(); ++z) {
        double square = 0.0;
        for (std::size_t h = 0; h < hours; ++h) square += std::pow(coarse->air[z][h] - fine->air[z][h], 2);
        CHECK(std::sqrt(square / hours) < 0.02 * swing(fine->air[z]));
    }
}

TEST_CASE("every hour of any network balances to 1e-8 of what flows") {
    for (std::uint64_t seed = 10; seed < 60; ++seed) {
        const Network n =
            random_network::make(seed, {.zones = 1 + static_cast<int>(seed % 6), .one_way = seed % 3 == 0});
        for (const Scheme scheme : {Scheme::first_order, Scheme::second_order}) {
            const auto run = simulate(n, {.first_hour = 4000, .hours = 400, .scheme = scheme});
            REQUIRE(run);
            CHECK(run->worst_balance < 1e-8 * run->largest_flow);
        }
    }
}

TEST_CASE(
    "a house that is warmer than all around it by its heating alone needs more of it when it is colder "
    "outside") {
    for (std::uint64_t seed = 100; seed < 120; ++seed) {
        Network n = random_network::make(seed, {.zones = 2});
        const auto used = [&] {
            const auto run = simulate(n, {.hours = 2000});
            REQUIRE(run);
            double sum = 0.0;
            for (const double w : run->heating[0]) sum += w;
            return sum;
        };
        const double before = used();
        for (Boundary& b : n.boundaries)
            for (double& t : b.temperature.hourly) t -= 1.0;
        CHECK(used() >= before);
    }
}
