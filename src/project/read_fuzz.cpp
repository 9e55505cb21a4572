// libFuzzer: no text may crash the reader, and what it says has to hold together.
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "assembly/geometry.h"
#include "project/fuzz_reading.h"
#include "project/model_text.h"
#include "project/patch.h"
#include "project/read.h"

using namespace warmside;
using project::require;
using project::require_sound;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    const auto reading = project::read_house("fuzz.toml", text);
    require_sound(reading.house != nullptr, reading.problems, text);
    if (!reading.house) return 0;
    const auto areas = assembly::areas(*reading.house);
    require(areas.volume >= 0.0 && areas.floor >= 0.0 && areas.walls_net >= -1e-6);
    for (const auto& each : reading.house->assemblies) {
        require(!each.layers.empty() && each.datum() < each.layers.size());
        for (const auto& layer : each.layers) {
            double sum = 0.0;
            for (const auto& slice : assembly::slices(layer)) sum += slice.thickness;
            require(sum - layer.thickness.metres() < 1e-9 && layer.thickness.metres() - sum < 1e-9);
        }
        const auto patched = project::with_thickness("fuzz.toml", text, each.name, 0, "20 mm");
        require(patched || !patched.error().what.empty());
    }
    require(project::model_text(*reading.house) ==
            project::model_text(*project::read_house("again.toml", text).house));
    return 0;
}
