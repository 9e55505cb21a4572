// Order of convergence on solutions made up beforehand, with conductivities that jump.
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <numbers>

#include "conduction/multigrid.h"
#include "conduction/system.h"

using namespace warmside;
using namespace warmside::conduction;

namespace {

constexpr double film = 0.1;  // m2 K/W on all four sides

// One factor of the solution along an axis, and of the conductivity: k = `low` before 1/2 and `high` behind
// it. value = 1 + sin(s)/k + s^2/2 with s from the jump, so that value and k slope are continuous.
struct Factor {
    double low = 1.0, high = 1.0;
    [[nodiscard]] double k(double x) const { return x < 0.5 ? low : high; }
    [[nodiscard]] double value(double x) const {
        const double s = x - 0.5;
        return 1.0 + std::sin(s) / k(x) + 0.5 * s * s;
    }
    [[nodiscard]] double flux(double x) const {
        return std::cos(x - 0.5) + k(x) * (x - 0.5);
    }  // k times the slope
    [[nodiscard]] double bend(double x) const { return -std::sin(x - 0.5) + k(x); }  // slope of that flux
};

// u = X(x) Y(y) cos(pi z) on the unit square or cube; k = k_x k_y jumps across both middles. Heat comes from
// sources within and through the films, whose air is as warm as the solution asks for at each place.
struct Made {
    Factor x{1.0, 1000.0}, y{1.0, 0.02};
    bool solid = false;

    [[nodiscard]] double shade(double z) const { return solid ? std::cos(std::numbers::pi * z) : 1.0; }
    [[nodiscard]] double value(const Point& p) const { return x.value(p.x) * y.value(p.y) * shade(p.z); }
    [[nodiscard]] double source(const Point& p) const {
        const double kx = x.k(p.x), ky = y.k(p.y), X = x.value(p.x), Y = y.value(p.y);
        const double across = solid ? std::numbers::pi * std::numbers::pi : 0.0;
        return -(x.bend(p.x) * ky * Y + kx * X * y.bend(p.y) - across * kx * ky * X * Y) * shade(p.z);
    }
    // Air temperature that drives the flux of the solution through the film at a place of the boundary.
    [[nodiscard]] double air(const Point& p, std::size_t side) const {
        const double inward = side % 2 == 0 ? 1.0 : -1.0;  // side 0 and 2 lie at low x and y
        const double into = side / 2 == 0 ? -inward * x.flux(p.x) * y.k(p.y) * y.value(p.y)
                                          : -inward * y.flux(p.y) * x.k(p.x) * x.value(p.x);
        return value(p) + film * into * shade(p.z);
    }
};

Shape part(const Made& made, double x0, double x1, double y0, double y1) {
    return made.solid ? box({x0, y0, 0}, {x1, y1, 1}) : rectangle({x0, y0}, {x1, y1});
}

Model model_of(const Made& made) {
    Model m;
    m.name = "made up";
    m.geometry = made.solid ? Geometry::solid : Geometry::plane;
    m.environments = {{"air", 273.15}};
    m.regions.push_back(
        {.name = "air", .shape = part(made, -0.1, 1.1, -0.1, 1.1), .environment = 0, .film = film});
    for (const double x : {0.0, 0.5})
        for (const double y : {0.0, 0.5})
            m.regions.push_back({.name = "quarter",
                                 .shape = part(made, x, x + 0.5, y, y + 0.5),
                                 .conductivity = made.x.k(x) * made.y.k(y),
                                 .over = true});
    return m;
}

// Lines on the unit interval, half of them on each side of the middle; `grading` bends them towards its ends.
std::vector<double> lines(int n, double grading) {
    std::vector<double> at;
    for (int half = 0; half < 2; ++half)
        for (int i = half; i <= n / 2; ++i) {
            const double s = 2.0 * i / n;
            at.push_back(
                0.5 * (half + s - grading * std::sin(2.0 * std::numbers::pi * s) / (2.0 * std::numbers::pi)));
        }
    return at;
}

struct Errors {
    double mean = 0.0;  // root of the mean square over the volume, relative
    double flow = 0.0;  // of the heat through the side at x = 0, relative; in the plane only
};

Errors errors_of(const Made& made, int n, double grading) {
    const Model model = model_of(made);
    Grid grid;
    for (std::size_t a = 0; a < 2; ++a) {
        grid.line[a] = lines(n, grading);
        grid.line[a].insert(grid.line[a].begin(), -0.1);
        grid.line[a].push_back(1.1);
    }
    grid.line[2] = made.solid ? lines(n, grading) : std::vector<double>{0.0, 1.0};
    const System system = discretise(model, grid);
    std::vector<double> b(grid.cells(), 0.0), x(grid.cells(), 0.0);
    const auto centre = [&](std::size_t c) {
        const auto [i, j, k] = system.place(c);
        return Point{grid.centre(0, i), grid.centre(1, j), grid.centre(2, k)};
    };
    const auto volume = [&](std::size_t c) {
        const auto [i, j, k] = system.place(c);
        return grid.width(0, i) * grid.width(1, j) * grid.width(2, k);
    };
    for (std::size_t c = 0; c < b.size(); ++c)
        if (system.part[c]) b[c] = made.source(centre(c)) * volume(c);
    std::vector<Point> middle;
    for (const Patch& p : system.patches) {
        Point m = centre(p.cell);
        const auto side = static_cast<std::size_t>(p.side);
        (side / 2 == 0 ? m.x : m.y) = side % 2 == 0 ? 0.0 : 1.0;
        b[p.cell] += p.conductance * made.air(m, side);
        middle.push_back(m);
    }
    Multigrid solver(system.stencil, 1);
    const auto done = solver.solve(b, x, {.residual = 1e-12});
    REQUIRE(done);
    Errors out;
    double whole = 0.0;
    for (std::size_t c = 0; c < x.size(); ++c) {
        if (!system.part[c]) continue;
        const double exact = made.value(centre(c)), apart = x[c] - exact;
        out.mean += apart * apart * volume(c);
        whole += exact * exact * volume(c);
    }
    out.mean = std::sqrt(out.mean / whole);
    double through = 0.0, exact = 0.0;
    for (std::size_t i = 0; i < middle.size(); ++i) {  // the side at x = 0
        const Patch& p = system.patches[i];
        if (p.side != 0) continue;
        through += p.conductance * (made.air(middle[i], 0) - x[p.cell]);
        exact += p.area * (made.air(middle[i], 0) - made.value(middle[i])) / film;
    }
    if (!made.solid) out.flow = std::abs(through / exact - 1.0);
    return out;
}

}  // namespace

