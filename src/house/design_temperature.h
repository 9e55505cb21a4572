// The outdoor air that a heater and a cooler are sized for.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/origin.h"
#include "climate/year.h"

namespace warmside::house {

/// One place of data/house/design.toml; K. Published figures are percentiles of many years.
struct DesignRow {
    std::string name, state;
    std::optional<Sourced<double>> heating_996, heating_99;           ///< colder 0.4 and 1 % of the hours
    std::optional<Sourced<double>> cooling_04, cooling_1, cooling_2;  ///< warmer 0.4, 1 and 2 %
    std::optional<Sourced<double>> typical_99, typical_1;             ///< of the one year of its TMY3 file
    std::optional<Sourced<double>> code;                              ///< winter, of the county's code
};

/// Problem: syntax, a missing key, a value outside its limits, a place given twice, with its line.
[[nodiscard]] Result<std::vector<DesignRow>> read_design(std::string_view name, std::string_view text);
/// The embedded file; read once.
[[nodiscard]] const Result<std::vector<DesignRow>>& design_rows();

/// The value that a share of all values lies below: after round(share n) smaller ones comes this one.
/// Of 8760 hours 88 lie below the 1 % value, 35 below the 0.4 % value.
///
/// share    0 to 1, of the values that are smaller
/// Check    counts by hand and, where the file is there, Denver (design_temperature_test)
[[nodiscard]] double lower_percentile(std::span<const double> values, double share);
/// The same from above.
[[nodiscard]] double upper_percentile(std::span<const double> values, double share);

struct DesignTemperature {
    Sourced<double> heating, cooling;     ///< K
    double daily_range = 0.0;             ///< K, mean highest less lowest of the days of the warmest month
    std::optional<Sourced<double>> code;  ///< K, the county's winter value, also where it is not the one used
    std::vector<std::string> notes;       ///< what to know about either
};

/// Heating: the published 99 % value; without one the county's code value; without that the colder of the
/// typical years at hand (the place's TMY3 file, `year`) at 99 %, and a note says what that is worth.
/// Cooling: the published 1 % value, else the warmer of the typical years at 1 %.
///
/// place    null: a weather file's place, which no table knows
/// year     checked (climate::check)
/// Problem  the table cannot be read; incomplete: a year without 8760 temperatures
[[nodiscard]] Result<DesignTemperature> design_temperature(const climate::PlaceRow* place,
                                                           const climate::Year& year);

}  // namespace warmside::house
