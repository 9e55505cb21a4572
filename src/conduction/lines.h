// Grid lines: those that a model asks for, and where more are needed.
#pragma once

#include <span>

#include "conduction/grid.h"
#include "conduction/model.h"

namespace warmside::conduction {

/// Coordinates of all corners along each axis, ascending, those closer than `same_place` merged. In two
/// dimensions z has the lines 0 and 1.
[[nodiscard]] Grid corner_lines(const Model& model);

/// The model with its corners moved onto the lines (by less than `same_place`).
[[nodiscard]] Model on_lines(const Model& model, const Grid& lines);

/// The grid to begin with: lines at the corners and at `sharp` points, at least two cells between two
/// corners, no cell wider than four times its neighbour.
[[nodiscard]] Grid first_grid(const Model& model, std::span<const Point> sharp = {});

/// Into how many equal parts each slab of a grid is to be split so that a gap made up of the slabs' `share`
/// falls to `target` with the fewest cells: a share falls with the square of the parts, so the parts go with
/// the cube root of the share times the number of slabs of that axis; at most four.
///
/// share   [axis][slab]
/// finest  m, no part is thinner
[[nodiscard]] std::array<std::vector<int>, 3> splits(const Grid& grid,
                                                     const std::array<std::vector<double>, 3>& share,
                                                     double target, double finest);
[[nodiscard]] Grid split(const Grid& grid, const std::array<std::vector<int>, 3>& parts);

}  // namespace warmside::conduction
