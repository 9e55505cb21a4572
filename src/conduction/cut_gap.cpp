#include "conduction/cut_gap.h"

#include <cmath>

namespace warmside::conduction {

void CutGap::add(const CutCell& cut, const Place3& at, std::size_t patch, CutSums& sums) const {
    std::vector<Slope> slope(t_.size() * s_.plan.triangles(cut).size());
    energies(cut, at[2], slope, sums);
    jumps(cut, at[2], slope, sums.gap);
    unbalanced(at, patch, sums.gap);
}

void CutGap::energies(const CutCell& cut, std::size_t slab, std::vector<Slope>& slope, CutSums& sums) const {
    const auto triangles = s_.plan.triangles(cut);
    const std::size_t n = t_.size(), sides = s_.solid() ? 2 : 1;
    const double h = s_.grid.width(2, slab);
    const auto dot = [](const Point& p, const Point& q) { return p.x * q.x + p.y * q.y; };
    std::vector<std::array<double, 3>> rise(n);
    for (std::size_t m = 0; m < triangles.size(); ++m) {
        const Triangle& triangle = triangles[m];
        const double weight = field_.lambda(cut, triangle, slab) * field_.area(triangle);
        if (weight == 0.0) continue;
        const auto g = field_.slopes(triangle);
        for (std::size_t e = 0; e < n; ++e)
            for (std::size_t v = 0; v < 3; ++v) {
                const double* at = t_[e].data() + field_.stride() * slab + triangle.node[v];
                for (std::size_t s = 0; s < sides; ++s) {
                    slope[n * m + e][s].x += at[field_.stride() * s] * g[v].x;
                    slope[n * m + e][s].y += at[field_.stride() * s] * g[v].y;
                }
                if (sides == 2) rise[e][v] = at[field_.stride()] - at[0];
            }
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t j = 0; j < n; ++j) {
                const Slope& a = slope[n * m + i];
                const Slope& b = slope[n * m + j];
                if (sides == 1) {
                    sums.energy[i * n + j] += weight * dot(a[0], b[0]);
                    continue;
                }
                double along = 0.0, si = 0.0, sj = 0.0;
                for (std::size_t v = 0; v < 3; ++v) {
                    along += rise[i][v] * rise[j][v];
                    si += rise[i][v];
                    sj += rise[j][v];
                }
                sums.energy[i * n + j] +=
                    weight *
                    (h / 6.0 *
                         (2 * dot(a[0], b[0]) + 2 * dot(a[1], b[1]) + dot(a[0], b[1]) + dot(a[1], b[0])) +
                     (along + si * sj) / (12.0 * h));
                const Point ca{a[1].x - a[0].x, a[1].y - a[0].y}, cb{b[1].x - b[0].x, b[1].y - b[0].y};
                const double turn = weight * h / 12.0 * dot(ca, cb);
                sums.gap[i * n + j] += turn;
                if (i == j) sums.along_z += turn;
            }
    }
}

void CutGap::jumps(const CutCell& cut, std::size_t slab, const std::vector<Slope>& slope,
                   std::vector<double>& gap) const {
    const Plan& plan = s_.plan;
    const auto triangles = plan.triangles(cut);
    const std::size_t to = triangles.size(), n = t_.size(), sides = s_.solid() ? 2 : 1;
    std::vector<double> jump(n);
    for (std::size_t m = 0; m < to; ++m) {
        const Triangle& triangle = triangles[m];
        const double lambda = field_.lambda(cut, triangle, slab);
        if (lambda == 0.0) continue;
        for (std::size_t v = 0; v < 3; ++v) {
            const std::uint32_t a = triangle.node[v], b = triangle.node[(v + 1) % 3];
            std::size_t other = to;
            for (std::size_t o = 0; o < to; ++o)
                for (std::size_t w = 0; w < 3; ++w)
                    if (triangles[o].node[w] == b && triangles[o].node[(w + 1) % 3] == a) other = o;
            if (other == to) continue;  // a side of the cell
            const double beyond = field_.lambda(cut, triangles[other], slab);
            if (beyond > 0.0 && other < m) continue;
            double film = 0.0;
            std::size_t environment = n;
            if (beyond == 0.0 && !film_of(triangle, triangles[other], slab, film, environment)) continue;
            const Point& pa = plan.node[a];
            const Point& pb = plan.node[b];
            const double length = std::hypot(pb.x - pa.x, pb.y - pa.y);
            const Point normal{(pb.y - pa.y) / length, (pa.x - pb.x) / length};
            const double weight = length * length * s_.metric.weight(0.5 * (pa.x + pb.x)) *
                                  s_.grid.width(2, slab) /
                                  (6.0 * (lambda + beyond) * static_cast<double>(sides));
            for (std::size_t s = 0; s < sides; ++s) {
                for (std::size_t e = 0; e < n; ++e) {
                    const Point& g = slope[n * m + e][s];
                    jump[e] = -lambda * (g.x * normal.x + g.y * normal.y);
                    if (beyond > 0.0) {
                        const Point& o = slope[n * other + e][s];
                        jump[e] += beyond * (o.x * normal.x + o.y * normal.y);
                    } else {
                        const double* level = t_[e].data() + field_.stride() * (slab + s);
                        jump[e] -= (0.5 * (level[a] + level[b]) - (environment == e ? 1.0 : 0.0)) / film;
                    }
                }
                for (std::size_t i = 0; i < n; ++i)
                    for (std::size_t j = 0; j < n; ++j) gap[i * n + j] += weight * jump[i] * jump[j];
            }
        }
    }
}

// Half of what went through a face belongs to the neighbour.
void CutGap::unbalanced(const Place3& at, std::size_t patch, std::vector<double>& gap) const {
    const Stencil& s = s_.stencil;
    const std::size_t row = s.nx, plane = s.nx * s.ny, c = at[0] + row * at[1] + plane * at[2], n = t_.size();
    const auto face = [&](float g, auto&& value, double share) {
        if (!(g > 0.0F)) return;
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t j = 0; j < n; ++j)
                gap[i * n + j] += share * value(sent_[i]) * value(sent_[j]) / static_cast<double>(g);
    };
    face(s.east[c], [&](const Fluxes& f) { return f.east[c]; }, 0.5);
    face(s.north[c], [&](const Fluxes& f) { return f.north[c]; }, 0.5);
    if (at[0] > 0) face(s.east[c - 1], [&](const Fluxes& f) { return f.east[c - 1]; }, 0.5);
    if (at[1] > 0) face(s.north[c - row], [&](const Fluxes& f) { return f.north[c - row]; }, 0.5);
    if (s.nz > 1) face(s.up[c], [&](const Fluxes& f) { return f.up[c]; }, 0.5);
    if (at[2] > 0) face(s.up[c - plane], [&](const Fluxes& f) { return f.up[c - plane]; }, 0.5);
    for (; patch < s_.patches.size() && s_.patches[patch].cell == c; ++patch)
        face(
            static_cast<float>(s_.patches[patch].conductance),
            [&](const Fluxes& f) { return f.patch[patch]; }, 1.0);
}

// False where the surface has no film (its temperature is given) or is adiabatic.
bool CutGap::film_of(const Triangle& material, const Triangle& beyond, std::size_t slab, double& film,
                     std::size_t& environment) const {
    const auto& region = s_.plan.piece_region[s_.plan.storey[slab]];
    const std::uint16_t a = region[material.piece], b = region[beyond.piece];
    if (!is_air(*s_.model, b)) return false;
    film = film_between(*s_.model, a, b);
    environment = *s_.model->regions[b].environment;
    return film > 0.0;
}

}  // namespace warmside::conduction
