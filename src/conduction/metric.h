// Sizes of cells and faces, of a plane and of a revolution alike.
#pragma once

#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include "conduction/grid.h"
#include "conduction/model.h"

namespace warmside::conduction {

struct Metric {
    /// m, [axis][cell]: what lies between the cell's centre and its lower (upper) face; conductance from
    /// centre to face = face area x conductivity / this. On an axis of revolution r_face ln(r_face/r_centre).
    std::array<std::vector<double>, 3> to_low, to_high;
    std::vector<double> around;  ///< [x line] 1, of a revolution 2 pi r
    std::vector<double> across;  ///< [x cell] m width, of a revolution m2 pi (r2^2 - r1^2)
    bool revolved = false;

    Metric() = default;
    Metric(const Grid& grid, Geometry geometry) : revolved(geometry == Geometry::axisymmetric) {
        for (std::size_t axis = 0; axis < 3; ++axis)
            for (std::size_t i = 0; i < grid.count(axis); ++i) {
                const double low = grid.line[axis][i], high = grid.line[axis][i + 1],
                             mid = grid.centre(axis, i);
                to_low[axis].push_back(length(axis, low, mid, low));
                to_high[axis].push_back(length(axis, mid, high, high));
            }
        for (const double x : grid.line[0]) around.push_back(weight(x));
        for (std::size_t i = 0; i < grid.count(0); ++i)
            across.push_back(weight(grid.centre(0, i)) * grid.width(0, i));
    }

    /// 1, of a revolution 2 pi r.
    [[nodiscard]] double weight(double x) const { return revolved ? 2.0 * std::numbers::pi * x : 1.0; }

    /// m, from one place to another along an axis, as seen from the area of the face.
    [[nodiscard]] double length(std::size_t axis, double from, double to, double face) const {
        if (!revolved || axis != 0) return to - from;
        return from > 0.0 ? face * std::log(to / from) : 0.0;
    }

    /// m2 (plane: m) of a face of cell (i, j, k).
    [[nodiscard]] double area(const Grid& g, const std::array<std::size_t, 3>& at, std::size_t axis,
                              std::size_t side) const {
        if (axis == 0) return around[at[0] + side] * g.width(1, at[1]) * g.width(2, at[2]);
        if (axis == 1) return across[at[0]] * g.width(2, at[2]);
        return across[at[0]] * g.width(1, at[1]);
    }
};

}  // namespace warmside::conduction
