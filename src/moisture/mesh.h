// How finely each layer of an assembly is cut, and why.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/stop.h"
#include "moisture/simulate.h"

namespace warmside::moisture {

/// Pieces of each layer of one line through an assembly. Layers that are not listed have the standard pieces.
struct Mesh {
    std::map<std::size_t, int> pieces;  ///< by index into Assembly::layers
    std::string why;                    ///< one line: the estimate and the target
};

}  // namespace warmside::moisture
