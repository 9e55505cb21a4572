// Workspace of several columns solved side by side: state [node][lane]. The kernel works on whole rows of
// lanes; march.cpp drives each lane through its own time.
#pragma once

#include <array>
#include <memory>
#include <vector>

#include "moisture/column.h"

namespace warmside::moisture {

/// What happens to a lane at the end of a sweep.
/// accept takes the corrected state; retry goes back to the last accepted one; rewind to the one before that.
enum class Move { rest, iterate, accept, retry, rewind };

/// A plain array of doubles on a cache line.
class Row {
public:
    void resize(std::size_t n);
    double& operator[](std::size_t i) { return data_[i]; }
    double operator[](std::size_t i) const { return data_[i]; }
    double* data() { return data_; }
    const double* data() const { return data_; }

private:
    std::unique_ptr<double[]> owner_;
    double* data_ = nullptr;
};

// Views of a node and of a link in registers (link_flow.h).
template <int L>
struct Side;
template <int L>
struct Joint;
template <int L>
struct Moving;

template <int L>
class Lanes {
public:
    /// Room for columns of up to `nodes` nodes. All lanes rest until put().
    explicit Lanes(int nodes);

    /// Puts a column into a lane, at its start state. Nodes beyond its own are inert.
    void put(int lane, const Column& column);
    /// Takes a lane's column out: it rests, and its nodes are not swept any more.
    void leave(int lane);
    /// Moves a lane to another state, at rest there.
    void start_from(int lane, const Column& column, const std::vector<double>& temperature_of,
                    const std::vector<double>& potential_of);

    /// Properties and their derivatives at the current state, for all lanes.
    void properties();
    /// Exchange terms of one lane at the current state: sources and their derivatives at their nodes.
    void exchange(int lane, const Column& column, const Hour& hour);
    /// Membrane permeances of one lane at the current state.
    void membranes(int lane, const Column& column);
    /// Stabilisation of air flow (Scharfetter and Gummel) from the current properties; once a step.
    void settle_air(int lane, const Column& column, double air);
    // The same semi-discrete system for an outside integrator and for checks, width 1 only
    // (lanes_system.cpp). At the current properties, exchanges, membranes and air stabilisation. [node][lane]

    /// dM/dt: energy W/m2 and water kg/(s m2) that each node gains.
    ///
    /// jacobian  null, or [node][12][lane]: derivatives of a node's two rates by T (K) and u of the node
    /// before
    ///           it, of itself and of the node after it, each as energy by T, energy by u, water by T, water
    ///           by u. Exact but for the stabilisation of air flow, which counts as fixed
    void balances(double* energy_rate, double* water_rate, double* jacobian) const;
    /// Derivatives of the stores: energy by T and by u, water by u.
    void store_slopes(double* energy_t, double* energy_u, double* water_u) const;
    /// Rates of change of temperature (K/s) and potential (1/s).
    void rates(double* temperature_rate, double* potential_rate) const;
    /// One Newton correction of every lane, with norms of it and of the distance to the predictor.
    void correct();
    /// Carries out `move` of every lane.
    void update();

    static constexpr int width = L;
    int nodes = 0;  ///< swept: those of the longest column that is in a lane

    // Per lane.
    std::array<double, L> step{};     ///< s, of the implicit Euler solve in progress
    std::array<double, L> time{};     ///< s from the start, at the end of that solve
    std::array<double, L> memory{};   ///< share of the last gain that carries on into this solve
    std::array<double, L> damping{};  ///< share of the correction that is applied
    std::array<double, L> reach{};    ///< new step over old, for the predictor
    std::array<double, L> line{};     ///< the same for the straight line that `distance` is measured from
    std::array<Move, L> move{};
    std::array<double, L> correction{};  ///< norm of the last correction, 1 = the tolerance
    std::array<double, L> largest{};     ///< largest correction over the bounds 15 K and 0.25 of u
    std::array<double, L> distance{};    ///< norm of the corrected state against the straight line

    // [node][lane]
    Row temperature, potential;        ///< current iterate; after an accept the predicted state
    Row at_temperature, at_potential;  ///< state at the lane's time
    Row before_temperature, before_potential;
    Row stored_energy, stored_water;  ///< carried stores at the lane's time: exact sums of the flows
    Row gained_energy, gained_water;  ///< by the last accept
    Row energy, water;                ///< stores as functions of the current iterate
    Row delta_temperature, delta_potential;
    Row pressure;  ///< vapour, of the current iterate

    /// Where the exchange `e` of lane `l` put its flow: value and derivatives by T and u of its node.
    struct Flow {
        double energy = 0.0, energy_t = 0.0, energy_u = 0.0;
        double water = 0.0, water_t = 0.0, water_u = 0.0;
        double rain = 0.0, rain_u = 0.0;    ///< part of `water` that is absorbed rain
        double drain = 0.0, drain_u = 0.0;  ///< part of `water` that runs off, positive out
    };
    std::array<std::array<Flow, most_exchanges>, L> flows{};

    void set_weights(int lane, const Column& column, double temperature_scale, double potential_scale);

private:
    void sweep_longest();

    int capacity_ = 0;
    std::array<int, L> length_{};  // nodes of each lane's column
    [[gnu::always_inline]] inline Side<L> side_of(std::size_t i) const;
    [[gnu::always_inline]] inline Joint<L> joint_of(std::size_t i) const;
    [[gnu::always_inline]] inline Moving<L> moving_heat() const;
    /// Column::source of one lane at its time, in place of what stood in the sources.
    void supply(int lane, const Column& column);

    std::vector<double> supplied_;  // workspace of supply
    std::array<double, L> latent_{}, air_{}, water_heat_{}, vapour_heat_{};
    std::vector<const double*> rows_;  // table rows of each node and lane
    Row volume_, heat_capacity_, factor_, by_temperature_, weight_t_, weight_u_;
    Row spacing_, vapour_, heat_, latent_link_, vapour_left_, vapour_right_, air_link_, air_vapour_,
        air_heat_;
    Row humidity_, humidity_u_, pressure_t_, pressure_u_, delta_, delta_t_, delta_u_, flux_, flux_u_, lambda_,
        lambda_t_, lambda_u_, open_, open_t_, energy_t_, energy_u_, water_u_;
    Row source_e_, source_et_, source_eu_, source_w_, source_wt_, source_wu_, latent_share_;
    Row above_;  // eliminated rows: 6 doubles a node and lane
};

extern template class Lanes<8>;
extern template class Lanes<1>;

}  // namespace warmside::moisture
