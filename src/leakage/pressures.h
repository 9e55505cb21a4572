// Hour by hour: how much higher the air pressure stands indoors than outdoors, and the air that this drives
// through the faces of a house.
#pragma once

#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "base/result.h"
#include "climate/year.h"

namespace warmside::leakage {

/// One straight wall over all storeys, or the top.
struct Patch {
    double azimuth = 0.0;            ///< rad, of the outer normal
    double bottom = 0.0, top = 0.0;  ///< m above the lowest heated floor
    double area = 0.0;               ///< m2, gross
};

/// What leaks of a house, as the balance sees it: walls by direction, and the top as one. The lowest floor
/// and walls in the ground are taken as tight.
struct Envelope {
    std::vector<Patch> walls;
    double top_area = 0.0;       ///< m2
    double top_height = 0.0;     ///< m, its middle
    double pitch = 0.0;          ///< rad, of the steepest roof
    bool attic = true;           ///< the top is a ceiling under a vented attic, not the roof itself
    double slope_azimuth = 0.0;  ///< rad, of one of its two slopes
    double volume = 0.0;         ///< m3, heated
    double eaves = 0.0;          ///< m above the ground: where the wind is taken
    double upper_floor = 0.0, upper_height = 0.0;  ///< m, of the highest heated storey
    bool assumed = false;                          ///< the house file has no storeys: the default house
};
/// Walls whose azimuth agrees to a degree count as one from the lowest to the highest.
[[nodiscard]] Result<Envelope> envelope_of(const assembly::House& house);

/// Flow through a wall from `bottom` to `top` whose pressure difference runs straight with height, over the
/// flow at 1 Pa:  int sign(p) |p|^n dz / (top - bottom), with its derivative by the pressure.
struct Driven {
    double flow = 0.0, slope = 0.0;
};
[[nodiscard]] Driven mean_power(double pressure_bottom, double pressure_top, double exponent);

/// Pressures of a house over a year; each [8760].
struct Pressures {
    Envelope envelope;
    std::vector<double>
        inside;  ///< Pa, room over still outdoor air, at the lowest heated floor; fan included
    std::vector<double> buoyancy;   ///< Pa/m, what the difference gains with height: g (rho_out - rho_in)
    std::vector<double> wind;       ///< Pa, rho V^2/2 at the eaves
    std::vector<double> direction;  ///< rad, where the wind comes from
};

/// Balances the house: what the walls and the top let in is what they let out.
///
///   dp(z) = p_in + (rho_out - rho_in) g z - C_p rho_out V^2/2,   sum A int sign(dp) |dp|^n = 0
///
/// The top's C_p is the mean of both slopes; under an attic half that and half the mean of the walls at the
/// eaves. All leaks are even over walls and top (windows leak with their wall), so the root does not depend
/// on how leaky the house is. The fan's pressure is added to the balance. Newton's method in a bracket that
/// always shrinks; the sum rises with p_in, so there is one root.
///
/// house    storeys, roofs, air (terrain, fan)
/// Problem  not_converged with the hour; incomplete when a column is not 8760 long
/// Source   stack and power law: ashrae-f16 (memory); check: proof/leakage/stack.toml
[[nodiscard]] Result<Pressures> pressures(const assembly::House& house, const climate::Year& year,
                                          const climate::Indoor& indoor);

/// Pa, inside minus outside, across a face at a height (m above the lowest heated floor); positive pushes
/// room air out. Faces tilted less than 80 degrees count as roof slopes.
[[nodiscard]] std::vector<double> across(const Pressures& pressures, const climate::Plane& face,
                                         double height);

/// m3/(s m2) at each pressure difference, from the leakage at 50 Pa: q50 sign(dp) (|dp|/50)^n.
/// Check: proof/leakage/power-law.toml
[[nodiscard]] double flow_at(double pressure_difference, double at_50_pa, double exponent);

}  // namespace warmside::leakage
