// Saturation pressure of water vapour over liquid water and over ice, slopes and inverses.
#pragma once

#include <cmath>
#include <span>

#include "base/result.h"

namespace warmside::air {

inline constexpr double zero_celsius = 273.15;  ///< K
inline constexpr double triple_point = 273.16;  ///< K

/// A pressure with its slope. The kernels need both, and they share the exponential.
struct Saturation {
    double pressure = 0.0;  ///< Pa
    double slope = 0.0;     ///< Pa/K
};

/// Saturation vapour pressure over liquid water.
///
///   ln p = C8/T + C9 + C10 T + C11 T^2 + C12 T^3 + C13 ln T
///
/// temperature  [n] K, 213.15 to 473.15; the source's range is 273.15 to 473.15. Below it the fit is
///              stretched to supercooled water, because weather files state humidity over water always
/// pressure     [n] Pa, overwritten; untouched on a Problem
/// Problem      out_of_range: a temperature outside the range or not finite
/// Source       hyland-wexler-1983 as in ashrae-fundamentals-1, equation 6; check: proof/air/saturation.toml
[[nodiscard]] Result<void> saturation_over_water(std::span<const double> temperature,
                                                 std::span<double> pressure);

/// Saturation vapour pressure over ice.
///
///   ln p = C1/T + C2 + C3 T + C4 T^2 + C5 T^3 + C6 T^4 + C7 ln T
///
/// temperature  [n] K, 173.15 to 273.16
/// pressure     [n] Pa, overwritten; untouched on a Problem
/// Problem      out_of_range: a temperature outside the range or not finite
/// Source       hyland-wexler-1983 as in ashrae-fundamentals-1, equation 5; check: proof/air/saturation.toml
[[nodiscard]] Result<void> saturation_over_ice(std::span<const double> temperature,
                                               std::span<double> pressure);

// The same for one temperature, unchecked: for loops whose temperatures are already known to be in range.
[[nodiscard]] double over_water(double temperature);  ///< K to Pa
[[nodiscard]] double over_ice(double temperature);    ///< K to Pa
[[nodiscard]] Saturation over_water_with_slope(double temperature);
[[nodiscard]] Saturation over_ice_with_slope(double temperature);

/// Over ice below the triple point, over water above it, as the handbook tabulates moist air. K to Pa.
[[nodiscard]] double over_stable_phase(double temperature);

/// Temperature at which water vapour of this pressure is saturated over liquid water. Inverse of over_water
/// by Newton on ln p, to 1e-10 of T.
///
/// pressure  Pa, above 0
/// Returns   K
[[nodiscard]] double dew_point(double pressure);
/// As dew_point, over ice; the inverse of over_ice.
[[nodiscard]] double frost_point(double pressure);

/// Saturation pressure of ISO 13788, over water from 0 degC on and over ice below.
///
///   p = 610.5 exp(17.269 t / (237.3 + t))   t >= 0
///   p = 610.5 exp(21.875 t / (265.5 + t))   t < 0
///
/// temperature  K
/// Returns      Pa
/// Source       iso-13788, annex E; check: proof/air/iso13788.toml
[[nodiscard]] double iso13788_saturation(double temperature);
/// Closed inverse of iso13788_saturation. pressure in Pa, above 0; returns K.
[[nodiscard]] double iso13788_dew_point(double pressure);

/// ln(p/Pa) over liquid water, and d ln p / dT: the form that a kernel with its own exponential wants. One
/// division, no logarithm.
///
///   ln p = ln 610.5 + 17.269 t / (237.3 + t)
///
/// The water branch of ISO 13788 and EN 15026, kept below 0 degC too: within 0.15 % of over_water from 0 to
/// 34 degC, 1 % down to -20 and 3.5 % down to -40 degC (saturation_test.cpp holds these limits).
struct LogSaturation {
    double value = 0.0;  ///< ln(p / Pa)
    double slope = 0.0;  ///< 1/K
};
[[nodiscard]] inline LogSaturation log_over_water(double temperature) {
    const double t = temperature - zero_celsius;
    const double inverse = 1.0 / (237.3 + t);
    return {6.414278293550759 + 17.269 * t * inverse, 17.269 * 237.3 * inverse * inverse};
}
/// The ice branch of the same standard: ln p = ln 610.5 + 21.875 t / (265.5 + t).
[[nodiscard]] inline LogSaturation log_over_ice(double temperature) {
    const double t = temperature - zero_celsius;
    const double inverse = 1.0 / (265.5 + t);
    return {6.414278293550759 + 21.875 * t * inverse, 21.875 * 265.5 * inverse * inverse};
}

}  // namespace warmside::air
