// The cutting plan as a linear and as an integer programme over patterns.
#pragma once

#include <cstddef>
#include <vector>

#include "base/result.h"
#include "base/stop.h"
#include "takeoff/pattern_search.h"

namespace warmside::takeoff {

/// One way to cut one stick: a column of the programme.
struct Column {
    std::size_t stock = 0;
    std::vector<int> cut;
    friend bool operator==(const Column&, const Column&) = default;
};

struct Relaxed {
    double cost = 0.0;                ///< of the linear programme over `columns`
    double bound = 0.0;               ///< no plan, whole or fractional, over all columns costs less
    std::vector<double> times;        ///< of each column
    std::vector<double> worth;        ///< of each piece, dual value
    std::vector<double> stock_worth;  ///< of each stock length, dual value of what is available, not positive
};

/// Solves the linear programme over all patterns: columns are added to `columns` as long as one pays
/// (Gilmore-Gomory); the bound is the programme's value scaled so that its dual holds for every pattern
/// (Farley).
///
/// Problem  out_of_range (the available sticks cannot hold the pieces), not_converged, stopped
[[nodiscard]] Result<Relaxed> relax(const CuttingProblem& problem, PatternSearch& search,
                                    std::vector<Column>& columns, const Control& control);

struct Whole {
    bool found = false;  ///< `times` is a plan that was wanted
    bool exhausted =
        false;  ///< nothing better than `times` (or nothing that was wanted) is left over these columns
    std::vector<int> times;  ///< of each column
};
/// Which plans are looked for.
struct Wanted {
    double at_most = 0.0;  ///< cost
    double step = 0.0;     ///< costs of two plans are equal or differ by this at least; 0: unknown
};
/// The integer programme over the given columns, at most `nodes` nodes of branch and bound.
///
/// Problem  stopped
[[nodiscard]] Result<Whole> solve_whole(const CuttingProblem& problem, const std::vector<Column>& columns,
                                        const Wanted& wanted, int nodes, const Control& control);

}  // namespace warmside::takeoff
