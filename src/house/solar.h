// Sun on the house: what comes through a window, where it lands, and what an outer surface exchanges heat
// with.
#pragma once

#include <span>
#include <vector>

#include "climate/irradiance.h"
#include "climate/year.h"
#include "house/glass.h"
#include "house/network.h"
#include "house/shading.h"

namespace warmside::house {

/// Hour by hour, W/m2 of window: through it, and set free at its inner and outer face.
struct WindowSun {
    std::vector<double> transmitted, inner, outer;
};

/// Beam and the sky's circumsolar part at their angle of incidence and by the window's sunlit share; the rest
/// of the sky and the ground as diffuse light, less what the screens hide. The screens reflect nothing.
[[nodiscard]] WindowSun window_sun(const climate::PlaneSun& sun, double wall_azimuth,
                                   const SolarBehaviour& glass, const Frontage& window,
                                   std::span<const Screen> screens = {});

/// What an opaque outer surface meets: wind's film and the linear exchange with sky and ground as one
/// conductance, and the sol-air temperature.
///
///   h = h_c + e sigma (T_a^2 + T_r^2)(T_a + T_r)
///   T = (h_c T_a + h_r T_r + a I)/h
///
/// absorptance, emissivity  0 to 1
/// convection               W/(m2 K), h_c hour by hour; empty: climate's film of the wind (4 + 4 v)
/// Source                   climate/sky.h for h_c and the sky, irradiance.h for I; the surface is taken at
/// the
///                          air's temperature where radiation is made linear
[[nodiscard]] Boundary outdoors(const climate::Year& year, const climate::Plane& plane, double absorptance,
                                double emissivity, double ground_reflectance = 0.2,
                                std::span<const double> convection = {});

/// The same for the outer face of a window: no absorptance of its own, `sun.outer` instead.
[[nodiscard]] Boundary outdoors(const climate::Year& year, const climate::Plane& plane, const WindowSun& sun,
                                double emissivity, std::span<const double> convection = {});

/// Film of the wind that knows the surface: free convection and wind together.
///
///   smooth  h = sqrt(f^2 + (a v^b)^2),  a, b = 3.26, 0.89 windward, 3.55, 0.617 leeward
///   rough   f + r (h - f),  f = 1.31 (5 K)^(1/3)
///
/// roughness  r: glass 1, smooth plaster 1.11, clear pine 1.13, concrete 1.52, brick 1.67, stucco 2.17
/// wind       v beside the wall: 10 m wind x (height/10 m)^0.14
/// Source     yazdanian-klems-1994 (memory); roughness and the profile of open land: ASHRAE (memory)
[[nodiscard]] std::vector<double> wind_film(const climate::Year& year, const climate::Plane& plane,
                                            double height, double roughness);

/// One of the surfaces that shut in a room, for light.
struct LitSurface {
    double area = 0.0;         ///< m2
    double absorptance = 0.6;  ///< of glass: what it does not reflect, lost to the outside
    double first = 0.0;        ///< share of the light that falls on it straight from the window
};

/// Where light that came through the windows ends, share of each surface; they sum to 1. What a surface does
/// not absorb goes evenly to all others by their area.
///
/// Problem  incomplete: fewer than two surfaces; out_of_range: `first` does not sum to 1, an absorptance that
///          is not 0 to 1, all of them 0
/// Source   radiosity, view factors by area (a choice of ours). Check: solar_test
[[nodiscard]] Result<std::vector<double>> sun_shares(std::span<const LitSurface> surfaces);

}  // namespace warmside::house
