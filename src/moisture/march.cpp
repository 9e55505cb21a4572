#include "moisture/march.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>
#include <mutex>
#include <optional>

#include "base/parallel.h"
#include "climate/year.h"
#include "moisture/lanes.h"
#include "moisture/potential.h"

namespace warmside::moisture {
namespace {

constexpr int width = 8;
constexpr int most_iterations = 30;
constexpr double newton_share = 0.1;    // of the tolerance that Newton's method may leave
constexpr double shortest_step = 1e-3;  // s
constexpr double hour_length = 3600.0;

using Workspace = Lanes<width>;

// The method: two implicit Euler solves a step, L-stable and of second order (Alexander, SIAM J. Numer. Anal.
// 14 (1977) 1006, memory). With g = 1 - 1/sqrt 2: the first solve goes to g dt; the second goes to the end
// and carries sqrt 2 times the gain of the first on, which makes its result M_n + dt ((1 - g) F_1 + g F_2).
constexpr double stage = 0.29289321881345254;
constexpr double carried_gain = 1.4142135623730951;
// The distance of a step's end to the straight line through its start and first solve, over the local error,
// for decaying modes between dt/tau = 0.3 and 3 (see docs/methods/moisture.md).
constexpr double error_per_distance = 0.2;

// What crossed one exchange.
struct Amount {
    double water = 0.0, energy = 0.0, rain = 0.0, drain = 0.0;
};

constexpr double no_error = 1e300;

// One column on its way through one lane.
struct Walker {
    std::size_t task = 0;
    const Column* column = nullptr;
    Recorder* recorder = nullptr;
    int hours = 0, hour = 0;
    double within = 0.0;     // s since the start of the hour
    double step = 0.0;       // s, of the step in progress
    double wished = 0.0;     // s, what error control asks for next
    double last_step = 0.0;  // s, of the step before; 0 at the start
    bool euler = false;      // single solves until the hour ends
    bool second = false;     // in the second solve of the step
    int iteration = 0;
    bool patient = false;
    int good = 0;  // corrections in a row that did what they promised
    double last_norm = 0.0, last_size = 0.0, relaxation = 1.0, last_damping = 1.0;
    double last_error = no_error;  // of the attempt before at this step
    Hour weather;
    std::array<Amount, most_exchanges> first;  // crossed in the first solve, later in the whole step
    MarchResult result;
};

double total(const Row& row, std::size_t nodes, std::size_t lane) {
    double sum = 0.0;
    for (std::size_t j = 0; j < nodes; ++j) sum += row[j * width + lane];
    return sum;
}

class Crew {
public:
    Crew(std::span<const Task> tasks, const MarchOptions& options, const Control& control,
         std::vector<MarchResult>& results, int nodes)
        : tasks_(tasks), options_(options), control_(control), results_(results), nodes_(nodes) {}

    // One thread's share: takes tasks from the common list until none is left.
    void work() {
        Workspace lanes(nodes_);
        std::array<std::optional<Walker>, width> walkers;
        for (std::size_t l = 0; l < width; ++l) take(lanes, l, walkers[l]);
        while (std::any_of(walkers.begin(), walkers.end(), [](const auto& w) { return w.has_value(); })) {
            if (control_.stop.stopped()) set_problem({.code = Code::stopped, .what = "moisture run stopped"});
            if (failed_.load(std::memory_order_relaxed)) return;
            sweep(lanes, walkers);
        }
    }

    std::optional<Problem> problem() const { return problem_; }

private:
    void take(Workspace& lanes, std::size_t l, std::optional<Walker>& walker) {
        const std::size_t i = next_++;
        lanes.leave(static_cast<int>(l));
        if (i >= tasks_.size()) {
            walker.reset();
            return;
        }
        walker.emplace();
        Walker& w = *walker;
        w.task = i;
        w.column = tasks_[i].column;
        w.recorder = tasks_[i].recorder;
        w.hours = tasks_[i].hours;
        lanes.put(static_cast<int>(l), *w.column);
        lanes.set_weights(static_cast<int>(l), *w.column, options_.tolerance * options_.temperature_scale,
                          options_.tolerance * options_.potential_scale);
        w.result.water_start = total(lanes.water, w.column->nodes.size(), l);
        w.result.energy_start = total(lanes.energy, w.column->nodes.size(), l);
        w.wished = options_.fixed_steps ? w.column->highest_step : options_.first_step;
        w.column->weather(0, w.weather);
        if (w.recorder) w.recorder->hour(0, look(lanes, l, w));
        if (w.hours <= 0) {
            finish(lanes, l, walker);
            return;
        }
        begin(lanes, l, w);
    }

