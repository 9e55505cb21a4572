#include "house/opaque.h"

#include <doctest/doctest.h>

#include <numeric>

#include "house/made_up.h"

namespace warmside::house {

using namespace made_up;

namespace {

double stored(const Chain& c) {
    return std::accumulate(c.capacity.begin(), c.capacity.end(), 0.0);
}

}  // namespace

TEST_CASE("a chain passes the U it is asked for, and without one that of the bay") {
    const Assembly a =
        wall({board("gypsum board", 0.0125), studs("stone wool batt", 0.140), board("osb", 0.011)});
    const auto worth = thermal::worth(a, cold);
    REQUIRE(worth);
    const auto framed = chain_of(a, cold, {.u = worth->field_u, .framing = {}});
    const auto bay = chain_of(a, cold);
    REQUIRE(framed);
    REQUIRE(bay);
    const auto u = [](const Chain& c) { return 1.0 / (c.inside_film + c.resistance() + c.outside_film); };
    CHECK(u(*framed) == doctest::Approx(worth->field_u).epsilon(1e-12));
    CHECK(framed->bay_u == doctest::Approx(bay->u).epsilon(1e-12));
    CHECK(u(*bay) == doctest::Approx(bay->u).epsilon(1e-12));
    CHECK(bay->u < framed->u);
    // Boards keep their own resistance: the first half of the first cell is gypsum in both.
    CHECK(framed->conductance.front() == doctest::Approx(bay->conductance.front()));
}

TEST_CASE("storage is that of fill and wood by their shares") {
    const Assembly a = wall({board("gypsum board", 0.0125), studs("stone wool batt", 0.140)});
    const auto& gypsum = of("gypsum board");
    const auto& wool = of("stone wool batt");
    const auto& spruce = of("spruce");
    const auto by_hand = [&](double share) {
        return 0.0125 * gypsum.density * gypsum.specific_heat +
               0.140 * ((1.0 - share) * wool.density * wool.specific_heat +
                        share * spruce.density * spruce.specific_heat);
    };
    const auto module = chain_of(a, cold), placed = chain_of(a, cold, {.u = {}, .framing = 0.15});
    REQUIRE(module);
    REQUIRE(placed);
    CHECK(stored(*module) == doctest::Approx(by_hand(38.0 / 600.0)).epsilon(1e-9));
    CHECK(stored(*placed) == doctest::Approx(by_hand(0.15)).epsilon(1e-9));
}

TEST_CASE("more fineness cuts the same chain finer") {
    const Assembly a = wall({board("gypsum board", 0.0125), board("stone wool batt", 0.400)});
    const auto coarse = chain_of(a, cold),
               fine = chain_of(a, cold, {.u = {}, .framing = {}, .fineness = 4.0});
    REQUIRE(coarse);
    REQUIRE(fine);
    CHECK(fine->capacity.size() > 3 * coarse->capacity.size());
    CHECK(fine->conductance.size() == fine->capacity.size() + 1);
    CHECK(stored(*fine) == doctest::Approx(stored(*coarse)).epsilon(1e-12));
    CHECK(fine->resistance() == doctest::Approx(coarse->resistance()).epsilon(1e-12));
}

TEST_CASE("a ventilated layer ends the chain in still air, a still one only resists") {
    const auto inner = board("stone wool batt", 0.2);
    const auto bare = chain_of(wall({inner}), cold);
    const auto rain =
        chain_of(wall({inner, cavity(AirKind::ventilated, 0.025), board("spruce siding", 0.02)}), cold);
    const auto still =
        chain_of(wall({inner, cavity(AirKind::still, 0.025), board("spruce siding", 0.02)}), cold);
    REQUIRE(bare);
    REQUIRE(rain);
    REQUIRE(still);
    CHECK(bare->open);
    CHECK_FALSE(rain->open);
    CHECK(still->open);
    CHECK(rain->outside_film == doctest::Approx(rain->inside_film));
    CHECK(rain->thickness == doctest::Approx(0.2));
    CHECK(stored(*rain) == doctest::Approx(stored(*bare)));
    const auto& siding = of("spruce siding");
    CHECK(stored(*still) == doctest::Approx(stored(*bare) + 0.02 * siding.density * siding.specific_heat));
}

TEST_CASE("air alone is a chain without mass") {
    const auto made = chain_of(wall({cavity(AirKind::still, 0.05)}), cold);
    REQUIRE(made);
    CHECK(made->capacity.empty());
    CHECK(made->conductance.size() == 1);
}

TEST_CASE("what cannot be a chain is a Problem") {
    const auto none_left = chain_of(wall({cavity(AirKind::ventilated, 0.05)}), cold);
    REQUIRE_FALSE(none_left);
    CHECK(none_left.error().code == Code::missing);
    const auto too_much = chain_of(wall({board("stone wool batt", 0.1)}), cold, {.u = 10.0, .framing = {}});
    REQUIRE_FALSE(too_much);
    CHECK(too_much.error().code == Code::out_of_range);
    material::Material light = of("stone wool batt");
    light.specific_heat = 0.0;
    Layer layer = board("stone wool batt", 0.1);
    layer.material = &light;
    layer.origin.where = {"house.toml", 7, 3};
    const auto weightless = chain_of(wall({layer}), cold);
    REQUIRE_FALSE(weightless);
    CHECK(weightless.error().where.line == 7);
}

TEST_CASE("a body put on at the end adds its resistance and storage, to an empty chain too") {
    Chain empty{.conductance = {}, .capacity = {}};
    extend(empty, {2.0, 2e6, 0.5});
    CHECK(empty.resistance() == doctest::Approx(0.25));
    CHECK(stored(empty) == doctest::Approx(1e6));
    auto made = chain_of(wall({board("concrete", 0.1)}), cold);
    REQUIRE(made);
    const double before = made->resistance(), held = stored(*made);
    extend(*made, {2.0, 2e6, 0.5});
    CHECK(made->resistance() == doctest::Approx(before + 0.25));
    CHECK(stored(*made) == doctest::Approx(held + 1e6));
    CHECK(made->conductance.size() == made->capacity.size() + 1);
}

}  // namespace warmside::house
