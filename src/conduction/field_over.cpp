// The field at any place, and from one grid to the next.
#include "conduction/field.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace warmside::conduction {

std::pair<double, bool> Field::value(const std::vector<double>& t, std::size_t i, std::size_t j,
                                     std::size_t slab, const Point& at) const {
    const Grid& g = system_.grid;
    const std::size_t nx = g.count(0), cell = i + nx * j;
    const double w = system_.solid() ? (at.z - g.line[2][slab]) / g.width(2, slab) : 0.0;
    const auto node = [&](std::size_t n) {
        const double* low = t.data() + stride_ * slab + n;
        return system_.solid() ? (1.0 - w) * low[0] + w * low[stride_] : low[0];
    };
    const CutCell* cut = system_.plan.cut_at(cell);
    if (cut == nullptr) {
        const double u = (at.x - g.line[0][i]) / g.width(0, i), v = (at.y - g.line[1][j]) / g.width(1, j);
        const std::size_t n = i + (nx + 1) * j, row = nx + 1;
        return {(1 - v) * ((1 - u) * node(n) + u * node(n + 1)) +
                    v * ((1 - u) * node(n + row) + u * node(n + row + 1)),
                whole_[cell + nx * g.count(1) * slab] > 0.0};
    }
    std::pair<double, bool> out{0.0, false};
    double best = -std::numeric_limits<double>::infinity();
    for (const Triangle& triangle : system_.plan.triangles(*cut)) {
        const auto slope = slopes(triangle);
        std::array<double, 3> share{};
        for (std::size_t e = 0; e < 3; ++e) {
            const Point& far = system_.plan.node[triangle.node[(e + 1) % 3]];
            share[e] = slope[e].x * (at.x - far.x) + slope[e].y * (at.y - far.y);
        }
        const bool material = lambda(*cut, triangle, slab) > 0.0;
        const double within = std::min({share[0], share[1], share[2]}) - (material ? 0.0 : 1e-3);
        if (within <= best) continue;
        best = within;
        out = {share[0] * node(triangle.node[0]) + share[1] * node(triangle.node[1]) +
                   share[2] * node(triangle.node[2]),
               material && within > -1e-3};
    }
    return out;
}

void Field::to_centres(const std::vector<double>& t, std::vector<double>& x) const {
    const Grid& g = system_.grid;
    for (std::size_t c = 0; c < x.size(); ++c) {
        if (!system_.part[c]) continue;
        const auto [i, j, k] = system_.place(c);
        const auto [v, material] = value(t, i, j, k, {g.centre(0, i), g.centre(1, j), g.centre(2, k)});
        if (material) x[c] = v;
    }
}

void Field::carry_over(const Field& other, const std::vector<double>& from, std::vector<double>& t) const {
    const Grid& g = other.system_.grid;
    // Cells of the other grid that a coordinate lies in or on the edge of.
    const auto cells = [&](std::size_t axis, double v) {
        const auto& line = g.line[axis];
        const auto at = std::upper_bound(line.begin(), line.end(), v) - line.begin();
        const auto i = static_cast<std::size_t>(
            std::clamp<std::ptrdiff_t>(at - 1, 0, static_cast<std::ptrdiff_t>(line.size()) - 2));
        const bool on = i > 0 && v - line[i] < 1e-9 * g.width(axis, i);
        return std::pair<std::size_t, std::size_t>{on ? i - 1 : i, i};
    };
    for (std::size_t level = 0; level < levels_; ++level) {
        const double z = system_.solid() ? system_.grid.line[2][level] : 0.5;
        const auto ks = cells(2, z);
        for (std::size_t n = 0; n < stride_; ++n) {
            const std::size_t v = n + stride_ * level;
            if (fixed_[v] >= 0) continue;
            const Point at{system_.plan.node[n].x, system_.plan.node[n].y, z};
            const auto is = cells(0, at.x), js = cells(1, at.y);
            bool found = false;
            for (std::size_t k = ks.first; k <= ks.second && !found; ++k)
                for (std::size_t j = js.first; j <= js.second && !found; ++j)
                    for (std::size_t i = is.first; i <= is.second && !found; ++i) {
                        const auto [value, material] = other.value(from, i, j, k, at);
                        if (material) t[v] = value;
                        found = material;
                    }
        }
    }
}

}  // namespace warmside::conduction
