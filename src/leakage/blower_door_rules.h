// What each standard asks of a blower-door test: data/leakage/blower-door.toml.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/origin.h"
#include "base/result.h"

namespace warmside::leakage {

enum class TestStandard { iso_9972, astm_e779, astm_e3158 };

/// Limits that are absent are not asked.
struct TestRules {
    std::string title;             ///< "ISO 9972:2015"
    double density = 0.0;          ///< kg/m3, of the reference air
    bool viscosity = false;        ///< the coefficient is corrected for the air's viscosity too
    bool both_directions = false;  ///< required
    int points = 0;                ///< at least
    double exponent_least = 0.0, exponent_most = 0.0;
    std::optional<double> correlation;           ///< r2 at least
    std::optional<double> baseline;              ///< Pa at most
    double lowest = 0.0;                         ///< Pa, the lowest point at least
    std::optional<double> lowest_over_baseline;  ///< or that many times the baseline
    double highest = 0.0;                        ///< Pa, the highest point at least
    std::optional<double> least_highest;         ///< Pa, below it the test does not count
    std::optional<double> step;                  ///< Pa at most between points
    std::optional<double> wind;                  ///< m/s at most
    std::optional<double> warmth_height;         ///< K m at most
    std::string clause_pressure, clause_baseline, clause_weather, clause_fit;  ///< "5.3.4", or empty
    Origin origin;
};

/// Problem  syntax, a missing key, a value outside its limits; with place
[[nodiscard]] Result<TestRules> read_test_rules(std::string_view name, std::string_view text,
                                                TestStandard standard);
/// The embedded rows; read once.
[[nodiscard]] const Result<TestRules>& test_rules(TestStandard standard);

}  // namespace warmside::leakage
