// A year of a network.
#pragma once

#include <vector>

#include "base/stop.h"
#include "house/network.h"

namespace warmside::house {

struct Stepping {
    int first_hour = 0;
    int hours = hours_in_year;
    int steps = 1;  ///< an hour
    /// Implicit Euler, or two implicit stages of second order (Alexander 1977), both stable for stiff chains.
    enum class Scheme { first_order, second_order } scheme = Scheme::first_order;
    int run_in = 2;         ///< days before the first hour, the first day's weather repeated
    double start = 293.15;  ///< K, everything, before the run-in
};

/// Means over each hour; [zone][hour] or [element][hour].
struct Run {
    std::vector<std::vector<double>> air;      ///< K, at the end of the hour
    std::vector<std::vector<double>> radiant;  ///< K, of the surfaces, mean radiant temperature at its end
    std::vector<std::vector<double>> heating;  ///< W, given to the zone, positive
    std::vector<std::vector<double>> cooling;  ///< W, taken from the zone, positive
    std::vector<std::vector<double>> inward;   ///< W, from each element's inner surface into its zone
    std::vector<std::vector<double>> links;    ///< W, through each link into its zone
    double worst_balance = 0.0;  ///< W, largest residual of an hour's balance over the whole network
    double largest_flow = 0.0;   ///< W, sum of the magnitudes in that hour's balance
    int unmet = 0;               ///< zone-hours in which a limit held and the set-point was missed by 0.1 K
};

/// Steps the network through its hours. Inputs are constant within an hour. Each chain is condensed onto its
/// two surfaces (its matrix never changes, so it is factored once); the zones' air and radiant nodes are then
/// one small dense system. Zones that would leave their set-points are held there and their load follows; a
/// limited system gives its limit. All chains of like length are stepped together in lanes.
///
///   C (T - T_before)/(gamma dt) = sum of conductances x differences + gains
///
/// Problem  those of check; not_converged: the zones' states (free, heated, cooled, at a limit) did not
/// settle,
///          with the hour; stopped
/// Source   finite volumes: elementary; the star of the radiant node and the coefficients of surfaces: ISO
///          52016-1:2017 (memory). Check: house_test (reciprocity, balance, exact solutions), cross_solve
///          with CVODE, ASHRAE 140 cases
[[nodiscard]] Result<Run> simulate(const Network& network, const Stepping& stepping = {},
                                   const Control& control = {});

/// Temperatures and flows that never change, boundaries and gains of one hour: for design loads and U values.
struct Steady {
    std::vector<double> air, radiant;      ///< K, [zone]
    std::vector<double> heating, cooling;  ///< W, [zone]
    std::vector<double> inward;            ///< W, [element]
    std::vector<double> links;             ///< W, [link]
};
[[nodiscard]] Result<Steady> steady(const Network& network, int hour);

}  // namespace warmside::house
