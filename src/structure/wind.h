// Wind pressure on walls from a given speed, and the limits of deflection and of the tables.
#pragma once

#include <optional>

#include "assembly/practice.h"
#include "base/origin.h"

namespace warmside::structure {

using Exposure = assembly::Loads::Exposure;

/// Pressures on a wall, Pa, towards (+) and away from (-) it, at one effective area.
struct WallPressure {
    double towards = 0.0;  ///< any zone
    double field = 0.0;    ///< zone 4, suction, negative
    double corner = 0.0;   ///< zone 5, suction, negative
};

/// Ultimate wind on components and cladding of a wall.
///
///   p = 0.00256 psf Kz Kd V^2 (GCp +- 0.18), exposure B at 30 ft, times the factor of height and exposure
///
/// speed   m/s, ultimate, 3 s gust; height: mean of the roof, m; area: effective, m2 (span times a third of
/// it, at least)
/// Nothing for a mean roof height above 35 ft or a speed from 140 mph on: the tables end, an engineer
/// decides. Source  ASCE 7-16 chapter 30; IRC 2021 Tables R301.2.1(1) and (2); check:
/// proof/structure/wind.toml
[[nodiscard]] std::optional<WallPressure> ultimate_pressure(double speed, Exposure exposure, double height,
                                                            double area);

/// 0.6 of the ultimate pressure: the load of allowable-stress design.
[[nodiscard]] double allowable(double ultimate);
/// What deflection is judged under: 0.7 of the allowable-stress load, 0.42 of the ultimate one. IRC Table
/// R301.7 speaks of the allowable-stress loads of its own wind table, so the 0.7 is taken here and nowhere
/// else.
[[nodiscard]] double for_deflection(double ultimate);

struct Limits {
    double stucco = 0, other_brittle = 0, gypsum = 0, flexible = 0;  ///< walls under wind: height / limit
    double rafter = 0, rafter_with_ceiling = 0, floor = 0, ceiling = 0, header = 0;  ///< span / limit
    Origin origin;
    double snow = 0.0;       ///< Pa, above it the tables end
    double storey = 0.0;     ///< m, likewise
    double roof_live = 0.0;  ///< Pa
    double wind = 0.0;       ///< m/s, from it on a design is needed
    Origin roof_live_origin, pressure, wind_for_deflection;
};
[[nodiscard]] const Limits& limits();

}  // namespace warmside::structure
