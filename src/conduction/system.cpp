#include "conduction/system.h"

#include <algorithm>
#include <cmath>

namespace warmside::conduction {

namespace {

class Builder {
public:
    Builder(const Model& model, Grid grid) : model_(model) {
        system_.model = &model;
        system_.metric = Metric(grid, model.geometry);
        system_.plan = make_plan(model, grid);
        system_.grid = std::move(grid);
        system_.lambda = conductivities(model);
    }

    System build() {
        const Grid& g = system_.grid;
        Stencil& s = system_.stencil;
        s.nx = g.count(0), s.ny = g.count(1), s.nz = g.count(2);
        for (std::size_t axis = 0; axis < 3; ++axis) {
            for (std::size_t i = 0; i < g.count(axis); ++i) s.width[axis].push_back(g.width(axis, i));
            s.keep[axis].assign(g.count(axis) + 1, false);
        }
        s.east.resize(g.cells());
        s.north.resize(g.cells());
        if (s.nz > 1) s.up.assign(g.cells(), 0.0F);
        s.ground.assign(g.cells(), 0.0F);
        system_.region.reserve(g.cells());
        std::size_t storey = system_.plan.region.size();
        PlanFaces faces;
        for (std::size_t k = 0; k < s.nz; ++k) {
            if (system_.plan.storey[k] != storey) {
                storey = system_.plan.storey[k];
                faces = plan_faces(model_, g, system_.metric, system_.plan, storey, system_.lambda);
                keep_lines(storey);
            }
            system_.first_patch.push_back(system_.patches.size());
            slab(k, faces);
        }
        system_.first_patch.push_back(system_.patches.size());
        leave_islands();
        settle_ground();
        return std::move(system_);
    }

private:
    void slab(std::size_t k, const PlanFaces& faces) {
        Stencil& s = system_.stencil;
        const std::size_t plane = s.nx * s.ny;
        const double depth = system_.grid.width(2, k);
        const auto& region = system_.plan.region[system_.plan.storey[k]];
        system_.region.insert(system_.region.end(), region.begin(), region.end());
        auto next = faces.patch.begin();
        for (std::size_t c = 0; c < plane; ++c) {
            s.east[c + plane * k] = static_cast<float>(faces.east[c] * depth);
            s.north[c + plane * k] = static_cast<float>(faces.north[c] * depth);
            for (; next != faces.patch.end() && next->cell == c; ++next) wall(*next, k, depth);
            if (s.nz == 1) continue;
            if (k > 0) across(c, k, k - 1, 4);
            if (k + 1 < s.nz) s.up[c + plane * k] = static_cast<float>(across(c, k, k + 1, 5));
        }
    }

    void wall(const PlanPatch& p, std::size_t k, double depth) {
        const auto& z = system_.grid.line[2];
        const std::size_t plane = system_.stencil.nx * system_.stencil.ny;
        Patch patch{.cell = p.cell + plane * k,
                    .region = p.region,
                    .air = p.air,
                    .environment = static_cast<std::uint16_t>(*model_.regions[p.air].environment),
                    .side = p.side,
                    .area = p.area * depth,
                    .film = p.film,
                    .conductance = p.conductance * depth};
        for (std::size_t e = 0; e < 4; ++e) {
            patch.at[e] = system_.plan.node[p.end[e % 2]];
            patch.at[e].z = system_.stencil.nz > 1 ? z[k + e / 2] : 0.0;
        }
        system_.patches.push_back(patch);
        system_.foot.push_back(p.end);
    }

    // Conductance through the face across z between two cells; patches of the first.
    double across(std::size_t c, std::size_t k, std::size_t other, std::uint8_t side) {
        const Plan& plan = system_.plan;
        const std::size_t here = plan.storey[k], there = plan.storey[other];
        if (plan.region[here][c] != plan.region[there][c]) system_.stencil.keep[2][std::max(k, other)] = true;
        const CutCell* cut = plan.cut_at(c);
        if (cut == nullptr) {
            const std::size_t i = c % plan.nx, j = c / plan.nx;
            const auto low = static_cast<std::uint32_t>(i + (plan.nx + 1) * j);
            const auto row = static_cast<std::uint32_t>(plan.nx + 1);
            return across(c, k, other, side, system_.metric.across[i] * system_.grid.width(1, j),
                          plan.region[here][c], plan.region[there][c],
                          {low, low + 1, low + row, low + row + 1}, 0);
        }
        double sum = 0.0;
        for (std::size_t p = 0; p < cut->piece.size(); ++p) {
            const std::size_t number = cut->first_piece + p;
            const auto& node = cut->piece[p].node;
            sum += across(c, k, other, side, cut->piece[p].area, plan.piece_region[here][number],
                          plan.piece_region[there][number], {node[0], node[1], node[2], node.back()},
                          static_cast<std::uint32_t>(number));
        }
        return sum;
    }

