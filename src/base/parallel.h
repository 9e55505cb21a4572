// Fork and join over a handful of coarse tasks.
#pragma once

#include <cstddef>
#include <functional>

#include "base/stop.h"

namespace warmside {

/// Calls task(i) once for each i in [0, count), on up to `threads` threads (0: one a core).
/// Results must not depend on which thread runs what: each task writes only to its own place.
/// After a stop no new task starts. An exception in a task is a slip of ours and ends the program.
void parallel_for(std::size_t count, const std::function<void(std::size_t)>& task, const StopToken& stop = {},
                  unsigned threads = 0);

}  // namespace warmside