    static Snapshot look(const Workspace& lanes, std::size_t l, const Walker& w) {
        return {lanes.at_temperature.data() + l, lanes.at_potential.data() + l, lanes.stored_water.data() + l,
                width, w.column->nodes.size()};
    }

    // Chooses the length of the step that starts now; lands on the end of the hour without a sliver before
    // it.
    static void begin(Workspace& lanes, std::size_t l, Walker& w) {
        const double left = hour_length - w.within;
        const double step = std::min(w.wished, w.column->highest_step);
        const double count = std::ceil(left / step - 1e-9);
        w.step = count <= 1.0 ? left : count <= 3.0 ? left / count : step;
        w.second = false;
        // What is behind: the second solve of the last step, over (1 - g) of its length.
        const double behind = (1.0 - stage) * w.last_step;
        solve(lanes, l, w, 0.0, behind > 0.0 ? std::min(stage * w.step / behind, 1.0) : 0.0);
    }

    void begin_second(Workspace& lanes, std::size_t l, Walker& w) {
        w.second = true;
        // Less far ahead than the straight line: fast modes have settled by now.
        solve(lanes, l, w, carried_gain, 1.0);
    }

    static void solve(Workspace& lanes, std::size_t l, Walker& w, double memory, double reach) {
        w.iteration = 0;
        w.relaxation = 1.0;
        w.good = 0;
        lanes.step[l] = w.euler ? w.step : stage * w.step;
        lanes.time[l] = hour_length * w.hour + w.within + (w.second ? w.step : lanes.step[l]);
        lanes.memory[l] = memory;
        lanes.damping[l] = 1.0;
        lanes.reach[l] = reach;
        lanes.line[l] = (1.0 - stage) / stage;
    }

    void sweep(Workspace& lanes, std::array<std::optional<Walker>, width>& walkers) {
        lanes.properties();
        for (std::size_t l = 0; l < width; ++l) {
            if (!walkers[l]) continue;
            Walker& w = *walkers[l];
            // Before the membranes, which need this hour's air.
            if (w.iteration == 0) lanes.settle_air(static_cast<int>(l), *w.column, w.weather.air);
            lanes.membranes(static_cast<int>(l), *w.column);
            lanes.exchange(static_cast<int>(l), *w.column, w.weather);
        }
        lanes.correct();
        std::array<bool, width> arrived{};
        for (std::size_t l = 0; l < width; ++l) {
            if (walkers[l]) arrived[l] = decide(lanes, l, *walkers[l]);
        }
        lanes.update();
        for (std::size_t l = 0; l < width; ++l) {
            if (!walkers[l] || lanes.move[l] != Move::accept || !arrived[l]) continue;
            Walker& w = *walkers[l];
            if (w.recorder) w.recorder->hour(w.hour, look(lanes, l, w));
            if (w.hour % climate::hours_in_year == 0 && turn_year(lanes, l, w)) {
                finish(lanes, l, walkers[l]);
                continue;
            }
            if (w.hour % 730 == 0) control_.report("moisture", progress(w));
            if (w.hour >= w.hours) finish(lanes, l, walkers[l]);
        }
    }

    // The end of a year: true when the recorder has seen enough.
    static bool turn_year(Workspace& lanes, std::size_t l, Walker& w) {
        if (!w.recorder) return false;
        const Next next = w.recorder->year(w.hour / climate::hours_in_year, look(lanes, l, w));
        if (next.finish || next.temperature.empty()) return next.finish;
        const std::size_t n = w.column->nodes.size();
        const double water = total(lanes.stored_water, n, l), energy = total(lanes.stored_energy, n, l);
        lanes.start_from(static_cast<int>(l), *w.column, next.temperature, next.potential);
        w.result.water_start += total(lanes.stored_water, n, l) - water;
        w.result.energy_start += total(lanes.stored_energy, n, l) - energy;
        w.last_step = 0.0;  // no slope to predict from
        begin(lanes, l, w);
        return false;
    }

