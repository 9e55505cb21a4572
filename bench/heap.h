// Heap in use, counted at every allocation of the process, libraries included.
#pragma once

#include <cstddef>

namespace warmside::bench_support {

[[nodiscard]] std::size_t heap_now();   ///< bytes
[[nodiscard]] std::size_t heap_peak();  ///< bytes, since the last restart
void restart_peak();

}  // namespace warmside::bench_support
