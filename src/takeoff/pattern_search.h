// Which pieces fill a stick best, for given worths: the pricing problem of column generation.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "base/stop.h"

namespace warmside::takeoff {

/// A cutting problem in whole numbers. Each piece carries one kerf, and so does each stick: n pieces need
/// n - 1 cuts where they fill it.
struct CuttingProblem {
    std::vector<std::int64_t> weight;    ///< of each piece, 1/8 um, kerf included; longest first
    std::vector<int> demand;             ///< of each piece, at least 1
    std::vector<std::int64_t> capacity;  ///< of each stock length, kerf included
    std::vector<double> cost;            ///< of each stock length
    std::vector<int> available;          ///< -1: as many as needed
};

struct Filling {
    std::vector<int> cut;  ///< of each piece
    double worth = 0.0;    ///< sum of worths
    double at_most = 0.0;  ///< no filling is worth more
};

/// Bounded knapsacks over one grid of lengths, for all stock lengths at once. The table holds upper bounds of
/// what the rest of a stick can be worth; where the grid is the common divisor of all lengths they are exact,
/// else (inches and millimetres mixed) lengths are rounded so that they stay upper bounds.
class PatternSearch {
public:
    explicit PatternSearch(const CuttingProblem& problem);

    /// Worths of the pieces, not negative.
    void set_worths(const std::vector<double>& worth);
    /// The best filling of a stick of one stock length: exact, unless the search met its limit of nodes (then
    /// `at_most` lies above `worth`).
    [[nodiscard]] Filling best(std::size_t stock) const;
    /// All fillings worth at least `least` to which no further piece can be added. False when there are more
    /// than `most` or the search met its limit; `found` is incomplete then.
    [[nodiscard]] bool all(std::size_t stock, double least, std::size_t most,
                           std::vector<std::vector<int>>& found, const StopToken& stop) const;

private:
    [[nodiscard]] double bound(std::size_t piece, std::int64_t room) const {
        return table_[piece * width_ + static_cast<std::size_t>(room / grid_)];
    }
    struct Walk;
    const CuttingProblem& problem_;
    std::int64_t grid_ = 1;
    std::size_t width_ = 0;  ///< cells of one row of the table
    std::vector<double> worth_;
    std::vector<double> table_;  ///< [piece][room / grid]: worth of pieces from `piece` on, at most
};

}  // namespace warmside::takeoff
