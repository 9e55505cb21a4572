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

double nearest(const std::vector<double>& line, double value) {
    const auto at = std::lower_bound(line.begin(), line.end(), value);
    if (at == line.end()) return line.back();
    if (at == line.begin() || *at - value < value - *(at - 1)) return *at;
    return *(at - 1);
}

// Cuts cells that are wider than four times a neighbour, from that neighbour's side, until none is.
void even_out(std::vector<double>& line) {
    for (bool again = true; again;) {
        again = false;
        std::vector<double> next{line.front()};
        for (std::size_t i = 0; i + 1 < line.size(); ++i) {
            const double width = line[i + 1] - line[i];
            const double before = i > 0 ? line[i] - line[i - 1] : width;
            const double after = i + 2 < line.size() ? line[i + 2] - line[i + 1] : width;
            const bool low = width > 4.0 * before, high = width > 4.0 * after;
            if (low && 2.5 * before < 0.45 * width) next.push_back(line[i] + 2.5 * before);
            if (low && 2.5 * before >= 0.45 * width) next.push_back(0.5 * (line[i] + line[i + 1]));
            if (high && 2.5 * after < 0.45 * width) next.push_back(line[i + 1] - 2.5 * after);
            if (high && !low && 2.5 * after >= 0.45 * width) next.push_back(0.5 * (line[i] + line[i + 1]));
            again = again || low || high;
            next.push_back(line[i + 1]);
        }
        line = std::move(next);
    }
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

Model on_lines(const Model& model, const Grid& lines) {
    Model out = model;
    for (Region& region : out.regions) {
        for (Point& p : region.shape.outline)
            p = {nearest(lines.line[0], p.x), nearest(lines.line[1], p.y), p.z};
        if (model.geometry != Geometry::solid) continue;
        region.shape.bottom = nearest(lines.line[2], region.shape.bottom);
        region.shape.top = nearest(lines.line[2], region.shape.top);
    }
    return out;
}

Grid first_grid(const Model& model, std::span<const Point> sharp) {
    Grid grid = corner_lines(model);
    const std::size_t axes = model.geometry == Geometry::solid ? 3 : 2;
    for (std::size_t axis = 0; axis < axes; ++axis) {
        auto& line = grid.line[axis];
        const double low = line.front(), high = line.back(), apart = 1e-4 * (high - low);
        for (const Point& p : sharp) {
            const double v = coordinate(p, axis);
            if (v > low && v < high && std::abs(nearest(line, v) - v) > apart) {
                line.push_back(v);
                merge(line);
            }
        }
        std::vector<double> halved;
        for (std::size_t i = 0; i + 1 < line.size(); ++i) {
            halved.push_back(line[i]);
            halved.push_back(0.5 * (line[i] + line[i + 1]));
        }
        halved.push_back(line.back());
        line = std::move(halved);
        even_out(line);
    }
    return grid;
}

std::array<std::vector<int>, 3> splits(const Grid& grid, const std::array<std::vector<double>, 3>& share,
                                       double target, double finest) {
    constexpr int most = 4;
    std::array<std::vector<int>, 3> parts;
    const auto with = [&](double scale) {
        double left = 0.0;
        for (std::size_t axis = 0; axis < 3; ++axis) {
            parts[axis].assign(share[axis].size(), 1);
            for (std::size_t i = 0; i < share[axis].size(); ++i) {
                const double wanted =
                    std::cbrt(scale * share[axis][i] * static_cast<double>(share[axis].size()));
                const double room = std::max(1.0, grid.width(axis, i) / finest);
                const int n =
                    static_cast<int>(std::min({std::floor(wanted + 0.5), std::floor(room), double{most}}));
                parts[axis][i] = std::max(1, n);
                left += share[axis][i] / (parts[axis][i] * parts[axis][i]);
            }
        }
        return left;
    };
    double largest = 0.0;
    for (const auto& axis : share)
        for (const double v : axis) largest = std::max(largest, v * static_cast<double>(axis.size()));
    if (largest == 0.0) {
        with(0.0);
        return parts;
    }
    // Between one split anywhere and all split as much as allowed.
    double low = 3.4 / largest, high = low * 1e12;
    if (with(low) <= target) return parts;
    for (int step = 0; step < 60; ++step) {
        const double mid = std::sqrt(low * high);
        (with(mid) <= target ? high : low) = mid;
    }
    with(high);
    return parts;
}

Grid split(const Grid& grid, const std::array<std::vector<int>, 3>& parts) {
    Grid out;
    for (std::size_t axis = 0; axis < 3; ++axis) {
        out.line[axis].push_back(grid.line[axis].front());
        for (std::size_t i = 0; i < grid.count(axis); ++i) {
            const int n = i < parts[axis].size() ? parts[axis][i] : 1;
            for (int p = 1; p < n; ++p)
                out.line[axis].push_back(grid.line[axis][i] + grid.width(axis, i) * p / n);
            out.line[axis].push_back(grid.line[axis][i + 1]);
        }
    }
    return out;
}

}  // namespace warmside::conduction
