#include "conduction/steady.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

using namespace warmside;
using namespace warmside::conduction;

namespace {

Region material(const char* name, Shape shape, double conductivity) {
    return {.name = name, .shape = std::move(shape), .conductivity = conductivity};
}
Region air(const char* name, Shape shape, std::size_t environment, double film) {
    return {.name = name, .shape = std::move(shape), .environment = environment, .film = film};
}

Model wall(Geometry geometry = Geometry::plane) {
    Model m{.name = "wall", .geometry = geometry, .environments = {{"in", 293.15}, {"out", 273.15}}};
    m.regions = {material("board", box({0, 0, 0}, {0.012, 1, 0.5}), 0.25),
                 material("wool", box({0.012, 0, 0}, {0.2, 1, 0.5}), 0.04),
                 air("in", box({-0.1, 0, 0}, {0, 1, 0.5}), 0, 0.13),
                 air("out", box({0.2, 0, 0}, {0.3, 1, 0.5}), 1, 0.04)};
    return m;
}

}  // namespace

TEST_CASE("a wall of two layers between films has the U of its resistances, in two and three dimensions") {
    const double u = 1 / (0.13 + 0.012 / 0.25 + 0.188 / 0.04 + 0.04);
    const auto flat = steady(wall());
    REQUIRE(flat);
    CHECK(flat->between(0, 1) == doctest::Approx(u).epsilon(1e-6));
    CHECK(flat->flow[0] == doctest::Approx(20 * u).epsilon(1e-6));
    CHECK(flat->imbalance < 1e-10);
    const auto deep = steady(wall(Geometry::solid));
    REQUIRE(deep);
    CHECK(deep->between(0, 1) == doctest::Approx(0.5 * u).epsilon(1e-6));
    CHECK(flat->surface[0].lowest == doctest::Approx(293.15 - 20 * u * 0.13).epsilon(1e-6));
    CHECK(lowest_factor(wall(), *flat, 0).factor == doctest::Approx(1 - u * 0.13).epsilon(1e-6));
    const std::array t{293.15, 273.15};
    const auto at = temperature_at(wall(), *flat, {0.012, 0.33}, t);
    REQUIRE(at);
    CHECK(*at == doctest::Approx(293.15 - 20 * u * (0.13 + 0.048)).epsilon(1e-7));
    CHECK_FALSE(temperature_at(wall(), *flat, {-0.05, 0.5}, t));
    for (std::size_t c = 0; c < flat->grid.cells(); ++c) {
        const Point q = flux(wall(), *flat, c, t);
        CHECK(q.x == doctest::Approx(std::isnan(flat->temperature(c, t)) ? 0.0 : 20 * u).epsilon(1e-6));
        CHECK(std::abs(q.y) < 1e-6);
    }
}

TEST_CASE("a hollow cylinder follows the logarithm") {
    Model m{.name = "pipe", .geometry = Geometry::axisymmetric, .environments = {{"in", 1}, {"out", 0}}};
    m.regions = {material("shell", rectangle({0.05, 0}, {0.15, 1}), 0.5),
                 air("in", rectangle({0, 0}, {0.05, 1}), 0, 0.1),
                 air("out", rectangle({0.15, 0}, {0.2, 1}), 1, 0)};
    const auto s = steady(m);
    REQUIRE(s);
    const double pi = std::numbers::pi;
    const double r = 0.1 / (2 * pi * 0.05) + std::log(3.0) / (2 * pi * 0.5);
    CHECK(s->between(0, 1) == doctest::Approx(1 / r).epsilon(1e-6));
}
