// Kernels of the line relaxation: cells along an axis solved together, many lines side by side.
#pragma once

#include <cstddef>
#include <vector>

namespace warmside::conduction {

/// Cells of several lines, [place along the line][lane]. Lanes that belong to no line are isolated cells.
struct LineTile {
    std::vector<float> excess;  ///< conductance to everything but the line itself
    std::vector<float> link;    ///< conductance to the next place
    std::vector<float> value;   ///< right-hand side, then the solution
};

/// What pulls at a cell from outside its line: the faces of the other axes.
struct Across {
    const float* g1 = nullptr;
    const float* g2 = nullptr;  ///< null in two dimensions
    std::ptrdiff_t step1 = 0, step2 = 0;
};

/// Cells of one line, or of places side by side; all pointers to its first cell.
struct LineCells {
    const float* along = nullptr;  ///< conductance to the next cell of the line
    const float* ground = nullptr;
    const float* b = nullptr;
    float* x = nullptr;
    Across across;
};

/// Lanes of a tile. Lines along x: rows. Lines along y and z: every other column.
constexpr std::size_t row_lanes = 8, column_lanes = 32;

/// Makes room for lines of `length` cells.
void make_room(LineTile& tile, std::size_t length);

/// One row of `length` cells into lane `lane` of a tile of row_lanes. `buffer` is scratch.
void take_row(LineTile& tile, std::size_t lane, std::size_t length, const LineCells& row);
/// Back to the row's x.
void give_row(const LineTile& tile, std::size_t lane, std::size_t length, float* x);

/// Every other one of cells side by side, `lanes` of them, into place `place` of a tile of column_lanes.
void take_columns(LineTile& tile, std::size_t place, std::size_t lanes, const LineCells& cells);
void give_columns(const LineTile& tile, std::size_t place, std::size_t lanes, float* x);

/// Solves all lanes of a tile: (excess + links at either end) value - what the links bring = right-hand side.
/// Elimination from the first place to the last in excess conductances, of which none is ever a difference:
/// the series of conductances of a line that hardly anything holds survives in single precision.
template <std::size_t lanes>
void solve_lines(LineTile& tile, std::size_t length);

}  // namespace warmside::conduction
