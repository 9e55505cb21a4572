// Long-wave sky, outer film and rain on a plane.
#pragma once

#include "climate/year.h"

namespace warmside::climate {

/// Emissivity of a cloudless sky.
///
///   e = 0.711 + 0.56 (Td/100) + 0.73 (Td/100)^2 + 0.013 cos(2 pi t/24) + 0.00012 (P - 1000)
///
/// dew_point   K (Td in degrees Celsius in the formula)
/// pressure    Pa, station (P in mbar)
/// hour_of_day h, local time (t)
/// Source      berdahl-martin-1984; check: proof/climate/sky.toml
[[nodiscard]] double clear_sky_emissivity(double dew_point, double pressure, double hour_of_day);

/// Emissivity of a sky with clouds.  e + (1 - e) n exp(-z / 8200 m)
///
/// clear  emissivity of the cloudless sky; opaque  0..1 opaque cover
/// Source martin-berdahl-1984 for opaque clouds (emissivity 1) with base height z. A year of weather has no
///        height: 2000 m, the low cloud of that paper (memory), stands for all
[[nodiscard]] double cloudy_sky_emissivity(double clear, double opaque);

/// Temperature of a black sky with the same radiation on the horizontal, K.  T e^(1/4)
[[nodiscard]] double sky_temperature(double temperature, double emissivity);

/// Sky temperature of every hour of a year, K, by the three above.
[[nodiscard]] std::vector<double> sky_temperature(const Year& year);

/// Effective radiant temperature of what a plane sees, K: sky and ground by view factor, both black, the
/// ground at air temperature.  T^4 = (1 + cos b)/2 T_sky^4 + (1 - cos b)/2 T_air^4
[[nodiscard]] double radiant_temperature(double tilt, double sky, double ground);

/// Convective film of an outer surface, W/(m2 K).  h = 4 + 4 v
///
/// wind_speed  m/s beside the surface; weather_on passes the wind at 10 m, an open site
/// Source      iso-6946, annex C (same in EN 15026); check: proof/climate/film.toml
[[nodiscard]] double convective_film(double wind_speed);

/// Rain on a plane.
///
///   r = r_h cos b + 0.2 F_E F_D U cos(theta) r_h sin b      a wall, b = 90 degrees: the second term
///
/// rain            kg/(m2 s) on the horizontal (r_h); 0.2 s/m
/// wind_speed      m/s at 10 m (U)
/// wind_direction  rad from north, where it comes from; theta is its angle to the plane's azimuth. Rain
///                 that the wind carries away from the plane counts as none, not as less
/// Returns         kg/(m2 s)
/// Source          ashrae-160, clause 4.6, for walls; what lies between wall and horizontal is geometry of
///                 ours; check: proof/climate/rain.toml
[[nodiscard]] double rain_on(const Plane& plane, double rain, double wind_speed, double wind_direction,
                             const RainExposure& exposure = {});

}  // namespace warmside::climate
