// An outline with right angles as rectangles: the greatest ones, and a main body with its wings. Inner part
// of roof_shape.
#pragma once

#include <optional>
#include <vector>

#include "assembly/roof_shape.h"

namespace warmside::assembly {

/// Cells between all corners' coordinates, in counts of Exact (of which doubles hold halves and quarters
/// exactly); `inside[i][j]` of the cell from x[i], y[j].
struct RoofGrid {
    std::vector<double> x, y;  ///< m, rising
    std::vector<std::vector<bool>> inside;
    [[nodiscard]] bool in(int i, int j) const;
};
/// Nothing where an edge does not run along an axis or there are more than 24 corners.
[[nodiscard]] std::optional<RoofGrid> grid_of(const std::vector<Point>& outline);

/// Cells from i0, j0 to before i1, j1.
struct CellBox {
    int i0 = 0, j0 = 0, i1 = 0, j1 = 0;
};
/// Rectangles within the outline that no other one within it holds; the largest first.
[[nodiscard]] std::vector<CellBox> greatest_rectangles(const RoofGrid& grid);

/// A main body and wings that fill the outline, ridges at right angles, no wing wider than its body, the ends
/// of all bodies on the outline. Of several the one with the largest main body.
/// `east_west`: the main ridge. In counts, as the grid.
[[nodiscard]] std::vector<RoofBody> bodies_of(const RoofGrid& grid, bool east_west);

}  // namespace warmside::assembly
