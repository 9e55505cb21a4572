#include "thermal/air_layer.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace warmside::thermal {

double effective_emittance(double inside, double outside) {
    return 1.0 / (1.0 / inside + 1.0 / outside - 1.0);
}

double radiative_coefficient(double temperature) {
    constexpr double stefan_boltzmann = 5.67e-8;  // W/(m2 K4), as ISO 6946 prints it
    return 4.0 * stefan_boltzmann * temperature * temperature * temperature;
}

namespace {

// ISO 6946:2017 annex D, for temperature differences up to 5 K.
double convective_coefficient(HeatFlow flow, double d) {
    const double conduction = 0.025 / d;
    switch (flow) {
        case HeatFlow::up: return std::max(1.95, conduction);
        case HeatFlow::horizontal: return std::max(1.25, conduction);
        case HeatFlow::down: return std::max(0.12 * std::pow(d, -0.44), conduction);
    }
    return conduction;
}

bool is_emissivity(double e) {
    return e > 0.0 && e <= 1.0;
}

}  // namespace

Result<double> air_layer_resistance(const AirLayer& layer) {
    // Asked this way round so that NaN is refused too.
    const bool covered = layer.thickness >= 0.0 && layer.thickness <= 0.3;
    if (!covered) {
        return fail(
            Code::out_of_range,
            fmt::format(
                "the air layer is {:.3g} m thick, outside 0 to 0.3 m, where the formula of ISO 6946 holds",
                layer.thickness));
    }
    if (!is_emissivity(layer.emissivity_inside) || !is_emissivity(layer.emissivity_outside)) {
        return fail(Code::out_of_range, fmt::format("emissivities {} and {} must lie above 0, up to 1",
                                                    layer.emissivity_inside, layer.emissivity_outside));
    }
    const bool possible = layer.temperature > 0.0 && std::isfinite(layer.temperature);
    if (!possible) {
        return fail(Code::out_of_range,
                    fmt::format("the mean temperature of the air layer is {} K", layer.temperature));
    }
    if (layer.thickness == 0.0) return 0.0;
    const double emittance = effective_emittance(layer.emissivity_inside, layer.emissivity_outside);
    return 1.0 / (convective_coefficient(layer.flow, layer.thickness) +
                  emittance * radiative_coefficient(layer.temperature));
}

double counted_share(double openings) {
    return std::clamp((1500.0 - openings) / 1000.0, 0.0, 1.0);
}

double slightly_ventilated_total(double unventilated, double ventilated, double openings) {
    const double share = counted_share(openings);
    return share * unventilated + (1.0 - share) * ventilated;
}

}  // namespace warmside::thermal
