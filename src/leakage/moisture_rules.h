// Where vapour in a house comes from and what buffers it: data/leakage/moisture.toml.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/origin.h"
#include "base/result.h"

namespace warmside::leakage {

struct MoistureRules {
    std::vector<double> by_bedrooms;  ///< kg/s, one bedroom, two, ...
    double further = 0.0;             ///< kg/s, each bedroom more
    std::string lining;               ///< material where the wall's own lining holds no water
    double partitions = 0.0;          ///< m2 of faces of partitions a m2 of floor
    double convection = 0.0;          ///< W/(m2 K), at the lining
    double period = 0.0;              ///< s, of the swing that the lining follows
    double humidity = 0.0;            ///< relative, at which the lining's properties are taken
    double balance_point = 0.0;       ///< K, mean of 24 h outdoors above which a cooled house is cooled
    double cooled_humidity = 0.0;     ///< relative humidity kept below then
    double airing = 0.0;              ///< 1/s of open windows at `airing_full` and warmer
    double airing_none = 0.0, airing_full = 0.0;     ///< K, mean of 24 h outdoors, straight between
    double timber_cold = 0.0, timber_cold_at = 0.0;  ///< kg/m3 above outdoors at and below K
    double timber_mild = 0.0, timber_mild_at = 0.0;  ///< kg/m3 at and above K
    Origin sources, buffer, cooling, windows, timber;
    /// kg/s
    [[nodiscard]] double rate(int bedrooms) const;
};

/// Problem: syntax, a missing key, a value outside its limits, with place.
[[nodiscard]] Result<MoistureRules> read_moisture_rules(std::string_view name, std::string_view text);
/// The embedded file; read once.
[[nodiscard]] const Result<MoistureRules>& moisture_rules();

}  // namespace warmside::leakage
