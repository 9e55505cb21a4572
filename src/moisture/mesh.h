// How finely each layer of an assembly is cut, and why.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/stop.h"
#include "moisture/simulate.h"

namespace warmside::moisture {

/// Pieces of the materials along one line through an assembly.
struct Mesh {
    std::vector<int> pieces;  ///< of each material segment of path_through, from inside; the standard beyond
    double estimate = 0.0;    ///< largest interpolation error of relative humidity that these should leave
};

/// A first, coarse year of a run: what it shows of the meshes that the run needs, and which faces matter.
struct Pilot {
    Mesh mesh;
    History history;  ///< one year on the coarse mesh
};

/// The finest of each piece, for all runs along one line.
[[nodiscard]] Mesh finest(std::span<const Pilot> pilots);

/// Runs one year of each run on a coarse mesh and cuts its layers anew: the profiles of vapour pressure and
/// temperature, as means of each week, are to stray from straight lines between nodes by no more than
/// `mesh_target` of relative humidity. The number of pieces goes with the root of that error; 3 to 40 pieces.
///
///   e = h^2/8 (|p''|/p_s + 0.07/K phi |T''|)
///
/// Problem  as simulate
[[nodiscard]] Result<std::vector<Pilot>> pilot(std::span<const Run> runs, const Options& options,
                                               const Control& control = {});

}  // namespace warmside::moisture
