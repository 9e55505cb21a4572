// The search for the wetting allowance, apart from the runs that answer it.
#pragma once

#include <map>
#include <set>
#include <vector>

#include "moisture/verdict.h"

namespace warmside::moisture {

/// Bisection in rounds of eight levels (the solver runs eight lanes side by side) for the leaks at which the
/// verdict leaves `dry` and becomes `wet`. A verdict that gets better with more leak is taken at its first
/// worse level.
class LeakSearch {
public:
    /// most       kg/(m2 a), the highest level tried, > 0
    /// tolerance  of the answer, relative; below most/1500 it is no longer sought
    explicit LeakSearch(double most, double tolerance = 0.05);
    /// A level that somebody has run already, or one of `next`. kg/(m2 a).
    void tell(double leak, Dryness dryness);
    /// A level that could not be solved: it is not asked for again, and the answer stays below it.
    void give_up(double leak);
    /// Levels to run now, rising; empty: done.
    [[nodiscard]] std::vector<double> next() const;
    /// Allowances are the highest levels known to hold; `assumed` is left to the caller.
    [[nodiscard]] WettingAllowance answer() const;

private:
    struct Bracket {
        double low = 0.0;   ///< holds
        double high = 0.0;  ///< does not
        bool fails_at_once = false, never_fails = false;
        friend bool operator==(const Bracket&, const Bracket&) = default;
    };
    [[nodiscard]] Bracket bracket(Dryness first_failing) const;
    [[nodiscard]] bool open(const Bracket& bracket) const;
    double most_, tolerance_;
    std::map<double, Dryness> known_;
    std::set<double> unsolved_;
};

}  // namespace warmside::moisture
