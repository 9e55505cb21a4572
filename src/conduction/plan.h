// The x-y plane of a model on a grid: which region each cell belongs to, and the pieces of the cells that a
// sloped edge crosses.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "conduction/grid.h"
#include "conduction/model.h"

namespace warmside::conduction {

/// A convex piece of a cut cell. Its corners are nodes of the plan, counter-clockwise.
struct Piece {
    std::vector<std::uint32_t> node;
    Point middle;
    double area = 0.0;  ///< m2, of a revolution times 2 pi r
};

struct CutCell {
    std::uint32_t cell = 0;  ///< i + nx j
    std::vector<Piece> piece;
    std::uint32_t first_piece = 0;  ///< number of its first piece in the plan
    Point normal;                   ///< across the first edge that cuts it, length 1
};

struct Triangle {
    std::array<std::uint32_t, 3> node{};
    std::uint32_t piece = 0;  ///< number in the plan
};

/// Vertices of outlines lie on grid lines, so each sloped edge crosses a cell from side to side, and the cell
/// falls into convex pieces. In three dimensions all storeys (slabs between the bottoms and tops of regions)
/// have the same pieces, each with its own regions.
struct Plan {
    std::size_t nx = 0, ny = 0;
    std::vector<Point> node;          ///< corners of the cells, i + (nx + 1) j, then those that cutting adds
    std::vector<CutCell> cut;         ///< by ascending cell
    std::vector<std::int32_t> index;  ///< [cell] its place in `cut`, -1 of a whole cell
    std::vector<Triangle> triangle;   ///< of the cut cells, by piece
    std::vector<std::uint32_t> first_triangle;             ///< [cut cell], one more at the end
    std::vector<std::uint16_t> storey;                     ///< [slab of the grid]
    std::vector<std::vector<std::uint16_t>> region;        ///< [storey][cell] of the largest part
    std::vector<std::vector<std::uint16_t>> piece_region;  ///< [storey][piece]

    [[nodiscard]] std::size_t corners() const { return (nx + 1) * (ny + 1); }
    [[nodiscard]] std::span<const Triangle> triangles(const CutCell& of) const {
        const auto i = static_cast<std::size_t>(index[of.cell]);
        return std::span(triangle).subspan(first_triangle[i], first_triangle[i + 1] - first_triangle[i]);
    }
    [[nodiscard]] const CutCell* cut_at(std::size_t cell) const {
        return cut.empty() || index[cell] < 0 ? nullptr : &cut[static_cast<std::size_t>(index[cell])];
    }
};

/// Problem-free by construction: the model has passed check() and its corners lie on lines of the grid.
[[nodiscard]] Plan make_plan(const Model& model, const Grid& grid);

}  // namespace warmside::conduction
