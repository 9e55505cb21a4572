// Temperature of undisturbed ground, from the year's air.
#pragma once

#include <vector>

#include "climate/year.h"

namespace warmside::climate {

/// Ground as heat sees it. The defaults are ISO 13370's sand and gravel, which it takes where nothing is
/// known.
struct Soil {
    double conductivity = 2.0;     ///< W/(m K)
    double heat_capacity = 2.0e6;  ///< J/(m3 K)
};
/// ISO 13370:2007 table 1 (evidence: memory).
inline constexpr Soil clay{1.5, 3.0e6};
inline constexpr Soil sand{2.0, 2.0e6};

/// The year's swing as one cosine: its first harmonic.
struct AnnualWave {
    double mean = 0.0;       ///< K
    double amplitude = 0.0;  ///< K, half of the swing, never negative
    double coldest = 0.0;    ///< h from 1 January 0:00, 0 to 8760
};
/// Of the air of a year.
[[nodiscard]] AnnualWave annual_wave(const Year& year);

/// Depth at which the annual swing has fallen to 1/e, m.
///
///   d = sqrt(k t/(pi C)),  t one year
///
/// Source  ISO 13370:2007 annex A (evidence: memory); check: proof/climate/ground.toml
[[nodiscard]] double penetration_depth(const Soil& soil);

/// Temperature of the ground at a depth, K: a damped and delayed wave.
///
///   T = mean - amplitude exp(-z/d) cos(2 pi (t - coldest)/year - z/d)
///
/// wave    of the ground's surface; that of the air is taken for it: snow, which keeps ground warmer, sun,
/// shade
///         and evaporation are left out. Under snow the real ground is warmer than this
/// depth   m, not below 0
/// hour    of the year, of any sign
/// Source  kusuda-achenbach-1965 (evidence: memory); check: proof/climate/ground.toml
[[nodiscard]] double ground_temperature(const AnnualWave& wave, const Soil& soil, double depth, double hour);

/// The same for the middle of every hour of a year, [8760] K.
[[nodiscard]] std::vector<double> ground_temperature(const AnnualWave& wave, const Soil& soil, double depth);

}  // namespace warmside::climate
