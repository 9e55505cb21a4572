#include "conduction/multigrid.h"

#include <array>
#include <cmath>
#include <doctest/doctest.h>
#include <random>

#include "base/what.h"
#include "conduction/level.h"

using namespace warmside;
using namespace warmside::conduction;

namespace {

struct System {
    Stencil stencil;
    std::vector<double> b;
};

// Blocks of two conductivities on a graded grid, films at both ends of y; an invented material pattern.
System blocks(std::size_t n, bool solid, double jump, double grading) {
    System out;
    Stencil& s = out.stencil;
    s.nx = s.ny = n;
    s.nz = solid ? n : 1;
    const std::array<std::size_t, 3> count{s.nx, s.ny, s.nz};
    for (std::size_t axis = 0; axis < 3; ++axis) {
        for (std::size_t i = 0; i < count[axis]; ++i) {
            const double t =
                std::abs(std::sin(9.0 * (static_cast<double>(i) + 0.5) / static_cast<double>(n)));
            s.width[axis].push_back(std::pow(grading, t - 1.0));
        }
        s.keep[axis].assign(count[axis] + 1, false);
        for (std::size_t i = 0; i <= count[axis]; i += std::max<std::size_t>(1, n / 4))
            s.keep[axis][i] = true;
    }
    const std::size_t cells = s.cells();
    s.east.assign(cells, 0.0F);
    s.north.assign(cells, 0.0F);
    s.ground.assign(cells, 0.0F);
    if (solid) s.up.assign(cells, 0.0F);
    out.b.assign(cells, 0.0);
    const auto lambda = [&](std::size_t i, std::size_t j, std::size_t k) {
        return (i * 4 / n + j * 4 / n + k * 4 / n) % 2 == 0 ? 0.04 : 0.04 * jump;
    };
    std::size_t c = 0;
    for (std::size_t k = 0; k < s.nz; ++k) {
        for (std::size_t j = 0; j < n; ++j) {
            for (std::size_t i = 0; i < n; ++i, ++c) {
                const double x = s.width[0][i], y = s.width[1][j], z = solid ? s.width[2][k] : 1.0;
                const double own = lambda(i, j, k);
                const auto face = [&](double area, double a, double other, double b) {
                    return static_cast<float>(area / (0.5 * a / own + 0.5 * b / other));
                };
                if (i + 1 < n) s.east[c] = face(y * z, x, lambda(i + 1, j, k), s.width[0][i + 1]);
                if (j + 1 < n) s.north[c] = face(x * z, y, lambda(i, j + 1, k), s.width[1][j + 1]);
                if (solid && k + 1 < n) s.up[c] = face(x * y, z, lambda(i, j, k + 1), s.width[2][k + 1]);
                if (j == 0 || j + 1 == n) s.ground[c] = static_cast<float>(x * z / (0.5 * y / own + 0.13));
                if (j == 0) out.b[c] = static_cast<double>(s.ground[c]) * 20.0;
            }
        }
    }
    return out;
}

double residual_of(const System& system, const std::vector<double>& x) {
    std::vector<double> ax(x.size());
    multiply(system.stencil, x.data(), ax.data());
    double rr = 0.0, bb = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) {
        rr += (system.b[i] - ax[i]) * (system.b[i] - ax[i]);
        bb += system.b[i] * system.b[i];
    }
    return std::sqrt(rr / bb);
}

}  // namespace

TEST_CASE("the residual asked for is reached, measured by a plain product, in two and three dimensions") {
    for (const bool solid : {false, true}) {
        for (const double jump : {1.0, 1000.0}) {
            for (const double grading : {1.0, 100.0}) {
                const System system = blocks(solid ? 24 : 96, solid, jump, grading);
                std::vector<double> x(system.b.size(), 0.0);
                Multigrid solver(system.stencil);
                const auto report = solver.solve(system.b, x, {.residual = 1e-11});
                REQUIRE_MESSAGE(report, what_of(report));
                CHECK(residual_of(system, x) < 2e-11);
            }
        }
    }
}

TEST_CASE("iterations stay nearly the same from four thousand cells to a quarter of a million") {
    for (const double jump : {1.0, 1000.0}) {
        std::vector<std::size_t> iterations;
        for (const std::size_t n : {64U, 181U, 512U}) {
            const System system = blocks(n, false, jump, 1.0);
            std::vector<double> x(system.b.size(), 0.0);
            Multigrid solver(system.stencil);
            const auto report = solver.solve(system.b, x, {.residual = 1e-8});
            REQUIRE(report);
            iterations.push_back(report->iterations);
        }
        // 64 times the cells: conjugate gradients alone would take 8 times the iterations.
        CHECK(iterations[2] <= iterations[0] + 5);
    }
}

