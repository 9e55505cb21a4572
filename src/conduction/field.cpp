#include "conduction/field.h"

#include <algorithm>
#include <cmath>

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
    : model_(model),
      system_(system),
      threads_(threads),
      stride_(system.plan.node.size()),
      levels_(system.solid() ? system.stencil.nz + 1 : 1) {
    const Grid& g = system.grid;
    const std::size_t plane = g.count(0) * g.count(1);
    whole_.assign(g.cells(), 0.0);
    for (std::size_t c = 0; c < g.cells(); ++c)
        if (system.part[c] && system.plan.cut_at(c % plane) == nullptr)
            whole_[c] = system.lambda[system.region[c]];
    for (std::size_t i = 0; i < g.count(0); ++i) {
        // Linear weight 2 pi r: integrals of the products of shape functions by Simpson's rule, exact to
        // cubics.
        const double a = system.metric.weight(g.line[0][i]), b = system.metric.weight(g.line[0][i + 1]);
        const double h = g.width(0, i) / 12.0;
        column_.push_back({h * (3 * a + b), h * (a + b), h * (a + 3 * b)});
    }
    fixed_.assign(size(), -1);
    place_facets();
    diagonal();
    weigh();
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
            const auto low =
                static_cast<std::uint32_t>(level + cell % s.stencil.nx + row * (cell / s.stencil.nx));
            f.node = {low, low + 1, low + row, low + row + 1};
            f.count = 4;
            facets_.push_back(f);
            continue;
        }
        for (const Triangle& triangle : s.plan.triangles(*cut)) {
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
            for (const Triangle& triangle : system_.plan.triangles(*cut))
                if (triangle.piece == foot[0])
                    for (const std::uint32_t n : triangle.node) nodes.push_back(level + n);
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
        const CutCell* cut = system_.plan.cut_at(i + nx * j);
        if (cut == nullptr) continue;
        for (const Triangle& triangle : system_.plan.triangles(*cut))
            for (const std::uint32_t n : triangle.node)
                for (std::size_t l = 0; l < levels; ++l) out[n + stride_ * (k + l)] = true;
    }
    return out;
}

}  // namespace warmside::conduction
