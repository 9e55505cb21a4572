#include "conduction/system.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "conduction/shape.h"

namespace warmside::conduction {

namespace {

bool is_material(const Model& model, std::uint16_t region) {
    return region != no_region && !model.regions[region].environment;
}

// First cell whose centre lies above `value`.
std::size_t first_above(const Grid& grid, std::size_t axis, double value) {
    std::size_t i = 0;
    while (i < grid.count(axis) && grid.centre(axis, i) < value) ++i;
    return i;
}

std::vector<std::uint16_t> paint(const Model& model, const Grid& grid) {
    std::vector<std::uint16_t> region(grid.cells(), no_region);
    for (std::size_t r = 0; r < model.regions.size(); ++r) {
        const Shape& shape = model.regions[r].shape;
        const Extent e = extent_of(shape, model.geometry == Geometry::solid);
        std::array<std::size_t, 3> from{}, to{};
        for (std::size_t axis = 0; axis < 3; ++axis) {
            from[axis] = first_above(grid, axis, e.low[axis]);
            to[axis] = first_above(grid, axis, e.high[axis]);
        }
        bool straight = shape.outline.size() == 4;
        for (std::size_t i = 0; straight && i < 4; ++i)
            straight = axis_parallel(shape.outline[i], shape.outline[(i + 1) % 4]);
        for (std::size_t j = from[1]; j < to[1]; ++j)
            for (std::size_t i = from[0]; i < to[0]; ++i) {
                if (!straight && !inside(shape.outline, grid.centre(0, i), grid.centre(1, j))) continue;
                for (std::size_t k = from[2]; k < to[2]; ++k)
                    region[grid.index(i, j, k)] = static_cast<std::uint16_t>(r);
            }
    }
    return region;
}

// Builds the system cell by cell; at each face either a conductance or a patch, or nothing.
class Builder {
public:
    Builder(const Model& model, Grid grid) : model_(model) {
        system_.metric = Metric(grid, model.geometry);
        system_.grid = std::move(grid);
        system_.region = paint(model, system_.grid);
    }

    System build() {
        const Grid& g = system_.grid;
        Stencil& s = system_.stencil;
        s.nx = g.count(0), s.ny = g.count(1), s.nz = g.count(2);
        for (std::size_t axis = 0; axis < 3; ++axis) {
            for (std::size_t i = 0; i < g.count(axis); ++i) s.width[axis].push_back(g.width(axis, i));
            s.keep[axis].assign(g.count(axis) + 1, false);
        }
        s.east.assign(g.cells(), 0.0F);
        s.north.assign(g.cells(), 0.0F);
        if (s.nz > 1) s.up.assign(g.cells(), 0.0F);
        s.ground.assign(g.cells(), 0.0F);
        for (std::size_t k = 0; k < s.nz; ++k)
            for (std::size_t j = 0; j < s.ny; ++j)
                for (std::size_t i = 0; i < s.nx; ++i) cell({i, j, k});
        leave_islands();
        settle_ground();
        return std::move(system_);
    }

private:
    using Place3 = std::array<std::size_t, 3>;

    void cell(const Place3& at) {
        const Grid& g = system_.grid;
        Stencil& s = system_.stencil;
        const std::size_t c = g.index(at[0], at[1], at[2]);
        for (std::size_t axis = 0; axis < 3; ++axis) {
            if (axis == 2 && s.nz == 1) break;
            Place3 next = at;
            if (at[axis] > 0) {
                --next[axis];
                patch(c, at, g.index(next[0], next[1], next[2]), axis, 0);
            }
            next = at;
            if (++next[axis] == g.count(axis)) continue;
            const std::size_t n = g.index(next[0], next[1], next[2]);
            auto& face = axis == 0 ? s.east : axis == 1 ? s.north : s.up;
            face[c] = static_cast<float>(between(c, at, n, axis));
            patch(c, at, n, axis, 1);
            if (system_.region[c] != system_.region[n]) s.keep[axis][at[axis] + 1] = true;
        }
    }

    double area(const Place3& at, std::size_t axis, std::size_t side) const {
        const Metric& m = system_.metric;
        if (axis == 0) return m.x_face(system_.grid, at[0] + side, at[1], at[2]);
        if (axis == 1) return m.y_face(system_.grid, at[0], at[2]);
        return m.z_face(system_.grid, at[0], at[1]);
    }

