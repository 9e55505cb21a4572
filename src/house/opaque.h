// From an assembly to the chain of finite volumes that a Network steps: heat alone, dry, at winter
// conductivities.
#pragma once

#include <optional>
#include <vector>

#include "assembly/assembly.h"
#include "thermal/layering.h"

namespace warmside::house {

struct ChainOptions {
    /// W/(m2 K), air to air in winter, framing and fasteners counted (Worth::field_u); absent: the bay alone.
    std::optional<double> u;
    /// Share of wood in structural layers (Worth::field_share); absent: that of the module.
    std::optional<double> framing;
    double fineness = 1.0;  ///< times as many cells
};

struct Chain {
    std::vector<double> conductance;  ///< W/(m2 K), surface to cells to surface
    std::vector<double> capacity;     ///< J/(m2 K)
    double inside_film = 0.0;         ///< m2 K/W, of the winter state
    double outside_film = 0.0;        ///< m2 K/W; 0 on the ground
    bool open = true;        ///< its outer face stands in wind, sun and sky: no ventilated layer, no vent
    double bay_u = 0.0;      ///< W/(m2 K), with those films, no framing
    double u = 0.0;          ///< W/(m2 K), with those films: that asked for
    double thickness = 0.0;  ///< m, of what counts
    [[nodiscard]] double resistance() const;  ///< m2 K/W, from surface to surface
};

/// One chain for bay and framing. Its layers that hold members, fasteners or voids have their resistance
/// scaled by one factor, so that the chain passes U in the steady state; every layer's storage is that of
/// fill and wood by their shares. Two chains side by side, one through the bay and one through the studs,
/// would pass the parallel-path U instead (no heat crosses between them), so they too would need scaling, and
/// cost twice the work.
///
/// Cells are as thick as a swing of some hours reaches, sqrt(a x 1 h), or thinner. Air layers and membranes
/// have no mass. Layers from a ventilated one outwards are left out, and slightly ventilated ones count in
/// part, as in thermal::winter_states.
///
/// Problem  those of winter_states; out_of_range: a U that the boards and films alone already exceed, a
///          material without density or specific heat, with place
[[nodiscard]] Result<Chain> chain_of(const assembly::Assembly& assembly,
                                     const thermal::Conditions& conditions, const ChainOptions& options = {});

/// A body of one material, cut like a layer, from surface to surface.
struct Slabs {
    double conductivity = 0.0, heat_capacity = 0.0, thickness = 0.0;  ///< W/(m K), J/(m3 K), m
};
/// Adds it at the outer end of a chain, which may be empty.
void extend(Chain& chain, const Slabs& body, double fineness = 1.0);

}  // namespace warmside::house
