// The same model solved by finite elements: FreeFEM, P2, on meshes fitted to the regions.
#pragma once

#include <string>
#include <vector>

#include "conduction/model.h"
#include "graph.h"

namespace warmside::fem {

struct Solution {
    std::vector<double> coupling;  ///< W/K or W/(m K), row-major as conduction::Steady::coupling
    std::size_t elements = 0, unknowns = 0;
    std::string trouble;  ///< what FreeFEM said, when it gave nothing
};

/// Whether the program is to be had.
[[nodiscard]] bool there_is_freefem();

/// Meshes the plane with FreeFEM (constrained to every edge; solids that follow the axes by rectangles),
/// pulls it along z for a solid, gives each element the last region that holds its centre, leaves out air and
/// nothing, puts films on the faces between material and air, and lets FreeFEM assemble and solve one unit
/// problem for each environment but one. Couplings come from the energy form a(u_i, u_j), which converges
/// twice as fast as the field. Films must be above 0.
[[nodiscard]] Solution solve(const conduction::Model& model, const Sizes& sizes);

}  // namespace warmside::fem
