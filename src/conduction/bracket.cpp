#include "conduction/bracket.h"

#include <algorithm>
#include <cmath>

#include "base/parallel.h"
#include "conduction/cut_gap.h"

namespace warmside::conduction {

namespace {

// Parts of the difference q - p and of p in one cell that are orthogonal to each other, scaled so that the
// sum of their products is the integral; `axis` says which splitting a part would answer to (3: any).
struct Parts {
    std::array<double, 20> gap{}, energy{};
    std::array<std::uint8_t, 20> axis{};
    std::size_t gaps = 0, energies = 0;
    void add(double v, std::size_t a) {
        axis[gaps] = static_cast<std::uint8_t>(a);
        gap[gaps++] = v;
    }
    void add_energy(double v) { energy[energies++] = v; }
};

// What one slab of cells adds.
struct Sums {
    std::vector<double> energy, gap;
    std::array<std::vector<double>, 3> share;
};

class Evaluation {
public:
    Evaluation(const System& system, const Field& field, const std::vector<Fluxes>& flux,
               const std::vector<Fluxes>& sent, const std::vector<std::vector<double>>& t, double near)
        : s_(system),
          field_(field),
          flux_(flux),
          sent_(sent),
          t_(t),
          near_(near),
          n_(flux.size()),
          axes_(system.solid() ? 3 : 2) {
        // Facets of a cell lie together, in the order of the patches.
        for (std::size_t f = 0; f < field.facets().size(); ++f) {
            const std::size_t slab = system.place(system.patches[field.facets()[f].patch].cell)[2];
            while (first_facet_.size() <= slab) first_facet_.push_back(f);
        }
        while (first_facet_.size() <= system.stencil.nz) first_facet_.push_back(field.facets().size());
    }

    void slab(std::size_t k, Sums& sums) const {
        sums.energy.assign(n_ * n_, 0.0);
        sums.gap.assign(n_ * n_, 0.0);
        for (std::size_t axis = 0; axis < 3; ++axis) sums.share[axis].assign(s_.grid.count(axis), 0.0);
        std::vector<Parts> parts(n_);
        const std::size_t nx = s_.stencil.nx, ny = s_.stencil.ny;
        std::size_t patch = s_.first_patch[k];
        for (std::size_t j = 0, c = nx * ny * k; j < ny; ++j)
            for (std::size_t i = 0; i < nx; ++i, ++c) {
                while (patch < s_.patches.size() && s_.patches[patch].cell < c) ++patch;
                if (!s_.part[c] || left_out({i, j, k})) continue;
                if (const CutCell* cut = s_.plan.cut_at(i + nx * j)) {
                    cut_cell(*cut, {i, j, k}, patch, sums);
                    continue;
                }
                for (std::size_t e = 0; e < n_; ++e) {
                    parts[e] = {};
                    const auto out = outflow(s_, c, patch, flux_[e]);
                    if (s_.solid())
                        solid_cell(c, {i, j, k}, out, t_[e], parts[e]);
                    else
                        flat_cell(c, {i, j, k}, out, t_[e], parts[e]);
                }
                collect(parts, {i, j, k}, sums);
            }
        for (std::size_t f = first_facet_[k]; f < first_facet_[k + 1]; ++f) facet(field_.facets()[f], sums);
    }

private:
    using Place3 = std::array<std::size_t, 3>;

    bool left_out(const Place3& at) const {
        for (const Point& p : field_.clashes()) {
            const double dx = s_.grid.centre(0, at[0]) - p.x, dy = s_.grid.centre(1, at[1]) - p.y;
            const double dz = s_.solid() ? s_.grid.centre(2, at[2]) - p.z : 0.0;
            if (dx * dx + dy * dy + dz * dz < near_ * near_) return true;
        }
        return false;
    }

