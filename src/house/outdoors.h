// What stands outside of an element: air, sun and sky by the hour, or the steady film of a design hour.
#pragma once

#include <optional>

#include "climate/year.h"
#include "house/network.h"

namespace warmside::house {

/// What a face is to the weather.
struct Outer {
    climate::Plane plane;
    double absorptance = 0.0;  ///< of sun; 0: what the glass takes up is counted elsewhere
    double emissivity = 0.9;
    double film = 0.04;  ///< m2 K/W, the steady one
    /// Sheltered: the steady film at the air's temperature in every hour; shaded: wind alone, no sun or sky.
    enum class Kind { open, shaded, sheltered } kind = Kind::open;
    friend bool operator==(const Outer& a, const Outer& b) {
        return a.plane.azimuth == b.plane.azimuth && a.plane.tilt == b.plane.tilt &&
               a.absorptance == b.absorptance && a.emissivity == b.emissivity && a.film == b.film &&
               a.kind == b.kind;
    }
};

/// Hour by hour:
///
///   h_c = 4 + 4 v,  h_r = 4 e sigma ((T_air + T_radiant)/2)^3
///   conductance h_c + h_r,  temperature (h_c T_air + h_r T_radiant + a I)/(h_c + h_r)
///
/// T_radiant is that of sky and ground by view factor, I the sun on the plane.
/// design  K: conductance 1/film at this temperature instead
/// Source  weather_on (climate/year.h) for all of the parts; the linear radiation: elementary, its error
/// below
///         1 % of h_r at 30 K of difference
[[nodiscard]] Boundary boundary_of(const Outer& outer, const climate::Year& year,
                                   std::optional<double> design);

}  // namespace warmside::house
