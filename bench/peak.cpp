#include "peak.h"

#include <malloc.h>

#include <algorithm>
#include <cstdlib>
#include <ctime>

#include "numerics/pack.h"

namespace warmside::bench_support {

double processor_seconds() {
    timespec now{};
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

double peak_flops() {
    using numerics::Pack;
    constexpr int chains = 12, turns = 4'000'000, lanes = 8;
    double best = 0.0;
    for (int attempt = 0; attempt < 5; ++attempt) {
        Pack<lanes> x[chains];
        for (int k = 0; k < chains; ++k) x[k] = numerics::fill<lanes>(0.1 * k);
        const Pack<lanes> a = numerics::fill<lanes>(0.9999999), b = numerics::fill<lanes>(1e-9);
        const double start = processor_seconds();
        for (int i = 0; i < turns; ++i)
            for (auto& value : x) value = value * a + b;
        const double seconds = processor_seconds() - start;
        double sum = 0.0;
        for (const auto& value : x) sum += value[0];
        // The sum is used, so that the work stays.
        if (sum != 0.0) best = std::max(best, 2.0 * lanes * chains * turns / seconds);
    }
    return best;
}

double flops_of_evaluation() {
    const char* told = std::getenv("WARMSIDE_KERNEL_FLOPS");
    return told ? std::atof(told) : 0.0;
}

std::size_t bytes_in_use() {
    const auto info = mallinfo2();
    return info.uordblks + info.hblkhd;
}

}  // namespace warmside::bench_support
