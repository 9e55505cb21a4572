// Every finding that the inputs allow.
#pragma once

#include <vector>

#include "rules/finding.h"
#include "rules/inputs.h"

namespace warmside::rules {

/// Checks envelope rows one by one and lists what else the code asks. No finding, and not all of them
/// together, says that a house meets the code: a state may change any row, and the official decides.
///
/// Order: zone, then by surface (R row, U row, vapour retarder, sheet, roof), slabs, windows, total, air,
/// ventilation, credits, reminders, comparisons.
///
/// Problem  missing (no tables), out_of_range (negative areas, U or rates, not finite, a zone that is none)
/// Source   IECC and IRC of the edition of `tables`; each Finding cites its own
/// Check    proof/rules/*.toml; rules_test
[[nodiscard]] Result<std::vector<Finding>> findings(const Inputs& inputs);

}  // namespace warmside::rules