    double between(std::size_t c, const Place3& at, std::size_t n, std::size_t axis) const {
        const std::uint16_t a = system_.region[c], b = system_.region[n];
        if (!is_material(model_, a) || !is_material(model_, b)) return 0.0;
        const Metric& m = system_.metric;
        return area(at, axis, 1) / (m.to_high[axis][at[axis]] / model_.regions[a].conductivity +
                                    m.to_low[axis][at[axis] + 1] / model_.regions[b].conductivity);
    }

    void patch(std::size_t c, const Place3& at, std::size_t n, std::size_t axis, std::size_t side) {
        const std::uint16_t a = system_.region[c], b = system_.region[n];
        if (!is_material(model_, a) || b == no_region || !model_.regions[b].environment) return;
        const Region& material = model_.regions[a];
        const Region& air = model_.regions[b];
        const Metric& m = system_.metric;
        Patch p{.cell = c,
                .region = a,
                .air = b,
                .environment = static_cast<std::uint16_t>(*air.environment),
                .side = static_cast<std::uint8_t>(2 * axis + side),
                .area = area(at, axis, side),
                .film = material.own_film.value_or(air.film)};
        const double half = (side == 0 ? m.to_low : m.to_high)[axis][at[axis]];
        p.conductance = p.area / (half / material.conductivity + p.film);
        ends(p, at, axis, side);
        if (p.conductance > 0.0) system_.patches.push_back(p);
    }

    void ends(Patch& p, const Place3& at, std::size_t axis, std::size_t side) const {
        const Grid& g = system_.grid;
        const std::size_t u = axis == 0 ? 1 : 0, v = axis == 2 ? 1 : 2;
        for (std::size_t e = 0; e < 4; ++e) {
            std::array<double, 3> x{};
            x[axis] = g.line[axis][at[axis] + side];
            x[u] = g.line[u][at[u] + e % 2];
            x[v] = g.line[v][at[v] + e / 2];
            p.at[e] = {x[0], x[1], model_.geometry == Geometry::solid ? x[2] : 0.0};
        }
    }

    // Material that no environment reaches has no temperature: it is taken out.
    void leave_islands() {
        Stencil& s = system_.stencil;
        const std::size_t row = s.nx, plane = s.nx * s.ny;
        std::vector<bool> reached(s.cells(), false);
        std::vector<std::size_t> open;
        const auto visit = [&](std::size_t c) {
            if (reached[c]) return;
            reached[c] = true;
            open.push_back(c);
        };
        for (const Patch& p : system_.patches) visit(p.cell);
        while (!open.empty()) {
            const std::size_t c = open.back();
            open.pop_back();
            const std::size_t i = c % row, j = c / row % s.ny, k = c / plane;
            if (s.east[c] > 0.0F) visit(c + 1);
            if (i > 0 && s.east[c - 1] > 0.0F) visit(c - 1);
            if (s.north[c] > 0.0F) visit(c + row);
            if (j > 0 && s.north[c - row] > 0.0F) visit(c - row);
            if (s.nz > 1 && s.up[c] > 0.0F) visit(c + plane);
            if (k > 0 && s.up[c - plane] > 0.0F) visit(c - plane);
        }
        for (std::size_t c = 0; c < s.cells(); ++c)
            if (!reached[c]) {
                s.east[c] = s.north[c] = 0.0F;
                if (s.nz > 1) s.up[c] = 0.0F;
            }
    }

    // The rounded sum is shared out again, so that what a cell gives off is what the environments get.
    void settle_ground() {
        Stencil& s = system_.stencil;
        auto& patches = system_.patches;
        for (std::size_t from = 0, to = 0; from < patches.size(); from = to) {
            double sum = 0.0;
            for (; to < patches.size() && patches[to].cell == patches[from].cell; ++to)
                sum += patches[to].conductance;
            const auto rounded = static_cast<float>(sum);
            s.ground[patches[from].cell] = rounded;
            for (std::size_t p = from; p < to; ++p)
                patches[p].conductance *= static_cast<double>(rounded) / sum;
        }
    }

