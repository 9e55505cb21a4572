// What the solver needs to know of a material, as tables over the moisture variable.
#pragma once

#include <functional>
#include <span>
#include <string>

#include "material/material.h"
#include "numerics/table.h"

namespace warmside::moisture {

/// Property functions from anywhere: a catalogue row, a standard's example, an exact solution.
/// theta is the dimensionless suction of potential.h; w in kg/m3.
struct Functions {
    std::string name;
    std::function<double(double theta)> water;    ///< kg/m3, falling with theta, > 0 slope
    double saturation = 0.0;                      ///< kg/m3 at theta -> 0 (free saturation)
    double most = 0.0;                            ///< kg/m3 with all pores full
    std::function<double(double theta)> vapour;   ///< kg/(s m Pa)
    bool vapour_by_temperature = false;           ///< times T_0/T
    std::function<double(double w)> diffusivity;  ///< m2/s, or
    std::function<double(double w)>
        liquid_conductivity;                       ///< kg/(s m Pa) over suction; at most one of the two
    std::function<double(double w)> conductivity;  ///< W/(m K) at reference 283.15 K
    double conductivity_factor = 0.0;              ///< 1/K, ISO 10456 temperature factor
    double heat_capacity = 0.0;                    ///< J/(m3 K), dry
    bool freezes = true;                           ///< water beyond the hygroscopic range turns to ice
};

/// Tabulated form. Columns of `tables`: see Column.
struct Substance {
    enum Column {
        water = 0,
        liquid = 1,
        vapour = 2,
        conductivity = 3,
        theta = 4,
        freezable = 5,
        humidity = 6
    };
    std::string name;
    numerics::Tables tables;  ///< over u, all on the same grid (see table_intervals)
    double saturation = 0.0;
    double heat_capacity = 0.0;
    double conductivity_factor = 0.0;
    bool vapour_by_temperature = false;
    bool capillary = false;  ///< takes up liquid water
};

inline constexpr double conductivity_temperature = 283.15;  ///< K at which the conductivity table holds

/// Column `liquid` is the matric flux (Kirchhoff) potential int K dp_c = int D_w dw, kg/(m s), rising with
/// wetness: its difference over a distance is exactly the integral mean of the conductivity times the suction
/// difference.
[[nodiscard]] Substance tabulate(const Functions& functions);
[[nodiscard]] Substance tabulate(const material::Material& material);

/// Vapour resistance of membranes in series plus `fixed`, s m2 Pa/kg, over relative humidity 0..1 (function
/// 0).
[[nodiscard]] numerics::Tables resistance_of(std::span<const material::Membrane* const> membranes,
                                             double fixed);

/// Air of a ventilated cavity: vapour content only, with a small stated extra store for the battens'
/// surfaces.
[[nodiscard]] Substance cavity_air();
/// Water that clings to a membrane's outer face, as a layer 1 mm thick: up to 0.1 kg/m2 (our choice), then it
/// runs off.
[[nodiscard]] Substance clinging_film();

}  // namespace warmside::moisture
