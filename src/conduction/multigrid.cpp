#include "conduction/multigrid.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>
#include <vector>

#include "conduction/cycle.h"

namespace warmside::conduction {

struct Multigrid::Levels {
    const Stencil& stencil;
    Cycle cycle;
};

Multigrid::Multigrid(const Stencil& stencil, unsigned threads)
    : levels_(new Levels{stencil, Cycle(stencil, threads)}) {}
Multigrid::~Multigrid() = default;

namespace {

// Conjugate gradients; every member of the crew runs the same lines on its own rows.
struct Gradients {
    Cycle& cycle;
    std::span<const double> b;
    std::span<double> x;
    const SolveOptions& options;
    const StopToken& stop;

    Level& fine;
    std::size_t nx, rows;
    Padded<double> p, q, r;
    std::vector<double> part;  // [row] of a dot product
    SolveReport report;
    bool settled = false, halted = false;
    double norm = 0.0;

    Gradients(Cycle& preconditioner, std::span<const double> rhs, std::span<double> guess,
              const SolveOptions& o, const StopToken& s)
        : cycle(preconditioner),
          b(rhs),
          x(guess),
          options(o),
          stop(s),
          fine(cycle.finest()),
          nx(fine.n[0]),
          rows(fine.n[1] * fine.n[2]),
          p(fine.cells(), fine.pad()),
          q(fine.cells(), 0),
          r(fine.cells(), 0),
          part(rows, 0.0) {}

    // Sum over all rows of task(first cell of the row), in the order of the rows.
    template <class Task>
    double over_rows(unsigned member, Task task) {
        for (std::size_t row = rows * member / cycle.crew(); row < rows * (member + 1) / cycle.crew();
             ++row) {
            part[row] = task(row * nx);
        }
        cycle.barrier().wait();
        double sum = 0.0;
        for (const double v : part) sum += v;
        cycle.barrier().wait();
        return sum;
    }

    double apply(unsigned member) {
        return over_rows(member, [&](std::size_t at) {
            return multiply_row({.east = fine.east.data() + at,
                                 .north = fine.north.data() + at,
                                 .up = fine.solid ? fine.up.data() + at : nullptr,
                                 .ground = fine.ground.data() + at,
                                 .count = nx,
                                 .row = static_cast<std::ptrdiff_t>(nx),
                                 .plane = static_cast<std::ptrdiff_t>(nx * fine.n[1])},
                                p.data() + at, q.data() + at);
        });
    }

    // z = M r into the finest level's x, scaled so that single precision has room.
    struct Products {
        double rz, qz;
    };
    Products precondition(unsigned member, double rr) {
        const double scale = 1.0 / std::sqrt(rr / static_cast<double>(fine.cells()));
        over_rows(member, [&](std::size_t at) {
            narrow(nx, scale, r.data() + at, fine.b.data() + at);
            return 0.0;
        });
        cycle.run(member);
        cycle.barrier().wait();
        const auto product = [&](const Padded<double>& with) {
            return over_rows(member,
                             [&](std::size_t at) { return dot(nx, with.data() + at, fine.x.data() + at); }) /
                   scale;
        };
        const double rz = product(r);
        return {.rz = rz, .qz = product(q)};
    }

    // Of the right-hand side, of the residual, and of what rounding leaves of it: each term of A x is about
    // as large as diagonal times x, and is off by half a unit in the last place.
    struct Squares {
        double b, r, rounding;
    };
    // r = b - A x
    Squares fresh_residual(unsigned member) {
        over_rows(member, [&](std::size_t at) {
            std::copy_n(x.data() + at, nx, p.data() + at);
            return 0.0;
        });
        apply(member);
        const double bb = over_rows(member, [&](std::size_t at) {
            double sum = 0.0;
            for (std::size_t i = at; i < at + nx; ++i) {
                const bool part_of = fine.inverse.data()[i] > 0.0F;
                r.data()[i] = part_of ? b[i] - q.data()[i] : 0.0;
                sum += part_of ? b[i] * b[i] : 0.0;
            }
            return sum;
        });
        const double rr = over_rows(member, [&](std::size_t at) {
            double sum = 0.0;
            for (std::size_t i = at; i < at + nx; ++i) sum += r.data()[i] * r.data()[i];
            return sum;
        });
        const double dx = over_rows(member, [&](std::size_t at) {
            double sum = 0.0;
            for (std::size_t i = at; i < at + nx; ++i) {
                const double d = fine.inverse.data()[i];
                sum += d > 0.0 ? x[i] * x[i] / (d * d) : 0.0;
            }
            return sum;
        });
        constexpr double unit = 8.0 * std::numeric_limits<double>::epsilon();
        return {bb, rr, unit * unit * dx};
    }