TEST_CASE("nor do they grow on stretched grids, where cells of all shapes meet jumps of 1:1000") {
    for (const bool solid : {false, true}) {
        std::vector<std::size_t> iterations;
        for (const std::size_t n : solid ? std::array{16U, 28U, 48U} : std::array{64U, 181U, 400U}) {
            const System system = blocks(n, solid, 1000.0, 1000.0);
            std::vector<double> x(system.b.size(), 0.0);
            const auto report = Multigrid(system.stencil).solve(system.b, x, {.residual = 1e-8});
            REQUIRE(report);
            iterations.push_back(report->iterations);
        }
        CHECK(iterations[1] <= iterations[0] + 5);
        CHECK(iterations[2] <= iterations[0] + 5);
        CHECK(iterations[2] < 30);
    }
}

TEST_CASE("one thread and three give the same bits, relaxed by points and by lines") {
    for (const bool solid : {false, true}) {
        for (const double grading : {1.0, 10.0}) {
            const System system = blocks(solid ? 40 : 260, solid, 1000.0, grading);
            std::vector<double> one(system.b.size(), 0.0), three = one;
            REQUIRE(Multigrid(system.stencil, 1).solve(system.b, one));
            REQUIRE(Multigrid(system.stencil, 3).solve(system.b, three));
            CHECK(one == three);
        }
    }
}

TEST_CASE("a row of grounded cells has the solution of a resistance network") {
    // Three cells in a row, 2 W/K between them, 1 W/K to 30 K at one end and to 0 K at the other: 3 K per
    // film, by Ohm's law R = 1 + 1/2 + 1/2 + 1 = 3 K/W, 10 W.
    Stencil s{.nx = 3, .ny = 1, .nz = 1};
    s.width = {{{1.0, 1.0, 1.0}, {1.0}, {1.0}}};
    s.keep = {{{true, false, false, true}, {true, true}, {true, true}}};
    s.east = {2.0F, 2.0F, 0.0F};
    s.north = {0.0F, 0.0F, 0.0F};
    s.ground = {1.0F, 0.0F, 1.0F};
    const std::vector<double> b{30.0, 0.0, 0.0};
    std::vector<double> x(3, 0.0);
    REQUIRE(Multigrid(s).solve(b, x, {.residual = 1e-12}));
    CHECK(x[0] == doctest::Approx(20.0).epsilon(1e-10));
    CHECK(x[1] == doctest::Approx(15.0).epsilon(1e-10));
    CHECK(x[2] == doctest::Approx(10.0).epsilon(1e-10));
}

TEST_CASE("a cell outside the problem stays at zero and disturbs nothing") {
    System system = blocks(40, false, 1000.0, 1.0);
    Stencil& s = system.stencil;
    const std::size_t hole = s.nx * 20 + 20;
    s.east[hole] = s.east[hole - 1] = s.north[hole] = s.north[hole - s.nx] = 0.0F;
    std::vector<double> x(system.b.size(), 0.0);
    REQUIRE(Multigrid(s).solve(system.b, x, {.residual = 1e-11}));
    CHECK(x[hole] == 0.0);
    CHECK(residual_of(system, x) < 2e-11);
}

TEST_CASE("too few iterations are a problem that says how far it came, not a number") {
    const System system = blocks(64, false, 1000.0, 1.0);
    std::vector<double> x(system.b.size(), 0.0);
    const auto report =
        Multigrid(system.stencil).solve(system.b, x, {.residual = 1e-12, .most_iterations = 2});
    REQUIRE_FALSE(report);
    CHECK(report.error().code == Code::not_converged);
    CHECK(report.error().what.find("in 2 iterations") != std::string::npos);
}

TEST_CASE("a stop ends the solve") {
    const System system = blocks(64, false, 1.0, 1.0);
    std::vector<double> x(system.b.size(), 0.0);
    StopSource stop;
    stop.stop();
    const auto report = Multigrid(system.stencil).solve(system.b, x, {}, stop.token());
    REQUIRE_FALSE(report);
    CHECK(report.error().code == Code::stopped);
}

TEST_CASE("a coarse grid carries the heat of the fine one: conductance end to end is kept at every level") {
    // In one dimension chains in series are exact, whatever the pairs.
    System system = blocks(64, false, 1000.0, 30.0);
    Stencil& s = system.stencil;
    std::fill(s.east.begin(), s.east.end(), 0.0F);
    const auto levels = levels_of(s);
    REQUIRE(levels.size() > 1);
    const auto through = [](const Level& l) {
        double sum = 0.0;
        for (std::size_t i = 0; i < l.n[0]; ++i) {
            double r = 0.0;
            for (std::size_t j = 0; j + 1 < l.n[1]; ++j) {
                r += 1.0 / static_cast<double>(l.north.data()[i + l.n[0] * j]);
            }
            sum += 1.0 / r;
        }
        return sum;
    };
    // From the centre of the first cell to that of the last: what lies between grows shorter as those cells
    // grow.
    for (std::size_t i = 1; i < levels.size(); ++i)
        CHECK(through(levels[i]) >= 0.999 * through(levels[i - 1]));
}
