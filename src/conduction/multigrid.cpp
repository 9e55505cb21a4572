#include "conduction/multigrid.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <optional>
#include <thread>
#include <vector>

#include "conduction/crew.h"
#include "conduction/direct.h"
#include "conduction/level.h"

namespace warmside::conduction {

namespace {

// Below so many cells a level is quicker on one thread than a meeting of several.
constexpr std::size_t worth_sharing = 24'000;

// What is handed out to threads: rows in two dimensions, planes in three.
struct Slices {
    std::size_t count = 0, rows = 0;  // slices, rows in each
    explicit Slices(const Level& level)
        : count(level.solid ? level.n[2] : level.n[1]), rows(level.solid ? level.n[1] : 1) {}
    [[nodiscard]] std::size_t from(unsigned member, unsigned crew) const { return count * member / crew; }
};

// Conjugate gradients on one level inside the cycle: material interfaces that a coarser grid has to cross are
// settled here, where cells are few.
struct Inner {
    std::size_t level = 0;  // 0: none
    Padded<float> zero, x, p, q;
};

// One member's buffers for a coarse row in the making.
struct Sums {
    Padded<float> stay, move;
};

}  // namespace

struct Multigrid::Levels {
    Levels(const Stencil& given, unsigned wanted)
        : stencil(given),
          threads(std::max(1U, wanted == 0 ? std::thread::hardware_concurrency() : wanted)),
          level(levels_of(given, threads)),
          direct(level.back()),
          crew(is_shared(level.front()) ? threads : 1U),
          barrier(crew),
          inner(inner_of(level)),
          sums(crew, Sums{Padded<float>(given.nx, 16), Padded<float>(given.nx, 16)}) {}

    const Stencil& stencil;
    unsigned threads;
    std::vector<Level> level;
    Direct direct;
    unsigned crew;
    Barrier barrier;
    Inner inner;
    std::vector<Sums> sums;
    bool settling = false;

    static Inner inner_of(const std::vector<Level>& all) {
        constexpr std::size_t fewer = 32;
        for (std::size_t at = 1; at + 1 < all.size(); ++at) {
            const Level& l = all[at];
            if (l.cells() > all.front().cells() / fewer || l.cells() >= worth_sharing) continue;
            const auto field = [&] { return Padded<float>(l.cells(), l.pad()); };
            return Inner{.level = at, .zero = field(), .x = field(), .p = field(), .q = field()};
        }
        return {};
    }

    [[nodiscard]] bool is_shared(const Level& l) const { return threads > 1 && l.cells() >= worth_sharing; }

    // Members of the crew that work on a level.
    [[nodiscard]] unsigned crew_of(const Level& l) const { return is_shared(l) ? crew : 1U; }

    void meet(unsigned together) {
        if (together > 1) barrier.wait();
    }

    static void relax_slice(Level& l, const Slices& slices, std::size_t s, unsigned colour, bool from_zero) {
        for (std::size_t j = 0; j < slices.rows; ++j) {
            const Row row = l.row((s * slices.rows + j) * l.n[0]);
            const auto parity = static_cast<unsigned>(s + (slices.rows > 1 ? j : 0)) + colour;
            if (from_zero) {
                start_row(row, parity);
            } else {
                relax_row(row, parity);
            }
        }
    }

    // Both colours in one pass over memory: the second follows a slice behind. At the seams between members
    // the second colour waits for the first of the neighbour, so that the result is that of one thread. (In
    // the blended rows of a neighbour's seam cells of the other colour are written with the value that they
    // have.)
    void relax(Level& l, unsigned first, bool from_zero, unsigned member) {
        const unsigned crowd = crew_of(l);
        const Slices slices(l);
        const std::size_t from = slices.from(member, crowd), to = slices.from(member + 1, crowd);
        const auto waits = [&](std::size_t s) {
            return (s == from && from > 0) || (s + 1 == to && to < slices.count);
        };
        for (std::size_t s = from; s < to; ++s) {
            relax_slice(l, slices, s, first, from_zero);
            if (s > from && !waits(s - 1)) relax_slice(l, slices, s - 1, 1 - first, false);
        }
        if (to > from && !waits(to - 1)) relax_slice(l, slices, to - 1, 1 - first, false);
        meet(crowd);
        for (std::size_t s = from; s < to; ++s) {
            if (waits(s)) relax_slice(l, slices, s, 1 - first, false);
        }
        meet(crowd);
    }

    void residual(Level& l, unsigned member) {
        const unsigned crowd = crew_of(l);
        const Slices slices(l);
        for (std::size_t s = slices.from(member, crowd); s < slices.from(member + 1, crowd); ++s) {
            for (std::size_t j = 0; j < slices.rows; ++j) {
                const std::size_t start = (s * slices.rows + j) * l.n[0];
                residual_row(l.row(start), l.residual.data() + start);
            }
        }
        meet(crowd);
    }