    // What becomes of the lane's step after a correction. True when an hour is full.
    bool decide(Workspace& lanes, std::size_t l, Walker& w) {
        ++w.result.iterations;
        const double norm = lanes.correction[l];
        const bool finite = std::isfinite(norm) && std::isfinite(lanes.largest[l]);
        lanes.damping[l] = finite && lanes.largest[l] > 1.0 ? 1.0 / lanes.largest[l] : 1.0;
        ++w.iteration;
        const bool whole = lanes.damping[l] == 1.0;
        // Newton converges quadratically. After the first correction the rest is estimated from the curvature
        // of the equations (0.03/K of vapour pressure over temperature, 1/(2 b) of wetness over u), later
        // from the ratio of the last two corrections; both in units of the tolerance.
        const double ratio = w.iteration > 1 && w.last_norm > 0.0 ? norm / w.last_norm : 1.0;
        const double rest = w.iteration == 1 ? curvature_ * norm * norm : norm * std::min(1.0, ratio);
        w.last_norm = norm;
        const double shrink = w.last_size > 0.0 ? lanes.largest[l] / w.last_size : 1.0;
        w.last_size = lanes.largest[l];
        // The last hour, which may be any year's, is settled tightly: the balance is read from its state.
        const bool ends = w.hour + 1 == w.hours || (w.hour + 1) % climate::hours_in_year == 0;
        const double share = ends ? 1e-4 * newton_share : newton_share;
        const bool settled = finite && whole && rest < share;
        if (!settled) {
            // Corrections that do not shrink swing about a bend of the water content: go half way, and half
            // again.
            // Larger again after corrections that did nearly all that a straight line promises: one, or two
            // in a row when the attempt before failed, since some bends need haste and others patience.
            if (w.iteration > 2 && shrink > 1.0 - 0.3 * w.last_damping) {
                w.relaxation = std::max(0.5 * w.relaxation, 0.1);
                w.good = 0;
            } else if (shrink < 1.0 - 0.7 * w.last_damping && ++w.good >= (w.patient ? 2 : 1)) {
                w.relaxation = std::min(2.0 * w.relaxation, 1.0);
                w.good = 0;
            }
            lanes.damping[l] *= w.relaxation;
            w.last_damping = lanes.damping[l];
            if (!finite || w.iteration >= most_iterations)
                return w.second ? accept_first(lanes, l, w) : retry(lanes, l, w, 0.25, true);
            lanes.move[l] = Move::iterate;
            return false;
        }
        if (!w.second) {
            lanes.move[l] = Move::accept;
            for (std::size_t e = 0; e < w.column->exchanges.size(); ++e) w.first[e] = amount(lanes, l, w, e);
            if (w.euler || rain_is_turned_away(lanes, l, w)) return end_with_first(lanes, l, w);
            begin_second(lanes, l, w);
            return false;
        }
        const double error = options_.fixed_steps ? 0.0 : error_per_distance * lanes.distance[l];
        // A distance that does not fall with the step comes from a jump in the weather: no step is short
        // enough for it.
        const bool jump = error > 0.9 * w.last_error;
        if (error > 1.0 && w.step > 1.0 && !jump) {
            w.last_error = error;
            return retry(lanes, l, w, std::max(0.2, 0.8 / std::sqrt(error)), false);
        }
        for (std::size_t e = 0; e < w.column->exchanges.size(); ++e) {
            const Amount last = amount(lanes, l, w, e);
            Amount& a = w.first[e];
            constexpr double whole_first = 1.0 + carried_gain;
            a = {whole_first * a.water + last.water, whole_first * a.energy + last.energy,
                 whole_first * a.rain + last.rain, whole_first * a.drain + last.drain};
        }
        lanes.move[l] = Move::accept;
        double grow = std::min(3.0, 0.8 / std::sqrt(std::max(error, 1e-4)));
        // A state that swings about a bend keeps its distance whatever the step: steps that short shrink no
        // more.
        if (w.step <= 1.0) grow = std::max(grow, 1.0);
        return advance(lanes, l, w, w.step, grow);
    }

