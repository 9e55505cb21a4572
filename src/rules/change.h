// What change would pass: the least insulation that lifts a surface over a row.
#pragma once

#include <optional>
#include <string>

#include "rules/inputs.h"

namespace warmside::rules {

/// m2 K/W of continuous insulation to be added over all paths so that code U falls to `u`.
///
///   Parallel path of the handbook cell: the share of plates is the one that gives the surface its code U,
///   then the least R of a further continuous ply is found by bisection to 1e-9. Without an assembly, or
///   where no share of plates gives that U, 1/u - 1/U: enough, and a little more than the least, because a
///   parallel path gains more than it is given.
///
/// surface  with code_u above `u`
/// Problem  out_of_range: u not above 0, no code U
/// Check    rules_test: the wall with that R added has that U
[[nodiscard]] Result<double> least_added(const Surface& surface, double u);

/// "R-4.2 more continuous insulation" and, where a layer of it is there, how thick it becomes:
/// "stone wool board 3 1/16 in (78 mm) instead of 2 in (51 mm)". Rounded up.
[[nodiscard]] std::string words_of_added(const assembly::Assembly* assembly, double r);

}  // namespace warmside::rules
