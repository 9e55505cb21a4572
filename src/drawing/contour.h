// Lines of equal value on a rectilinear grid with holes.
#pragma once

#include <cstddef>
#include <vector>

#include "drawing/display.h"

namespace warmside::drawing {

/// Values at the corners of a grid's cells. Corner (i, j) stands at i + (columns + 1) j.
struct ScalarGrid {
    std::vector<double> x, y;   ///< grid lines, ascending
    std::vector<double> value;  ///< [corner]
    std::vector<bool> filled;   ///< [cell i + columns j] whether the values of its corners count

    [[nodiscard]] std::size_t columns() const { return x.size() - 1; }
    [[nodiscard]] std::size_t rows() const { return y.size() - 1; }
    [[nodiscard]] double at(std::size_t i, std::size_t j) const { return value[i + x.size() * j]; }
};

using Polyline = std::vector<Point>;

/// Lines on which the value, linear along the cells' edges, is `level`: marching squares over the filled
/// cells. A cell whose corners alternate about the level is parted as its mean says. A line ends at the edge
/// of what is filled, or is closed (first point = last).
[[nodiscard]] std::vector<Polyline> contour(const ScalarGrid& grid, double level);

/// The same line with fewer points, none farther than `tolerance` from it (Douglas and Peucker 1973).
[[nodiscard]] Polyline simplified(const Polyline& line, double tolerance);

[[nodiscard]] double length_of(const Polyline& line);

/// The pieces of a line that `inside` holds; ends are found to within `tolerance` by halving.
template <class Inside>
[[nodiscard]] std::vector<Polyline> kept(const Polyline& line, const Inside& inside, double tolerance) {
    std::vector<Polyline> out;
    bool open = false;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const bool in = inside(line[i]);
        if (i > 0 && in != open) {
            Point a = open ? line[i - 1] : line[i], b = open ? line[i] : line[i - 1];
            // a is inside, b outside.
            for (int k = 0;
                 k < 40 && (a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y) > tolerance * tolerance;
                 ++k) {
                const Point m{0.5 * (a.x + b.x), 0.5 * (a.y + b.y)};
                (inside(m) ? a : b) = m;
            }
            if (open)
                out.back().push_back(a);
            else
                out.push_back({a});
        } else if (i == 0 && in) {
            out.emplace_back();
        }
        open = in;
        if (in) out.back().push_back(line[i]);
    }
    std::erase_if(out, [](const Polyline& p) { return p.size() < 2; });
    return out;
}

}  // namespace warmside::drawing
