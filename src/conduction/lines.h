// The grid lines that a model asks for.
#pragma once

#include "conduction/grid.h"
#include "conduction/model.h"

namespace warmside::conduction {

/// Coordinates of all corners along each axis, ascending, those closer than `same_place` merged. In two
/// dimensions z has the lines 0 and 1.
[[nodiscard]] Grid corner_lines(const Model& model);

/// The grid to begin with: between two corner lines cells that grow from both ends.
[[nodiscard]] Grid first_grid(const Model& model);

}  // namespace warmside::conduction