    // The second solve does not settle: what it carries on from a jump can ask for more water than pores
    // hold. The first one stands by itself as a step of implicit Euler.
    bool accept_first(Workspace& lanes, std::size_t l, Walker& w) {
        ++w.result.rejected;
        lanes.move[l] = Move::retry;
        w.wished = stage * w.step;
        const double done = w.wished;
        w.step = 0.0;  // no slope to predict from
        w.euler = true;
        return advance(lanes, l, w, done, 2.0);
    }

    // A face that is too wet for the rain it meets takes no more: the gain of the first solve must not be
    // carried on.
    static bool rain_is_turned_away(const Workspace& lanes, std::size_t l, const Walker& w) {
        for (std::size_t e = 0; e < w.column->exchanges.size(); ++e) {
            const auto& f = lanes.flows[l][e];
            if (w.weather.ambient[e].rain > 0.0 && (f.rain_u < 0.0 || f.drain > 0.0)) return true;
        }
        return false;
    }

    // The first solve, just accepted, is the whole step: implicit Euler, and so to the end of the hour.
    bool end_with_first(Workspace& lanes, std::size_t l, Walker& w) {
        const double done = w.euler ? w.step : stage * w.step;
        w.wished = w.step;
        w.step = 0.0;
        w.euler = true;
        return advance(lanes, l, w, done, 1.0);
    }

    bool retry(Workspace& lanes, std::size_t l, Walker& w, double factor, bool diverged) {
        ++w.result.rejected;
        if (diverged) w.patient = !w.patient;
        w.wished = w.step * factor;
        lanes.move[l] = w.second ? Move::rewind : Move::retry;
        if (w.wished < shortest_step) {
            set_problem(not_converged(lanes, l, w, diverged));
            return false;
        }
        w.last_step = 0.0;
        begin(lanes, l, w);
        return false;
    }

    // Books a finished step of length `done` and begins the next. True when an hour is full.
    bool advance(Workspace& lanes, std::size_t l, Walker& w, double done, double grow) {
        book(w, done);
        ++w.result.steps;
        w.within += done;
        w.last_step = w.step;
        w.last_error = no_error;
        w.patient = false;
        w.wished = options_.fixed_steps ? w.column->highest_step
                                        : std::max(done * grow, w.wished * std::min(1.0, grow));
        const bool arrived = w.within > hour_length * (1.0 - 1e-12);
        if (arrived) {
            ++w.hour;
            w.within = 0.0;
            w.euler = false;
            if (w.hour < w.hours) w.column->weather(w.hour, w.weather);
        }
        begin(lanes, l, w);
        return arrived;
    }

    // What crosses exchange e in the solve in progress, as the linearised equations see it.
    static Amount amount(const Workspace& lanes, std::size_t l, const Walker& w, std::size_t e) {
        const auto& f = lanes.flows[l][e];
        const std::size_t i = static_cast<std::size_t>(w.column->exchanges[e].node) * width + l;
        const double dT = lanes.delta_temperature[i], du = lanes.delta_potential[i];
        const double span = lanes.step[l];
        return {span * (f.water + f.water_t * dT + f.water_u * du),
                span * (f.energy + f.energy_t * dT + f.energy_u * du), span * (f.rain + f.rain_u * du),
                span * (f.drain + f.drain_u * du)};
    }

    static void book(Walker& w, double step) {
        Throughput& sum = w.result.through;
        for (std::size_t e = 0; e < w.column->exchanges.size(); ++e) {
            const Amount& a = w.first[e];
            (a.water > 0.0 ? sum.water_in : sum.water_out) += std::abs(a.water);
            (a.energy > 0.0 ? sum.energy_in : sum.energy_out) += std::abs(a.energy);
            const bool leak = w.column->exchanges[e].kind == Exchange::Kind::leak;
            (leak ? sum.leak_absorbed : sum.rain_absorbed) += a.rain;
            (leak ? sum.leak_offered : sum.rain_offered) += step * w.weather.ambient[e].rain;
            sum.drained += a.drain;
        }
    }

