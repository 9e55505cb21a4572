// libFuzzer: no text may crash the reader of details, and what it says has to hold together.
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "project/detail.h"
#include "project/fuzz_reading.h"

using namespace warmside;
using project::require;
using project::require_sound;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    const auto reading = project::read_detail("fuzz.toml", text);
    require_sound(reading.detail != nullptr, reading.problems, text);
    if (!reading.detail) return 0;
    const auto& d = *reading.detail;
    require(d.substances.size() == d.model.regions.size());
    require(d.humidity.size() == d.model.environments.size());
    require(d.tolerance >= 1e-5 && d.tolerance <= 0.1);
    for (const auto& region : d.model.regions) {
        require(region.shape.outline.size() >= 3);
        require(region.environment ? *region.environment < d.model.environments.size()
                                   : region.conductivity > 0.0 && std::isfinite(region.conductivity));
    }
    return 0;
}
