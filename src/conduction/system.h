// A model on a grid: conductances between cells and to the air.
#pragma once

#include <span>

#include "conduction/grid.h"
#include "conduction/model.h"
#include "conduction/steady.h"
#include "conduction/stencil.h"

namespace warmside::conduction {

/// Sizes of cells and faces, of a plane and of a revolution alike.
struct Metric {
    /// m, [axis][cell]: what lies between the cell's centre and its lower (upper) face; conductance from
    /// centre to face = face area x conductivity / this. On an axis of revolution r_face ln(r_face/r_centre).
    std::array<std::vector<double>, 3> to_low, to_high;
    std::vector<double> around;  ///< [x line] 1, of a revolution 2 pi r
    std::vector<double> across;  ///< [x cell] m width, of a revolution m2 pi (r2^2 - r1^2)

    Metric() = default;
    Metric(const Grid& grid, Geometry geometry);
    /// m2 (plane: m) of the face of a cell at x line i, y line j, z line k.
    [[nodiscard]] double x_face(const Grid& g, std::size_t i, std::size_t j, std::size_t k) const {
        return around[i] * g.width(1, j) * g.width(2, k);
    }
    [[nodiscard]] double y_face(const Grid& g, std::size_t i, std::size_t k) const {
        return across[i] * g.width(2, k);
    }
    [[nodiscard]] double z_face(const Grid& g, std::size_t i, std::size_t j) const {
        return across[i] * g.width(1, j);
    }
};

struct System {
    Grid grid;
    Metric metric;
    std::vector<std::uint16_t> region;  ///< [cell] of the largest part
    Stencil stencil;
    std::vector<Patch> patches;  ///< in the order of the cells
};

/// Fluxes that balance: conductances harmonic across an interface, film in series at air.
[[nodiscard]] System discretise(const Model& model, Grid grid);

/// Right-hand side of the problem with 1 K in one environment and 0 in all others; b [cells].
void unit_load(const System& system, std::size_t environment, std::span<double> b);

/// Temperatures at the corners of the cells that continue those of the cells: each cell carries its own out
/// to its corners by the fluxes through its faces, and a corner takes the mean of its cells weighted by
/// conductivity.
///
/// x       [cells]
/// air     [environment] temperatures of the air
/// corner  [corners] overwritten; 0 where no cell of the system meets
void to_corners(const Model& model, const System& system, std::span<const double> x,
                std::span<const double> air, std::vector<double>& corner);

}  // namespace warmside::conduction
