// Wind at a house and the pressure that it sets up on its faces.
#pragma once

#include "assembly/assembly.h"

namespace warmside::leakage {

/// Wind at a height over the wind at the weather station (10 m, open ground).
///
///   V/V_met = (delta_met/10)^a_met (z/delta)^a
///   open a 0.14, delta 270 m; suburban 0.22, 370 m; city 0.33, 460 m
///
/// height  m; below 2 m held there (the law does not reach into the roughness)
/// Source  ashrae-f24-wind, equation 4 and table 1 (memory); check: proof/leakage/wind.toml
[[nodiscard]] double wind_share(assembly::Airtightness::Terrain terrain, double height);

/// Pressure coefficient of a wall, mean over the face, referred to the wind at the height of the eaves.
/// Low-rise, length to width 1:1, surrounded by obstructions half its height. Straight between the values of
/// the table, each 45 degrees.
///
/// angle   rad, any, between the wind (where it comes from) and the outer normal
/// Source  liddament-1996, table 2.2 (quoted); check: proof/leakage/pressure-coefficient.toml
[[nodiscard]] double wall_pressure_coefficient(double angle);

/// The same of one slope of a roof.
///
/// pitch   rad: rows for below 10, 10 to 30 and above 30 degrees
/// Source  liddament-1996, table 2.2 (quoted; above 30 degrees all but the first two values from memory)
[[nodiscard]] double roof_pressure_coefficient(double angle, double pitch);

}  // namespace warmside::leakage
