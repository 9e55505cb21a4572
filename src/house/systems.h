// From the heat that the rooms need to the energy that is bought for it.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "assembly/services.h"
#include "base/origin.h"
#include "base/result.h"

namespace warmside::house {

/// data/house/systems.toml and data/house/demo_heat_pump.toml.
struct SystemData {
    Sourced<double> furnace, boiler;  ///< J of electricity per J of heat, blower and pump
    /// Capacity as a share of that at 8 degC.
    std::vector<assembly::PerformancePoint> demo;
    Origin demo_origin;
};
/// Problem: syntax, a missing key, points that do not rise, with the line.
[[nodiscard]] Result<SystemData> read_systems(std::string_view name, std::string_view text,
                                              std::string_view demo_name, std::string_view demo_text);
/// The embedded files; read once.
[[nodiscard]] const Result<SystemData>& system_data();

/// A machine at an outdoor temperature.
struct Performance {
    double capacity = 0.0;                                           ///< W
    double efficiency = 0.0;                                         ///< W/W
    enum class Side { inside, colder, warmer } side = Side::inside;  ///< of the points' range
};
/// Straight between the points. Beyond the first the line of the first two goes on but never rises above the
/// first point's values, with a capacity of 0 and an efficiency of 1 at least; beyond the last its values
/// stay. For cooling the ends change places: `worse_when_colder` false.
///
/// points  at least one, rising temperature (check)
/// outdoor K
[[nodiscard]] Performance performance(std::span<const assembly::PerformancePoint> points, double outdoor,
                                      bool worse_when_colder = true);

/// Problem  incomplete or conflict: no points, temperatures that do not rise, capacity or efficiency that is
///          not positive; `which` names the table
[[nodiscard]] Result<void> check(std::span<const assembly::PerformancePoint> points, std::string_view which,
                                 const Place& where);

/// What is bought for one purpose from one fuel.
struct Stream {
    assembly::Fuel fuel = assembly::Fuel::electricity;
    enum class Purpose { heating, cooling, fans } purpose = Purpose::heating;
    std::vector<double> power;  ///< [hour] W
};

struct Supply {
    std::vector<Stream> streams;
    double capacity =
        0.0;              ///< W, of the heating machine as taken: at 8 degC for the demo curve, 0: as needed
    double backup = 0.0;  ///< J, heat from resistance beside a heat pump
    double short_heating = 0.0;  ///< J that the stated capacity could not give
    double short_cooling = 0.0;  ///< J
    int beyond = 0;              ///< hours with a need beyond the points' temperatures
    double efficiency = 0.0;     ///< heat given to the rooms over energy bought for it, of the year
    std::vector<std::string> notes;
};

/// Hour by hour:
///
///   furnace, boiler  fuel = need/(efficiency x distribution); blower and pump by systems.toml
///   resistance       electricity = need/distribution
///   heat pump        the machine gives need/distribution up to its capacity at the outdoor temperature, at
///                    that hour's efficiency; the rest, and all below the cut-off, comes from resistance
///   cooling          need/efficiency, up to the capacity
///
/// Left out: cycling at part load, defrosting beyond what the points hold, standing losses, water heating.
///
/// heating, cooling  [hour] W, sensible, given to and taken from the rooms
/// outdoor           [hour] K
/// fans              [hour] W, electricity of ventilation
/// Problem   incomplete: series of unequal length; out_of_range: a need below 0 or not finite, an efficiency
///           or distribution not in reach; those of check of the points
/// Check     systems_test (worked by hand)
struct Need {
    std::span<const double> heating, cooling, outdoor, fans;
};
[[nodiscard]] Result<Supply> supply(const assembly::Heating& heating, const assembly::Cooling& cooling,
                                    const Need& need);

}  // namespace warmside::house
