// Hourly weather from monthly means. Methods and their sources stand at the functions of generate_parts.h and
// in docs/methods/generated-weather.md.
#pragma once

#include "climate/statistics.h"
#include "climate/year.h"

namespace warmside::climate {

/// `generate` (year.h) with statistics of choice: the tests compare own with borrowed ones.
///
/// Monthly means of temperature, dew point, wind and global radiation and monthly sums of rain are those of
/// the place; the standard deviations of daily and hourly temperature within each month, the wet hours, the
/// mean cloud and the driving-rain rose are those of `statistics`. The same arguments give the same bits.
///
/// Problem  out_of_range: a month with more sun than the method allows (clearness index above 0.75) or none
/// at all,
///          or a dew point above the temperature
[[nodiscard]] Result<Year> generate_with(const PlaceRow& place, const Statistics& statistics,
                                         unsigned seed = 1);

}  // namespace warmside::climate
