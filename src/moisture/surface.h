// The inner surface: saturation and temperature factor by ISO 13788.
#pragma once

namespace warmside::moisture {

/// Saturation vapour pressure of the standard, Pa.
///
///   610.5 exp(17.269 t/(237.3 + t)) for t >= 0 degC, 610.5 exp(21.875 t/(265.5 + t)) below
///
/// temperature  K, 203 to 373
/// Source  iso-13788-2012, Annex E (quoted); check: proof/moisture/iso13788-saturation.toml
[[nodiscard]] double saturation_iso13788(double temperature);

/// Its inverse: dew point in K of a vapour pressure in Pa (> 0).
[[nodiscard]] double dew_point_iso13788(double vapour_pressure);

/// Vapour pressure that a humidity class puts on top of the outdoor one, Pa: constant at and below 0 degC
/// outside, falling in a straight line to 0 at 20 degC.
///
/// humidity_class       1 to 5
/// outdoor_temperature  K, monthly mean
/// Source  iso-13788-2012, Annex A (classes from memory; the factor 1.1 of the 2001 edition is the caller's);
///         check: proof/moisture/iso13788-classes.toml
[[nodiscard]] double humidity_class_excess(int humidity_class, double outdoor_temperature);

/// Least temperature of the inner surface at which its relative humidity stays below `limit` (0.8 against
/// mould, 1 against condensation), and the least temperature factor (t_si - t_e)/(t_i - t_e) that gives it.
///
/// Source  iso-13788-2012, clause 5 (from memory); check: proof/moisture/iso13788-frsi.toml
struct SurfaceNeed {
    double temperature = 0.0;  ///< K
    double factor = 0.0;       ///< f_Rsi; above 1 cannot be built, 0 or less asks nothing
};
[[nodiscard]] SurfaceNeed surface_need(double indoor_temperature, double indoor_vapour_pressure,
                                       double outdoor_temperature, double limit);

}  // namespace warmside::moisture
