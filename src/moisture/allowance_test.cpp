#include "moisture/allowance.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace warmside;
using namespace warmside::moisture;

namespace {

/// A wall that leaves dry and becomes wet at known leaks, and how many runs and rounds the search takes for
/// it.
struct Wall {
    double dry_ends, wet_begins;
    int runs = 0, rounds = 0;
    [[nodiscard]] Dryness at(double leak) const {
        return leak >= wet_begins ? Dryness::wet : leak >= dry_ends ? Dryness::watch : Dryness::dry;
    }
    WettingAllowance search(double most) {
        LeakSearch search(most);
        for (auto levels = search.next(); !levels.empty(); levels = search.next()) {
            ++rounds;
            REQUIRE(levels.size() <= 8);
            for (const double leak : levels) {
                CHECK(leak >= 0.0);
                CHECK(leak <= most * (1.0 + 1e-12));
                search.tell(leak, at(leak));
                ++runs;
            }
            REQUIRE(rounds < 10);
        }
        return search.answer();
    }
};

}  // namespace

TEST_CASE("both ends of the wetting allowance are found to 5 %, from below, in three rounds of eight") {
    for (const double dry_ends : {0.021, 0.3, 0.87, 2.4, 7.7, 29.0}) {
        for (const double ratio : {1.01, 1.2, 3.0, 40.0}) {
            Wall wall{dry_ends, dry_ends * ratio};
            const auto found = wall.search(30.0);
            CAPTURE(dry_ends);
            CAPTURE(ratio);
            CHECK(found.dry_bounded);
            CHECK(found.dry < dry_ends);
            CHECK(found.dry >= dry_ends / 1.05);
            CHECK(found.not_wet >= found.dry);
            CHECK(found.not_wet_bounded == (dry_ends * ratio <= 30.0));
            if (found.not_wet_bounded) {
                CHECK(found.not_wet < wall.wet_begins);
                CHECK(found.not_wet >= wall.wet_begins / 1.05);
            }
            CHECK(wall.rounds <= 3);
        }
    }
}

TEST_CASE("an allowance that no leak tried reaches is unbounded, and says how far it was tried") {
    Wall wall{1e9, 1e9};
    const auto found = wall.search(12.0);
    CHECK_FALSE(found.dry_bounded);
    CHECK_FALSE(found.not_wet_bounded);
    CHECK(found.most_tried == doctest::Approx(12.0));
    CHECK(wall.rounds == 1);
}

TEST_CASE("a wall that is not dry without a leak has no allowance") {
    Wall watched{0.0, 5.0};
    const auto found = watched.search(30.0);
    CHECK(found.dry == 0.0);
    CHECK(found.dry_bounded);
    CHECK(found.not_wet == doctest::Approx(5.0).epsilon(0.05));
    Wall soaked{0.0, 0.0};
    const auto none = soaked.search(30.0);
    CHECK(none.dry == 0.0);
    CHECK(none.not_wet == 0.0);
    CHECK(none.not_wet_bounded);
    CHECK(soaked.rounds == 1);
}

TEST_CASE("a level that cannot be solved is not asked for again and leaves the answer below it") {
    LeakSearch search(30.0);
    int rounds = 0;
    for (auto levels = search.next(); !levels.empty(); levels = search.next()) {
        REQUIRE(++rounds < 10);
        for (const double leak : levels) {
            if (leak > 5.0) {
                search.give_up(leak);
            } else {
                search.tell(leak, leak < 2.0 ? Dryness::dry : Dryness::watch);
            }
        }
    }
    const auto found = search.answer();
    CHECK(found.dry == doctest::Approx(2.0).epsilon(0.05));
    CHECK_FALSE(found.not_wet_bounded);
    CHECK(found.most_tried < 5.0);
    CHECK(found.most_tried > 2.0);
}

TEST_CASE("a verdict that gets better with more leak counts at its first worse level") {
    LeakSearch search(30.0);
    for (const double leak : search.next())
        search.tell(leak, leak > 1.0 && leak < 4.0 ? Dryness::watch : Dryness::dry);
    CHECK(search.answer().dry_bounded);
    CHECK(search.answer().dry <= 1.0);
}
