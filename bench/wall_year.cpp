// A year of one wall: how long does it take, and how long does SUNDIALS CVODE need for the same error?
//
// Both march the same semi-discrete system (same nodes, property tables, exchanges, rain leak) through the
// built-in year of Duluth in stressed weather, north face. Ours marches it alone and as one of eight walls in
// lanes; CVODE is BDF, banded, with the analytic Jacobian, over the stores (tests/cross_solve/stores.h). The
// error is against a reference with four times the cells and a tenth of the tolerance: largest difference of
// a weekly mean of relative humidity at the judged surfaces. CVODE's tolerance is loosened until its error
// passes ours, and the last that does not is the race. Processor time of one thread.
#include <benchmark/benchmark.h>
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <memory>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

#include "../tests/cross_solve/stores.h"
#include "moisture/build.h"
#include "moisture/lanes.h"
#include "moisture/march.h"
#include "moisture/mesh.h"
#include "moisture/potential.h"
#include "moisture/simulate.h"
#include "moisture/synthetic.h"
#include "peak.h"

using namespace warmside;
using namespace warmside::moisture;

namespace {

constexpr int weeks = 52, week = 168;

// Weekly means of relative humidity at the judged surfaces: [surface][week].
using Weekly = std::vector<std::array<double, weeks>>;

Weekly weekly_means(const std::vector<std::vector<float>>& humidity) {
    Weekly out(humidity.size());
    for (std::size_t k = 0; k < humidity.size(); ++k) {
        for (std::size_t w = 0; w < weeks; ++w) {
            double sum = 0.0;
            for (std::size_t i = 0; i < week; ++i) sum += humidity[k][week * w + i];
            out[k][w] = sum / week;
        }
    }
    return out;
}

Weekly weekly_means(const History& history) {
    std::vector<std::vector<float>> judged;
    for (const Probe& probe : history.probes)
        if (probe.sensitive) judged.push_back(probe.relative_humidity);
    return weekly_means(judged);
}

double worst(const Weekly& a, const Weekly& b) {
    double most = 0.0;
    for (std::size_t k = 0; k < a.size(); ++k)
        for (std::size_t w = 0; w < weeks; ++w) most = std::max(most, std::abs(a[k][w] - b[k][w]));
    return 100.0 * most;
}

struct Scene {
    assembly::Assembly wall = invented::deep_wall();
    climate::FaceWeather weather;
    climate::Indoor indoor;
    Mesh mesh;
    Weekly reference;
    Run run;
};

std::optional<Scene> scene() {
    const auto place = climate::find_place("Duluth, Minnesota");
    if (!place) return {};
    const auto year = climate::generate(**place);
    if (!year) return {};
    const climate::Year stressed = climate::stressed(*year);
    Scene s;
    s.weather = climate::weather_on(stressed, {0.0, 0.5 * std::numbers::pi}, {});
    auto indoor = climate::indoor_air({}, stressed);
    if (!indoor) return {};
    s.indoor = *std::move(indoor);
    return s;
}

Options options(double tolerance) {
    return {.tolerance = tolerance, .carpet_columns = 0};
}

struct Outcome {
    Weekly weekly;
    double seconds = 0.0;  // a wall-year
    double steps = 0.0, evaluations = 0.0;
    std::string trouble;
};

Outcome by_us(const Scene& s, int walls, double tolerance) {
    Outcome out;
    const auto done = simulate(std::vector<Run>(static_cast<std::size_t>(walls), s.run), options(tolerance));
    if (!done) {
        out.trouble = done.error().what;
        return out;
    }
    out.weekly = weekly_means(done->front());
    out.steps = static_cast<double>(done->front().steps);
    out.evaluations = static_cast<double>(done->front().newton_iterations);
    return out;
}

Outcome by_cvode(const Built& built, const cross_solve::Tolerance& tolerance) {
    Outcome out;
    std::vector<std::size_t> nodes;
    for (const Spot& spot : built.spots)
        if (spot.sensitive) nodes.push_back(spot.node);
    std::vector<std::vector<float>> humidity(nodes.size());
    const auto marched = cross_solve::march(
        built.column, climate::hours_in_year, tolerance,
        [&](int, const cross_solve::Stores& stores, const double*) {
            for (std::size_t k = 0; k < nodes.size(); ++k) {
                const double theta = theta_of(stores.lane().potential[nodes[k]]);
                humidity[k].push_back(static_cast<float>(
                    std::exp(-theta * reference_temperature / stores.lane().temperature[nodes[k]])));
            }
        });
    out.trouble = marched.trouble;
    if (out.trouble.empty()) out.weekly = weekly_means(humidity);
    out.steps = static_cast<double>(marched.steps);
    out.evaluations = static_cast<double>(marched.evaluations);
    return out;
}

// One contender: what it does, and the outcome of its last turn.
struct Contender {
    std::string name;
    double walls = 1.0;
    std::function<Outcome()> work;
    Outcome outcome;
};

void run_all(std::vector<Contender>& contenders) {
    for (Contender& c : contenders) {
        benchmark::RegisterBenchmark(c.name.c_str(),
                                     [&c](benchmark::State& state) {
                                         for (auto _ : state) {
                                             const double start = bench_support::processor_seconds();
                                             c.outcome = c.work();
                                             c.outcome.seconds =
                                                 (bench_support::processor_seconds() - start) / c.walls;
                                         }
                                     })
            ->Unit(benchmark::kMillisecond)
            ->Iterations(1);
    }
    benchmark::RunSpecifiedBenchmarks();
}

void print(const std::string& name, const Outcome& o, const Weekly& reference) {
    if (!o.trouble.empty()) {
        fmt::print("  {:44} {}\n", name, o.trouble);
        return;
    }
    fmt::print("  {:44} {:8.4f} s a wall-year {:9.0f} steps {:9.0f} evaluations, error {:.3f} % RH\n", name,
               o.seconds, o.steps, o.evaluations, worst(o.weekly, reference));
}

// Where the time of a wall in lanes goes: the kernel's parts turned alone at the start state, eight walls at
// once.
void print_split(const Column& column, double evaluations, double seconds) {
    constexpr int turns = 2000;
    const auto lanes = std::make_unique<Lanes<8>>(static_cast<int>(column.nodes.size()));
    Hour hour;
    column.weather(0, hour);
    for (int l = 0; l < 8; ++l) {
        lanes->put(l, column);
        lanes->step[static_cast<std::size_t>(l)] = 1.0;
    }
    const auto share = [&](auto part) {
        const double start = bench_support::processor_seconds();
        for (int k = 0; k < turns; ++k) part();
        return 100.0 * (bench_support::processor_seconds() - start) / turns / 8.0 * evaluations / seconds;
    };
    const double properties = share([&] { lanes->properties(); });
    const double edges = share([&] {
        for (int l = 0; l < 8; ++l) {
            lanes->membranes(l, column);
            lanes->exchange(l, column, hour);
        }
    });
    const double correct = share([&] { lanes->correct(); });
    const double update = share([&] { lanes->update(); });
    fmt::print(
        "time of a wall in lanes: material properties {:.0f} %, assembly and elimination {:.0f} %, update "
        "{:.0f} %, "
        "faces and membranes {:.0f} %, the rest (steps, weather, history) {:.0f} %\n",
        properties, correct, update, edges, 100.0 - properties - correct - update - edges);
}

void race(Scene& s) {
    s.run = {.name = "bench", .assembly = &s.wall, .outside = &s.weather, .inside = &s.indoor};
    s.run.years = 1;
    const auto pilots = pilot(std::vector<Run>{s.run}, options(2e-3));
    Options fine = options(2e-4);
    Mesh finer = pilots->front().mesh;
    for (int& pieces : finer.pieces) pieces *= 4;
    s.run.mesh = &finer;
    const auto reference = simulate(std::vector<Run>{s.run}, fine);
    s.mesh = pilots->front().mesh;
    s.run.mesh = &s.mesh;
    Shelf shelf;
    const auto built = build(s.run, options(2e-3), shelf);
    if (!reference || !built) {
        fmt::print("no reference: {}\n", reference ? built.error().what : reference.error().what);
        return;
    }
    s.reference = weekly_means(reference->front());
    const auto nodes = static_cast<double>(built->column.nodes.size());
    fmt::print("{:.0f} nodes, cut by the pilot year; reference {} nodes\n", nodes, reference->front().cells);

    std::vector<Contender> contenders{
        {.name = "one wall, default tolerance", .work = [&] { return by_us(s, 1, 2e-3); }},
        {.name = "eight walls in lanes, each", .walls = 8.0, .work = [&] { return by_us(s, 8, 2e-3); }}};
    for (const double share : {1.0, 10.0, 30.0, 100.0, 300.0, 1000.0}) {
        const cross_solve::Tolerance tolerance{.temperature = 1e-4 * share, .potential = 1e-6 * share};
        contenders.push_back({.name = fmt::format("CVODE, tolerance {:g} K, {:g} of u", tolerance.temperature,
                                                  tolerance.potential),
                              .work = [&, tolerance] { return by_cvode(*built, tolerance); }});
    }
    run_all(contenders);
    const Outcome &one = contenders[0].outcome, &eight = contenders[1].outcome;
    const double ours = worst(one.weekly, s.reference);
    // The fastest of CVODE's runs whose error is ours or less.
    const Outcome* equal = nullptr;
    for (std::size_t k = 0; k < contenders.size(); ++k) {
        const Outcome& o = contenders[k].outcome;
        print(contenders[k].name, o, s.reference);
        if (k < 2 || !o.trouble.empty() || worst(o.weekly, s.reference) > 1.02 * ours) continue;
        if (!equal || o.seconds < equal->seconds) equal = &o;
    }
    if (equal)
        fmt::print(
            "ratio to CVODE at equal error: {:.1f} for one wall, {:.1f} a wall in lanes (asked 3 and 15, "
            "goal 25)\n",
            equal->seconds / one.seconds, equal->seconds / eight.seconds);
    else
        fmt::print("CVODE did not reach our error at any tolerance tried\n");

    print_split(built->column, eight.evaluations, eight.seconds);
    const double work = bench_support::flops_of_evaluation();
    const double rate = work * nodes * eight.evaluations / eight.seconds;
    const double peak = bench_support::peak_flops();
    if (work > 0.0)
        fmt::print(
            "{:.0f} floating-point operations a node and evaluation (counted in the built kernel), {:.1f} "
            "GFLOP/s; this "
            "core's most {:.1f} GFLOP/s (multiply-adds in registers): {:.0f} % of it\n",
            work, 1e-9 * rate, 1e-9 * peak, 100.0 * rate / peak);
    const std::size_t before = bench_support::bytes_in_use();
    const auto lanes = std::make_unique<Lanes<8>>(static_cast<int>(nodes));
    const std::size_t between = bench_support::bytes_in_use();
    Shelf own;
    const auto again = build(s.run, options(2e-3), own);
    const std::size_t after = bench_support::bytes_in_use();
    fmt::print(
        "memory: {:.0f} kB a wall in its lane, {:.0f} kB of column and tables of its {} materials (asked "
        "under 2000)\n",
        1e-3 * static_cast<double>(between - before) / 8.0, 1e-3 * static_cast<double>(after - between),
        again ? again->column.substances.size() : 0);
}

}  // namespace

int main(int argc, char** argv) {
    benchmark::Initialize(&argc, argv);
    auto s = scene();
    if (!s) {
        fmt::print("no weather\n");
        return 1;
    }
    race(*s);
    return 0;
}