    double across(std::size_t c, std::size_t k, std::size_t other, std::uint8_t side, double area,
                  std::uint16_t a, std::uint16_t b, const std::array<std::uint32_t, 4>& node,
                  std::uint32_t piece) {
        if (!is_material(model_, a)) return 0.0;
        const Grid& g = system_.grid;
        const double half = 0.5 * g.width(2, k) / system_.lambda[a];
        if (is_material(model_, b)) return area / (half + 0.5 * g.width(2, other) / system_.lambda[b]);
        if (!is_air(model_, b)) return 0.0;
        Patch patch{.cell = c + system_.stencil.nx * system_.stencil.ny * k,
                    .region = a,
                    .air = b,
                    .environment = static_cast<std::uint16_t>(*model_.regions[b].environment),
                    .side = side,
                    .area = area,
                    .film = film_between(model_, a, b)};
        patch.conductance = area / (half + patch.film);
        for (std::size_t e = 0; e < 4; ++e) {
            patch.at[e] = system_.plan.node[node[e]];
            patch.at[e].z = g.line[2][std::max(k, other)];
        }
        system_.patches.push_back(patch);
        system_.foot.push_back({piece, 0});
        return 0.0;
    }

    void keep_lines(std::size_t storey) {
        const auto& region = system_.plan.region[storey];
        Stencil& s = system_.stencil;
        for (std::size_t j = 0, c = 0; j < s.ny; ++j)
            for (std::size_t i = 0; i < s.nx; ++i, ++c) {
                if (i + 1 < s.nx && region[c] != region[c + 1]) s.keep[0][i + 1] = true;
                if (j + 1 < s.ny && region[c] != region[c + s.nx]) s.keep[1][j + 1] = true;
            }
    }

    // Material that no environment reaches has no temperature: it is taken out.
    void leave_islands() {
        Stencil& s = system_.stencil;
        const std::size_t row = s.nx, plane = s.nx * s.ny;
        auto& reached = system_.part;
        reached.assign(s.cells(), false);
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
        auto& patches = system_.patches;
        for (std::size_t from = 0, to = 0; from < patches.size(); from = to) {
            double sum = 0.0;
            for (; to < patches.size() && patches[to].cell == patches[from].cell; ++to)
                sum += patches[to].conductance;
            const auto rounded = static_cast<float>(sum);
            system_.stencil.ground[patches[from].cell] = rounded;
            for (std::size_t p = from; p < to; ++p)
                patches[p].conductance *= static_cast<double>(rounded) / sum;
        }
    }

    const Model& model_;
    System system_;
};

}  // namespace

System discretise(const Model& model, Grid grid) {
    return Builder(model, std::move(grid)).build();
}

void unit_load(const System& system, std::size_t environment, std::span<double> b) {
    std::fill(b.begin(), b.end(), 0.0);
    for (const Patch& p : system.patches)
        if (p.environment == environment) b[p.cell] += p.conductance;
}

Fluxes fluxes_of(const System& system, std::span<const double> x, std::size_t warm) {
    const Stencil& s = system.stencil;
    const std::array<const float*, 3> g{s.east.data(), s.north.data(), s.up.data()};
    Fluxes out = face_fluxes(s, [&](std::size_t c, std::size_t n, std::size_t axis) {
        return static_cast<double>(g[axis][c]) * (x[c] - x[n]);
    });
    for (const Patch& p : system.patches)
        out.patch.push_back(p.conductance * (x[p.cell] - (p.environment == warm ? 1.0 : 0.0)));
    return out;
}

std::array<double, 7> outflow(const System& system, std::size_t c, std::size_t patch, const Fluxes& flux) {
    const Stencil& s = system.stencil;
    const std::size_t row = s.nx, plane = s.nx * s.ny;
    const auto [i, j, k] = system.place(c);
    std::array<double, 7> out{};
    if (i > 0) out[0] = -flux.east[c - 1];
    out[1] = flux.east[c];
    if (j > 0) out[2] = -flux.north[c - row];
    out[3] = flux.north[c];
    if (k > 0) out[4] = -flux.up[c - plane];
    if (k + 1 < s.nz) out[5] = flux.up[c];
    for (; patch < system.patches.size() && system.patches[patch].cell == c; ++patch)
        out[system.patches[patch].side] += flux.patch[patch];
    return out;
}

}  // namespace warmside::conduction
