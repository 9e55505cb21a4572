// Uprights under the loads of a wall: combinations, the worst of them. Inner header of the room.
#pragma once

#include <string>
#include <vector>

#include "structure/check.h"
#include "structure/column.h"
#include "structure/site.h"

namespace warmside::structure {

/// Allowable-stress loads on one upright, each whole: N along it, N/m of wind across it.
struct PostLoad {
    double dead = 0.0, live = 0.0, snow = 0.0, roof_live = 0.0;
    double wind = 0.0;
};
/// What `width` (m) of a wall brings; live: floors and attic.
[[nodiscard]] PostLoad over(const LineLoad& load, double width);

/// One allowable-stress combination that governs.
struct WorstCase {
    double ratio = -1.0;
    std::string name;     ///< "D + 0.75 L + 0.75 S"
    std::string problem;  ///< not empty: the column buckles or is too slender
    double duration = 1.0;
};
/// The worst of those with wind, or of those without. Source: ASCE 7-16 2.4.1 without uplift; NDS 2018 2.3.2
[[nodiscard]] WorstCase worst_of(const ColumnCase& upright, const PostLoad& load, bool windy);

/// The heaviest of the gravity combinations, N: bearing knows no load duration (NDS 4.3.2).
[[nodiscard]] double heaviest(const PostLoad& load);

/// The pressure that governs an outer wall over an effective area (m2), ultimate, Pa: every wall ends in a
/// corner zone, whose suction is the largest. Nothing outside the tables.
[[nodiscard]] std::optional<double> governing_pressure(const Site& site, double area);

/// What the house file gives, and what of it a wall carries.
[[nodiscard]] std::vector<Input> load_inputs(const Site& site, const LineLoad& load);
/// Design values and factors that the ratio of a column rests on.
[[nodiscard]] std::vector<Input> column_inputs(const ColumnCase& upright, const WorstCase& worst, bool windy);

}  // namespace warmside::structure
