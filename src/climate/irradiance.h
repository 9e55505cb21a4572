// Short-wave radiation on a tilted plane.
#pragma once

#include "climate/sun.h"
#include "climate/year.h"

namespace warmside::climate {

inline constexpr double solar_constant = 1367.0;  ///< W/m2 at 1 au; the figure of the Perez paper and of TMY3

/// Cosine of the angle between the beam and the plane's normal; negative behind it. Angles in rad.
[[nodiscard]] double cosine_of_incidence(const Plane& plane, double zenith, double azimuth);

/// Relative optical air mass.  m = 1 / (cos z + 0.50572 (96.07995 - z)^-1.6364), z in degrees
/// zenith  rad, 0 to pi/2; beyond, the value at the horizon
/// Source  kasten-young-1989; check: proof/climate/irradiance.toml
[[nodiscard]] double air_mass(double zenith);

/// Sky diffuse radiation on a plane, with what it was made of.
struct SkyDiffuse {
    double clearness = 0.0;    ///< epsilon
    int bin = 0;               ///< 1 overcast to 8 clear
    double brightness = 0.0;   ///< delta
    double circumsolar = 0.0;  ///< F1
    double horizon = 0.0;      ///< F2
    double on_plane = 0.0;     ///< W/m2
    double from_sun = 0.0;     ///< W/m2 of these from the sun's own direction: the circumsolar term
};

/// Sky diffuse on a tilted plane by the anisotropic model of Perez and others.
///
///   D [ (1 - F1) (1 + cos b)/2 + F1 a/c + F2 sin b ],  a = max(0, cos i), c = max(cos 85 deg, cos z)
///
/// diffuse         W/m2 on the horizontal
/// direct          W/m2, normal to the beam
/// extraterrestrial W/m2, normal to the beam
/// zenith, azimuth rad, of the sun; below the horizon the sky is taken as uniform
/// Source          perez-1990, table 6 (all sites); check: proof/climate/irradiance.toml
[[nodiscard]] SkyDiffuse perez_diffuse(const Plane& plane, double diffuse, double direct,
                                       double extraterrestrial, double zenith, double azimuth);

/// Diffuse of a uniform sky on the plane, W/m2.  D (1 + cos b) / 2
[[nodiscard]] double uniform_diffuse(const Plane& plane, double diffuse);

/// The same hour by hour, in its parts; W/m2 on the plane, each hours_in_year long. The beam comes with the
/// sun's direction, for windows and what shades them.
struct PlaneSun {
    std::vector<double> beam, sky, ground;
    std::vector<double> circumsolar;  ///< of `sky`, from the sun's direction
    std::vector<double> cosine;       ///< of the beam's angle of incidence; 0 behind the plane or at night
    std::vector<double> elevation, azimuth;  ///< rad, of the sun at the middle of the sunlit part of the hour
};
[[nodiscard]] PlaneSun sun_on(const Year& year, const Plane& plane, double ground_reflectance = 0.2);

/// Short-wave radiation of the whole year on a plane: beam, sky and ground; W/m2, hours_in_year long. The sun
/// of an hour stands at the middle of the part of the hour in which it is up.
[[nodiscard]] std::vector<double> solar_on(const Year& year, const Plane& plane,
                                           double ground_reflectance = 0.2);

}  // namespace warmside::climate
