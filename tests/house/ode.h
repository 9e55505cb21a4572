// The same network as ordinary differential equations for SUNDIALS CVODE: cells and zone air in time,
// surfaces and radiant nodes from a linear system of their own in every call. Written without the solver's
// own condensation, so that a slip there shows.
#pragma once

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include <stdexcept>
#include <vector>

#include "house/network.h"

namespace ode {

using namespace warmside::house;

/// Heat that the zones' systems give is prescribed: none. Zones float.
class Model {
public:
    explicit Model(const Network& network) : n_(network) {
        for (const Element& e : n_.elements) {
            first_.push_back(cells_);
            cells_ += e.capacity.size();
        }
    }
    [[nodiscard]] std::size_t size() const { return cells_ + n_.zones.size(); }
    [[nodiscard]] std::size_t air(std::size_t zone) const { return cells_ + zone; }

    /// The linear system of surfaces and radiant nodes of one hour, inverted.
    void enter(int hour) {
        hour_ = hour;
        const std::size_t m = 2 * n_.elements.size() + n_.zones.size();
        std::vector<double> a(m * m, 0.0);
        const auto at = [&](std::size_t i, std::size_t j) -> double& { return a[i * m + j]; };
        for (std::size_t i = 0; i < n_.elements.size(); ++i) {
            const Element& e = n_.elements[i];
            const std::size_t inner = 2 * i, outer = inner + 1, star = radiant(e.zone);
            at(inner, inner) += e.convection + e.radiation + e.conductance.front();
            at(inner, star) -= e.radiation;
            at(star, star) += e.area * e.radiation;
            at(star, inner) -= e.area * e.radiation;
            at(outer, outer) += e.conductance.back();
            if (e.capacity.empty())
                at(inner, outer) -= e.conductance[0], at(outer, inner) -= e.conductance[0];
            if (e.beyond != none) {
                const std::size_t other = radiant(e.beyond);
                at(outer, outer) += e.convection_beyond + e.radiation_beyond;
                at(outer, other) -= e.radiation_beyond;
                at(other, other) += e.area * e.radiation_beyond;
                at(other, outer) -= e.area * e.radiation_beyond;
            } else if (e.boundary != none) {
                at(outer, outer) += n_.boundaries[e.boundary].conductance.at(hour);
            }
        }
        invert(a, m);
        algebraic_.resize(m);
    }

    void rates(const double* y, double* rate) {
        solve_surfaces(y);
        for (std::size_t i = 0; i < n_.elements.size(); ++i) {
            const Element& e = n_.elements[i];
            for (std::size_t c = 0; c < e.capacity.size(); ++c) {
                const double t = y[first_[i] + c];
                const double in = c == 0 ? algebraic_[2 * i] : y[first_[i] + c - 1];
                const double out = c + 1 == e.capacity.size() ? algebraic_[2 * i + 1] : y[first_[i] + c + 1];
                rate[first_[i] + c] =
                    (e.conductance[c] * (in - t) + e.conductance[c + 1] * (out - t)) / e.capacity[c];
            }
        }
        for (std::size_t z = 0; z < n_.zones.size(); ++z) rate[air(z)] = n_.zones[z].convective.at(hour_);
        for (std::size_t i = 0; i < n_.elements.size(); ++i) {
            const Element& e = n_.elements[i];
            rate[air(e.zone)] += e.area * e.convection * (algebraic_[2 * i] - y[air(e.zone)]);
            if (e.beyond != none)
                rate[air(e.beyond)] +=
                    e.area * e.convection_beyond * (algebraic_[2 * i + 1] - y[air(e.beyond)]);
        }
        for (const Link& l : n_.links) {
            const double from = l.beyond == none ? l.temperature.at(hour_) : y[air(l.beyond)];
            const double flow = l.conductance.at(hour_) * (from - y[air(l.zone)]);
            rate[air(l.zone)] += flow;
            if (l.beyond != none && l.mutual) rate[air(l.beyond)] -= flow;
        }
        for (std::size_t z = 0; z < n_.zones.size(); ++z) rate[air(z)] /= n_.zones[z].capacity;
    }

private:
    [[nodiscard]] std::size_t radiant(std::size_t zone) const { return 2 * n_.elements.size() + zone; }