    void finish(Workspace& lanes, std::size_t l, std::optional<Walker>& walker) {
        Walker& w = *walker;
        // Stores of the final state from its own values, not from the carried sums.
        double water = 0.0, energy = 0.0;
        for (std::size_t j = 0; j < w.column->nodes.size(); ++j) {
            const std::size_t i = j * width + l;
            lanes.temperature[i] = lanes.at_temperature[i];
            lanes.potential[i] = lanes.at_potential[i];
        }
        lanes.properties();
        water = total(lanes.water, w.column->nodes.size(), l);
        energy = total(lanes.energy, w.column->nodes.size(), l);
        w.result.water_end = water;
        w.result.energy_end = energy;
        results_[w.task] = w.result;
        done_hours_ += w.hours;
        if (w.recorder) w.recorder->done(w.result);
        take(lanes, l, walker);
    }

    double progress(const Walker& w) const {
        double all = 0.0;
        for (const Task& task : tasks_) all += task.hours;
        return std::min(1.0, (static_cast<double>(done_hours_.load()) + w.hour) / std::max(all, 1.0));
    }

    static Problem not_converged(const Workspace& lanes, std::size_t l, const Walker& w, bool diverged) {
        std::size_t worst = 0;
        double most = -1.0;
        for (std::size_t j = 0; j < w.column->nodes.size(); ++j) {
            const std::size_t i = j * width + l;
            const double moved =
                std::abs(lanes.delta_temperature[i]) / 100.0 + std::abs(lanes.delta_potential[i]);
            if (!(moved <= most)) {
                most = moved;
                worst = j;
            }
        }
        const Node& node = w.column->nodes[worst];
        return {.code = Code::not_converged,
                .what = fmt::format(
                    "{}: no solution in hour {} at {} (layer {}, {:.1f} mm from the inside): {}",
                    w.column->name, w.hour, node.substance->name, node.layer + 1, 1e3 * node.position,
                    diverged ? "Newton's method does not settle even with steps of a millisecond"
                             : "the local error stays above the tolerance")};
    }

    void set_problem(Problem problem) {
        const std::scoped_lock lock(mutex_);
        if (!problem_) problem_ = std::move(problem);
        failed_ = true;
    }

    std::span<const Task> tasks_;
    const MarchOptions& options_;
    const Control& control_;
    std::vector<MarchResult>& results_;
    int nodes_;
    double curvature_ = std::max(0.03 * options_.tolerance * options_.temperature_scale,
                                 options_.tolerance* options_.potential_scale / (2.0 * log_share));
    std::atomic<std::size_t> next_{0};
    std::atomic<std::int64_t> done_hours_{0};
    std::atomic<bool> failed_{false};
    std::mutex mutex_;
    std::optional<Problem> problem_;
};

}  // namespace

double humidity_at(const Column& column, const Snapshot& now, std::size_t node) {
    const double theta = column.nodes[node].substance->tables.at(Substance::theta, now.u(node)).value;
    return std::min(1.0, std::exp(-theta * reference_temperature / now.t(node)));
}

double MarchResult::water_error() const {
    const double gain = water_end - water_start;
    return std::abs(through.water_in - through.water_out - gain) /
           std::max({through.water_in, through.water_out, 1e-300});
}
double MarchResult::energy_error() const {
    const double gain = energy_end - energy_start;
    return std::abs(through.energy_in - through.energy_out - gain) /
           std::max({through.energy_in, through.energy_out, 1e-300});
}

Result<std::vector<MarchResult>> march(std::span<const Task> tasks, const MarchOptions& options,
                                       const Control& control, unsigned threads) {
    int nodes = 0;
    for (const Task& task : tasks) {
        if (auto sound = check(*task.column); !sound) return fail(sound.error());
        nodes = std::max(nodes, static_cast<int>(task.column->nodes.size()));
    }
    std::vector<MarchResult> results(tasks.size());
    Crew crew(tasks, options, control, results, nodes);
    // A thread for each full set of lanes at most: fewer, fuller sets are faster than many thin ones.
    const std::size_t sets = (tasks.size() + width - 1) / width;
    parallel_for(sets, [&](std::size_t) { crew.work(); }, {}, threads);
    if (const auto problem = crew.problem()) return fail(*problem);
    return results;
}

}  // namespace warmside::moisture
