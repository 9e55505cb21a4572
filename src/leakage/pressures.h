// Hour by hour: how much higher the air pressure stands indoors than outdoors, and the air that this drives
// through the faces of a house.
#pragma once

#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "base/result.h"
#include "climate/year.h"
#include "leakage/house_leakage.h"

namespace warmside::leakage {

/// Flow through a wall from `bottom` to `top` whose pressure difference runs straight with height, over the
/// flow at 1 Pa:  int sign(p) |p|^n dz / (top - bottom), with its derivative by the pressure.
struct Driven {
    double flow = 0.0, slope = 0.0;
};
[[nodiscard]] Driven mean_power(double pressure_bottom, double pressure_top, double exponent);
/// The part of it that blows in, positive: int |p|^n where p < 0, dz / (top - bottom).
[[nodiscard]] double inward_power(double pressure_bottom, double pressure_top, double exponent);

/// Pressures of a house over a year; each [8760].
struct Pressures {
    Envelope envelope;
    std::vector<double>
        inside;  ///< Pa, room over still outdoor air, at the lowest heated floor; fan included
    std::vector<double> buoyancy;   ///< Pa/m, what the difference gains with height: g (rho_out - rho_in)
    std::vector<double> wind;       ///< Pa, rho V^2/2 at the eaves
    std::vector<double> direction;  ///< rad, where the wind comes from
    std::vector<double> inflow;     ///< m3/s of outdoor air through all leaks of the house
    HouseLeakage leakage;
    double imbalance = 0.0;  ///< m3/s that fans blow in above what they draw out, mean over time
};

/// Balances the house: what walls and top let out is what they let in and what the fans add.
///
///   dp(z) = p_in + (rho_out - rho_in) g z - C_p rho_out V^2/2
///   Q_50/(50^n A) sum A_i mean(sign(dp) |dp|^n)_i = Q_fans      A = sum A_i
///
/// The top's C_p is the mean of both slopes; under an attic half that and half the mean of the walls at the
/// eaves. All leaks are even over walls and top (windows leak with their wall), so without fans the root does
/// not depend on how leaky the house is. Volumes are balanced, not masses. Newton's method in a bracket that
/// always shrinks; the sum rises with p_in, so there is one root. A pressure of the fans that the house file
/// states is added to the balance instead of their flow.
///
/// house     storeys, roofs, air (terrain, fan), ventilation where the file states its kind
/// leakage, imbalance  where they are known better: of a test; m3/s
/// Problem   not_converged with the hour; incomplete when a column is not 8760 long; out_of_range: fans in a
///           house without leaks
/// Source    stack and power law: ashrae-f16 (memory); check: proof/leakage/stack.toml
[[nodiscard]] Result<Pressures> pressures(const assembly::House& house, const climate::Year& year,
                                          const climate::Indoor& indoor);
[[nodiscard]] Result<Pressures> pressures(const assembly::House& house, const climate::Year& year,
                                          const climate::Indoor& indoor, const HouseLeakage& leakage,
                                          double imbalance);

/// Pa that a fan raises the house by in still air of one temperature.  sign(Q) 50 (|Q|/Q_50)^(1/n)
[[nodiscard]] double fan_pressure(const HouseLeakage& leakage, double imbalance);

/// Pa, inside minus outside, across a face at a height (m above the lowest heated floor); positive pushes
/// room air out. Faces tilted less than 80 degrees count as roof slopes.
[[nodiscard]] std::vector<double> across(const Pressures& pressures, const climate::Plane& face,
                                         double height);

/// m3/(s m2) at each pressure difference, from the leakage at 50 Pa: q50 sign(dp) (|dp|/50)^n.
/// Check: proof/leakage/power-law.toml
[[nodiscard]] double flow_at(double pressure_difference, double at_50_pa, double exponent);

}  // namespace warmside::leakage
