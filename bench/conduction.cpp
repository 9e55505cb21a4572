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
#include <cmath>
#include <cstdlib>
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
    const auto done = multigrid.solve(problem.right, out.x,
                                      {.residual = target, .most_iterations = 500, .threads = threads});
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

void race(int dimensions, std::size_t side) {
    const Linear problem = build(Scene::wall, dimensions, side);
    fmt::print("{}D, {} cells ({} a side), jumps 1:1000, residual {:g}\n", dimensions, problem.right.size(),
               side, target);
    fmt::print("  {:<34} {:>7} {:>7} {:>7} {:>6} {:>9}  {:>7} {:>7}\n", "", "setup s", "solve s", "both s",
               "it.", "residual", "MiB", "B/cell");
    const Outcome two = by_us(problem, 2), one = by_us(problem, 1);
    print_row("ours, 1 thread", problem, one);
    print_row("ours, 2 threads", problem, two);
    const Outcome hypre = best_of_hypre(problem);
    print_row("hypre PCG + BoomerAMG, 1 rank", problem, hypre);
    Outcome cholmod, cholmod_two;
    if (dimensions == 2) {
        cholmod = by_cholmod(problem, 1);
        print_row("CHOLMOD supernodal, AMD, 1 thread", problem, cholmod);
        cholmod_two = by_cholmod(problem, 2);
        print_row("CHOLMOD supernodal, AMD, 2 threads", problem, cholmod_two);
    }
    const auto compare = [](std::string_view name, const Outcome& other, const Outcome& mine) {
        if (other.x.empty() || !other.trouble.empty() || !mine.trouble.empty()) return;
        fmt::print("  {:<34} {:.1f}\n", name, (other.setup + other.solve) / (mine.setup + mine.solve));
    };
    fmt::print("  times ours, setup and solve:\n");
    compare("  hypre over ours, 1 thread each", hypre, one);
    compare("  hypre, 1 rank, over ours, 2 threads", hypre, two);
    compare("  CHOLMOD over ours, 1 thread each", cholmod, one);
    compare("  CHOLMOD over ours, 2 threads each", cholmod_two, two);
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

void bandwidth() {
    const double single = triad(1), both = triad(2);
    fmt::print("memory: triad {:.1f} GB/s on one thread, {:.1f} on two\n", 1e-9 * single, 1e-9 * both);
    for (const int dimensions : {2, 3}) {
        const Linear problem = build(Scene::wall, dimensions, dimensions == 2 ? 2000 : 160);
        std::vector<double> x(problem.right.size(), 1.0), y(problem.right.size());
        const double cells = static_cast<double>(x.size());
        const double seconds =
            best_seconds(5, [&] { conduction::multiply(problem.stencil, x.data(), y.data()); });
        // Each conductance and x read once, y written once.
        const double bytes = cells * (4.0 * (dimensions + 1) + 16.0);
        fmt::print("  {}D A x, one thread: {:.1f} GB/s by formula ({} B a cell), {:.0f} % of the triad\n",
                   dimensions, 1e-9 * bytes / seconds, 4 * (dimensions + 1) + 16,
                   100.0 * bytes / seconds / single);
    }
}

}  // namespace

int main(int arguments, char** argument) {
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