    void collect(const std::vector<Parts>& parts, const Place3& at, Sums& sums) const {
        if (n_ == 0) return;
        for (std::size_t i = 0; i < n_; ++i)
            for (std::size_t j = 0; j < n_; ++j) {
                double energy = 0.0, gap = 0.0;
                for (std::size_t m = 0; m < parts[i].energies; ++m)
                    energy += parts[i].energy[m] * parts[j].energy[m];
                for (std::size_t m = 0; m < parts[i].gaps; ++m) gap += parts[i].gap[m] * parts[j].gap[m];
                sums.energy[i * n_ + j] += energy;
                sums.gap[i * n_ + j] += gap;
            }
        for (std::size_t m = 0; m < parts[0].gaps; ++m) {
            double sum = 0.0, last = 0.0;
            for (const Parts& p : parts) {
                sum += p.gap[m] * p.gap[m];
                last += p.gap[m];
            }
            // The problem of the last environment is the sum of the others, turned round.
            give(n_ > 1 ? sum + last * last : sum, parts[0].axis[m], at, sums);
        }
    }

    void give(double value, std::size_t axis, const Place3& at, Sums& sums) const {
        for (std::size_t a = 0; a < std::min<std::size_t>(3, axes_); ++a)
            if (axis == a)
                sums.share[a][at[a]] += value;
            else if (axis > 2)
                sums.share[a][at[a]] += value / static_cast<double>(axes_);
    }

    void flat_cell(std::size_t c, const Place3& at, const std::array<double, 7>& out,
                   const std::vector<double>& t, Parts& parts) const {
        const Grid& g = s_.grid;
        const Metric& m = s_.metric;
        const double lambda = field_.whole(c), hx = g.width(0, at[0]), hy = g.width(1, at[1]);
        const double volume = m.across[at[0]] * hy, low = m.area(g, at, 0, 0), high = m.area(g, at, 0, 1);
        const std::size_t row = s_.stencil.nx + 1, n = at[0] + row * at[1];
        const double t0 = t[n], t1 = t[n + 1], t2 = t[n + row], t3 = t[n + row + 1];
        const double scale = std::sqrt(volume / lambda), root12 = std::sqrt(12.0);

        // Along x: the gradient's mean and its change along y; flux linear (of a revolution r q linear in
        // r2).
        const double slope = 0.5 * (t1 - t0 + t3 - t2) / hx, turn = (t3 - t2 - t1 + t0) / hx;
        if (m.revolved) {
            radial(at, out, lambda, slope, parts);
        } else {
            const double q0 = -out[0] / low, q1 = out[1] / high;
            parts.add(scale * (0.5 * (q0 + q1) + lambda * slope), 3);
            parts.add(scale * (q1 - q0) / root12, 0);
        }
        parts.add(scale * lambda * turn / root12, 1);
        parts.add_energy(scale * lambda * slope);
        parts.add_energy(scale * lambda * turn / root12);

        // Along y: the gradient runs linearly across x, whose weight may grow with the radius.
        const double area = m.across[at[0]];
        const double a = m.weight(g.line[0][at[0]]), b = m.weight(g.line[0][at[0] + 1]);
        const double mean = hx * (a + 2 * b) / 6.0 / area, square = hx * (a + 3 * b) / 12.0 / area;
        const double left = (t2 - t0) / hy, right = (t3 - t1) / hy;
        const double rise = left + (right - left) * mean;
        const double spread = (right - left) * std::sqrt(std::max(0.0, square - mean * mean));
        const double q0 = -out[2] / area, q1 = out[3] / area;
        parts.add(scale * (0.5 * (q0 + q1) + lambda * rise), 3);
        parts.add(scale * (q1 - q0) / root12, 1);
        parts.add(scale * lambda * spread, 0);
        parts.add_energy(scale * lambda * rise);
        parts.add_energy(scale * lambda * spread);
    }

