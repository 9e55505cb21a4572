// A finding in words and numbers for people.
#pragma once

#include <string>

#include "assembly/assembly.h"
#include "moisture/measure.h"
#include "moisture/verdict.h"

namespace warmside::moisture {

/// 1 to 52 and the month's name of an hour of the year (any non-negative hour, wrapped); 31 December counts
/// with week 52.
[[nodiscard]] int week_of(int hour);
[[nodiscard]] std::string month_of(int hour);

[[nodiscard]] Finding put_into_words(const History& history, const Measured& measured,
                                     const Thresholds& thresholds);

/// "mould index 1.3 at the inner face of osb, week 16 in April of the settled year, north, framing path,
/// (dry ends at 1 and wet begins at 3)".
[[nodiscard]] std::string sentence(const assembly::Assembly& assembly, const Finding& finding);

/// A number with as many decimals as keep it on its side of the limit.
[[nodiscard]] std::string figure(double value, const Finding& finding);

}  // namespace warmside::moisture