    // Rows along one axis that give to coarse row c: children, and the row next to them on either side that
    // looks here.
    template <class Child, class Beside>
    static void visit(const Merge& m, std::size_t c, Child child, Beside beside) {
        const auto a = static_cast<std::size_t>(m.first[c]), z = static_cast<std::size_t>(m.last[c]);
        for (std::size_t i = a; i <= z; ++i) child(i);
        const auto here = static_cast<std::int32_t>(c);
        if (a > 0 && m.beside[a - 1] == here) beside(a - 1);
        if (z + 1 < m.parent.size() && m.beside[z + 1] == here) beside(z + 1);
    }

    static Weights weights(const Level& fine, std::size_t at) {
        return {fine.weight[0].data() + at, fine.weight[1].data() + at,
                fine.solid ? fine.weight[2].data() + at : nullptr};
    }

    void restrict_row(Level& fine, Level& coarse, std::size_t J, std::size_t K, Sums& sum) {
        const std::size_t nx = fine.n[0];
        float* const stay = sum.stay.data();
        float* const move = sum.move.data();
        std::fill_n(stay, nx, 0.0F);
        std::fill_n(move, nx + 1, 0.0F);
        const auto start = [&](std::size_t j, std::size_t k) { return (k * fine.n[1] + j) * nx; };
        const auto take = [&](std::size_t j, std::size_t k, bool beside_y, bool beside_z) {
            const std::size_t at = start(j, k);
            gather_row(fine.residual.data() + at, nx, weights(fine, at), beside_y, beside_z, stay, move);
        };
        const auto plane = [&](std::size_t k, bool beside_z) {
            visit(
                fine.merge[1], J, [&](std::size_t j) { take(j, k, false, beside_z); },
                [&](std::size_t j) { take(j, k, true, beside_z); });
        };
        visit(
            fine.merge[2], K, [&](std::size_t k) { plane(k, false); },
            [&](std::size_t k) { plane(k, true); });
        reduce_row(coarse.b.data() + (K * coarse.n[1] + J) * coarse.n[0], coarse.n[0],
                   fine.merge[0].first.data(), fine.merge[0].last.data(), stay, move);
    }

    void restrict_to(Level& fine, Level& coarse, unsigned member) {
        const unsigned crowd = crew_of(fine);
        const Slices slices(coarse);
        for (std::size_t s = slices.from(member, crowd); s < slices.from(member + 1, crowd); ++s) {
            for (std::size_t j = 0; j < slices.rows; ++j) {
                restrict_row(fine, coarse, fine.solid ? j : s, fine.solid ? s : 0, sums[member]);
            }
        }
        meet(crowd);
    }

    void prolong_from(Level& fine, Level& coarse, unsigned member) {
        const unsigned crowd = crew_of(fine);
        const Slices slices(fine);
        const auto& m = fine.merge;
        const Parents parents{m[0].parent.data(), m[0].beside.data()};
        const auto coarse_row = [&](std::int32_t J, std::int32_t K) {
            return coarse.x.data() +
                   (static_cast<std::size_t>(K) * coarse.n[1] + static_cast<std::size_t>(J)) * coarse.n[0];
        };
        for (std::size_t s = slices.from(member, crowd); s < slices.from(member + 1, crowd); ++s) {
            for (std::size_t row = 0; row < slices.rows; ++row) {
                const std::size_t j = fine.solid ? row : s, k = fine.solid ? s : 0;
                const std::size_t at = (k * fine.n[1] + j) * fine.n[0];
                prolong_row(fine.x.data() + at, fine.n[0], parents, weights(fine, at),
                            {.own = coarse_row(m[1].parent[j], m[2].parent[k]),
                             .y = coarse_row(m[1].beside[j], m[2].parent[k]),
                             .z = coarse_row(m[1].parent[j], m[2].beside[k]),
                             .yz = coarse_row(m[1].beside[j], m[2].beside[k])});
            }
        }
        meet(crowd);
    }

    // A = b on the inner level to a tenth or so, by conjugate gradients that the cycle below preconditions.
    void settle(Level& l) {
        constexpr int most = 20;
        constexpr double enough = 0.1;
        const std::size_t n = l.cells();
        float* const r = l.b.data();
        float* const x = inner.x.data();
        float* const p = inner.p.data();
        float* const q = inner.q.data();
        std::fill_n(x, n, 0.0F);
        std::fill_n(p, n, 0.0F);
        settling = true;
        double before = 1.0, limit = 0.0;
        for (int round = 0; round <= most; ++round) {
            const double rr = dot(n, r, r);
            if (round == 0) limit = enough * enough * rr;
            if (round == most || !(rr > limit) || (round > 0 && rr == 0.0)) break;
            cycle(inner.level, 0);
            const float* const z = l.x.data();
            const double rz = dot(n, r, z);
            const double beta = round == 0 ? 0.0 : rz / before;
            for (std::size_t i = 0; i < n; ++i) p[i] = z[i] + static_cast<float>(beta) * p[i];
            for (std::size_t at = 0; at < n; at += l.n[0]) {  // q = -A p
                Row row = l.row(at);
                row.x = p + at;
                row.b = inner.zero.data() + at;
                residual_row(row, q + at);
            }
            const double alpha = -rz / dot(n, p, q);
            for (std::size_t i = 0; i < n; ++i) {
                x[i] += static_cast<float>(alpha) * p[i];
                r[i] += static_cast<float>(alpha) * q[i];
            }
            before = rz;
        }
        settling = false;
        std::copy_n(x, n, l.x.data());
    }