    // Heat through radius r is linear in r2; five Gauss points across the cell.
    void radial(const Place3& at, const std::array<double, 7>& out, double lambda, double slope,
                Parts& parts) const {
        const Grid& g = s_.grid;
        const double r0 = g.line[0][at[0]], r1 = g.line[0][at[0] + 1], hy = g.width(1, at[1]);
        const double far = std::sqrt(5.0 + 2.0 * std::sqrt(10.0 / 7.0)) / 6.0;
        const double near = std::sqrt(5.0 - 2.0 * std::sqrt(10.0 / 7.0)) / 6.0;
        const std::array<double, 5> point{0.5 - far, 0.5 - near, 0.5, 0.5 + near, 0.5 + far};
        const double outer = (322.0 - 13.0 * std::sqrt(70.0)) / 1800.0,
                     inner = (322.0 + 13.0 * std::sqrt(70.0)) / 1800.0;
        const std::array<double, 5> share{outer, inner, 128.0 / 450.0, inner, outer};
        std::array<double, 5> value{}, weight{};
        double sum = 0.0, mean = 0.0;
        for (std::size_t p = 0; p < 5; ++p) {
            const double r = r0 + (r1 - r0) * point[p], part = (r * r - r0 * r0) / (r1 * r1 - r0 * r0);
            const double around = s_.metric.weight(r);
            value[p] = (-out[0] * (1.0 - part) + out[1] * part) / (around * hy) + lambda * slope;
            weight[p] = share[p] * around * (r1 - r0) * hy / lambda;
            sum += weight[p];
            mean += weight[p] * value[p];
        }
        mean /= sum;
        parts.add(std::sqrt(sum) * mean, 3);
        for (std::size_t p = 0; p < 5; ++p) parts.add(std::sqrt(weight[p]) * (value[p] - mean), 0);
    }

    void solid_cell(std::size_t c, const Place3& at, const std::array<double, 7>& out,
                    const std::vector<double>& t, Parts& parts) const {
        const Grid& g = s_.grid;
        const double lambda = field_.whole(c);
        const std::array<double, 3> h{g.width(0, at[0]), g.width(1, at[1]), g.width(2, at[2])};
        const double volume = h[0] * h[1] * h[2], scale = std::sqrt(volume / lambda);
        const double root12 = std::sqrt(12.0);
        const std::size_t row = s_.stencil.nx + 1, n = at[0] + row * at[1] + field_.stride() * at[2];
        std::array<double, 8> v{};
        for (std::size_t e = 0; e < 8; ++e)
            v[e] = t[n + e % 2 + row * (e / 2 % 2) + field_.stride() * (e / 4)];
        for (std::size_t axis = 0; axis < 3; ++axis) {
            const std::size_t step = std::size_t{1} << axis;
            const std::size_t u = axis == 0 ? 1 : 0, w = axis == 2 ? 1 : 2;
            const std::size_t ou = std::size_t{1} << u, ow = std::size_t{1} << w;
            const auto rise = [&](std::size_t e) { return (v[e + step] - v[e]) / h[axis]; };
            const double r0 = rise(0), r1 = rise(ou), r2 = rise(ow), r3 = rise(ou + ow);
            const double mean = 0.25 * (r0 + r1 + r2 + r3);
            const std::array<double, 3> turn{0.5 * (r1 + r3 - r0 - r2) / root12,
                                             0.5 * (r2 + r3 - r0 - r1) / root12, (r3 - r2 - r1 + r0) / 12.0};
            const double face = volume / h[axis], q0 = -out[2 * axis] / face, q1 = out[2 * axis + 1] / face;
            parts.add(scale * (0.5 * (q0 + q1) + lambda * mean), 3);
            parts.add(scale * (q1 - q0) / root12, axis);
            parts.add_energy(scale * lambda * mean);
            const std::array<std::size_t, 3> to{u, w, std::abs(turn[0]) > std::abs(turn[1]) ? u : w};
            for (std::size_t m = 0; m < 3; ++m) {
                parts.add(scale * lambda * turn[m], to[m]);
                parts.add_energy(scale * lambda * turn[m]);
            }
        }
    }