    void run(unsigned member) {
        const Squares start = fresh_residual(member);
        double rr = start.r;
        const double bb = start.b, asked = options.residual * options.residual * bb;
        double limit = asked;
        double before = 0.0, alpha = 0.0;
        std::size_t done = 0;
        bool fresh = true;
        while (rr > limit && std::isfinite(rr) && done < options.most_iterations) {
            if (member == 0) halted = stop.stopped();
            const auto [rz, qz] = precondition(member, rr);
            if (halted) break;
            const double scale = std::sqrt(rr / static_cast<double>(fine.cells()));
            // Flexible: the cycle is not quite the same map each time. (r - r_before) . z = -alpha q . z
            const double beta = fresh ? 0.0 : -alpha * qz / before;
            fresh = false;
            over_rows(member, [&](std::size_t at) {
                turn(nx, scale, beta, fine.x.data() + at, p.data() + at);
                return 0.0;
            });
            const double pq = apply(member);
            alpha = rz / pq;
            rr = over_rows(member, [&](std::size_t at) {
                return step(nx, alpha, p.data() + at, q.data() + at, x.data() + at, r.data() + at);
            });
            before = rz;
            ++done;
            // The residual is carried along; rounding parts it from that of x, which is what counts.
            if (rr <= limit) {
                const Squares now = fresh_residual(member);
                rr = now.r;
                limit = std::max(asked, now.rounding);
                fresh = true;
            }
        }
        if (member != 0) return;
        report.iterations = done;
        report.residual = bb > 0.0 ? std::sqrt(rr / bb) : 0.0;
        settled = rr <= limit;
    }
};

}  // namespace

Result<SolveReport> Multigrid::solve(std::span<const double> b, std::span<double> x,
                                     const SolveOptions& options, const StopToken& stop) {
    Levels& mg = *levels_;
    Gradients cg(mg.cycle, b, x, options, stop);
    together(mg.cycle.crew(), [&](unsigned member) { cg.run(member); });
    if (cg.halted) return fail(Code::stopped, "the conduction solve was stopped");
    if (!cg.settled) {
        return fail(
            Code::not_converged,
            fmt::format(
                "conjugate gradients reached a relative residual of {:.1e} in {} iterations, not {:.1e}",
                cg.report.residual, cg.report.iterations, options.residual));
    }
    cg.report.levels = mg.cycle.levels();
    cg.report.bytes =
        cg.p.bytes() + cg.q.bytes() + cg.r.bytes() + mg.cycle.bytes() +
        2 * b.size() * sizeof(double) +  // b and x
        (mg.stencil.east.size() + mg.stencil.north.size() + mg.stencil.up.size() + mg.stencil.ground.size()) *
            sizeof(float);
    return cg.report;
}

void multiply(const Stencil& s, const double* x, double* y) {
    const std::size_t row = s.nx, plane = s.nx * s.ny;
    std::size_t c = 0;
    for (std::size_t k = 0; k < s.nz; ++k) {
        for (std::size_t j = 0; j < s.ny; ++j) {
            for (std::size_t i = 0; i < s.nx; ++i, ++c) {
                double v = static_cast<double>(s.ground[c]) * x[c];
                const auto face = [&](float g, std::size_t other) {
                    v += static_cast<double>(g) * (x[c] - x[other]);
                };
                if (i + 1 < s.nx) face(s.east[c], c + 1);
                if (i > 0) face(s.east[c - 1], c - 1);
                if (j + 1 < s.ny) face(s.north[c], c + row);
                if (j > 0) face(s.north[c - row], c - row);
                if (k + 1 < s.nz) face(s.up[c], c + plane);
                if (k > 0) face(s.up[c - plane], c - plane);
                y[c] = v;
            }
        }
    }
}

}  // namespace warmside::conduction