    void solve_surfaces(const double* y) {
        const std::size_t m = algebraic_.size();
        right_.assign(m, 0.0);
        for (std::size_t i = 0; i < n_.elements.size(); ++i) {
            const Element& e = n_.elements[i];
            right_[2 * i] = e.convection * y[air(e.zone)] + e.gain.at(hour_);
            if (!e.capacity.empty()) {
                right_[2 * i] += e.conductance.front() * y[first_[i]];
                right_[2 * i + 1] += e.conductance.back() * y[first_[i] + e.capacity.size() - 1];
            }
            if (e.beyond != none) right_[2 * i + 1] += e.convection_beyond * y[air(e.beyond)];
            if (e.boundary != none) {
                const Boundary& b = n_.boundaries[e.boundary];
                right_[2 * i + 1] += b.conductance.at(hour_) * b.temperature.at(hour_);
            }
        }
        for (std::size_t z = 0; z < n_.zones.size(); ++z) right_[radiant(z)] = n_.zones[z].radiant.at(hour_);
        for (std::size_t i = 0; i < m; ++i) {
            double sum = 0.0;
            for (std::size_t j = 0; j < m; ++j) sum += inverse_[i * m + j] * right_[j];
            algebraic_[i] = sum;
        }
    }

    // Gauss and Jordan without pivots: the system is diagonally dominant.
    void invert(std::vector<double>& a, std::size_t m) {
        inverse_.assign(m * m, 0.0);
        for (std::size_t i = 0; i < m; ++i) inverse_[i * m + i] = 1.0;
        for (std::size_t k = 0; k < m; ++k) {
            const double p = a[k * m + k];
            for (std::size_t j = 0; j < m; ++j) a[k * m + j] /= p, inverse_[k * m + j] /= p;
            for (std::size_t i = 0; i < m; ++i) {
                const double f = a[i * m + k];
                if (i == k || f == 0.0) continue;
                for (std::size_t j = 0; j < m; ++j) {
                    a[i * m + j] -= f * a[k * m + j];
                    inverse_[i * m + j] -= f * inverse_[k * m + j];
                }
            }
        }
    }

    const Network& n_;
    std::vector<std::size_t> first_;
    std::size_t cells_ = 0;
    int hour_ = 0;
    std::vector<double> inverse_, algebraic_, right_;
};

/// K, zone air at the end of each hour, [zone][hour], from `start` everywhere. BDF, dense, differences for
/// the Jacobian; starts anew each hour, as its inputs do.
inline std::vector<std::vector<double>> march(const Network& network, int hours, double start,
                                              double relative, double absolute) {
    Model model(network);
    const auto size = static_cast<sunindextype>(model.size());
    SUNContext context;
    if (SUNContext_Create(nullptr, &context) != 0) throw std::runtime_error("no SUNDIALS context");
    N_Vector y = N_VNew_Serial(size, context);
    N_VConst(start, y);
    void* memory = CVodeCreate(CV_BDF, context);
    const CVRhsFn right = [](realtype, N_Vector state, N_Vector rate, void* data) {
        static_cast<Model*>(data)->rates(N_VGetArrayPointer(state), N_VGetArrayPointer(rate));
        return 0;
    };
    SUNMatrix matrix = SUNDenseMatrix(size, size, context);
    SUNLinearSolver solver = SUNLinSol_Dense(y, matrix, context);
    if (CVodeInit(memory, right, 0.0, y) != 0 || CVodeSStolerances(memory, relative, absolute) != 0 ||
        CVodeSetUserData(memory, &model) != 0 || CVodeSetLinearSolver(memory, solver, matrix) != 0 ||
        CVodeSetMaxNumSteps(memory, 1000000) != 0)
        throw std::runtime_error("CVODE cannot be set up");
    std::vector<std::vector<double>> out(network.zones.size());
    for (int hour = 0; hour < hours; ++hour) {
        model.enter(hour);
        realtype time = 0.0;
        CVodeReInit(memory, 3600.0 * hour, y);
        CVodeSetStopTime(memory, 3600.0 * (hour + 1));
        if (CVode(memory, 3600.0 * (hour + 1), y, &time, CV_NORMAL) < 0)
            throw std::runtime_error("CVODE gave up");
        for (std::size_t z = 0; z < out.size(); ++z) out[z].push_back(N_VGetArrayPointer(y)[model.air(z)]);
    }
    CVodeFree(&memory);
    SUNLinSolFree(solver);
    SUNMatDestroy(matrix);
    N_VDestroy(y);
    SUNContext_Free(&context);
    return out;
}

}  // namespace ode
