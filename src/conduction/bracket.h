// The gap between the balanced fluxes of the cells and the continuous temperature field.
//
// Hypercircle (Prager and Synge 1947): let q balance in every cell (finite volumes, carried into the cells
// linearly along each axis: the lowest Raviart-Thomas element) and let T be continuous and meet the
// temperatures of the air beyond the films. With (a, b) = integral of a.b / lambda plus film x a.b over the
// surfaces and p = -lambda grad T, the exact flux s lies on the sphere over the diameter from p to q. So for
// two unit problems
//
//   L_ij = (p_i, p_j) - 1/2 (q_i - p_i, q_j - p_j)  +-  1/2 |q_i - p_i| |q_j - p_j|
//
// Source: Synge, The hypercircle in mathematical physics, 1957 (memory); derived in the room's README.
#pragma once

#include "conduction/field.h"

namespace warmside::conduction {

struct Bracket {
    std::size_t problems = 0;
    std::vector<double> energy;  ///< (p_i, p_j), W/K
    std::vector<double> gap;     ///< (q_i - p_i, q_j - p_j), W/K
    /// Share of the gap, summed over the problems, that splitting the cells of one slab would take away
    /// [axis][slab]; the sum over all is the gap.
    std::array<std::vector<double>, 3> share;
    bool bound = true;  ///< false with cut cells: there the gap is estimated from jumps of the flux

    [[nodiscard]] double middle(std::size_t i, std::size_t j) const {
        return energy[i * problems + j] - 0.5 * gap[i * problems + j];
    }
};

/// flux [problem] balanced in every cell, t [problem][node]: problem i has 1 K in environment i. Cells closer
/// than `near` to a place where two temperatures meet without film are left out.
[[nodiscard]] Bracket bracket(const System& system, const Field& field, const std::vector<Fluxes>& flux,
                              const std::vector<Fluxes>& sent, const std::vector<std::vector<double>>& t,
                              double near, unsigned threads);

}  // namespace warmside::conduction
