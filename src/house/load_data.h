// Coefficients of the design loads: data/house/loads.toml.
#pragma once

#include <array>
#include <string_view>

#include "base/origin.h"

namespace warmside::house {

struct DrivingForce {
    double base = 0.0, stack = 0.0, flue = 0.0;  ///< L/(s cm2) x 1000, and per m and K
    Origin origin;
};
struct LoadData {
    DrivingForce heating, cooling;
    Sourced<double> air_heat;                          ///< J/(m3 K) at sea level
    std::array<double, 12> sky_a{}, sky_b{}, sky_c{};  ///< W/m2, -, -
    Origin sky;
    std::array<double, 24> below{};  ///< share of the daily range at 1:00 to 24:00
    double wind = 0.0;               ///< m/s
    Origin day;
};
/// Problem: syntax, a missing key, a list of another length, with its line.
[[nodiscard]] Result<LoadData> read_loads(std::string_view name, std::string_view text);
/// The embedded file; read once.
[[nodiscard]] const Result<LoadData>& load_data();

}  // namespace warmside::house
