// Linear systems to race on: invented scenes of wood, insulation and metal on rectilinear grids.
#pragma once

#include <cstddef>
#include <string_view>
#include <vector>

#include "conduction/stencil.h"

namespace warmside::bench_support {

enum class Scene {
    wall,  ///< insulation 0.035, studs and furring 0.12, a metal sheet two cells thick and a metal line
           ///< through it
    checkerboard,  ///< blocks of 3 to 17 cells, each 0.035, 0.12 or 35 W/(m K) at random
    fins,          ///< metal fins one cell thick through insulation, crossing in 3D
    corner         ///< the wall, a quarter of the grid outside the problem
};
[[nodiscard]] std::string_view name_of(Scene scene);

struct Linear {
    conduction::Stencil stencil;
    std::vector<double> right;  ///< [cells]
};

/// `side` cells along each axis of a 1 m square or cube, films 0.13 (1 K) and 0.04 m2 K/W (0 K) on the two
/// faces across y, the other faces adiabatic, harmonic means between cells.
/// stretch   widest over thinnest cell, geometric from the middle of each axis outwards; 1: equal cells
[[nodiscard]] Linear build(Scene scene, int dimensions, std::size_t side, double stretch = 1.0);

/// |b - A x| over |b|, Euclidean, in double on the conductances as the stencil holds them.
[[nodiscard]] double residual_of(const Linear& problem, const std::vector<double>& x);

/// Bytes of the stencil and of right-hand side and solution.
[[nodiscard]] std::size_t bytes_given(const Linear& problem);

}  // namespace warmside::bench_support
