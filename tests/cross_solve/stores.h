// A column's semi-discrete system written over its stores, and SUNDIALS CVODE marching it.
//
// Unknowns of the integrator are what the balances conserve: energy E (J/m2) and water W (kg/m2) of every
// node, y = [E_0, W_0, E_1, W_1, ...], so that dy/dt is a difference of flows and nothing drifts. Temperature
// and potential are recovered from them node by node: u from W = V w(u), then T from
//
//   E = V [(rho c + c_w w) t - L_f w_i (1 - f(t))],   t = T - 273.15 K
//
// (docs/methods/moisture.md). Flows and their derivatives come from the solver's own kernel, Lanes<1>: a
// difference between the two marches is one of time integration, not of physics. With B the kernel's
// block-tridiagonal derivative by (T, u) and C the derivative of the stores, the Jacobian over stores is B/C.
// The stabilisation of air flow is taken at the state of each evaluation; its derivative is left out of B,
// which can cost CVODE iterations but no accuracy. Our solver keeps it over a step.
#pragma once

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_context.h>
#include <sunlinsol/sunlinsol_band.h>
#include <sunmatrix/sunmatrix_band.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "moisture/column.h"
#include "moisture/lanes.h"
#include "moisture/potential.h"

namespace warmside::cross_solve {

/// u of a water content (kg/m3), starting from a guess. NaN below the driest state of the tables.
inline double potential_of_water(const moisture::Substance& s, double water, double guess) {
    using moisture::Substance;
    double low = moisture::lowest_potential() - 0.02, high = moisture::most_potential;
    if (!(water > s.tables.at(Substance::water, low).value)) return std::nan("");
    double u = std::clamp(guess, low, high);
    for (int k = 0; k < 200; ++k) {
        const auto [w, slope] = s.tables.at(Substance::water, u);
        (w > water ? high : low) = u;
        const double step = (water - w) / slope;
        double next = u + step;
        if (!(next >= low && next <= high)) next = 0.5 * (low + high);
        if (std::abs(next - u) <= 1e-15 * (1.0 + std::abs(u))) return next;
        u = next;
    }
    return u;
}

/// Temperature (K) of an energy per volume (J/m3) at a heat capacity (J/(m3 K)) with `ice` kg/m3 of water
/// that can freeze.
inline double temperature_of_energy(double energy, double capacity, double ice) {
    using namespace moisture;
    if (energy >= 0.0) return freezing + energy / capacity;
    const double frozen = (energy + fusion_heat * ice) / capacity;
    if (frozen <= -2.0) return freezing + frozen;
    double low = -2.0, high = 0.0, t = -1.0;
    for (int k = 0; k < 200; ++k) {
        const double y = 0.5 * t + 1.0, open = y * y * (3.0 - 2.0 * y);
        const double rest = energy - (capacity * t - fusion_heat * ice * (1.0 - open));
        (rest < 0.0 ? high : low) = t;
        double next = t + rest / (capacity + fusion_heat * ice * 3.0 * y * (1.0 - y));
        if (!(next >= low && next <= high)) next = 0.5 * (low + high);
        if (std::abs(next - t) <= 1e-16 * freezing) return freezing + next;
        t = next;
    }
    return freezing + t;
}

/// The system of one column. Column::Heat::full only: elsewhere energy is not a store.
class Stores {
public:
    explicit Stores(const moisture::Column& column)
        : column_(column),
          lane_(static_cast<int>(column.nodes.size())),
          n_(column.nodes.size()),
          energy_(n_),
          water_(n_),
          energy_t_(n_),
          energy_u_(n_),
          water_u_(n_),
          blocks_(12 * n_) {
        assert(column.heat == moisture::Column::Heat::full);
        lane_.put(0, column);
        set_hour(0);
    }

    [[nodiscard]] std::size_t nodes() const { return n_; }
    [[nodiscard]] const moisture::Lanes<1>& lane() const { return lane_; }
    void set_hour(int hour) { column_.weather(hour, hour_); }