TEST_CASE("second order on a made-up solution with conductivities that jump, in the plane, even and graded") {
    for (const double grading : {0.0, 0.8}) {
        const Errors coarse = errors_of({}, 64, grading), fine = errors_of({}, 128, grading),
                     finest = errors_of({}, 256, grading);
        CHECK(std::log2(coarse.mean / fine.mean) > 1.9);
        CHECK(std::log2(fine.mean / finest.mean) > 1.9);
        // Of the flow through one side: from here on; much finer, the 24 bits of the conductances show.
        CHECK(std::log2(fine.flow / finest.flow) > 1.9);
        CHECK(finest.mean < 1e-5);
    }
}

TEST_CASE("second order on a made-up solution with conductivities that jump, in a solid") {
    for (const double grading : {0.0, 0.8}) {
        const Errors coarse = errors_of({.solid = true}, 8, grading),
                     fine = errors_of({.solid = true}, 16, grading),
                     finest = errors_of({.solid = true}, 32, grading);
        CHECK(std::log2(coarse.mean / fine.mean) > 1.8);
        CHECK(std::log2(fine.mean / finest.mean) > 1.9);
    }
}

TEST_CASE("heat is conserved to rounding on the way through jumps and slopes") {
    Model m = model_of({});
    m.environments = {{"warm", 293.15}, {"cold", 273.15}, {"mild", 283.15}};
    m.regions.push_back({.name = "cold air",
                         .shape = {.outline = {{-0.1, 0.4}, {0.3, 0.5}, {0.25, 0.75}, {-0.1, 0.9}}},
                         .environment = 1,
                         .film = 0.04,
                         .over = true});
    m.regions.push_back({.name = "mild air",
                         .shape = rectangle({0.6, 0.9}, {1.1, 1.1}),
                         .environment = 2,
                         .film = 0.2,
                         .over = true});
    const auto solved = steady(m);
    REQUIRE(solved.has_value());
    CHECK(solved->imbalance < 1e-9);
    double apart = 0.0;  // the couplings give the same flows
    for (std::size_t i = 0; i < 3; ++i) {
        double flow = 0.0;
        for (std::size_t j = 0; j < 3; ++j)
            flow += solved->between(i, j) * (m.environments[i].temperature - m.environments[j].temperature);
        apart = std::max(apart, std::abs(flow - solved->flow[i]));
    }
    CHECK(apart < 1e-9 * std::abs(solved->flow[0]));
}
