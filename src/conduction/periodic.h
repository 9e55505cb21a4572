// Periodic heat through plane layers: the two-port matrix of ISO 13786.
#pragma once

#include <array>
#include <complex>
#include <span>

#include "base/result.h"

namespace warmside::conduction {

/// A plane layer. With density or specific heat zero it is a pure resistance (a film, an air layer).
struct PlaneLayer {
    double thickness = 0.0;      ///< m
    double conductivity = 0.0;   ///< W/(m K)
    double density = 0.0;        ///< kg/m3
    double specific_heat = 0.0;  ///< J/(kg K)
};

/// Row by row: Z11, Z12, Z21, Z22 of (temperature, heat flux) inside to outside; det Z = 1.
using TransferMatrix = std::array<std::complex<double>, 4>;

/// What a wall does to a temperature that swings with one period.
struct Periodic {
    double transmittance = 0.0;                   ///< W/(m2 K), steady U
    std::complex<double> inside_admittance;       ///< W/(m2 K), Y_ii = -Z11/Z12
    std::complex<double> outside_admittance;      ///< W/(m2 K), Y_ee = -Z22/Z12
    std::complex<double> periodic_transmittance;  ///< W/(m2 K), Y_ie = -1/Z12
    double decrement = 0.0;                       ///< |Y_ie| / U
    double inside_lead = 0.0;                     ///< s, of the inside admittance
    double time_shift = 0.0;                      ///< s, of Y_ie; negative: the heat arrives later
    double inside_capacity = 0.0;                 ///< J/(m2 K), areal, T/(2 pi) |Y_ii - Y_ie|
    double outside_capacity = 0.0;                ///< J/(m2 K), T/(2 pi) |Y_ee - Y_ie|
};

/// Matrix of one layer (ISO 13786):
///
///   Z11 = Z22 = cosh(xi + i xi), Z12 = -d/(k xi (1+i)) sinh(xi + i xi), Z21 = -k xi (1+i)/d sinh(xi + i xi),
///   xi = d/delta, delta = sqrt(k T/(pi rho c))
///
/// period   s, > 0
/// Source   ISO 13786:2017 clause 6 (evidence: memory); check: proof/thermal/iso13786_periodic.toml
[[nodiscard]] TransferMatrix transfer_matrix(const PlaneLayer& layer, double period);

/// Layers from inside to outside between two films.
///
/// inside_film, outside_film   m2 K/W, > 0
/// Problem  out_of_range: a figure that is negative, not finite, or zero where a resistance needs it
/// Source   as transfer_matrix
[[nodiscard]] Result<Periodic> periodic(std::span<const PlaneLayer> layers, double inside_film,
                                        double outside_film, double period);

}  // namespace warmside::conduction
