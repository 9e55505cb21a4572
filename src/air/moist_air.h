// Moist air as an ideal mixture, and the heats of water that every balance needs.
#pragma once

#include "air/saturation.h"

namespace warmside::air {

// Gas constants, J/(kg K), and their ratio: ashrae-fundamentals-1, equations 1, 2 and 20
inline constexpr double dry_air_gas_constant = 287.042;
inline constexpr double vapour_gas_constant = 461.524;
inline constexpr double molar_mass_ratio = 0.621945;  ///< water to dry air

// Specific heats, J/(kg K). Air and vapour: ashrae-fundamentals-1, equation 30. Water near 10 degC and the
// mean of ice from -30 to 0 degC: rounded handbook values (memory)
inline constexpr double dry_air_heat = 1006.0;
inline constexpr double vapour_heat = 1860.0;
inline constexpr double water_heat = 4186.0;
inline constexpr double ice_heat = 2000.0;

// Heats of water at 0 degC, J/kg. Evaporation: ashrae-fundamentals-1, equation 30; fusion: IAPWS, rounded
// (memory)
inline constexpr double evaporation_heat_at_zero = 2.501e6;
inline constexpr double fusion_heat_at_zero = 333.4e3;

inline constexpr double water_density = 1000.0;  ///< kg/m3
inline constexpr double ice_density = 917.0;     ///< kg/m3, at 0 degC (memory)

/// Pressure of the standard atmosphere.  p = 101325 (1 - 2.25577e-5 z)^5.2559
/// elevation  m, -5000 to 11000
/// Returns    Pa
/// Source     ashrae-fundamentals-1, equation 3
[[nodiscard]] double standard_pressure(double elevation);

/// Humidity ratio, kg vapour a kg dry air.  W = 0.621945 p_w / (p - p_w)
/// vapour_pressure  Pa, 0 to below `pressure`
/// pressure         Pa, total
/// Source           ashrae-fundamentals-1, equation 20; check: tests/psychrometrics
[[nodiscard]] inline double humidity_ratio(double vapour_pressure, double pressure) {
    return molar_mass_ratio * vapour_pressure / (pressure - vapour_pressure);
}
/// The inverse: Pa from a humidity ratio and the total pressure.
[[nodiscard]] inline double vapour_pressure_of(double humidity_ratio, double pressure) {
    return pressure * humidity_ratio / (molar_mass_ratio + humidity_ratio);
}

/// Density of water vapour, kg/m3, from its pressure (Pa) and temperature (K): the ideal gas.
[[nodiscard]] inline double vapour_density(double vapour_pressure, double temperature) {
    return vapour_pressure / (vapour_gas_constant * temperature);
}

/// Density of moist air, kg of mixture a m3.
///
///   v = R_a T (1 + 1.607858 W) / p;  rho = (1 + W) / v
///
/// temperature K, vapour_pressure Pa, pressure Pa (total)
/// Source  ashrae-fundamentals-1, equations 26 and 9b; check: tests/psychrometrics
[[nodiscard]] double density(double temperature, double vapour_pressure, double pressure);

/// Enthalpy of moist air, J a kg of dry air, zero for dry air at 0 degC.  h = 1006 t + W (2.501e6 + 1860 t)
/// temperature     K
/// humidity_ratio  kg/kg
/// Source          ashrae-fundamentals-1, equation 30; check: tests/psychrometrics
[[nodiscard]] inline double enthalpy(double temperature, double humidity_ratio) {
    const double t = temperature - zero_celsius;
    return dry_air_heat * t + humidity_ratio * (evaporation_heat_at_zero + vapour_heat * t);
}

/// Heat of evaporation, J/kg, from the same enthalpies as `enthalpy`: vapour minus liquid.
/// temperature K, 233 to 373. 0.1 % from the steam tables between 0 and 50 degC
[[nodiscard]] inline double evaporation_heat(double temperature) {
    return evaporation_heat_at_zero + (vapour_heat - water_heat) * (temperature - zero_celsius);
}
/// Heat of fusion, J/kg: water minus ice. temperature K, 233 to 273.15
[[nodiscard]] inline double fusion_heat(double temperature) {
    return fusion_heat_at_zero + (water_heat - ice_heat) * (temperature - zero_celsius);
}
/// Heat of sublimation, J/kg: vapour minus ice, the sum of the two above.
[[nodiscard]] inline double sublimation_heat(double temperature) {
    return evaporation_heat(temperature) + fusion_heat(temperature);
}

}  // namespace warmside::air
