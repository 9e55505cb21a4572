// What this core can do at most, and how the bench measures time and memory.
#pragma once

#include <cstddef>

namespace warmside::bench_support {

/// Processor seconds of this process.
[[nodiscard]] double processor_seconds();
/// Multiply-adds in registers, floating-point operations a second, best of several tries.
[[nodiscard]] double peak_flops();
/// Floating-point operations of the built kernel a node, lane and evaluation, as bench/run.sh counted them in
/// its machine code (environment WARMSIDE_KERNEL_FLOPS); 0 when it was not told.
[[nodiscard]] double flops_of_evaluation();
/// Bytes on the heap now.
[[nodiscard]] std::size_t bytes_in_use();

}  // namespace warmside::bench_support
