// Saturation, dew points and density of water vapour.
#include <array>

#include "air/moist_air.h"
#include "proof/inputs.h"

namespace warmside::proof {
namespace {

/// One required quantity of `given`, and no other key.
Result<double> only(const Given& given, std::string_view key, const units::Dimension& dimension,
                    units::Limits limits = {}) {
    Inputs in(given);
    const double value = in.one(key, dimension, limits);
    if (auto good = in.done(); !good) return fail(std::move(good).error());
    return value;
}

using Checked = Result<void> (*)(std::span<const double>, std::span<double>);

Result<Outcome> saturation(const Given& given, Checked formula, air::Saturation (*sloped)(double)) {
    const auto T = only(given, "temperature", units::temperature);
    if (!T) return fail(T.error());
    std::array pressure{0.0};
    if (const auto done = formula(std::array{*T}, pressure); !done) return fail(done.error());
    return Outcome{{"pressure", {pressure[0]}}, {"slope", {sloped(*T).slope}}};
}

/// given: temperature. Pressure over liquid water, Pa, and slope, Pa/K.
Result<Outcome> saturation_over_water(const Given& given) {
    return saturation(given, air::saturation_over_water, air::over_water_with_slope);
}

/// given: temperature. The same over ice.
Result<Outcome> saturation_over_ice(const Given& given) {
    return saturation(given, air::saturation_over_ice, air::over_ice_with_slope);
}

/// given: pressure. Dew point over water, K.
Result<Outcome> dew_point(const Given& given) {
    const auto p = only(given, "pressure", units::pressure, {.least = 1e-6});
    if (!p) return fail(p.error());
    return Outcome{{"temperature", {air::dew_point(*p)}}};
}

/// given: temperature. Saturation pressure of ISO 13788, Pa.
Result<Outcome> iso13788_saturation(const Given& given) {
    const auto T = only(given, "temperature", units::temperature, {.least = 200.0, .most = 373.15});
    if (!T) return fail(T.error());
    return Outcome{{"pressure", {air::iso13788_saturation(*T)}}};
}

/// given: pressure. Its inverse, K.
Result<Outcome> iso13788_dew_point(const Given& given) {
    const auto p = only(given, "pressure", units::pressure, {.least = 1e-3});
    if (!p) return fail(p.error());
    return Outcome{{"temperature", {air::iso13788_dew_point(*p)}}};
}

/// given: temperature. Density of the vapour in saturated air, kg/m3; over ice below 0 degC.
Result<Outcome> saturation_density(const Given& given) {
    const auto T = only(given, "temperature", units::temperature, {.least = 200.0, .most = 373.15});
    if (!T) return fail(T.error());
    return Outcome{{"vapour_density", {air::vapour_density(air::over_stable_phase(*T), *T)}}};
}

constexpr std::array operations{
    Operation{"air.saturation_over_water", saturation_over_water},
    Operation{"air.saturation_over_ice", saturation_over_ice},
    Operation{"air.dew_point", dew_point},
    Operation{"air.iso13788_saturation", iso13788_saturation},
    Operation{"air.iso13788_dew_point", iso13788_dew_point},
    Operation{"air.saturation_density", saturation_density},
};

}  // namespace

std::span<const Operation> air_operations() {
    return operations;
}

}  // namespace warmside::proof
