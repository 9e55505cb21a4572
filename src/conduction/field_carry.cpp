// From the cells to the nodes and back.
#include "conduction/field.h"

#include <algorithm>
#include <cmath>

namespace warmside::conduction {

void Field::recover(std::span<const double> x, const Fluxes& flux, std::size_t warm,
                    std::vector<double>& t) const {
    t.assign(size(), 0.0);
    std::vector<double> weight(size(), 0.0);
    for (std::size_t k = 0; k < system_.stencil.nz; ++k) carry(x, flux, k, t, weight);
    for (std::size_t n = 0; n < size(); ++n) {
        if (weight[n] > 0.0) t[n] /= weight[n];
        if (fixed_[n] >= 0) t[n] = fixed_[n] == static_cast<std::int16_t>(warm) ? 1.0 : 0.0;
    }
}

void Field::carry(std::span<const double> x, const Fluxes& flux, std::size_t slab, std::vector<double>& sum,
                  std::vector<double>& weight) const {
    const Grid& g = system_.grid;
    const Metric& m = system_.metric;
    const bool solid = system_.solid();
    const std::size_t nx = g.count(0), ny = g.count(1);
    std::size_t patch = system_.first_patch[slab];
    for (std::size_t j = 0, c = nx * ny * slab; j < ny; ++j)
        for (std::size_t i = 0; i < nx; ++i, ++c) {
            while (patch < system_.patches.size() && system_.patches[patch].cell < c) ++patch;
            if (!system_.part[c]) continue;
            const auto out = outflow(system_, c, patch, flux);
            if (const CutCell* cut = system_.plan.cut_at(i + nx * j)) {
                carry_cut(*cut, slab, x[c], out, sum, weight);
                continue;
            }
            const double lambda = whole_[c];
            std::array<double, 6> drop{};
            for (std::size_t side = 0; side < 6; ++side) {
                const std::size_t axis = side / 2, at = axis == 0 ? i : axis == 1 ? j : slab;
                const double area = m.area(g, {i, j, slab}, axis, side % 2);
                if (area > 0.0)
                    drop[side] =
                        out[side] * (side % 2 == 0 ? m.to_low : m.to_high)[axis][at] / (area * lambda);
            }
            for (std::size_t e = 0; e < (solid ? 8U : 4U); ++e) {
                const std::size_t n = i + e % 2 + (nx + 1) * (j + e / 2 % 2) + stride_ * (slab + e / 4);
                sum[n] +=
                    lambda * (x[c] - drop[e % 2] - drop[2 + e / 2 % 2] - (solid ? drop[4 + e / 4] : 0.0));
                weight[n] += lambda;
            }
        }
}

// The flux in a cut cell: the mean of its faces, each over the whole width.
void Field::carry_cut(const CutCell& cut, std::size_t slab, double value, const std::array<double, 7>& out,
                      std::vector<double>& sum, std::vector<double>& weight) const {
    const Grid& g = system_.grid;
    const std::size_t i = cut.cell % g.count(0), j = cut.cell / g.count(0);
    const double depth = g.width(2, slab), around = system_.metric.weight(g.centre(0, i));
    const double qx = 0.5 * (out[1] - out[0]) / (around * g.width(1, j) * depth);
    const double qy = 0.5 * (out[3] - out[2]) / (around * g.width(0, i) * depth);
    for (const Triangle& triangle : system_.plan.triangles(cut)) {
        const double l = lambda(cut, triangle, slab);
        // Nodes in the air get a value too, for pictures that draw whole cells.
        const double count = l > 0.0 ? l : 1e-9;
        for (const std::uint32_t n : triangle.node)
            for (std::size_t level = 0; level < (system_.solid() ? 2U : 1U); ++level) {
                const Point& at = system_.plan.node[n];
                const double drop =
                    l > 0.0 ? (qx * (at.x - g.centre(0, i)) + qy * (at.y - g.centre(1, j))) / l : 0.0;
                sum[n + stride_ * (slab + level)] += count * (value - drop);
                weight[n + stride_ * (slab + level)] += count;
            }
    }
}

template <class F>
void Field::each_weight(std::size_t slab, F&& f) const {
    const std::size_t nx = system_.stencil.nx, ny = system_.stencil.ny, ends = system_.solid() ? 2 : 1;
    for (std::size_t j = 0, c = nx * ny * slab; j < ny; ++j)
        for (std::size_t i = 0; i < nx; ++i, ++c) {
            if (whole_[c] > 0.0)
                for (std::size_t e = 0; e < 4 * ends; ++e)
                    f(c, i + e % 2 + (nx + 1) * (j + e / 2 % 2) + stride_ * (slab + e / 4), whole_[c]);
            const CutCell* cut = system_.plan.cut_at(i + nx * j);
            if (cut == nullptr) continue;
            for (const Triangle& triangle : system_.plan.triangles(*cut)) {
                const double l = lambda(*cut, triangle, slab);
                if (l > 0.0)
                    for (const std::uint32_t v : triangle.node)
                        for (std::size_t e = 0; e < ends; ++e) f(c, v + stride_ * (slab + e), l);
            }
        }
}

void Field::weigh() {
    weight_.assign(size(), 0.0);
    for (std::size_t k = 0; k < system_.stencil.nz; ++k)
        each_weight(k, [&](std::size_t, std::size_t node, double w) { weight_[node] += w; });
}

void Field::left_over(std::size_t warm, const std::vector<double>& t, std::span<double> b) const {
    std::vector<double> r(size());
    residual(warm, t, r);
    std::fill(b.begin(), b.end(), 0.0);
    for (std::size_t k = 0; k < system_.stencil.nz; ++k)
        each_weight(
            k, [&](std::size_t cell, std::size_t node, double w) { b[cell] += r[node] * w / weight_[node]; });
}

double Field::correct(std::size_t warm, std::span<const double> x, std::vector<double>& t) const {
    std::vector<double> moved(t);
    for (std::size_t k = 0; k < system_.stencil.nz; ++k)
        each_weight(k, [&](std::size_t cell, std::size_t node, double w) {
            moved[node] += x[cell] * w / weight_[node];
        });
    return mix(warm, moved, t);
}

}  // namespace warmside::conduction
