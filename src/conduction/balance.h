// Balanced fluxes near those of a continuous field.
#pragma once

#include "conduction/field.h"
#include "conduction/multigrid.h"

namespace warmside::conduction {

/// Where sloped edges cut cells the fluxes of finite volumes are of first order only. Those of the continuous
/// field are better, but do not balance: what is missing in each cell is sent to its neighbours and to the
/// air by one more solve with the same conductances (an equilibrated flux).
///
/// t        [nodes] with 1 K in the environment `warm`
/// sent     what balancing added, overwritten
/// iterations   are added to
/// Problem  as Multigrid::solve
[[nodiscard]] Result<Fluxes> balanced(const System& system, const Field& field, const std::vector<double>& t,
                                      std::size_t warm, Multigrid& multigrid, const SolveOptions& options,
                                      const StopToken& stop, Fluxes& sent, std::size_t& iterations);

}  // namespace warmside::conduction
