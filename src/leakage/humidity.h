// Vapour in a room and in the lining around it: one step of the balance, exact for what is constant in it.
#pragma once

namespace warmside::leakage {

/// What holds vapour. Lining without conductance or store: air alone.
struct VapourStore {
    double air = 0.0;          ///< kg/Pa: V/(R_v T), at a temperature of reference
    double lining = 0.0;       ///< kg at relative humidity 1, straight: A d xi
    double conductance = 0.0;  ///< kg/(s Pa), room air to the middle of the lining's active layer
};

/// What acts on it, constant in the step.
struct VapourLoad {
    double carried_out = 0.0;  ///< kg/(s Pa): leaves with the air, times the vapour pressure of the room
    double carried_in = 0.0;   ///< kg/s with the air that comes in
    double source = 0.0;       ///< kg/s of people, cooking, washing, plants
    double saturation = 0.0;   ///< Pa, at the temperature of room and lining
    double least = 0.0;        ///< Pa that a humidifier keeps at the end of the step; 0: none
    double most = 0.0;         ///< Pa that a dehumidifier keeps then; at most `saturation`
};

struct VapourState {
    double pressure = 0.0;  ///< Pa, room air
    double lining = 0.0;    ///< relative humidity of the lining
};

struct VapourStep {
    VapourState end;
    double mean = 0.0;         ///< Pa, room air, mean over the step
    double carried_out = 0.0;  ///< kg
    double into_lining = 0.0;  ///< kg
    double added = 0.0;        ///< kg, by the humidifier
    double removed = 0.0;      ///< kg, by the dehumidifier, or condensed at saturation
};

/// Steps the balance of room air and lining, both linear:
///
///   C_a dp/dt = G + F_in - D p - K (p - q) + H       C_b dq/dt = K (p - q),  q = p_sat phi,  C_b = S/p_sat
///
/// by the exponentials of its two rates, so that no step is too long. Humidifier and dehumidifier give the
/// constant H that ends the step at their limit. Masses close to rounding:
/// C_a (p_end - p) = (G + F_in) t - carried_out - into_lining + added - removed.
///
/// seconds  t
/// Source   ideal gas and conservation of mass; lining: effective moisture penetration depth (humidity.h:
///          penetration_depth). Check: humidity_test.cpp (steady state and decay by hand, Runge-Kutta, mass)
[[nodiscard]] VapourStep step(const VapourStore& store, const VapourState& before, const VapourLoad& load,
                              double seconds);
/// The state that never changes under a load, humidifier and dehumidifier included; carried_out > 0.
[[nodiscard]] VapourState settled(const VapourLoad& load);

/// Depth of a lining that follows a swing of the room's humidity, m.  sqrt(delta p_sat t / (pi xi))
///
/// permeability  delta, kg/(s m Pa);  slope  xi = dw/dphi, kg/m3;  period  t, s;  saturation  Pa
/// Source        penetration depth of a harmonic swing (Cunningham 1988; memory)
[[nodiscard]] double penetration_depth(double permeability, double slope, double saturation, double period);

/// Vapour film of a surface by Lewis's relation, kg/(s m2 Pa).  h_c / (rho c_p R_v T), rho c_p of dry air
/// convection  W/(m2 K);  temperature K;  pressure Pa, total
/// Source      ashrae-f6 (memory)
[[nodiscard]] double vapour_film(double convection, double temperature, double pressure);

}  // namespace warmside::leakage