    /// The stores of the start state, [2 nodes].
    void start(double* y) const {
        for (std::size_t j = 0; j < n_; ++j) {
            y[2 * j] = lane_.stored_energy[j];
            y[2 * j + 1] = lane_.stored_water[j];
        }
    }
    /// Takes T and u of every node from the stores. False when a node has less water than its driest state.
    bool recover(const double* y) {
        using moisture::Substance;
        for (std::size_t j = 0; j < n_; ++j) {
            const moisture::Node& node = column_.nodes[j];
            const moisture::Substance& s = *node.substance;
            const double water = y[2 * j + 1] / node.volume;
            const double u = potential_of_water(s, water, lane_.potential[j]);
            if (!std::isfinite(u)) return false;
            const double T =
                temperature_of_energy(y[2 * j] / node.volume, s.heat_capacity + moisture::water_heat * water,
                                      s.tables.at(Substance::freezable, u).value);
            if (!(T > 150.0 && T < 450.0)) return false;
            lane_.potential[j] = u;
            lane_.temperature[j] = T;
        }
        return true;
    }
    /// dy/dt at the stores y.
    bool rates(double time, const double* y, double* rate) {
        if (!evaluate(time, y)) return false;
        lane_.balances(energy_.data(), water_.data(), nullptr);
        for (std::size_t j = 0; j < n_; ++j) {
            rate[2 * j] = energy_[j];
            rate[2 * j + 1] = water_[j];
        }
        return true;
    }
    /// Calls set(row, column, value) for every entry of d(dy/dt)/dy.
    template <class Set>
    bool jacobian(double time, const double* y, Set set) {
        if (!evaluate(time, y)) return false;
        lane_.balances(energy_.data(), water_.data(), blocks_.data());
        lane_.store_slopes(energy_t_.data(), energy_u_.data(), water_u_.data());
        for (std::size_t j = 0; j < n_; ++j) {
            for (std::size_t side = 0; side < 3; ++side) {
                if (j + side < 1 || j + side > n_) continue;
                const std::size_t k = j + side - 1;
                const double* b = &blocks_[12 * j + 4 * side];
                for (std::size_t row = 0; row < 2; ++row) {
                    const double by_t = b[2 * row] / energy_t_[k];
                    set(2 * j + row, 2 * k, by_t);
                    set(2 * j + row, 2 * k + 1, (b[2 * row + 1] - by_t * energy_u_[k]) / water_u_[k]);
                }
            }
        }
        return true;
    }
    /// Error weights: a change of `temperature` K or `potential` of u counts as 1.
    bool weights(const double* y, double temperature, double potential, double* weight) {
        if (!recover(y)) return false;
        lane_.properties();
        lane_.store_slopes(energy_t_.data(), energy_u_.data(), water_u_.data());
        for (std::size_t j = 0; j < n_; ++j) {
            weight[2 * j] = 1.0 / (temperature * energy_t_[j]);
            weight[2 * j + 1] = 1.0 / (potential * water_u_[j]);
        }
        return true;
    }

private:
    bool evaluate(double time, const double* y) {
        if (!recover(y)) return false;
        lane_.time[0] = time;
        lane_.properties();
        lane_.membranes(0, column_);
        lane_.settle_air(0, column_, hour_.air);
        lane_.exchange(0, column_, hour_);
        return true;
    }

