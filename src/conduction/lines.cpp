#include "conduction/lines.h"

#include <algorithm>
#include <cmath>

#include "conduction/shape.h"

namespace warmside::conduction {

namespace {

void merge(std::vector<double>& at) {
    std::sort(at.begin(), at.end());
    std::vector<double> kept;
    for (const double v : at)
        if (kept.empty() || v - kept.back() >= same_place) kept.push_back(v);
    at = std::move(kept);
}

// Cells from `low` to `high` that grow by `ratio` from both ends to the middle, none at the ends above
// `first`.
void graded(double low, double high, double first, double ratio, std::vector<double>& lines) {
    const double half = 0.5 * (high - low);
    int n = 1;
    double sum = 1.0;
    for (double size = 1.0; sum * first < half && n < 60; ++n) sum += size *= ratio;
    std::vector<double> from_end{0.0};
    double size = half / sum;
    for (int i = 0; i < n; ++i, size *= ratio) from_end.push_back(from_end.back() + size);
    for (int i = 1; i < n; ++i) lines.push_back(low + from_end[static_cast<std::size_t>(i)]);
    lines.push_back(0.5 * (low + high));
    for (int i = n - 1; i > 0; --i) lines.push_back(high - from_end[static_cast<std::size_t>(i)]);
    lines.push_back(high);
}

}  // namespace

Grid corner_lines(const Model& model) {
    Grid grid;
    for (const Region& region : model.regions) {
        for (const Point& p : region.shape.outline) {
            grid.line[0].push_back(p.x);
            grid.line[1].push_back(p.y);
        }
        if (model.geometry == Geometry::solid) {
            grid.line[2].push_back(region.shape.bottom);
            grid.line[2].push_back(region.shape.top);
        }
    }
    if (model.geometry != Geometry::solid) grid.line[2] = {0.0, 1.0};
    for (auto& line : grid.line) merge(line);
    return grid;
}

Grid first_grid(const Model& model) {
    const Grid corners = corner_lines(model);
    const bool solid = model.geometry == Geometry::solid;
    Grid grid;
    for (std::size_t axis = 0; axis < 3; ++axis) {
        const auto& at = corners.line[axis];
        if (axis == 2 && !solid) {
            grid.line[axis] = at;
            continue;
        }
        const double whole = at.back() - at.front();
        grid.line[axis].push_back(at.front());
        for (std::size_t i = 0; i + 1 < at.size(); ++i) {
            const double length = at[i + 1] - at[i];
            graded(at[i], at[i + 1], std::max(length / (solid ? 12.0 : 40.0), whole / 400.0),
                   solid ? 2.0 : 1.5, grid.line[axis]);
        }
    }
    return grid;
}

}  // namespace warmside::conduction
