#include "conduction/balance.h"

#include <algorithm>
#include <cmath>

namespace warmside::conduction {

namespace {

class Carrier {
public:
    Carrier(const System& system, const Field& field, const std::vector<double>& t, std::size_t warm)
        : s_(system), field_(field), t_(t), warm_(warm) {}

    Fluxes run() {
        Fluxes out = face_fluxes(
            s_.stencil, [&](std::size_t c, std::size_t n, std::size_t axis) { return between(c, n, axis); });
        out.patch.assign(s_.patches.size(), 0.0);
        for (const Facet& f : field_.facets()) out.patch[f.patch] += film(f);
        for (std::size_t p = 0; p < s_.patches.size(); ++p)
            if (s_.patches[p].film == 0.0) out.patch[p] = bare(p);
        return out;
    }

private:
    // Over two whole cells the drop of temperature over the resistance; beside a cut cell what the whole one
    // says; between two cut ones the mean of both.
    double between(std::size_t c, std::size_t n, std::size_t axis) const {
        const double here = field_.whole(c), there = field_.whole(n);
        const auto at = s_.place(c);
        const double area = s_.metric.area(s_.grid, at, axis, 1);
        const double ha = s_.grid.width(axis, at[axis]), hb = s_.grid.width(axis, at[axis] + 1);
        if (here > 0.0 && there > 0.0)
            return -area * (rise(c, axis) + rise(n, axis)) / (ha / here + hb / there);
        if (here > 0.0) return -area * rise(c, axis) * here / ha;
        if (there > 0.0) return -area * rise(n, axis) * there / hb;
        return axis == 2 ? 0.5 * (along(c) + along(n)) : 0.5 * (through(c, axis, 1) + through(n, axis, 0));
    }

    // Mean difference across a whole cell, K; of a revolution as the area goes.
    double rise(std::size_t c, std::size_t axis) const {
        const auto [i, j, k] = s_.place(c);
        const std::size_t row = s_.stencil.nx + 1, low = i + row * j + field_.stride() * k;
        const std::array<std::size_t, 3> step{1, row, field_.stride()};
        const double a = s_.metric.weight(s_.grid.line[0][i]), b = s_.metric.weight(s_.grid.line[0][i + 1]);
        double sum = 0.0, total = 0.0;
        for (std::size_t e = 0; e < (s_.solid() ? 8U : 4U); ++e) {
            const std::array<std::size_t, 3> bit{e % 2, e / 2 % 2, e / 4};
            if (bit[axis] == 1) continue;
            const double w = axis == 1 ? (bit[0] == 0 ? 2 * a + b : a + 2 * b) : 1.0;
            const std::size_t v = low + bit[0] + row * bit[1] + field_.stride() * bit[2];
            sum += w * (t_[v + step[axis]] - t_[v]);
            total += w;
        }
        return sum / total;
    }

    Point gradient(const Triangle& triangle, std::size_t slab) const {
        const auto g = field_.slopes(triangle);
        const std::size_t sides = s_.solid() ? 2 : 1;
        Point out;
        for (std::size_t e = 0; e < 3; ++e)
            for (std::size_t l = 0; l < sides; ++l) {
                const double v =
                    t_[triangle.node[e] + field_.stride() * (slab + l)] / static_cast<double>(sides);
                out.x += v * g[e].x;
                out.y += v * g[e].y;
            }
        return out;
    }

    // Heat toward higher x or y through one side of a cut cell, as its own triangles have it.
    double through(std::size_t c, std::size_t axis, std::size_t side) const {
        const auto [i, j, k] = s_.place(c);
        const Plan& plan = s_.plan;
        const CutCell& cut = *plan.cut_at(i + s_.stencil.nx * j);
        const std::size_t at = (axis == 0 ? i : j) + side;
        const double line = s_.grid.line[axis][at], near = 1e-6 * s_.grid.width(axis, axis == 0 ? i : j);
        double sum = 0.0;
        for (const Triangle& triangle : plan.triangles(cut)) {
            const double lambda = field_.lambda(cut, triangle, k);
            if (lambda == 0.0) continue;
            for (std::size_t v = 0; v < 3; ++v) {
                const Point& a = plan.node[triangle.node[v]];
                const Point& b = plan.node[triangle.node[(v + 1) % 3]];
                if (std::abs((axis == 0 ? a.x : a.y) - line) > near ||
                    std::abs((axis == 0 ? b.x : b.y) - line) > near)
                    continue;
                const double length = axis == 0 ? std::abs(b.y - a.y) : std::abs(b.x - a.x);
                const Point g = gradient(triangle, k);
                sum -= lambda * (axis == 0 ? g.x : g.y) * length * s_.metric.weight(0.5 * (a.x + b.x)) *
                       s_.grid.width(2, k);
            }
        }
        return sum;
    }

