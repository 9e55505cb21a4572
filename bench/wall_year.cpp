// A year of one wall: how long does it take, and how long does SUNDIALS CVODE need for the same equations?
//
// Both march the same semi-discrete system (same nodes, same property tables, same exchanges) over a year of
// invented hourly weather. The reference is our own solver with a hundredth of the tolerance; errors are the
// largest weekly mean of relative humidity at the inner face of the sheathing. CVODE: BDF, banded,
// difference-quotient Jacobian, steps stopped at every hour. It integrates temperature and potential, not the
// stores, so its water drifts unless the tolerance is tight; a wetted film (rain leak), whose store bends
// sharply, throws it off at any tolerance tried, so the leak is off here. CPU time of this process, one
// thread.
#include <cvode/cvode.h>
#include <fmt/core.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_context.h>
#include <sunlinsol/sunlinsol_band.h>
#include <sunmatrix/sunmatrix_band.h>

#include <algorithm>
#include <cmath>
#include <ctime>
#include <string>
#include <vector>

#include "moisture/build.h"
#include "moisture/lanes.h"
#include "moisture/potential.h"
#include "moisture/simulate.h"
#include "moisture/synthetic.h"

using namespace warmside;
using namespace warmside::moisture;

namespace {

double seconds_since(std::clock_t start) {
    return static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
}

using Series = std::vector<float>;

double worst_week(const Series& a, const Series& b) {
    double worst = 0.0;
    for (std::size_t week = 0; week < 52; ++week) {
        double sum = 0.0;
        for (std::size_t i = 0; i < 168; ++i) sum += a[168 * week + i] - b[168 * week + i];
        worst = std::max(worst, std::abs(sum / 168.0));
    }
    return 100.0 * worst;
}

std::size_t sheathing_spot(const Built& built) {
    for (std::size_t k = 0; k < built.spots.size(); ++k)
        if (built.spots[k].name == "inner face of osb") return k;
    return 0;
}

// The column as CVODE sees it.
struct System {
    const Column* column;
    Lanes<1> lane;
    Hour hour;
    std::vector<double> t_rate, u_rate;
    explicit System(const Column& c)
        : column(&c),
          lane(static_cast<int>(c.nodes.size())),
          t_rate(c.nodes.size() + 1),
          u_rate(c.nodes.size() + 1) {
        lane.put(0, c);
    }
};

int right_side(double, N_Vector y, N_Vector dy, void* data) {
    System& s = *static_cast<System*>(data);
    const double* state = N_VGetArrayPointer(y);
    double* rate = N_VGetArrayPointer(dy);
    const std::size_t n = s.column->nodes.size();
    for (std::size_t j = 0; j < n; ++j) {
        s.lane.temperature[j] = state[2 * j];
        s.lane.potential[j] = std::clamp(state[2 * j + 1], lowest_potential(), highest_potential());
    }
    s.lane.properties();
    s.lane.membranes(0, *s.column);
    s.lane.exchange(0, *s.column, s.hour);
    s.lane.rates(s.t_rate.data(), s.u_rate.data());
    for (std::size_t j = 0; j < n; ++j) {
        rate[2 * j] = s.t_rate[j];
        rate[2 * j + 1] = s.u_rate[j];
    }
    return 0;
}

struct Outcome {
    Series humidity;
    double seconds = 0.0;
    long steps = 0, calls = 0;
    std::string trouble;
};

Outcome by_cvode(const Column& column, std::size_t node, double relative) {
    Outcome out;
    const auto start = std::clock();
    System system(column);
    sundials::Context context;
    const auto size = static_cast<sunindextype>(2 * column.nodes.size());
    N_Vector y = N_VNew_Serial(size, context), tolerance = N_VNew_Serial(size, context);
    for (std::size_t j = 0; j < column.nodes.size(); ++j) {
        N_VGetArrayPointer(y)[2 * j] = column.temperature[j];
        N_VGetArrayPointer(y)[2 * j + 1] = column.potential[j];
        // The same scales as ours: 500 K and 10 of u.
        N_VGetArrayPointer(tolerance)[2 * j] = 500.0 * relative;
        N_VGetArrayPointer(tolerance)[2 * j + 1] = 10.0 * relative;
    }
    void* memory = CVodeCreate(CV_BDF, context);
    SUNMatrix matrix = SUNBandMatrix(size, 3, 3, context);
    SUNLinearSolver solver = SUNLinSol_Band(y, matrix, context);
    column.weather(0, system.hour);
    CVodeInit(memory, right_side, 0.0, y);
    CVodeSVtolerances(memory, 0.0, tolerance);
    CVodeSetUserData(memory, &system);
    CVodeSetLinearSolver(memory, solver, matrix);
    CVodeSetMaxNumSteps(memory, 200000);
    double t = 0.0;
    for (int hour = 0; hour < climate::hours_in_year; ++hour) {
        column.weather(hour, system.hour);
        const double end = 3600.0 * (hour + 1);
        CVodeSetStopTime(memory, end);
        if (CVode(memory, end, y, &t, CV_NORMAL) < 0) {
            out.trouble = fmt::format("CVODE stopped in hour {}", hour);
            break;
        }
        const double T = N_VGetArrayPointer(y)[2 * node], u = N_VGetArrayPointer(y)[2 * node + 1];
        out.humidity.push_back(static_cast<float>(std::exp(-theta_of(u) * reference_temperature / T)));
    }
    CVodeGetNumSteps(memory, &out.steps);
    CVodeGetNumRhsEvals(memory, &out.calls);
    out.seconds = seconds_since(start);
    CVodeFree(&memory);
    SUNLinSolFree(solver);
    SUNMatDestroy(matrix);
    N_VDestroy(y);
    N_VDestroy(tolerance);
    return out;
}

Outcome by_us(const std::vector<Run>& runs, std::size_t spot, double tolerance) {
    Outcome out;
    const auto start = std::clock();
    const auto done = simulate(runs, {.tolerance = tolerance, .carpet_columns = 0});
    out.seconds = seconds_since(start) / static_cast<double>(runs.size());
    if (!done) {
        out.trouble = done.error().what;
        return out;
    }
    out.humidity = (*done)[0].probes[spot].relative_humidity;
    out.steps = (*done)[0].steps;
    out.calls = (*done)[0].newton_iterations;
    return out;
}

void print(const char* name, const Outcome& o, const Series& reference) {
    if (!o.trouble.empty()) {
        fmt::print("{:42} {}\n", name, o.trouble);
        return;
    }
    fmt::print("{:42} {:9.4f} s a wall-year {:8} steps {:9} evaluations, error {:.3f} % RH\n", name,
               o.seconds, o.steps, o.calls, worst_week(o.humidity, reference));
}

}  // namespace