    const moisture::Column& column_;
    moisture::Lanes<1> lane_;
    std::size_t n_;
    moisture::Hour hour_;
    std::vector<double> energy_, water_, energy_t_, energy_u_, water_u_, blocks_;
};

struct Tolerance {
    double temperature = 1e-4;  ///< K, local error
    double potential = 1e-6;    ///< of u
    bool restart = false;       ///< start the formula anew at every change of weather
};

struct Marched {
    long steps = 0, evaluations = 0, jacobians = 0;
    double water_start = 0.0, water_end = 0.0;  ///< kg/m2
    std::string trouble;                        ///< empty: it reached the end
};

/// Marches `hours` with CVODE (BDF, banded, analytic Jacobian). `at` is called with the hours done and the
/// state, at the end of each hour.
inline Marched march(const moisture::Column& column, int hours, const Tolerance& tolerance,
                     const std::function<void(int, const Stores&, const double*)>& at) {
    struct Held {
        Stores stores;
        Tolerance tolerance;
    } held{Stores(column), tolerance};
    const auto rate = [](double t, N_Vector y, N_Vector dy, void* data) {
        return static_cast<Held*>(data)->stores.rates(t, N_VGetArrayPointer(y), N_VGetArrayPointer(dy)) ? 0
                                                                                                        : 1;
    };
    const auto slope = [](double t, N_Vector y, N_Vector, SUNMatrix into, void* data, N_Vector, N_Vector,
                          N_Vector) {
        const auto set = [into](std::size_t row, std::size_t col, double value) {
            SM_ELEMENT_B(into, static_cast<sunindextype>(row), static_cast<sunindextype>(col)) = value;
        };
        return static_cast<Held*>(data)->stores.jacobian(t, N_VGetArrayPointer(y), set) ? 0 : 1;
    };
    const auto weigh = [](N_Vector y, N_Vector weight, void* data) {
        Held& h = *static_cast<Held*>(data);
        return h.stores.weights(N_VGetArrayPointer(y), h.tolerance.temperature, h.tolerance.potential,
                                N_VGetArrayPointer(weight))
                   ? 0
                   : -1;
    };
    Marched out;
    sundials::Context context;
    N_Vector y = N_VNew_Serial(static_cast<sunindextype>(2 * held.stores.nodes()), context);
    SUNMatrix matrix = SUNBandMatrix(N_VGetLength(y), 3, 3, context);
    SUNLinearSolver solver = SUNLinSol_Band(y, matrix, context);
    held.stores.start(N_VGetArrayPointer(y));
    const auto water = [&] {
        double sum = 0.0;
        for (std::size_t j = 0; j < held.stores.nodes(); ++j) sum += N_VGetArrayPointer(y)[2 * j + 1];
        return sum;
    };
    out.water_start = water();
    void* memory = CVodeCreate(CV_BDF, context);
    CVodeInit(memory, rate, 0.0, y);
    CVodeWFtolerances(memory, weigh);
    CVodeSetUserData(memory, &held);
    CVodeSetLinearSolver(memory, solver, matrix);
    CVodeSetJacFn(memory, slope);
    CVodeSetMaxNumSteps(memory, 2000000);
    // A change of weather is a jump of the rates: more failed tries in a row than the default lets pass.
    CVodeSetMaxErrTestFails(memory, 60);
    CVodeSetMaxConvFails(memory, 60);
    CVodeSetErrFile(memory, nullptr);
    double t = 0.0;
    for (int hour = 0; hour < hours; ++hour) {
        held.stores.set_hour(hour);
        if (tolerance.restart && hour > 0) {
            long steps = 0, calls = 0;
            CVodeGetNumSteps(memory, &steps);
            CVodeGetNumRhsEvals(memory, &calls);
            out.steps += steps;
            out.evaluations += calls;
            CVodeReInit(memory, t, y);
        }
        const double end = 3600.0 * (hour + 1);
        CVodeSetStopTime(memory, end);
        if (const int flag = CVode(memory, end, y, &t, CV_NORMAL); flag < 0) {
            out.trouble = "CVODE stopped in hour " + std::to_string(hour) + " with " + std::to_string(flag);
            break;
        }
        if (!held.stores.recover(N_VGetArrayPointer(y))) out.trouble = "a node is drier than its tables";
        at(hour + 1, held.stores, N_VGetArrayPointer(y));
    }
    out.water_end = water();
    long steps = 0, calls = 0;
    CVodeGetNumSteps(memory, &steps);
    CVodeGetNumRhsEvals(memory, &calls);
    CVodeGetNumJacEvals(memory, &out.jacobians);
    out.steps += steps;
    out.evaluations += calls;
    CVodeFree(&memory);
    SUNLinSolFree(solver);
    SUNMatDestroy(matrix);
    N_VDestroy(y);
    return out;
}

}  // namespace warmside::cross_solve
