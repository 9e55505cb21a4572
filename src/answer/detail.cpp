#include "answer/detail.h"

#include <algorithm>
#include <fmt/format.h>

#include "air/saturation.h"

namespace warmside::answer {

namespace {

constexpr double surface_limit = 0.8;  // relative humidity, ISO 13788 (memory)

std::vector<double> temperatures_of(const conduction::Model& model) {
    std::vector<double> out;
    for (const auto& each : model.environments) out.push_back(each.temperature);
    return out;
}

/// coldest and warmest: of all airs. A surface beyond them cannot be (maximum principle): what the solution
/// overshoots there is its error.
DetailSurface surface_of(const project::Detail& detail, const conduction::Steady& solution, std::size_t e,
                         double coldest, double warmest) {
    const auto& environment = detail.model.environments[e];
    const auto& extreme = solution.surface[e];
    DetailSurface out{.environment = environment.name,
                      .temperature = environment.temperature,
                      .flow = solution.flow[e],
                      .touches = extreme.lowest <= extreme.highest,
                      .lowest = std::max(extreme.lowest, coldest),
                      .highest = std::min(extreme.highest, warmest),
                      .lowest_at = extreme.lowest_at};
    if (out.touches && environment.temperature > coldest)
        out.factor = (out.lowest - coldest) / (environment.temperature - coldest);
    if (detail.humidity[e]) out.critical = critical_temperature(environment.temperature, *detail.humidity[e]);
    return out;
}

}  // namespace

double critical_temperature(double temperature, double humidity) {
    return air::iso13788_dew_point(humidity * air::iso13788_saturation(temperature) / surface_limit);
}

Result<DetailAnswer> solve(const project::Detail& detail, const Control& control, unsigned threads) {
    conduction::SteadyOptions options{.tolerance = detail.tolerance, .threads = threads};
    for (const auto& probe : detail.probes) options.sharp.push_back(probe.at);
    auto solution = conduction::steady(detail.model, options, control);
    if (!solution) return fail(solution.error());
    DetailAnswer out{.solution = std::move(*solution)};
    const auto temperatures = temperatures_of(detail.model);
    const auto [least, most] = std::minmax_element(temperatures.begin(), temperatures.end());
    const double coldest = *least, middle = 0.5 * (*least + *most);
    for (std::size_t e = 0; e < temperatures.size(); ++e) {
        out.surfaces.push_back(surface_of(detail, out.solution, e, coldest, *most));
        const auto& factor = out.surfaces[e].factor;
        if (!factor || temperatures[e] <= middle) continue;
        if (!out.coldest_inside || *factor < *out.surfaces[*out.coldest_inside].factor)
            out.coldest_inside = e;
    }
    for (const auto& probe : detail.probes) {
        auto temperature = conduction::temperature_at(detail.model, out.solution, probe.at, temperatures);
        if (!temperature) {
            temperature.error().where = probe.where;
            return fail(temperature.error());
        }
        out.probes.push_back({probe.name, probe.at, *temperature});
    }
    return out;
}

}  // namespace warmside::answer
