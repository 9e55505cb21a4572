// The day that a cooler is sized for: warm, clear, repeated.
#pragma once

#include "climate/year.h"
#include "house/load_data.h"
#include "house/simulate.h"

namespace warmside::house {

/// Beam normal to the sun and sky on the horizontal, W/m2.
struct ClearSky {
    double direct = 0.0, diffuse = 0.0;
};
/// direct = A exp(-(p/p_0) B/sin(altitude)), diffuse = C direct; nothing at and below the horizon.
///
/// altitude  rad
/// month     0 to 11; the coefficients are those of its 21st
/// pressure  Pa
/// Source    ashrae-fundamentals-clear-sky (memory); check: proof/house/clear-sky.toml
[[nodiscard]] ClearSky clear_sky(double altitude, int month, double pressure, const LoadData& data);

/// First hour of the design day, 21 July (south of the equator 21 January).
[[nodiscard]] int cooling_day(const climate::Year& year);

/// A year of which each day has the design day's temperatures and a clear sky, so that building, sun through
/// glass and run need nothing new: step it over the 24 hours from cooling_day with some days of run-in.
///
///   T(h) = outdoor - below(h) range
///
/// Vapour: that of the warmest month of `year`, at most saturation at the coolest hour. Wind 3.4 m/s, dry.
/// year     checked, for place, pressure and vapour
/// outdoor  K, design_temperature's cooling;  range  K, its daily_range
/// Problem  out_of_range: a range below 0 or not finite; incomplete: a year without columns; the data
/// Source   ashrae-fundamentals-clear-sky, temperature over a design day (memory)
[[nodiscard]] Result<climate::Year> cooling_design_year(const climate::Year& year, double outdoor,
                                                        double range);

struct CoolingPeak {
    double load = 0.0;  ///< W
    int hour = 0;       ///< of the run, from 0
};
/// The largest hour of a zone's cooling. Problem: out_of_range, no such zone.
[[nodiscard]] Result<CoolingPeak> cooling_peak(const Run& run, std::size_t zone);

}  // namespace warmside::house
