#include "thermal/dynamic.h"

#include <doctest/doctest.h>

#include <cmath>

#include "thermal/made_up.h"

using namespace warmside;
using namespace warmside::thermal::made_up;
using assembly::Layer;

namespace {

Result<conduction::Periodic> daily(const assembly::Assembly& a) {
    return thermal::winter_states(a, cold).and_then(
        [&](const thermal::States& states) { return thermal::dynamic(a, states); });
}

}  // namespace

TEST_CASE("the steady limit is the bay's resistance from air to air") {
    const auto a = wall(
        {board("gypsum board", "1/2 in"), board("stone wool batt", "5 1/2 in"), board("osb", "7/16 in")});
    const auto swing = daily(a);
    const auto states = thermal::winter_states(a, cold);
    REQUIRE(swing);
    REQUIRE(states);
    double r = 0.13 + 0.04;
    for (const auto& layer : states->layers) r += layer.fill;
    CHECK(swing->transmittance == doctest::Approx(1.0 / r).epsilon(1e-9));
}

TEST_CASE("what stands outside a ventilated cavity has no part in it") {
    const std::vector<Layer> inner{board("gypsum board", "1/2 in"), board("stone wool batt", "5 1/2 in"),
                                   air(assembly::AirKind::ventilated, "3/4 in")};
    auto thin = inner, thick = inner;
    thin.push_back(board("spruce siding", "3/4 in"));
    thick.push_back(board("brick", "4 in"));
    const auto a = daily(wall(thin)), b = daily(wall(thick));
    REQUIRE(a);
    REQUIRE(b);
    CHECK(std::abs(a->periodic_transmittance) == std::abs(b->periodic_transmittance));
}

TEST_CASE("mass inside insulation damps the swing; the heat arrives later") {
    const auto light = daily(wall({board("gypsum board", "1/2 in"), board("eps", "6 in")}));
    const auto heavy = daily(wall({board("concrete", "6 in"), board("eps", "6 in")}));
    REQUIRE(light);
    REQUIRE(heavy);
    CHECK(heavy->decrement < 0.5 * light->decrement);
    CHECK(heavy->time_shift < light->time_shift);
    CHECK(heavy->inside_capacity > 3.0 * light->inside_capacity);
}
