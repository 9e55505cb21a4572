// The stiffness of the continuous field, cell by cell.
#include <algorithm>
#include <cmath>

#include "base/parallel.h"
#include "conduction/field.h"

namespace warmside::conduction {

// Two slabs share a level of nodes, so even ones go first and then odd ones: nobody writes where another
// does, and each node takes its parts in the same order whatever the number of threads.
template <class F>
void Field::by_slabs(F&& f) const {
    const std::size_t nz = system_.stencil.nz;
    for (std::size_t odd = 0; odd < std::min<std::size_t>(2, nz); ++odd)
        parallel_for((nz - odd + 1) / 2, [&](std::size_t n) { f(2 * n + odd); }, {}, threads_);
}

void Field::product(const double* t, double* y) const {
    std::fill(y, y + size(), 0.0);
    by_slabs([&](std::size_t slab) { slab_product(slab, t, y); });
    for (const Facet& f : facets_) {
        std::array<double, 4> v{}, part{};
        for (std::size_t e = 0; e < f.count; ++e) v[e] = t[f.node[e]];
        f.product(v.data(), part.data());
        for (std::size_t e = 0; e < f.count; ++e) y[f.node[e]] += part[e] / f.film;
    }
}

void Field::slab_product(std::size_t slab, const double* t, double* y) const {
    std::vector<double> buffer(8 * system_.stencil.nx);
    for (std::size_t j = 0; j < system_.stencil.ny; ++j)
        if (system_.solid())
            row_product_solid(j, slab, t, y, buffer.data());
        else
            row_product_flat(j, t, y, buffer.data());
    cut_product(slab, t, y);
}

// Parts are gathered by cell first, then added by node: both loops run straight along memory.
void Field::row_product_flat(std::size_t j, const double* t, double* y, double* buffer) const {
    const std::size_t nx = system_.stencil.nx;
    const double hy = system_.grid.width(1, j);
    const double* a = t + (nx + 1) * j;
    const double* b = a + nx + 1;
    const double* lambda = whole_.data() + nx * j;
    double* out[4] = {buffer, buffer + nx, buffer + 2 * nx, buffer + 3 * nx};
    const double* width = system_.stencil.width[0].data();
    const double* across = system_.metric.across.data();
    for (std::size_t i = 0; i < nx; ++i) {
        const double kx = lambda[i] * across[i] * hy / (6.0 * width[i] * width[i]);
        const double ky = lambda[i] / hy;
        const double low = a[i + 1] - a[i], high = b[i + 1] - b[i];
        const double left = b[i] - a[i], right = b[i + 1] - a[i + 1];
        const double fl = kx * (2 * low + high), fh = kx * (low + 2 * high);
        const double gl = ky * (column_[i][0] * left + column_[i][1] * right);
        const double gr = ky * (column_[i][1] * left + column_[i][2] * right);
        out[0][i] = -fl - gl;
        out[1][i] = fl - gr;
        out[2][i] = -fh + gl;
        out[3][i] = fh + gr;
    }
    for (std::size_t half = 0; half < 2; ++half) {
        double* to = y + (nx + 1) * (j + half);
        for (std::size_t i = 0; i < nx; ++i) to[i] += out[2 * half][i];
        for (std::size_t i = 0; i < nx; ++i) to[i + 1] += out[2 * half + 1][i];
    }
}

void Field::row_product_solid(std::size_t j, std::size_t slab, const double* t, double* y,
                              double* buffer) const {
    const std::size_t nx = system_.stencil.nx, ny = system_.stencil.ny;
    const double hy = system_.grid.width(1, j), hz = system_.grid.width(2, slab);
    const double* lambda = whole_.data() + nx * (j + ny * slab);
    const double* width = system_.stencil.width[0].data();
    std::array<const double*, 4> in{};
    for (std::size_t e = 0; e < 4; ++e) in[e] = t + (nx + 1) * (j + e % 2) + stride_ * (slab + e / 2);
    double* out[8];
    for (std::size_t e = 0; e < 8; ++e) out[e] = buffer + nx * e;
    for (std::size_t i = 0; i < nx; ++i) {
        const double hx = width[i], scale = lambda[i] / 36.0;
        const double cx = scale * hy * hz / hx, cy = scale * hx * hz / hy, cz = scale * hx * hy / hz;
        // Corner e: bit 0 along x, bit 1 along y, bit 2 along z.
        const double t0 = in[0][i], t1 = in[0][i + 1], t2 = in[1][i], t3 = in[1][i + 1];
        const double t4 = in[2][i], t5 = in[2][i + 1], t6 = in[3][i], t7 = in[3][i + 1];
        const auto mass = [](double a, double b, double c, double d, double k, double* m) {
            m[0] = k * (4 * a + 2 * b + 2 * c + d);
            m[1] = k * (2 * a + 4 * b + c + 2 * d);
            m[2] = k * (2 * a + b + 4 * c + 2 * d);
            m[3] = k * (a + 2 * b + 2 * c + 4 * d);
        };
        double x[4], u[4], w[4];
        mass(t1 - t0, t3 - t2, t5 - t4, t7 - t6, cx, x);
        mass(t2 - t0, t3 - t1, t6 - t4, t7 - t5, cy, u);
        mass(t4 - t0, t5 - t1, t6 - t2, t7 - t3, cz, w);
        out[0][i] = -x[0] - u[0] - w[0];
        out[1][i] = x[0] - u[1] - w[1];
        out[2][i] = -x[1] + u[0] - w[2];
        out[3][i] = x[1] + u[1] - w[3];
        out[4][i] = -x[2] - u[2] + w[0];
        out[5][i] = x[2] - u[3] + w[1];
        out[6][i] = -x[3] + u[2] + w[2];
        out[7][i] = x[3] + u[3] + w[3];
    }
    for (std::size_t e = 0; e < 4; ++e) {
        double* to = y + (nx + 1) * (j + e % 2) + stride_ * (slab + e / 2);
        for (std::size_t i = 0; i < nx; ++i) to[i] += out[2 * e][i];
        for (std::size_t i = 0; i < nx; ++i) to[i + 1] += out[2 * e + 1][i];
    }
}

void Field::cut_product(std::size_t slab, const double* t, double* y) const {
    const Plan& plan = system_.plan;
    const double h = system_.grid.width(2, slab);
    const std::size_t low = stride_ * slab;
    for (const CutCell& cut : plan.cut)
        for (const Triangle& triangle : plan.triangles(cut)) {
            const double l = lambda(cut, triangle, slab);
            if (l == 0.0) continue;
            const double a = area(triangle);
            const auto g = slopes(triangle);
            const std::size_t sides = system_.solid() ? 2 : 1;
            std::array<Point, 2> slope{};
            for (std::size_t s = 0; s < sides; ++s)
                for (std::size_t e = 0; e < 3; ++e) {
                    const double v = t[low + stride_ * s + triangle.node[e]];
                    slope[s].x += v * g[e].x;
                    slope[s].y += v * g[e].y;
                }
            for (std::size_t s = 0; s < sides; ++s) {
                const Point& own = slope[s];
                const Point& other = slope[sides - 1 - s];
                const double w = system_.solid() ? l * a * h / 6.0 : l * a / 3.0;
                for (std::size_t e = 0; e < 3; ++e)
                    y[low + stride_ * s + triangle.node[e]] +=
                        w * (g[e].x * (2 * own.x + other.x) + g[e].y * (2 * own.y + other.y));
            }
            if (!system_.solid()) continue;
            std::array<double, 3> rise{};
            for (std::size_t e = 0; e < 3; ++e)
                rise[e] = t[low + stride_ + triangle.node[e]] - t[low + triangle.node[e]];
            const double sum = rise[0] + rise[1] + rise[2];
            for (std::size_t e = 0; e < 3; ++e) {
                const double v = l * a / (12.0 * h) * (sum + rise[e]);
                y[low + stride_ + triangle.node[e]] += v;
                y[low + triangle.node[e]] -= v;
            }
        }
}

void Field::diagonal() {
    diagonal_.assign(size(), 0.0);
    const Grid& g = system_.grid;
    const bool solid = system_.solid();
    const std::size_t nx = g.count(0), ny = g.count(1), nz = g.count(2);
    for (std::size_t k = 0, c = 0; k < nz; ++k)
        for (std::size_t j = 0; j < ny; ++j)
            for (std::size_t i = 0; i < nx; ++i, ++c) {
                if (whole_[c] == 0.0) continue;
                const double hx = g.width(0, i), hy = g.width(1, j), hz = g.width(2, k);
                const double uniform = whole_[c] / 9.0 * (hy * hz / hx + hx * hz / hy + hx * hy / hz);
                for (std::size_t e = 0; e < (solid ? 8U : 4U); ++e) {
                    const double flat = whole_[c] * (system_.metric.across[i] * hy / (3.0 * hx * hx) +
                                                     column_[i][e % 2 == 0 ? 0 : 2] / hy);
                    diagonal_[i + e % 2 + (nx + 1) * (j + e / 2 % 2) + stride_ * (k + e / 4)] +=
                        solid ? uniform : flat;
                }
            }
    for (std::size_t k = 0; k < nz; ++k)
        for (const CutCell& cut : system_.plan.cut)
            for (const Triangle& triangle : system_.plan.triangles(cut)) {
                const double l = lambda(cut, triangle, k), a = area(triangle), h = g.width(2, k);
                const auto slope = slopes(triangle);
                for (std::size_t e = 0; e < 3; ++e) {
                    const double flat = l * a * (slope[e].x * slope[e].x + slope[e].y * slope[e].y);
                    const double v = solid ? flat * h / 3.0 + l * a / (6.0 * h) : flat;
                    for (std::size_t s = 0; s < (solid ? 2U : 1U); ++s)
                        diagonal_[triangle.node[e] + stride_ * (k + s)] += v;
                }
            }
    for (const Facet& f : facets_)
        for (std::size_t e = 0; e < f.count; ++e) {
            std::array<double, 4> v{}, part{};
            v[e] = 1.0;
            f.product(v.data(), part.data());
            diagonal_[f.node[e]] += part[e] / f.film;
        }
    for (std::size_t n = 0; n < size(); ++n)
        if (fixed_[n] >= 0) diagonal_[n] = 0.0;
}

}  // namespace warmside::conduction
