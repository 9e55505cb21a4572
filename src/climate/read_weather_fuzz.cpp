// Any text at all: the reader returns a Year that keeps its contract, or a Problem. It never crashes.
#include <cstdint>
#include <cstdlib>

#include "climate/year.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace warmside;
    Problems problems;
    const auto year =
        climate::read_weather("fuzz.csv", {reinterpret_cast<const char*>(data), size}, problems);
    if (year && !climate::check(*year)) std::abort();
    return 0;
}
