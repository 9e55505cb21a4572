// The linear solve of steady conduction: how long, how much memory, how many iterations?
//
//   bench_conduction race         ours beside CHOLMOD and hypre on the same matrix, to the same residual
//   bench_conduction iterations   over the number of cells, jumps and stretched grids
//   bench_conduction bandwidth    share of the memory bandwidth that the sweeps reach
//   bench_conduction              all three; a number as second word bounds the cells (iterations)
//
// The residual is recomputed here for everybody, in double, on the same conductances. Wall time.
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "base/parallel.h"
#include "conduction/multigrid.h"
#include "conduction_problem.h"
#include "conduction_rivals.h"
#include "heap.h"

using namespace warmside;
using namespace warmside::bench_support;

namespace {

constexpr double target = 1e-8;

Outcome by_us(const Linear& problem, unsigned threads) {
    Outcome out;
    restart_peak();
    const std::size_t before = heap_now();
    out.x.assign(problem.right.size(), 0.0);
    double start = wall_seconds();
    conduction::Multigrid multigrid(problem.stencil, threads);
    out.setup = wall_seconds() - start;
    start = wall_seconds();
    const auto done = multigrid.solve(problem.right, out.x, {.residual = target, .most_iterations = 500});
    out.solve = wall_seconds() - start;
    // The stencil and the right-hand side are there already.
    out.bytes = heap_peak() - before + bytes_given(problem) - sizeof(double) * problem.right.size();
    if (done)
        out.iterations = done->iterations;
    else
        out.trouble = done.error().what;
    return out;
}

void print_row(std::string_view name, const Linear& problem, const Outcome& o) {
    if (!o.trouble.empty()) {
        fmt::print("  {:<34} {}\n", name, o.trouble);
        return;
    }
    const double reached = residual_of(problem, o.x);
    fmt::print("  {:<34} {:7.2f} {:7.2f} {:7.2f} {:>6} {:9.1e}{} {:7.0f} {:7.0f}\n", name, o.setup, o.solve,
               o.setup + o.solve, o.iterations ? std::to_string(o.iterations) : "direct", reached,
               reached <= 1.001 * target ? ' ' : '!', static_cast<double>(o.bytes) / 1048576.0,
               static_cast<double>(o.bytes) / static_cast<double>(problem.right.size()));
}

// hypre judges its own recursive residual: tightened until the recomputed one is there too.
Outcome best_of_hypre(const Linear& problem) {
    Outcome o;
    for (double residual = target; residual > 1e-2 * target; residual *= 0.5) {
        o = by_hypre(problem, residual);
        if (!o.trouble.empty() || residual_of(problem, o.x) <= 1.001 * target) break;
    }
    return o;
}

struct Contender {
    std::string name;
    std::function<Outcome()> solve;
    Outcome best{};
    [[nodiscard]] double whole() const { return best.setup + best.solve; }
};

void race(int dimensions, std::size_t side) {
    const Linear problem = build(Scene::wall, dimensions, side);
    std::vector<Contender> field{{"ours, 1 thread", [&] { return by_us(problem, 1); }},
                                 {"ours, 2 threads", [&] { return by_us(problem, 2); }},
                                 {"hypre PCG + BoomerAMG, 1 rank", [&] { return best_of_hypre(problem); }}};
    if (dimensions == 2) {
        field.push_back({"CHOLMOD supernodal, AMD, 1 thread", [&] { return by_cholmod(problem, 1); }});
        field.push_back({"CHOLMOD supernodal, AMD, 2 threads", [&] { return by_cholmod(problem, 2); }});
    }
    // In turn, three times, the best of each: what else the machine does hits all alike.
    constexpr int turns = 3;
    for (int turn = 0; turn < turns; ++turn) {
        for (Contender& c : field) {
            Outcome o = c.solve();
            if (turn == 0 || o.setup + o.solve < c.whole()) c.best = std::move(o);
        }
    }
    fmt::print("{}D, {} cells ({} a side), jumps 1:1000, residual {:g}, best of {}\n", dimensions,
               problem.right.size(), side, target, turns);
    fmt::print("  {:<34} {:>7} {:>7} {:>7} {:>6} {:>9}  {:>7} {:>7}\n", "", "setup s", "solve s", "both s",
               "it.", "residual", "MiB", "B/cell");
    for (const Contender& c : field) print_row(c.name, problem, c.best);
    const auto compare = [](const Contender& other, const Contender& mine) {
        if (!other.best.trouble.empty() || !mine.best.trouble.empty()) return;
        fmt::print("  {} takes {:.1f} times as long as {}\n", other.name, other.whole() / mine.whole(),
                   mine.name);
    };
    for (std::size_t k = 2; k < field.size(); ++k)
        for (std::size_t mine = 0; mine < 2; ++mine)
            if (k != 4 || mine == 1) compare(field[k], field[mine]);
}

void iterations(double most_cells) {
    fmt::print("iterations of ours to {:g}, seconds of setup + solve on two threads, bytes a cell\n", target);
    fmt::print("  {:<34} {:>24} {:>24} {:>24}\n", "", "1e5 cells", "1e6 cells", "1e7 cells");
    for (const int dimensions : {2, 3}) {
        for (const Scene scene : {Scene::wall, Scene::corner, Scene::checkerboard, Scene::fins}) {
            for (const double stretch : {1.0, 1000.0}) {
                fmt::print("  {:<34}", fmt::format("{}D {}{}", dimensions, name_of(scene),
                                                   stretch > 1.0 ? ", stretched 1:1000" : ""));
                for (const double cells : {1e5, 1e6, 1e7}) {
                    if (cells > most_cells) break;
                    const auto side =
                        static_cast<std::size_t>(std::lround(std::pow(cells, 1.0 / dimensions)));
                    const Linear problem = build(scene, dimensions, side, stretch);
                    const Outcome o = by_us(problem, 2);
                    const bool there = o.trouble.empty() && residual_of(problem, o.x) <= 1.001 * target;
                    const std::string text =
                        there ? fmt::format(
                                    "{:>4} {:7.2f} s {:4.0f} B", o.iterations, o.setup + o.solve,
                                    static_cast<double>(o.bytes) / static_cast<double>(problem.right.size()))
                              : "no";
                    fmt::print(" {:>24}", text);
                    std::fflush(stdout);
                }
                fmt::print("\n");
            }
        }
    }
}

double best_seconds(int turns, const auto& work) {
    double best = 1e300;
    for (int turn = 0; turn < turns; ++turn) {
        const double start = wall_seconds();
        work();
        best = std::min(best, wall_seconds() - start);
    }
    return best;
}

// a = b + s c over vectors far larger than the caches; 24 bytes an element as STREAM counts them.
double triad(unsigned threads) {
    constexpr std::size_t n = 16'000'000;
    static std::vector<double> a(n, 0.0), b(n, 1.0), c(n, 2.0);
    const double seconds = best_seconds(5, [&] {
        parallel_for(
            threads,
            [&](std::size_t t) {
                for (std::size_t i = n * t / threads; i < n * (t + 1) / threads; ++i)
                    a[i] = b[i] + 3.0 * c[i];
            },
            {}, threads);
    });
    return 24.0 * static_cast<double>(n) / seconds;
}

// Bytes that one iteration must move on the finest grid, each array once a pass, d axes. Outer method, in
// double: to single precision and scaled (12), two products with the correction (24), new direction (20), A p
// (16 and conductances 4 d + 4), step (48). Cycle, in single: first sweep (4 d + 12), residual (4 d + 16),
// restriction (4 d + 4), prolongation (4 d + 8), second sweep (4 d + 16). Coarser levels are not counted.
double bytes_of_iteration(int d) {
    return 124.0 + 4.0 * d + 20.0 * d + 56.0;
}

void bandwidth() {
    constexpr int turns = 5;
    std::array<double, 3> memory{};
    for (const unsigned threads : {1U, 2U}) memory[threads] = triad(threads);
    for (const int dimensions : {2, 3}) {
        const Linear problem = build(Scene::wall, dimensions, dimensions == 2 ? 1000 : 126);
        for (const unsigned threads : {1U, 2U}) {
            Outcome best;
            for (int turn = 0; turn < turns; ++turn) {
                memory[threads] = std::max(memory[threads], triad(threads));
                Outcome o = by_us(problem, threads);
                if (turn == 0 || o.solve < best.solve) best = std::move(o);
            }
            const double moved = static_cast<double>(best.iterations) * bytes_of_iteration(dimensions) *
                                 static_cast<double>(problem.right.size());
            fmt::print(
                "  {}D solve, {} thread{}: {:.1f} GB/s on the finest grid by formula ({:.0f} B a cell and "
                "iteration), {:.0f} % of the triad's {:.1f}\n",
                dimensions, threads, threads > 1 ? "s" : "", 1e-9 * moved / best.solve,
                bytes_of_iteration(dimensions), 100.0 * moved / best.solve / memory[threads],
                1e-9 * memory[threads]);
        }
    }
}

}  // namespace

int main(int arguments, char** argument) {
    std::setvbuf(stdout, nullptr, _IOLBF, BUFSIZ);  // a run that is cut off leaves what it has
    start_rivals(arguments, argument);
    const std::string_view part = arguments > 1 ? argument[1] : "all";
    const double most = arguments > 2 ? std::atof(argument[2]) : 1e7;
    if (part == "race" || part == "all") {
        race(2, 1000);
        race(3, 126);
    }
    if (part == "iterations" || part == "all") iterations(1.01 * most);
    if (part == "bandwidth" || part == "all") bandwidth();
    end_rivals();
    return 0;
}