    // Heat upward through a cut cell.
    double along(std::size_t c) const {
        const auto [i, j, k] = s_.place(c);
        const Plan& plan = s_.plan;
        const CutCell& cut = *plan.cut_at(i + s_.stencil.nx * j);
        double sum = 0.0;
        for (const Triangle& triangle : plan.triangles(cut)) {
            double up = 0.0;
            for (const std::uint32_t v : triangle.node)
                up += t_[v + field_.stride() * (k + 1)] - t_[v + field_.stride() * k];
            sum -= field_.lambda(cut, triangle, k) * field_.area(triangle) * up / 3.0 / s_.grid.width(2, k);
        }
        return sum;
    }

    double film(const Facet& f) const {
        std::array<double, 4> v{}, part{};
        const double air = s_.patches[f.patch].environment == warm_ ? 1.0 : 0.0;
        for (std::size_t e = 0; e < f.count; ++e) v[e] = t_[f.node[e]] - air;
        f.product(v.data(), part.data());
        return (part[0] + part[1] + part[2] + part[3]) / f.film;
    }

    // A surface without film: what the material's own gradient brings.
    double bare(std::size_t patch) const {
        const Patch& p = s_.patches[patch];
        const auto [i, j, k] = s_.place(p.cell);
        const std::size_t axis = p.side / 2U, cell = i + s_.stencil.nx * j;
        const CutCell* cut = s_.plan.cut_at(cell);
        const double out = p.side % 2 == 1 ? 1.0 : -1.0;
        if (cut == nullptr)
            return -out * p.area * rise(p.cell, axis) * field_.whole(p.cell) /
                   s_.grid.width(axis, s_.place(p.cell)[axis]);
        if (axis == 2) return 0.0;
        const auto [from, to] = s_.foot[patch];
        for (const Triangle& triangle : s_.plan.triangles(*cut)) {
            const double lambda = field_.lambda(*cut, triangle, k);
            if (lambda == 0.0) continue;
            for (std::size_t v = 0; v < 3; ++v) {
                const std::uint32_t a = triangle.node[v], b = triangle.node[(v + 1) % 3];
                if (!((a == from && b == to) || (a == to && b == from))) continue;
                const Point& pa = s_.plan.node[a];
                const Point& pb = s_.plan.node[b];
                const double length = std::hypot(pb.x - pa.x, pb.y - pa.y);
                const Point g = gradient(triangle, k);
                return -lambda * (g.x * (pb.y - pa.y) - g.y * (pb.x - pa.x)) / length * p.area;
            }
        }
        return 0.0;
    }

    const System& s_;
    const Field& field_;
    const std::vector<double>& t_;
    std::size_t warm_;
};

}  // namespace

Result<Fluxes> balanced(const System& system, const Field& field, const std::vector<double>& t,
                        std::size_t warm, Multigrid& multigrid, const SolveOptions& options,
                        const StopToken& stop, Fluxes& sent, std::size_t& iterations) {
    Fluxes flux = Carrier(system, field, t, warm).run();
    const std::size_t n = system.grid.cells();
    std::vector<double> missing(n, 0.0), x(n, 0.0);
    for (std::size_t c = 0, patch = 0; c < n; ++c) {
        while (patch < system.patches.size() && system.patches[patch].cell < c) ++patch;
        for (const double v : outflow(system, c, patch, flux)) missing[c] -= v;
    }
    if (std::any_of(missing.begin(), missing.end(), [](double v) { return v != 0.0; })) {
        auto done = multigrid.solve(missing, x, options, stop);
        if (!done) return fail(done.error());
        iterations += done->iterations;
    }
    sent = fluxes_of(system, x, system.model->environments.size());
    for (std::size_t c = 0; c < n; ++c) {
        flux.east[c] += sent.east[c];
        flux.north[c] += sent.north[c];
        if (!flux.up.empty()) flux.up[c] += sent.up[c];
    }
    for (std::size_t p = 0; p < flux.patch.size(); ++p) flux.patch[p] += sent.patch[p];
    return flux;
}

}  // namespace warmside::conduction
