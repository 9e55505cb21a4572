// Any depth of an assembly, as a place between two nodes of its column.
#pragma once

#include "base/result.h"
#include "moisture/build.h"

namespace warmside::moisture {

struct DepthPlace {
    double depth = 0.0;  ///< m from the inside
    std::size_t layer = 0;
    std::size_t from = 0, to = 0;  ///< nodes
    double share = 0.0;            ///< of `to`
    bool holds_water = false;      ///< false in air
};

/// Temperature, humidity and water content run straight between the nodes of a layer, as the finite volumes
/// assume. Where two layers meet, the depth belongs to the outer one; the outermost face to the last layer.
/// Still air is bridged from face to face; a ventilated cavity has one state.
///
/// depth    m from the inside, 0 to the thickness (held within 1 um)
/// Problem  out_of_range: outside the assembly
[[nodiscard]] Result<DepthPlace> place_at(const Built& built, const assembly::Assembly& assembly,
                                          double depth);

}  // namespace warmside::moisture
