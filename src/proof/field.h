// Walls whose measured behaviour is published, computed by the transient solver: docs/field.md.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "proof/operation.h"

namespace warmside::proof {

/// What a monitored assembly shows, as far as this model goes.
struct FieldResult {
    double peak =
        0.0;  ///< kg/kg, largest 7-day mean of the moisture at the sheathing's inner face in the judged year
    double panel = 0.0;   ///< kg/kg, the same of the whole sheathing
    int peak_month = 0;   ///< 1 to 12, in which it falls
    double summer = 0.0;  ///< kg/kg, the same in July and August
    double april = 0.0;   ///< kg/kg, mean of the last week of April
    double early = 0.0;   ///< kg/kg, of the whole sheathing on the 60th day
    double mould = 0.0;   ///< largest mould index at a judged surface, over the run
    int rank = 0;         ///< 0 fine, 1 marginal, 2 failed
};
[[nodiscard]] const char* rank_name(int rank);

/// Computes several cases side by side. Keys of each table:
///
///   assembly    of data/field/walls.toml
///   place       a built-in place
///   face        north, east, south or west
///   humidity    indoors, at 21 degC; in summer the outdoor vapour, up to 60 %
///   sheathing   material whose moisture is judged
///   judge       "moisture" (rank by peak: below 20 % fine, to 28 % marginal if under 20 % in summer, else
///               failed) or "mould" (index below 1 fine, below 3 marginal)
///   year        1 or 2: the judged one; the run starts on 1 October, or in `start` (month 1 to 12)
///   air_flow    through the assembly, outward, all year; none if absent
///
/// No rain leak: none is reported. The ranks are a proposal of our reference notes, no source.
[[nodiscard]] Result<std::vector<FieldResult>> compute_field(std::span<const Given* const> cases);

[[nodiscard]] std::span<const Operation> field_operations();

}  // namespace warmside::proof
