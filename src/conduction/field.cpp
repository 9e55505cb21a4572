#include "conduction/field.h"

#include <algorithm>
#include <cmath>

#include "base/parallel.h"

namespace warmside::conduction {

void Facet::product(const double* v, double* out) const {
    if (count == 2) {
        out[0] = mass[0] * v[0] + mass[1] * v[1];
        out[1] = mass[1] * v[0] + mass[2] * v[1];
    } else if (count == 3) {
        const double sum = v[0] + v[1] + v[2];
        for (int e = 0; e < 3; ++e) out[e] = mass[0] / 12.0 * (sum + v[e]);
    } else {
        const double m = mass[0] / 36.0;
        out[0] = m * (4 * v[0] + 2 * v[1] + 2 * v[2] + v[3]);
        out[1] = m * (2 * v[0] + 4 * v[1] + v[2] + 2 * v[3]);
        out[2] = m * (2 * v[0] + v[1] + 4 * v[2] + 2 * v[3]);
        out[3] = m * (v[0] + 2 * v[1] + 2 * v[2] + 4 * v[3]);
    }
}

Field::Field(const Model& model, const System& system, unsigned threads)
    : model_(model), system_(system), threads_(threads), stride_(system.plan.node.size()),
      levels_(system.solid() ? system.stencil.nz + 1 : 1) {
    const Grid& g = system.grid;
    const std::size_t plane = g.count(0) * g.count(1);
    whole_.assign(g.cells(), 0.0);
    for (std::size_t c = 0; c < g.cells(); ++c)
        if (system.part[c] && system.plan.cut_at(c % plane) == nullptr) whole_[c] = system.lambda[system.region[c]];
    for (std::size_t i = 0; i < g.count(0); ++i) {
        // Linear weight 2 pi r: integrals of the products of shape functions by Simpson's rule, exact to cubics.
        const double a = system.metric.weight(g.line[0][i]), b = system.metric.weight(g.line[0][i + 1]);
        const double h = g.width(0, i) / 12.0;
        column_.push_back({h * (3 * a + b), h * (a + b), h * (a + 3 * b)});
    }
    fixed_.assign(size(), -1);
    place_facets();
    diagonal();
}

void Field::place_facets() {
    const System& s = system_;
    const bool solid = s.solid();
    for (std::size_t n = 0; n < s.patches.size(); ++n) {
        const Patch& p = s.patches[n];
        if (p.film == 0.0) {
            fix(p, s.foot[n]);
            continue;
        }
        Facet f{.mass = {p.area, 0.0, 0.0}, .film = p.film, .patch = n};
        const std::size_t slab = s.place(p.cell)[2];
        const auto level = static_cast<std::uint32_t>(stride_ * (slab + (p.side == 5 ? 1 : 0)));
        if (p.side < 4 || p.side == 6) {
            const auto [a, b] = s.foot[n];
            f.node = {level + a, level + b, static_cast<std::uint32_t>(level + stride_ + a),
                      static_cast<std::uint32_t>(level + stride_ + b)};
            f.count = solid ? 4 : 2;
            if (!solid) {
                const double wa = s.metric.weight(s.plan.node[a].x), wb = s.metric.weight(s.plan.node[b].x);
                const double h = p.area / (0.5 * (wa + wb)) / 12.0;
                f.mass = {h * (3 * wa + wb), h * (wa + wb), h * (wa + 3 * wb)};
            }
            facets_.push_back(f);
            continue;
        }
        const std::size_t cell = p.cell % (s.stencil.nx * s.stencil.ny);
        const CutCell* cut = s.plan.cut_at(cell);
        if (cut == nullptr) {
            const auto row = static_cast<std::uint32_t>(s.stencil.nx + 1);
            const auto low = static_cast<std::uint32_t>(level + cell % s.stencil.nx + row * (cell / s.stencil.nx));
            f.node = {low, low + 1, low + row, low + row + 1};
            f.count = 4;
            facets_.push_back(f);
            continue;
        }
        const auto index = static_cast<std::size_t>(s.plan.index[cell]);
        for (std::size_t t = s.plan.first_triangle[index]; t < s.plan.first_triangle[index + 1]; ++t) {
            const Triangle& triangle = s.plan.triangle[t];
            if (triangle.piece != s.foot[n][0]) continue;
            for (std::size_t e = 0; e < 3; ++e) f.node[e] = level + triangle.node[e];
            f.count = 3;
            f.mass[0] = area(triangle);
            facets_.push_back(f);
        }
    }
}

// A surface without film has the temperature of its air.
void Field::fix(const Patch& p, const std::array<std::uint32_t, 2>& foot) {
    std::vector<std::size_t> nodes;
    const auto [i, j, slab] = system_.place(p.cell);
    const std::size_t low = stride_ * slab;
    if (p.side < 4 || p.side == 6) {
        nodes = {low + foot[0], low + foot[1]};
        if (system_.solid()) nodes.insert(nodes.end(), {low + stride_ + foot[0], low + stride_ + foot[1]});
    } else {
        const std::size_t level = low + (p.side == 5 ? stride_ : 0), row = system_.stencil.nx + 1;
        const CutCell* cut = system_.plan.cut_at(i + system_.stencil.nx * j);
        if (cut == nullptr) {
            const std::size_t a = level + i + row * j;
            nodes = {a, a + 1, a + row, a + row + 1};
        } else {
            const auto index = static_cast<std::size_t>(system_.plan.index[cut->cell]);
            for (std::size_t t = system_.plan.first_triangle[index]; t < system_.plan.first_triangle[index + 1]; ++t)
                if (system_.plan.triangle[t].piece == foot[0])
                    for (const std::uint32_t n : system_.plan.triangle[t].node) nodes.push_back(level + n);
        }
    }
    for (const std::size_t n : nodes) {
        if (fixed_[n] >= 0 && fixed_[n] != static_cast<std::int16_t>(p.environment)) {
            Point at = system_.plan.node[n % stride_];
            at.z = system_.solid() ? system_.grid.line[2][n / stride_] : 0.0;
            clashes_.push_back(at);
        }
        fixed_[n] = static_cast<std::int16_t>(p.environment);
    }
}

double Field::area(const Triangle& t) const {
    const Point& a = system_.plan.node[t.node[0]];
    const Point& b = system_.plan.node[t.node[1]];
    const Point& c = system_.plan.node[t.node[2]];
    const double flat = 0.5 * ((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x));
    return flat * system_.metric.weight((a.x + b.x + c.x) / 3.0);
}

std::array<Point, 3> Field::slopes(const Triangle& t) const {
    const Point& a = system_.plan.node[t.node[0]];
    const Point& b = system_.plan.node[t.node[1]];
    const Point& c = system_.plan.node[t.node[2]];
    const double twice = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
    return {Point{(b.y - c.y) / twice, (c.x - b.x) / twice}, Point{(c.y - a.y) / twice, (a.x - c.x) / twice},
            Point{(a.y - b.y) / twice, (b.x - a.x) / twice}};
}

double Field::lambda(const CutCell& cut, const Triangle& t, std::size_t slab) const {
    if (!system_.part[cut.cell + system_.stencil.nx * system_.stencil.ny * slab]) return 0.0;
    const std::uint16_t r = system_.plan.piece_region[system_.plan.storey[slab]][t.piece];
    return r == no_region ? 0.0 : system_.lambda[r];
}

std::vector<bool> Field::used() const {
    std::vector<bool> out(size(), false);
    const std::size_t nx = system_.stencil.nx, levels = system_.solid() ? 2 : 1;
    for (std::size_t c = 0; c < system_.part.size(); ++c) {
        if (!system_.part[c]) continue;
        const auto [i, j, k] = system_.place(c);
        for (std::size_t e = 0; e < 4 * levels; ++e)
            out[i + e % 2 + (nx + 1) * (j + e / 2 % 2) + stride_ * (k + e / 4)] = true;
        if (system_.plan.cut_at(i + nx * j) == nullptr) continue;
        const auto index = static_cast<std::size_t>(system_.plan.index[i + nx * j]);
        for (std::size_t t = system_.plan.first_triangle[index]; t < system_.plan.first_triangle[index + 1]; ++t)
            for (const std::uint32_t n : system_.plan.triangle[t].node)
                for (std::size_t l = 0; l < levels; ++l) out[n + stride_ * (k + l)] = true;
    }
    return out;
}

void Field::recover(std::span<const double> x, std::size_t warm, std::vector<double>& t) const {
    t.assign(size(), 0.0);
    std::vector<double> weight(size(), 0.0);
    for (std::size_t k = 0; k < system_.stencil.nz; ++k) carry(x, warm, k, t, weight);
    for (std::size_t n = 0; n < size(); ++n) {
        if (weight[n] > 0.0) t[n] /= weight[n];
        if (fixed_[n] >= 0) t[n] = fixed_[n] == static_cast<std::int16_t>(warm) ? 1.0 : 0.0;
    }
}

void Field::carry(std::span<const double> x, std::size_t warm, std::size_t slab, std::vector<double>& sum,
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
            const auto out = outflow(system_, c, patch, x, warm);
            if (const CutCell* cut = system_.plan.cut_at(i + nx * j)) {
                carry_cut(*cut, slab, x[c], out, sum, weight);
                continue;
            }
            const double lambda = whole_[c];
            std::array<double, 6> drop{};
            for (std::size_t side = 0; side < 6; ++side) {
                const std::size_t axis = side / 2, at = axis == 0 ? i : axis == 1 ? j : slab;
                const double area = m.area(g, {i, j, slab}, axis, side % 2);
                if (area > 0.0) drop[side] = out[side] * (side % 2 == 0 ? m.to_low : m.to_high)[axis][at] / (area * lambda);
            }
            for (std::size_t e = 0; e < (solid ? 8U : 4U); ++e) {
                const std::size_t n = i + e % 2 + (nx + 1) * (j + e / 2 % 2) + stride_ * (slab + e / 4);
                sum[n] += lambda * (x[c] - drop[e % 2] - drop[2 + e / 2 % 2] - (solid ? drop[4 + e / 4] : 0.0));
                weight[n] += lambda;
            }
        }
}

