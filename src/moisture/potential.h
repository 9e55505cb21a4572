// The moisture variable of the solver, and the constants of the balances.
//
// Suction p_c (capillary pressure, Pa) is continuous across materials. It is made dimensionless,
//
//   theta = p_c/(rho_w R_v T_0),        relative humidity at T: phi = exp(-theta T_0/T)   (Kelvin),
//
// and the unknown of the solver is
//
//   u = exp(-theta) - b ln theta,       b = 0.09,
//
// which runs like relative humidity (at T_0) from 5 to 85 % and like the logarithm of suction near
// saturation, smoothly. Source of the Kelvin relation: EN 15026:2007, clause 4 (memory).
#pragma once

namespace warmside::moisture {

inline constexpr double water_density = 1000.0;          ///< kg/m3
inline constexpr double vapour_constant = 461.5;         ///< J/(kg K), of water vapour
inline constexpr double reference_temperature = 293.15;  ///< K, T_0
inline constexpr double freezing = 273.15;               ///< K
inline constexpr double evaporation_heat = 2.5e6;        ///< J/kg at 0 degC; EN 15026 (memory)
inline constexpr double fusion_heat = 3.34e5;            ///< J/kg
inline constexpr double water_heat = 4180.0;             ///< J/(kg K); EN 15026 (memory)
inline constexpr double vapour_heat = 1860.0;            ///< J/(kg K)
inline constexpr double air_heat = 1005.0;               ///< J/(kg K)
inline constexpr double carried_vapour =
    0.6219 /
    101325.0;  ///< 1/Pa: humidity ratio over vapour pressure (2021 ASHRAE Fundamentals ch. 25 eq. 25)
/// rho_w R_v T_0, Pa: suction at theta = 1.
inline constexpr double suction_scale = water_density * vapour_constant * reference_temperature;

inline constexpr double driest_theta = 12.0;  ///< relative humidity 6e-6
inline constexpr double wettest_theta =
    1e-4;                                  ///< suction 13.5 kPa, humidity 0.9999: taken as free saturation
inline constexpr double log_share = 0.09;  ///< b

/// u of theta > 0.
[[nodiscard]] double potential_of(double theta);
/// theta of u; inverse of potential_of.
[[nodiscard]] double theta_of(double potential);
/// d theta/d u, negative.
[[nodiscard]] double theta_slope(double theta);
/// u of a relative humidity 0..1 at a temperature (K); held at the ends of the range.
[[nodiscard]] double potential_of_humidity(double relative_humidity, double temperature);

/// Tables over u: uniform, with free saturation at grid point `full_interval`.
inline constexpr int table_intervals = 640;
inline constexpr int full_interval = 440;
[[nodiscard]] double lowest_potential();
/// Free saturation.
[[nodiscard]] double full_potential();
/// End of the tables in the over-saturated range, in which pores fill beyond free saturation (condensate).
/// All functions are straight or level there and are continued, up to `most_potential`.
[[nodiscard]] double highest_potential();
inline constexpr double most_potential = 1000.0;

/// Saturation vapour pressure, Pa: ISO 13788:2012 eqs. E.7, E.8 (quoted), over ice below 0 degC. The solver's
/// own form, so that lanes and boundary values agree to the last bit.
[[nodiscard]] double saturation_pressure(double temperature);

}  // namespace warmside::moisture