int main() {
    const assembly::Assembly wall = invented::deep_wall();
    const climate::FaceWeather weather = invented_weather();
    const climate::Indoor indoor = invented_indoor(weather);
    Run run;
    run.name = "bench";
    run.assembly = &wall;
    run.outside = &weather;
    run.inside = &indoor;
    run.years = 1;
    run.rain_leak = 0.0;
    Shelf shelf;
    const auto built = build(run, {}, shelf);
    if (!built) {
        fmt::print("{}\n", built.error().what);
        return 1;
    }
    const std::size_t spot = sheathing_spot(*built), node = built->spots[spot].node;
    fmt::print("{} nodes\n", built->column.nodes.size());
    const Outcome fine = by_us({run}, spot, 2e-5);
    print("reference", fine, fine.humidity);
    const Outcome one = by_us({run}, spot, 2e-3);
    print("one wall, default tolerance", one, fine.humidity);
    const Outcome eight = by_us(std::vector<Run>(8, run), spot, 2e-3);
    print("eight walls in lanes, each", eight, fine.humidity);
    for (const double tolerance : {2e-3, 1e-4, 2e-5, 5e-6}) {
        const Outcome other = by_cvode(built->column, node, tolerance);
        print(fmt::format("CVODE, tolerance {:g}", tolerance).c_str(), other, fine.humidity);
        if (other.trouble.empty())
            fmt::print("    ratio {:.1f} for one wall, {:.1f} a wall in lanes\n", other.seconds / one.seconds,
                       other.seconds / eight.seconds);
    }
    return 0;
}
