// Air through a ventilated cavity, driven by wind and buoyancy between its two ends.
#pragma once

#include <cmath>

namespace warmside::moisture {

/// Resistance of a cavity to the air that runs through it, for q in m3/(s m2 of face):
///
///   dp = openings q^2 + friction q
///
/// that is, with Q = q h m3/(s m) through 1 m of width,
///
///   dp = (rho/2)(Q/C_d)^2 (1/A_in^2 + 1/A_out^2) + 12 mu h Q/(gamma d^3)
///
/// Source  canadian-cavity-1995 (memory): laminar friction, valid to a Reynolds number of about 2000; C_d 0.6
///         from the same. check: proof/moisture/cavity-flow.toml
struct Draught {
    double openings = 0.0;  ///< Pa s2/m2
    double friction = 0.0;  ///< Pa s/m
    double rise = 0.0;      ///< m, height of the upper end over the lower; 0: no buoyancy
};

struct CavityShape {
    double length = 0.0, gap = 0.0;              ///< m: from end to end, clear depth
    double opening_in = 0.0, opening_out = 0.0;  ///< m2 of opening per m of width
    double clear = 1.0;                          ///< gamma: share of the gap that mortar leaves
    double rise = 0.0;                           ///< m
};
[[nodiscard]] Draught draught(const CavityShape& shape);

inline constexpr double cavity_air_density = 1.25;    ///< kg/m3, near 10 degC
inline constexpr double gas_of_air = 287.042;         ///< J/(kg K), dry
inline constexpr double outdoor_pressure = 101325.0;  ///< Pa: densities are those at sea level
inline constexpr double buoyant_gravity = 9.80665;    ///< m/s2

/// Flow q, m3/(s m2), with derivatives by the temperature (K) and vapour pressure (Pa) of the cavity's air.
struct Draw {
    double flow = 0.0, by_temperature = 0.0, by_vapour = 0.0;
};

/// What moves the air: g (rho_out - rho_cavity) rise by the densities of moist air, and the wind. The sign of
/// the wind's part against buoyancy is not known for a face, and either way outdoor air comes in, so both add
/// as the root of the sum of their squares. A hundredth of a Pascal (our choice: air outdoors is never quite
/// still) keeps the root smooth.
///
///   q = 2 dp/(friction + sqrt(friction^2 + 4 openings dp)),  dq/d dp = 1/sqrt(friction^2 + 4 openings dp)
///
/// draught      as above, friction > 0
/// outdoor      K, Pa: temperature and vapour pressure
/// cavity       K, Pa, of the node of the cavity
/// wind_square  Pa2, of the wind's pressure difference between the ends
inline Draw draw(const Draught& draught, double outdoor_temperature, double outdoor_vapour,
                 double temperature, double vapour, double wind_square) {
    constexpr double still_square = 1e-4;  // Pa2
    const double lift = buoyant_gravity * draught.rise / gas_of_air;
    // rho = (P - 0.378 p)/(R_a T)
    const double here = (outdoor_pressure - 0.378 * vapour) / temperature;
    const double stack = lift * ((outdoor_pressure - 0.378 * outdoor_vapour) / outdoor_temperature - here);
    const double dp = std::sqrt(stack * stack + wind_square + still_square);
    const double root = std::sqrt(draught.friction * draught.friction + 4.0 * draught.openings * dp);
    const double slope = stack * lift / (dp * root);  // dq/d stack x lift
    return {2.0 * dp / (draught.friction + root), slope * here / temperature, slope * 0.378 / temperature};
}

/// Square of the wind's pressure difference between the ends of a cavity, Pa2.
///
/// difference_coefficient  between the openings
/// wind                    m/s at the house
[[nodiscard]] inline double wind_square_of(double difference_coefficient, double wind) {
    const double dp = difference_coefficient * 0.5 * cavity_air_density * wind * wind;
    return dp * dp;
}

}  // namespace warmside::moisture
