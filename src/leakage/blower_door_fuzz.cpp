// libFuzzer: any text gives readings that keep their contract, or problems with a place; a test of them gives
// finite figures. It never crashes.
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "leakage/blower_door.h"

namespace {

void require(bool holds) {
    if (!holds) std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace warmside;
    using namespace warmside::leakage;
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    Problems problems;
    const auto readings = read_blower_door("fuzz.csv", text, problems);
    require(readings.has_value() == usable(problems));
    require(problems.size() <= 60);
    for (const Problem& each : problems) {
        require(!each.what.empty() && each.where.line > 0 && each.where.column > 0);
        require(!render(each, text).empty());
    }
    if (!readings) return 0;
    require(!readings->series.empty() && readings->series.size() <= 2);
    for (const TestSeries& series : readings->series) {
        require(series.points.size() == 1 || series.points.size() >= 3);
        for (const TestPoint& point : series.points) require(point.flow > 0.0);
    }
    for (const auto standard : {TestStandard::iso_9972, TestStandard::astm_e779, TestStandard::astm_e3158}) {
        const auto test = blower_door(*readings, standard);
        if (!test) {
            require(!test.error().what.empty());
            continue;
        }
        const TestFigures& f = test->figures;
        require(std::isfinite(f.coefficient) && std::isfinite(f.exponent) && f.coefficient >= 0.0);
        require(f.at_50_pa.low <= f.at_50_pa.value && f.at_50_pa.value <= f.at_50_pa.high);
    }
    return 0;
}