    // A V cycle from a guess of zero; symmetric, so that it can precondition.
    void cycle(std::size_t at, unsigned member) {
        Level& l = level[at];
        if (at + 1 == level.size()) {
            direct.solve(l);
            return;
        }
        if (at == inner.level && at > 0 && !settling) return settle(l);
        Level& coarse = level[at + 1];
        relax(l, 0, true, member);
        residual(l, member);
        restrict_to(l, coarse, member);
        if (member < crew_of(coarse)) cycle(at + 1, member);
        meet(crew_of(l));
        prolong_from(l, coarse, member);
        relax(l, 1, false, member);
    }
};

Multigrid::Multigrid(const Stencil& stencil, unsigned threads)
    : levels_(std::make_unique<Levels>(stencil, threads)) {}
Multigrid::~Multigrid() = default;

namespace {

// Conjugate gradients; every member of the crew runs the same lines on its own rows.
struct Gradients {
    Multigrid::Levels& mg;
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

    Gradients(Multigrid::Levels& levels, std::span<const double> rhs, std::span<double> guess,
              const SolveOptions& o, const StopToken& s)
        : mg(levels),
          b(rhs),
          x(guess),
          options(o),
          stop(s),
          fine(levels.level.front()),
          nx(fine.n[0]),
          rows(fine.n[1] * fine.n[2]),
          p(fine.cells(), fine.pad()),
          q(fine.cells(), 0),
          r(fine.cells(), 0),
          part(rows, 0.0) {}

    // Sum over all rows of task(first cell of the row), in the order of the rows.
    template <class Task>
    double over_rows(unsigned member, Task task) {
        for (std::size_t row = rows * member / mg.crew; row < rows * (member + 1) / mg.crew; ++row) {
            part[row] = task(row * nx);
        }
        mg.barrier.wait();
        double sum = 0.0;
        for (const double v : part) sum += v;
        mg.barrier.wait();
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
        mg.cycle(0, member);
        mg.barrier.wait();
        const auto product = [&](const Padded<double>& with) {
            return over_rows(member,
                             [&](std::size_t at) { return dot(nx, with.data() + at, fine.x.data() + at); }) /
                   scale;
        };
        const double rz = product(r);
        return {.rz = rz, .qz = product(q)};
    }

    void run(unsigned member) {
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
        double rr = over_rows(member, [&](std::size_t at) {
            double sum = 0.0;
            for (std::size_t i = at; i < at + nx; ++i) sum += r.data()[i] * r.data()[i];
            return sum;
        });
        const double limit = options.residual * options.residual * bb;
        double before = 0.0, alpha = 0.0;
        std::size_t done = 0;
        while (rr > limit && std::isfinite(rr) && done < options.most_iterations) {
            if (member == 0) halted = stop.stopped();
            const auto [rz, qz] = precondition(member, rr);
            if (halted) break;
            const double scale = std::sqrt(rr / static_cast<double>(fine.cells()));
            // Flexible: the cycle is not quite the same map each time. (r - r_before) . z = -alpha q . z
            const double beta = done == 0 ? 0.0 : -alpha * qz / before;
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
    Gradients cg(mg, b, x, options, stop);
    together(mg.crew, [&](unsigned member) { cg.run(member); });
    if (cg.halted) return fail(Code::stopped, "the conduction solve was stopped");
    if (!cg.settled) {
        return fail(
            Code::not_converged,
            fmt::format(
                "conjugate gradients reached a relative residual of {:.1e} in {} iterations, not {:.1e}",
                cg.report.residual, cg.report.iterations, options.residual));
    }
    cg.report.levels = mg.level.size();
    const Level& fine = mg.level.front();
    cg.report.bytes =
        cg.p.bytes() + cg.q.bytes() + cg.r.bytes() + mg.direct.bytes() +
        2 * fine.cells() * sizeof(double) +  // b and x
        (mg.stencil.east.size() + mg.stencil.north.size() + mg.stencil.up.size() + mg.stencil.ground.size()) *
            sizeof(float);
    for (const Level& l : mg.level) cg.report.bytes += l.bytes();
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
