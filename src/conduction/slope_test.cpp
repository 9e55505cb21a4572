// Sloped edges: cut cells.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>

#include "conduction/lines.h"
#include "conduction/system.h"
#include "conduction/test_models.h"

using namespace warmside;
using namespace warmside::conduction;
using namespace warmside::conduction::testing;

namespace {

Grid halved(Grid grid, int times) {
    std::array<std::vector<int>, 3> parts;
    for (std::size_t axis = 0; axis < 2; ++axis) parts[axis].assign(grid.count(axis), 1 << times);
    return split(grid, parts);
}

}  // namespace

TEST_CASE("the surface of a sloped edge has its exact area on any grid") {
    for (const double angle : {30.0, 36.8698976, 45.0, 60.0, 120.0, 211.0}) {
        const Model m = turned_slab(angle, 0.13, 0.04);
        const Grid lines = corner_lines(m);
        for (int times = 0; times < 5; ++times) {
            const Model moved = on_lines(m, lines);
            const System s = discretise(moved, halved(first_grid(moved), times));
            std::array<double, 2> area{};
            for (const Patch& p : s.patches) area[p.environment] += p.area;
            CHECK(area[0] == doctest::Approx(1.0).epsilon(2e-3 / (1 << times)));
            CHECK(area[1] == doctest::Approx(1.0).epsilon(2e-3 / (1 << times)));
        }
    }
}

TEST_CASE("a cone has its exact area") {
    Model m{.name = "cone", .geometry = Geometry::axisymmetric, .environments = {{"in", 1}, {"out", 0}}};
    m.regions = {material("cone", {.outline = {{0.0, 0.0}, {0.3, 0.0}, {0.0, 0.4}}}, 1.0),
                 over(air("out", {.outline = {{0.3, 0.0}, {0.3, 0.4}, {0.0, 0.4}}}, 1, 0.1)),
                 air("in", rectangle({0, -0.1}, {0.3, 0}), 0, 0.1)};
    const Grid lines = corner_lines(m);
    const Model moved = on_lines(m, lines);
    const System s = discretise(moved, halved(first_grid(moved), 2));
    double area = 0.0;
    for (const Patch& p : s.patches) area += p.environment == 1 ? p.area : 0.0;
    CHECK(area == doctest::Approx(std::numbers::pi * 0.3 * 0.5).epsilon(1e-3));
}

TEST_CASE(
    "a turned slab has the U of the upright one, within its estimate, and closer as the grid grows finer") {
    for (const double angle : {30.0, 36.8698976, 45.0, 71.0}) {
        for (const auto& [inside, outside] :
             {std::pair{0.13, 0.04}, std::pair{0.0, 0.0}, std::pair{0.0, 0.1}}) {
            CAPTURE(angle);
            CAPTURE(inside);
            const double exact = 1 / (inside + slab_resistance() + outside);
            const Model m = turned_slab(angle, inside, outside);
            double last = 1.0;
            for (const double tolerance : {1e-2, 1e-4, 1e-5}) {
                const auto s = steady(m, {.tolerance = tolerance});
                REQUIRE(s);
                CHECK_FALSE(s->bound);
                const double off = std::abs(s->between(0, 1) / exact - 1);
                CHECK(off <= 2 * s->error + 1e-7);
                CHECK(off <= std::max(last, 1e-5));
                CHECK(s->imbalance < 1e-10);
                last = off;
            }
            CHECK(last < 3e-5);
        }
    }
}

TEST_CASE("the surface of a turned slab has one temperature") {
    const Model m = turned_slab(36.8698976, 0.13, 0.04);
    const auto s = steady(m, {.tolerance = 1e-5});
    REQUIRE(s);
    const double u = 1 / (0.17 + slab_resistance());
    CHECK(s->surface[0].lowest == doctest::Approx(1 - u * 0.13).epsilon(1e-3));
    CHECK(s->surface[0].highest == doctest::Approx(1 - u * 0.13).epsilon(1e-3));
    CHECK(lowest_factor(m, *s, 0).factor == doctest::Approx(1 - u * 0.13).epsilon(1e-3));
    // Half way through the wool.
    const double angle = 36.8698976 * std::numbers::pi / 180,
                 x = 0.10625 * std::cos(angle) - 0.5 * std::sin(angle);
    const double y = 0.10625 * std::sin(angle) + 0.5 * std::cos(angle);
    const double half = 1 - u * (0.13 + 0.05 + 0.5 * 0.1875 / 0.037);
    CHECK(*temperature_at(m, *s, {x, y}, std::array{1.0, 0.0}) == doctest::Approx(half).epsilon(1e-3));
}

