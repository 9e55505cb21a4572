// Drives columns through time: one lane each, every lane with its own step, all lanes one Newton correction a
// sweep.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/stop.h"
#include "moisture/column.h"

namespace warmside::moisture {

/// State of one column at a moment, read through the lanes' stride.
struct Snapshot {
    const double* temperature = nullptr;   ///< K
    const double* potential = nullptr;     ///< u
    const double* stored_water = nullptr;  ///< kg/m2 in each node's volume
    std::size_t stride = 1;
    std::size_t nodes = 0;
    [[nodiscard]] double t(std::size_t node) const { return temperature[node * stride]; }
    [[nodiscard]] double u(std::size_t node) const { return potential[node * stride]; }
    [[nodiscard]] double w(std::size_t node) const { return stored_water[node * stride]; }
};

/// Relative humidity at a node, at most 1: that of the solver's vapour pressure over saturation.
[[nodiscard]] double humidity_at(const Column& column, const Snapshot& now, std::size_t node);

/// What crossed the exchanges of a column since the start, per m2.
struct Throughput {
    double water_in = 0.0, water_out = 0.0;    ///< kg, both positive; net flow of each exchange in each step
    double energy_in = 0.0, energy_out = 0.0;  ///< J
    double rain_offered = 0.0, rain_absorbed = 0.0, leak_offered = 0.0, leak_absorbed = 0.0,
           drained = 0.0;  ///< kg
};

/// What a recorder asks for at the end of a year.
struct Next {
    bool finish = false;              ///< the column is done
    std::vector<double> temperature;  ///< K; not empty: the next year starts from this state
    std::vector<double> potential;
};

struct MarchResult;

/// Takes the results of one column while it runs, from the thread that runs it.
class Recorder {
public:
    Recorder() = default;
    Recorder(const Recorder&) = delete;
    Recorder& operator=(const Recorder&) = delete;
    virtual ~Recorder() = default;
    /// At the start (hour 0) and at the end of every hour.
    virtual void hour(int hours_done, const Snapshot& now) = 0;
    /// After hour() at the end of every year: whether the column goes on, and from which state.
    virtual Next year(int /*years_done*/, const Snapshot& /*now*/) { return {}; }
    /// After all of it, with what `march` returns for this column.
    virtual void done(const MarchResult& /*result*/) {}
};

struct MarchOptions {
    double tolerance = 2e-3;
    /// Scales of the local error: tolerance 1 would allow these.
    double temperature_scale = 500.0;  ///< K
    double potential_scale = 10.0;
    double first_step = 60.0;  ///< s
    bool fixed_steps = false;  ///< every step as long as Column::highest_step, for order studies
};

struct MarchResult {
    Throughput through;
    /// kg/m2, from the state. What a recorder's jumps added is counted to the start.
    double water_start = 0.0, water_end = 0.0;
    double energy_start = 0.0, energy_end = 0.0;  ///< J/m2, from the state, 0 at 0 degC
    std::int64_t steps = 0, iterations = 0, rejected = 0;
    double water_error() const;  ///< |in - out - stored|/max(in, out)
    double energy_error() const;
};

struct Task {
    const Column* column = nullptr;
    int hours = 0;                 ///< at most; the recorder may finish earlier
    Recorder* recorder = nullptr;  ///< may be null
};

/// Runs all tasks, several lanes a thread. The result of a task depends on nothing but the task.
/// Problem      not_converged: names column, layer number, hour and cause; stopped
[[nodiscard]] Result<std::vector<MarchResult>> march(std::span<const Task> tasks, const MarchOptions& options,
                                                     const Control& control = {}, unsigned threads = 0);

}  // namespace warmside::moisture
