// What holds of every reading, whatever the text; only the fuzz targets include it.
#pragma once

#include <cstdlib>
#include <string_view>

#include "base/result.h"

namespace warmside::project {

inline void require(bool holds) {
    if (!holds) std::abort();
}

/// There is something to go on with exactly where no problem is an error; no flood of problems; each says
/// something.
inline void require_sound(bool read, const Problems& problems, std::string_view text) {
    require(read == usable(problems));
    require(problems.size() <= 201);
    for (const Problem& each : problems) {
        require(!each.what.empty());
        require(!render(each, text).empty());
    }
}

}  // namespace warmside::project