TEST_CASE("a prism of a turned slab is as good as the slab") {
    Model m = turned_slab(30.0, 0.13, 0.04);
    m.geometry = Geometry::solid;
    const auto s = steady(m, {.tolerance = 1e-3});
    REQUIRE(s);
    CHECK(s->between(0, 1) == doctest::Approx(0.5 / (0.17 + slab_resistance())).epsilon(1e-3));
    CHECK(s->imbalance < 1e-10);
}

TEST_CASE("a sloped end of a prism in three dimensions: the estimate covers a finer solution") {
    // A rafter's insulation that meets a wall, closed by a block along half of its length.
    Model m = eave();
    m.geometry = Geometry::solid;
    for (Region& r : m.regions) r.shape.bottom = 0.0, r.shape.top = 0.3;
    Region rafter = over(material("rafter", m.regions[7].shape, 0.13));
    rafter.shape.top = 0.02;
    m.regions.push_back(rafter);
    const auto coarse = steady(m, {.tolerance = 3e-2});
    const auto fine = steady(m, {.tolerance = 8e-3});
    REQUIRE(coarse);
    REQUIRE(fine);
    CHECK(std::abs(coarse->between(0, 1) / fine->between(0, 1) - 1) <= coarse->error + fine->error);
}

TEST_CASE("an eave: the estimate covers a far finer solution") {
    const auto fine = steady(eave(), {.tolerance = 2e-4});
    REQUIRE(fine);
    for (const double tolerance : {2e-2, 5e-3, 1e-3}) {
        const auto s = steady(eave(), {.tolerance = tolerance});
        REQUIRE(s);
        CHECK(std::abs(s->between(0, 1) / fine->between(0, 1) - 1) <= s->error + fine->error);
        CHECK(s->imbalance < 1e-10);
    }
}

// 4 pi lambda/(1/r1 - 1/r2) between spheres; here of outlines of 2 x 24 straight pieces whose corners lie on
// them, so each cone is a little inside its sphere: 1 - cos(pi/48) = 0.2 % at the edges' middles.
TEST_CASE("a hollow sphere, turned from a polygon, conducts as the formula says") {
    constexpr double pi = std::numbers::pi;
    const auto ball = [](double radius) {
        Shape s;
        for (int n = 0; n <= 24; ++n)
            s.outline.push_back({radius * std::sin(n * std::numbers::pi / 24),
                                 -radius * std::cos(n * std::numbers::pi / 24)});
        s.outline.front().x = s.outline.back().x = 0.0;
        return s;
    };
    Model m{.name = "sphere", .geometry = Geometry::axisymmetric, .environments = {{"in", 1}, {"out", 0}}};
    m.regions = {air("out", rectangle({0, -0.3}, {0.3, 0.3}), 1, 0.1),
                 over(material("shell", ball(0.2), 0.3)), over(air("in", ball(0.1), 0, 0.0))};
    const auto s = steady(m, {.tolerance = 2e-3});
    REQUIRE(s);
    const double resistance = (1 / 0.1 - 1 / 0.2) / (4 * pi * 0.3) + 0.1 / (4 * pi * 0.04);
    CHECK(s->between(0, 1) == doctest::Approx(1 / resistance).epsilon(0.006));
    CHECK(s->imbalance < 1e-10);
}

TEST_CASE("edges that cross within a cell, and others that share it, are all seen") {
    // Two slopes over a base, from corners that put both into the same cells.
    Model m{.name = "crossed", .environments = {{"in", 1}, {"out", 0}}};
    m.regions = {
        material("base", rectangle({0, 0}, {1, 1}), 0.2), air("in", rectangle({0, -0.1}, {1, 0}), 0, 0.13),
        air("out", rectangle({0, 1}, {1, 1.1}), 1, 0.04),
        over(material("rising", {.outline = {{0.1, 0.2}, {0.9, 0.7}, {0.9, 0.8}, {0.1, 0.3}}}, 2.0)),
        over(material("falling", {.outline = {{0.1, 0.7}, {0.9, 0.2}, {0.9, 0.3}, {0.1, 0.8}}}, 0.02))};
    const auto fine = steady(m, {.tolerance = 1e-4});
    REQUIRE(fine);
    for (const double tolerance : {2e-2, 2e-3}) {
        const auto s = steady(m, {.tolerance = tolerance});
        REQUIRE(s);
        CHECK(std::abs(s->between(0, 1) / fine->between(0, 1) - 1) <= s->error + fine->error);
    }
}
