// Ours beside finite elements.
#pragma once

#include "conduction/model.h"
#include "graph.h"

namespace warmside::fem {

inline constexpr Sizes plane_sizes{.corner = 5e-4, .growth = 0.3, .most = 0.2};
inline constexpr Sizes solid_sizes{.corner = 4e-3, .growth = 1.0, .most = 0.1};

/// Checks (doctest) that the couplings of ours at its default tolerance are within 0.2 % of FreeFEM's, whose
/// own two meshes differ by a quarter of that at most, and that heat is conserved. Says that it is skipped
/// where FreeFEM is not installed.
void compare(const conduction::Model& model, const Sizes& sizes);

}  // namespace warmside::fem
