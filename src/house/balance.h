// The zones' air and radiant nodes as one dense system, some of them held at their set-points. Inner part of
// simulate.
#pragma once

#include <vector>

#include "house/network.h"

namespace warmside::house {

/// Solves matrix x = right in place by elimination in the order of the rows; row-major, order^2. False when a
/// pivot is 0. The balance needs no exchange of rows: its diagonal dominates, and a held zone's column holds
/// -share and -(1 - share), which leaves the radiant node's pivot larger.
[[nodiscard]] bool eliminate(std::vector<double>& matrix, std::vector<double>& right);

/// What holds a zone's air.
enum class Hold { free, heated, cooled, heating_limit, cooling_limit };

/// Nodes 2z (air) and 2z + 1 (radiant) of zone z; flows into a node positive.
class Balance {
public:
    explicit Balance(const std::vector<Zone>& zones);

    void clear();
    /// conductance (T_b - T_a) into a, and as much out of b.
    void join(std::size_t a, std::size_t b, double conductance) {
        matrix_[a * order_ + a] += conductance;
        matrix_[b * order_ + b] += conductance;
        matrix_[a * order_ + b] -= conductance;
        matrix_[b * order_ + a] -= conductance;
    }
    /// conductance (T_from - T_into) into `into`, nothing out of `from`.
    void blow(std::size_t into, std::size_t from, double conductance) {
        matrix_[into * order_ + into] += conductance;
        matrix_[into * order_ + from] -= conductance;
    }
    /// heat - conductance T_a into a.
    void feed(std::size_t a, double heat, double conductance = 0.0) {
        matrix_[a * order_ + a] += conductance;
        right_[a] += heat;
    }

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
