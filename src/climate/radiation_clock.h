// Does the radiation of a file fit the sun of its own clock?
#pragma once

#include "climate/year.h"

namespace warmside::climate {

/// Hours by which the clock of each month's radiation runs ahead of the header's UTC offset: 0, 1 or -1.
///
///   m(s) = sum |D + B cos z(t + s) - G| / sum G      for s = -1, 0, 1 h
///
/// A month is off when m(0) > 0.03 and another shift brings it below half. Sound months have m(0) below 0.01.
/// Some TMY3 months come from years in which the place kept another time zone than the header says.
[[nodiscard]] std::array<int, 12> radiation_clock_error(const Year& year);

/// A sentence for the year's notes; empty when no month is off.
[[nodiscard]] std::string radiation_clock_note(const Year& year);

}  // namespace warmside::climate
