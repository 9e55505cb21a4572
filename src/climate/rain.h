// Hours of rain where a file has none, and cloud where it has none.
#pragma once

#include <span>

#include "climate/year.h"

namespace warmside::climate {

/// Share of precipitation that falls as rain: none at or below 0 degC, all at or above 2 degC, linear between
/// (a choice of ours, not of a standard).
///
/// temperature  K
[[nodiscard]] double liquid_share(double temperature);

/// Constructs hours of rain from monthly precipitation.
///
///   w = max(0, (N - 7)/3) max(0, (RH - 75)/25)      N total cloud in tenths, RH in %
///   r = P_month w / sum(w over the month) x liquid share
///
/// year           temperature and vapour pressure are read
/// total_cloud    [8760] 0..1
/// precipitation  kg/m2 of each month, snow as water
/// Returns        kg/(m2 s), liquid. A month without a cloudy and damp hour is spread over all its hours
/// Source         a construction of ours: it keeps the month's water and its weather, not its showers
[[nodiscard]] std::vector<double> rain_from_months(const Year& year, std::span<const double> total_cloud,
                                                   const MonthlyPrecipitation& precipitation);

/// Cloud cover from how much of a cloudless sky's radiation arrives.
///
///   G / G_clear = 1 - 0.75 N^3.4   solved for N;   G_clear = 910 sin h - 30 W/m2 where none is given
///
/// Hours with the sun lower than 10 degrees take the straight line between the last and the next that tell.
/// year   place and `global` are read
/// clear  [8760] W/m2 cloudless global radiation, or empty
/// Returns 0..1
/// Source  kasten-czeplak-1980; check: proof/climate/sky.toml
[[nodiscard]] std::vector<double> cloud_from_clearness(const Year& year, std::span<const double> clear = {});

/// The formula inside: cover from the ratio of global to cloudless global radiation.
[[nodiscard]] double cloud_cover(double clearness);

}  // namespace warmside::climate
