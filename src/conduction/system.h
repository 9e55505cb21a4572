// A model on a grid: conductances between cells and to the air.
#pragma once

#include <span>

#include "conduction/faces.h"
#include "conduction/steady.h"
#include "conduction/stencil.h"

namespace warmside::conduction {

struct System {
    const Model* model = nullptr;  ///< must outlive it
    Grid grid;
    Metric metric;
    Plan plan;
    std::vector<double> lambda;         ///< [region] W/(m K), 0 of air
    std::vector<std::uint16_t> region;  ///< [cell] of the largest part
    std::vector<bool> part;             ///< [cell] takes part: material that an environment reaches
    Stencil stencil;
    std::vector<Patch> patches;  ///< in the order of the cells
    /// Of each patch: the two nodes of the plan that it stands on; of a face across z of a piece the piece.
    std::vector<std::array<std::uint32_t, 2>> foot;
    std::vector<std::size_t> first_patch;  ///< [slab], one more at the end

    [[nodiscard]] bool solid() const { return stencil.nz > 1; }
    [[nodiscard]] std::array<std::size_t, 3> place(std::size_t cell) const {
        return {cell % stencil.nx, cell / stencil.nx % stencil.ny, cell / (stencil.nx * stencil.ny)};
    }
};

/// Fluxes that balance: conductances harmonic across an interface, film in series at air. A three-dimensional
/// grid has at least two slabs.
[[nodiscard]] System discretise(const Model& model, Grid grid);

/// Right-hand side of the problem with 1 K in one environment and 0 in all others; b [cells].
void unit_load(const System& system, std::size_t environment, std::span<double> b);

/// Heat through the faces between cells, toward higher x, y, z, and through each patch, from the material, W.
struct Fluxes {
    std::vector<double> east, north, up;  ///< [cell]; `up` empty in two dimensions
    std::vector<double> patch;            ///< [patch]
};

/// heat(cell, neighbour, axis) of each face that conducts; `patch` is left empty.
template <class Heat>
[[nodiscard]] Fluxes face_fluxes(const Stencil& s, Heat heat) {
    const std::size_t row = s.nx, plane = s.nx * s.ny, n = s.cells();
    Fluxes out{.east = std::vector<double>(n, 0.0),
               .north = std::vector<double>(n, 0.0),
               .up = std::vector<double>(s.nz > 1 ? n : 0, 0.0),
               .patch = {}};
    for (std::size_t c = 0; c < n; ++c) {
        if (s.east[c] > 0.0F) out.east[c] = heat(c, c + 1, 0);
        if (s.north[c] > 0.0F) out.north[c] = heat(c, c + row, 1);
        if (s.nz > 1 && s.up[c] > 0.0F) out.up[c] = heat(c, c + plane, 2);
    }
    return out;
}

/// Of cell temperatures `x` with 1 K in the environment `warm`.
[[nodiscard]] Fluxes fluxes_of(const System& system, std::span<const double> x, std::size_t warm);

/// Heat that leaves a cell through its six faces and its slopes, W. `patch` is the cell's first patch.
[[nodiscard]] std::array<double, 7> outflow(const System& system, std::size_t cell, std::size_t patch,
                                            const Fluxes& flux);

}  // namespace warmside::conduction
