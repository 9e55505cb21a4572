// The zones' air and radiant nodes as one dense system, some of them held at their set-points. Inner part of
// simulate.
#pragma once

#include <vector>

#include "house/network.h"

namespace warmside::house {

/// Solves matrix x = right in place by elimination with row pivots; row-major, order^2. False when singular.
[[nodiscard]] bool eliminate(std::vector<double>& matrix, std::vector<double>& right);

/// What holds a zone's air.
enum class Hold { free, heated, cooled, heating_limit, cooling_limit };

/// Nodes 2z (air) and 2z + 1 (radiant) of zone z; flows into a node positive.
class Balance {
public:
    explicit Balance(const std::vector<Zone>& zones);

    void clear();
    /// conductance (T_b - T_a) into a, and as much out of b.
    void join(std::size_t a, std::size_t b, double conductance);
    /// conductance T_b - conductance T_a into a, nothing out of b.
    void blow(std::size_t into, std::size_t from, double conductance);
    /// conductance (temperature - T_a) into a.
    void anchor(std::size_t a, double conductance, double temperature);
    void feed(std::size_t a, double heat) { right_[a] += heat; }

    /// Free nodes, and zones held at their set-points or limits; begins with the holds of the last call.
    /// Problem  not_converged: the holds did not settle, or the system is singular
    [[nodiscard]] Result<void> solve(int hour);
    [[nodiscard]] double temperature(std::size_t node) const { return temperature_[node]; }
    [[nodiscard]] double heat(std::size_t zone) const { return heat_[zone]; }  ///< W, of the system
    [[nodiscard]] Hold hold(std::size_t zone) const { return holds_[zone]; }

private:
    [[nodiscard]] bool attempt(int hour);
    [[nodiscard]] Hold next(std::size_t zone, int hour) const;

    const std::vector<Zone>& zones_;
    std::size_t order_;
    std::vector<double> matrix_, right_, work_, unknown_;
    std::vector<double> temperature_, heat_;
    std::vector<Hold> holds_;
};

}  // namespace warmside::house