// The flux in a cut cell: the mean of its faces, each over the whole width.
void Field::carry_cut(const CutCell& cut, std::size_t slab, double value, const std::array<double, 7>& out,
                      std::vector<double>& sum, std::vector<double>& weight) const {
    const Grid& g = system_.grid;
    const std::size_t i = cut.cell % g.count(0), j = cut.cell / g.count(0);
    const auto index = static_cast<std::size_t>(system_.plan.index[cut.cell]);
    const double depth = g.width(2, slab), around = system_.metric.weight(g.centre(0, i));
    const double qx = 0.5 * (out[1] - out[0]) / (around * g.width(1, j) * depth);
    const double qy = 0.5 * (out[3] - out[2]) / (around * g.width(0, i) * depth);
    for (std::size_t t = system_.plan.first_triangle[index]; t < system_.plan.first_triangle[index + 1]; ++t) {
        const Triangle& triangle = system_.plan.triangle[t];
        const double l = lambda(cut, triangle, slab);
        // Nodes in the air get a value too, for pictures that draw whole cells.
        const double count = l > 0.0 ? l : 1e-9;
        for (const std::uint32_t n : triangle.node)
            for (std::size_t level = 0; level < (system_.solid() ? 2U : 1U); ++level) {
                const Point& at = system_.plan.node[n];
                const double drop = l > 0.0 ? (qx * (at.x - g.centre(0, i)) + qy * (at.y - g.centre(1, j))) / l : 0.0;
                sum[n + stride_ * (slab + level)] += count * (value - drop);
                weight[n + stride_ * (slab + level)] += count;
            }
    }
}