    const Model& model_;
    System system_;
};

}  // namespace

Metric::Metric(const Grid& grid, Geometry geometry) {
    const bool revolved = geometry == Geometry::axisymmetric;
    constexpr double pi = std::numbers::pi;
    for (std::size_t axis = 0; axis < 3; ++axis)
        for (std::size_t i = 0; i < grid.count(axis); ++i) {
            const double low = grid.line[axis][i], high = grid.line[axis][i + 1], mid = grid.centre(axis, i);
            const bool radial = revolved && axis == 0;
            to_low[axis].push_back(radial ? (low > 0.0 ? low * std::log(mid / low) : 0.0) : mid - low);
            to_high[axis].push_back(radial ? high * std::log(high / mid) : high - mid);
        }
    for (const double x : grid.line[0]) around.push_back(revolved ? 2.0 * pi * x : 1.0);
    for (std::size_t i = 0; i < grid.count(0); ++i)
        across.push_back(revolved ? 2.0 * pi * grid.centre(0, i) * grid.width(0, i) : grid.width(0, i));
}

System discretise(const Model& model, Grid grid) {
    return Builder(model, std::move(grid)).build();
}

void unit_load(const System& system, std::size_t environment, std::span<double> b) {
    std::fill(b.begin(), b.end(), 0.0);
    for (const Patch& p : system.patches)
        if (p.environment == environment) b[p.cell] += p.conductance;
}

void to_corners(const Model& model, const System& system, std::span<const double> x,
                std::span<const double> air, std::vector<double>& corner) {
    const Grid& g = system.grid;
    const Stencil& s = system.stencil;
    const Metric& m = system.metric;
    const bool solid = s.nz > 1;
    const std::size_t row = s.nx + 1, plane = row * (s.ny + 1), count = plane * (solid ? s.nz + 1 : 1);
    corner.assign(count, 0.0);
    std::vector<double> weight(count, 0.0);
    auto patch = system.patches.begin();
    for (std::size_t k = 0, c = 0; k < s.nz; ++k)
        for (std::size_t j = 0; j < s.ny; ++j)
            for (std::size_t i = 0; i < s.nx; ++i, ++c) {
                // Heat that leaves through each face, W.
                std::array<double, 7> out{};
                bool part = s.ground[c] > 0.0F;
                const auto face = [&](std::size_t side, double g_face, std::size_t n) {
                    out[side] = g_face * (x[c] - x[n]);
                    part = part || g_face > 0.0;
                };
                if (i > 0) face(0, static_cast<double>(s.east[c - 1]), c - 1);
                if (i + 1 < s.nx) face(1, static_cast<double>(s.east[c]), c + 1);
                if (j > 0) face(2, static_cast<double>(s.north[c - s.nx]), c - s.nx);
                if (j + 1 < s.ny) face(3, static_cast<double>(s.north[c]), c + s.nx);
                if (k > 0) face(4, static_cast<double>(s.up[c - s.nx * s.ny]), c - s.nx * s.ny);
                if (k + 1 < s.nz) face(5, static_cast<double>(s.up[c]), c + s.nx * s.ny);
                for (; patch != system.patches.end() && patch->cell == c; ++patch)
                    out[patch->side] += patch->conductance * (x[c] - air[patch->environment]);
                if (!part) continue;
                const double lambda = model.regions[system.region[c]].conductivity;
                const std::array<double, 6> area{m.x_face(g, i, j, k), m.x_face(g, i + 1, j, k),
                                                 m.y_face(g, i, k),    m.y_face(g, i, k),
                                                 m.z_face(g, i, j),    m.z_face(g, i, j)};
                const std::array<double, 6> half{m.to_low[0][i],  m.to_high[0][i], m.to_low[1][j],
                                                 m.to_high[1][j], m.to_low[2][k],  m.to_high[2][k]};
                std::array<double, 6> drop{};
                for (std::size_t side = 0; side < 6; ++side)
                    drop[side] = area[side] > 0.0 ? out[side] * half[side] / (area[side] * lambda) : 0.0;
                for (std::size_t e = 0; e < (solid ? 8U : 4U); ++e) {
                    const std::size_t v = i + e % 2 + row * (j + e / 2 % 2) + plane * (k + e / 4);
                    corner[v] +=
                        lambda * (x[c] - drop[e % 2] - drop[2 + e / 2 % 2] - (solid ? drop[4 + e / 4] : 0.0));
                    weight[v] += lambda;
                }
            }
    for (std::size_t v = 0; v < count; ++v)
        if (weight[v] > 0.0) corner[v] /= weight[v];
    // A surface without film has the temperature of its air.
    for (const Patch& p : system.patches) {
        if (p.film > 0.0 || p.side > 5) continue;
        const std::size_t i = p.cell % s.nx, j = p.cell / s.nx % s.ny, k = p.cell / (s.nx * s.ny);
        for (std::size_t e = 0; e < (solid ? 8U : 4U); ++e) {
            const std::array<std::size_t, 3> bit{e % 2, e / 2 % 2, e / 4};
            if (bit[p.side / 2U] == p.side % 2U)
                corner[i + bit[0] + row * (j + bit[1]) + plane * (k + bit[2])] = air[p.environment];
        }
    }
}

}  // namespace warmside::conduction