    // Film: the flux of the cell against the one that the surface's temperature drives.
    void facet(const Facet& f, Sums& sums) const {
        const Patch& p = s_.patches[f.patch];
        const Place3 at = s_.place(p.cell);
        if (left_out(at)) return;
        const bool cut = s_.plan.cut_at(p.cell % (s_.stencil.nx * s_.stencil.ny)) != nullptr;
        std::vector<std::array<double, 4>> drive(n_), other(n_);
        for (std::size_t e = 0; e < n_; ++e) {
            const double air = p.environment == e ? 1.0 : 0.0;
            const double flux = cut ? 0.0 : flux_[e].patch[f.patch] / p.area;
            for (std::size_t v = 0; v < f.count; ++v) {
                drive[e][v] = (t_[e][f.node[v]] - air) / f.film;
                other[e][v] = cut ? 0.0 : flux - drive[e][v];
            }
        }
        const auto product = [&](const std::array<double, 4>& a, const std::array<double, 4>& b) {
            std::array<double, 4> mb{};
            f.product(b.data(), mb.data());
            double sum = 0.0;
            for (std::size_t v = 0; v < f.count; ++v) sum += a[v] * mb[v];
            return sum * f.film;
        };
        double trace = 0.0, last = 0.0;
        for (std::size_t i = 0; i < n_; ++i)
            for (std::size_t j = 0; j < n_; ++j) {
                const double gap = product(other[i], other[j]);
                sums.energy[i * n_ + j] += product(drive[i], drive[j]);
                sums.gap[i * n_ + j] += gap;
                if (i == j) trace += gap;
                last += gap;
            }
        give(n_ > 1 ? trace + last : trace, 3, at, sums);
    }

    void cut_cell(const CutCell& cut, const Place3& at, std::size_t patch, Sums& sums) const {
        CutSums own{.energy = std::vector<double>(n_ * n_, 0.0), .gap = std::vector<double>(n_ * n_, 0.0)};
        CutGap{s_, field_, sent_, t_}.add(cut, at, patch, own);
        double trace = 0.0, last = 0.0;
        for (std::size_t i = 0; i < n_; ++i)
            for (std::size_t j = 0; j < n_; ++j) {
                sums.energy[i * n_ + j] += own.energy[i * n_ + j];
                sums.gap[i * n_ + j] += own.gap[i * n_ + j];
                if (i == j) trace += own.gap[i * n_ + j];
                last += own.gap[i * n_ + j];
            }
        const double flat = std::max(0.0, (n_ > 1 ? trace + last : trace) - own.along_z);
        give(0.5 * flat, 0, at, sums);
        give(0.5 * flat, 1, at, sums);
        give(own.along_z, 2, at, sums);
    }

    const System& s_;
    const Field& field_;
    const std::vector<Fluxes>& flux_;
    const std::vector<Fluxes>& sent_;
    const std::vector<std::vector<double>>& t_;
    double near_;
    std::size_t n_, axes_;
    std::vector<std::size_t> first_facet_;
};

}  // namespace

Bracket bracket(const System& system, const Field& field, const std::vector<Fluxes>& flux,
                const std::vector<Fluxes>& sent, const std::vector<std::vector<double>>& t, double near,
                unsigned threads) {
    const std::size_t n = flux.size(), slabs = system.stencil.nz;
    const Evaluation evaluation(system, field, flux, sent, t, near);
    std::vector<Sums> sums(slabs);
    parallel_for(slabs, [&](std::size_t k) { evaluation.slab(k, sums[k]); }, {}, threads);
    Bracket out{
        .problems = n, .energy = std::vector<double>(n * n, 0.0), .gap = std::vector<double>(n * n, 0.0)};
    for (std::size_t axis = 0; axis < 3; ++axis) out.share[axis].assign(system.grid.count(axis), 0.0);
    for (const Sums& s : sums) {
        for (std::size_t m = 0; m < n * n; ++m) {
            out.energy[m] += s.energy[m];
            out.gap[m] += s.gap[m];
        }
        for (std::size_t axis = 0; axis < 3; ++axis)
            for (std::size_t i = 0; i < s.share[axis].size(); ++i) out.share[axis][i] += s.share[axis][i];
    }
    out.bound = system.plan.cut.empty() && field.clashes().empty();
    return out;
}

}  // namespace warmside::conduction