std::size_t Field::improve(std::size_t warm, std::vector<double>& t, double enough, std::size_t most) const {
    const std::size_t n = size();
    std::vector<double> r(n), p(n), q(n);
    product(t.data(), r.data());
    for (double& v : r) v = -v;
    for (const Facet& f : facets_) {
        if (system_.patches[f.patch].environment != warm) continue;
        const std::array<double, 4> one{1.0, 1.0, 1.0, 1.0};
        std::array<double, 4> part{};
        f.product(one.data(), part.data());
        for (std::size_t e = 0; e < f.count; ++e) r[f.node[e]] += part[e] / f.film;
    }
    std::vector<double> partial(levels_);
    const auto total = [&] {
        double sum = 0.0;
        for (const double v : partial) sum += v;
        return sum;
    };
    // z = r / diagonal; r.z by levels, so that the sum is the same for any number of threads.
    const auto rz = [&] {
        parallel_for(levels_, [&](std::size_t l) {
            double sum = 0.0;
            for (std::size_t v = stride_ * l; v < stride_ * (l + 1); ++v)
                if (diagonal_[v] > 0.0) sum += r[v] * r[v] / diagonal_[v];
            partial[l] = sum;
        }, {}, threads_);
        return total();
    };
    double now = rz(), before = 0.0;
    std::size_t steps = 0;
    for (; steps < most && now > 0.0; ++steps) {
        const double beta = steps == 0 ? 0.0 : now / before;
        parallel_for(levels_, [&](std::size_t l) {
            for (std::size_t v = stride_ * l; v < stride_ * (l + 1); ++v)
                p[v] = diagonal_[v] > 0.0 ? r[v] / diagonal_[v] + beta * p[v] : 0.0;
        }, {}, threads_);
        product(p.data(), q.data());
        parallel_for(levels_, [&](std::size_t l) {
            double sum = 0.0;
            for (std::size_t v = stride_ * l; v < stride_ * (l + 1); ++v) sum += p[v] * q[v];
            partial[l] = sum;
        }, {}, threads_);
        const double pq = total();
        if (!(pq > 0.0)) break;
        const double alpha = now / pq;
        parallel_for(levels_, [&](std::size_t l) {
            for (std::size_t v = stride_ * l; v < stride_ * (l + 1); ++v) {
                t[v] += alpha * p[v];
                r[v] -= alpha * q[v];
            }
        }, {}, threads_);
        if (alpha * now < enough) {
            ++steps;
            break;
        }
        before = now;
        now = rz();
    }
    return steps;
}

}  // namespace warmside::conduction
