#include "air/saturation.h"

#include <array>
#include <cassert>
#include <fmt/format.h>

namespace warmside::air {

namespace {

// ashrae-fundamentals-1, equations 5 and 6: C1 to C7 (ice), C8 to C13 (water); pressure in Pa
constexpr std::array ice{-5.6745359e3, 6.3925247,      -9.6778430e-3, 6.2215701e-7,
                         2.0747825e-9, -9.4840240e-13, 4.1635019};
constexpr std::array water{-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 6.5459673};

LogSaturation log_water(double T) {
    return {water[0] / T + water[1] + T * (water[2] + T * (water[3] + T * water[4])) + water[5] * std::log(T),
            -water[0] / (T * T) + water[2] + T * (2.0 * water[3] + T * 3.0 * water[4]) + water[5] / T};
}

LogSaturation log_ice(double T) {
    return {
        ice[0] / T + ice[1] + T * (ice[2] + T * (ice[3] + T * (ice[4] + T * ice[5]))) + ice[6] * std::log(T),
        -ice[0] / (T * T) + ice[2] + T * (2.0 * ice[3] + T * (3.0 * ice[4] + T * 4.0 * ice[5])) + ice[6] / T};
}

Saturation from_log(LogSaturation log) {
    const double p = std::exp(log.value);
    return {p, p * log.slope};
}

Result<void> over_range(std::span<const double> temperature, std::span<double> pressure, double least,
                        double most, double (*saturation)(double)) {
    assert(temperature.size() == pressure.size());
    for (std::size_t i = 0; i < temperature.size(); ++i) {
        // Asked this way round so that NaN is refused too.
        const bool inside = temperature[i] >= least && temperature[i] <= most;
        if (!inside) {
            return fail(Code::out_of_range, fmt::format("temperature[{}] is {} K, outside {} to {} K", i,
                                                        temperature[i], least, most));
        }
    }
    for (std::size_t i = 0; i < temperature.size(); ++i) pressure[i] = saturation(temperature[i]);
    return {};
}

// ln p is nearly a straight line in 1/T, so Newton in 1/T lands in three or four steps from any start.
double inverse_of(LogSaturation (*log)(double), double pressure, double start) {
    assert(pressure > 0.0);
    const double wanted = std::log(pressure);
    double T = start;
    for (int step = 0; step < 30; ++step) {
        const auto at = log(T);
        const double next = 1.0 / (1.0 / T - (wanted - at.value) / (at.slope * T * T));
        if (std::abs(next - T) < 1e-10 * T) return next;
        T = next;
    }
    return T;
}

}  // namespace

Result<void> saturation_over_water(std::span<const double> temperature, std::span<double> pressure) {
    return over_range(temperature, pressure, 213.15, 473.15, over_water);
}

Result<void> saturation_over_ice(std::span<const double> temperature, std::span<double> pressure) {
    return over_range(temperature, pressure, 173.15, triple_point, over_ice);
}

double over_water(double temperature) {
    return std::exp(log_water(temperature).value);
}
double over_ice(double temperature) {
    return std::exp(log_ice(temperature).value);
}
Saturation over_water_with_slope(double temperature) {
    return from_log(log_water(temperature));
}
Saturation over_ice_with_slope(double temperature) {
    return from_log(log_ice(temperature));
}

double over_stable_phase(double temperature) {
    return temperature < triple_point ? over_ice(temperature) : over_water(temperature);
}

double dew_point(double pressure) {
    return inverse_of(log_water, pressure, 280.0);
}
double frost_point(double pressure) {
    return inverse_of(log_ice, pressure, 260.0);
}

double iso13788_saturation(double temperature) {
    return std::exp((temperature >= zero_celsius ? log_over_water : log_over_ice)(temperature).value);
}

double iso13788_dew_point(double pressure) {
    assert(pressure > 0.0);
    const double ratio = std::log(pressure / 610.5);
    return zero_celsius +
           (ratio >= 0.0 ? 237.3 * ratio / (17.269 - ratio) : 265.5 * ratio / (21.875 - ratio));
}

}  // namespace warmside::air
