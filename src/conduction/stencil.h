// The linear system of a steady conduction problem on a rectilinear grid: conductances between neighbours.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

namespace warmside::conduction {

/// Symmetric, at most seven couplings a cell. Row of cell c:
///
///   sum over its faces of g (x_c - x_neighbour) + ground_c x_c = b_c
///
/// A cell with every conductance zero is not part of the problem; its x stays 0.
/// Conductances are kept to 24 bits: operator and preconditioner use the same rounded ones, so that the
/// balance of each cell stays exact; rounding moves a flow by less than 1e-7 of itself.
struct Stencil {
    std::size_t nx = 0, ny = 0, nz = 0;
    std::array<std::vector<double>, 3>
        width;  ///< m, cells along each axis: where the grid is thin it is coarsened first
    /// Interfaces of materials along each axis: true at line i (0..n) means that cells i-1 and i are merged
    /// last.
    std::array<std::vector<bool>, 3> keep;
    std::vector<float> east;    ///< [cell] W/K between (i,j,k) and (i+1,j,k); 0 in the last column
    std::vector<float> north;   ///< [cell] to (i,j+1,k)
    std::vector<float> up;      ///< [cell] to (i,j,k+1); empty when nz is 1
    std::vector<float> ground;  ///< [cell] to a fixed temperature of zero

    [[nodiscard]] std::size_t cells() const { return nx * ny * nz; }
};

/// y = A x; both [cells]. Sums in a fixed order.
void multiply(const Stencil& stencil, const double* x, double* y);

}  // namespace warmside::conduction
