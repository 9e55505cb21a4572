// What every rule of this room needs: the inputs, the cell it reads, and how an outcome is settled.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "rules/findings.h"

namespace warmside::rules {

/// Sizes are compared with this margin, which is rounding in double, never a tolerance of the code.
inline constexpr double rounding = 1e-9;
[[nodiscard]] inline bool at_most(double value, double limit) {
    return value <= limit * (1.0 + rounding);
}
[[nodiscard]] inline bool at_least(double value, double limit) {
    return value >= limit * (1.0 - rounding);
}

struct Context {
    const Inputs& in;
    [[nodiscard]] const Tables& tables() const { return *in.tables; }
    [[nodiscard]] Zone zone() const { return in.zone.zone; }
    [[nodiscard]] const Cell* find(std::string_view table, std::string_view row) const {
        return tables().find(table, row, zone());
    }
    /// passes or fails; unconfirmed where the cell, or the zone it was read for, is known from memory only.
    [[nodiscard]] Outcome settle(bool passes, Evidence evidence) const;
};

/// The weaker of two evidences of a requirement: memory wins.
[[nodiscard]] Evidence weaker(Evidence a, Evidence b);

/// A finding that rests on a cell: citation, evidence, origin and the cell's note are filled in.
[[nodiscard]] Finding resting_on(const Cell& cell, Subject subject, std::string part, std::string rule);
/// One that says why nothing is decided.
[[nodiscard]] Finding not_covered(const Context& context, Subject subject, std::string part, std::string rule,
                                  std::string why);

using Findings = std::vector<Finding>;

// The rules, each in the file of its name; they add to `out`.
void r_row(const Context& context, const Surface& surface, Findings& out);            // rows.cpp
void u_row(const Context& context, const Surface& surface, Findings& out);            // rows.cpp
void slab_row(const Context& context, const Slab& slab, Findings& out);               // slab.cpp
void fenestration(const Context& context, Findings& out);                             // fenestration.cpp
void air_leakage(const Context& context, Findings& out);                              // air.cpp
void heat_recovery(const Context& context, Findings& out);                            // air.cpp
void vapour_retarder(const Context& context, const Surface& surface, Findings& out);  // vapour.cpp
void share_inside(const Context& context, const Surface& surface, Findings& out);     // practice.cpp
void comparisons(const Context& context, Findings& out);                              // comparison.cpp
void unvented_roof(const Context& context, const Surface& surface, Findings& out);    // roof.cpp
void attic_vents(const Context& context, Findings& out);                              // roof.cpp
void reminders(const Context& context, Findings& out);                                // reminders.cpp

/// Sums of the whole envelope; nothing where it cannot be summed.
struct Total {
    double proposed = 0.0, asked = 0.0;  ///< W/K
    [[nodiscard]] double ratio() const { return proposed / asked; }
};
[[nodiscard]] std::optional<Total> total_conductance(const Context& context, Findings& out);  // total.cpp
void credits(const Context& context, const std::optional<Total>& total, Findings& out);       // credits.cpp

/// True when the R row of a surface or slab passes by its layers; the sums take the table's U or F then where
/// none is given.
[[nodiscard]] bool r_row_passes(const Context& context, const Surface& surface);
[[nodiscard]] bool slab_row_passes(const Context& context, const Slab& slab);

}  // namespace warmside::rules
