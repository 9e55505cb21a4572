#include "thermal/surface_mean.h"

#include <doctest/doctest.h>

#include "thermal/junction.h"

using namespace warmside;
using namespace warmside::thermal;

namespace {

/// A plain wall of 0.1 m, 1 m of it: air, wall, air.
conduction::Model plain() {
    using conduction::rectangle;
    conduction::Model model;
    model.environments = {{"indoors", 1.0}, {"outdoors", 0.0}};
    model.regions = {
        {.name = "air", .shape = rectangle({-0.02, 0.0}, {0.0, 1.0}), .environment = indoors, .film = 0.25},
        {.name = "wall", .shape = rectangle({0.0, 0.0}, {0.1, 1.0}), .conductivity = 0.05},
        {.name = "air", .shape = rectangle({0.1, 0.0}, {0.12, 1.0}), .environment = outdoors, .film = 0.04}};
    return model;
}

}  // namespace

TEST_CASE("on a plain wall any mean is the factor of one dimension, 1 - Rsi U") {
    const auto solved = conduction::steady(plain(), {.threads = 1});
    REQUIRE(solved);
    const std::vector<std::size_t> wall{1};
    for (const double width : {0.0025, 0.1, 5.0})
        CHECK(lowest_mean_factor(*solved, indoors, wall, width) ==
              doctest::Approx(1.0 - 0.25 / (0.25 + 2.0 + 0.04)));
}

TEST_CASE("a mean is never below the lowest point, and the wider the higher") {
    const Buildup wall{.name = "made up",
                       .sheets = {{"lining", 0.0125, 0.25}, {"wool", 0.14, 0.036, true}},
                       .inside_film = 0.13,
                       .outside_film = 0.04};
    const auto drawing = plain_corner(wall);
    double last = 0.0;
    for (const double spot : {0.0, 0.005, 0.05, 0.2}) {
        const auto solved = solve(drawing, {.factor_accuracy = 0.001, .spot = spot});
        REQUIRE(solved);
        CHECK(solved->factor >= last - 0.001);
        last = solved->factor;
    }
}
