#include "report/junctions.h"

#include <algorithm>
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/words.h"
#include "units/quantity.h"

namespace warmside::report {

namespace {

std::string length(double metres, bool first) {
    return first ? fmt::format("{:.0f} ft", metres / units::Exact::sixty_fourths_of_inch(12 * 64).metres())
                 : fmt::format("{:.1f} m", metres);
}

}  // namespace

std::vector<std::string> junction_heads() {
    return {"junction", "length", "psi in", "psi out", "W/K", "f", "f frame", "RH up to"};
}

std::vector<std::vector<std::string>> junction_rows(const answer::RungAnswer& rung, bool first) {
    std::vector<std::vector<std::string>> out;
    for (const auto& j : rung.junctions) {
        out.push_back({j.name, length(j.length, first), fmt::format("{:.3f}", j.psi_internal),
                       fmt::format("{:.3f}", j.psi_external),
                       fmt::format("{:.2f}", j.psi_internal * j.length), fmt::format("{:.2f}", j.factor),
                       j.factor_glazing ? fmt::format("{:.2f}", *j.factor_glazing) : std::string(),
                       fmt::format("{:.0f} %", 100.0 * j.humidity)});
    }
    return out;
}

std::string junction_words(const answer::RungAnswer& rung, bool first) {
    if (rung.junctions.empty()) return {};
    const auto heat = [](const thermal::Junction& j) { return j.psi_internal * j.length; };
    const auto& most = *std::max_element(rung.junctions.begin(), rung.junctions.end(),
                                         [&](const auto& a, const auto& b) { return heat(a) < heat(b); });
    const auto& coldest = *std::min_element(rung.junctions.begin(), rung.junctions.end(),
                                            [](const auto& a, const auto& b) { return a.factor < b.factor; });
    double whole = 0.0;
    std::vector<std::string> each;
    for (const auto& j : rung.junctions) {
        whole += j.length;
        each.push_back(fmt::format("{} {:.3f}", j.name, j.psi_internal));
    }
    return fmt::format(
        "psi in W/(m K), inside dimensions: {}; {:.1f} W/K over {}, most by the {} ({:.1f} W/K); coldest at "
        "the {}, f "
        "{:.2f}: indoor air up to {:.0f} % keeps its surface at or below 80 %",
        fmt::join(each, ", "), rung.junction_heat, length(whole, first), most.name, heat(most), coldest.name,
        coldest.factor, 100.0 * coldest.humidity);
}

std::string built_value(const answer::RungAnswer& rung, bool first) {
    if (rung.worth.built_r) return r_value(*rung.worth.built_r, first).first;
    return "none, " + (rung.built_absent.empty() ? "junctions are not counted" : rung.built_absent);
}

}  // namespace warmside::report
