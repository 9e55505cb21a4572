// Readings of a blower-door test as the crew writes them down: docs/blower-door.md.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace warmside::leakage {

/// One pressure with its flow.
struct TestPoint {
    double pressure = 0.0;  ///< Pa, inside minus outside, as read: the baseline is still in it
    double flow = 0.0;      ///< m3/s of the air that passes the fan
    Place where;
};

/// All points blown one way.
struct TestSeries {
    bool depressurise = true;           ///< air is drawn out: pressures are negative
    std::vector<double> before, after;  ///< Pa, with the fan closed: the baseline
    std::vector<TestPoint> points;      ///< one (single-point), or three and more
    Place where;
};

struct TestReadings {
    std::string file, name, date;
    std::optional<double> volume;                     ///< m3
    std::optional<double> envelope_area, floor_area;  ///< m2
    std::optional<double> height;                     ///< m, of the building
    std::optional<double> indoor, outdoor;            ///< K
    std::optional<double> barometric;                 ///< Pa
    std::optional<double> wind;                       ///< m/s
    std::vector<TestSeries> series;                   ///< one or two
};

/// Reads the CSV. Every problem is reported with line and column, up to fifty; nothing is returned when one
/// of them is an error.
///
/// Problem  syntax, unknown_key, unknown_name (a column), duplicate, missing (a unit, a column, a section),
///          wrong_unit, out_of_range, conflict (signs against the section), incomplete (too few points)
[[nodiscard]] std::optional<TestReadings> read_blower_door(std::string_view name, std::string_view text,
                                                           Problems& problems);

}  // namespace warmside::leakage
