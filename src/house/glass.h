// Glazing from its panes: sun by angle, heat through its gaps, and what a window is that gives only U and
// SHGC.
#pragma once

#include <array>
#include <vector>

#include "base/result.h"

namespace warmside::house {

/// A sheet of clear, uncoated glass. A coating's emissivity counts for heat; its optics are not modelled.
struct Pane {
    double thickness = 0.003;         ///< m
    double refractive_index = 1.526;  ///< above 1
    double extinction = 19.6;         ///< 1/m
    double conductivity = 1.0;        ///< W/(m K)
    double emissivity_outer = 0.84, emissivity_inner = 0.84;
};

enum class Gas { air, argon };

struct Gap {
    double thickness = 0.012;  ///< m
    Gas gas = Gas::air;
};

/// From outside to inside, upright; one gap fewer than panes.
struct Glazing {
    std::vector<Pane> panes;
    std::vector<Gap> gaps;
};
/// Problem  incomplete or out_of_range, with the pane or gap
[[nodiscard]] Result<void> check(const Glazing& glazing);

/// Shares of what falls on a glazing; they sum to 1.
struct Optics {
    double transmittance = 0.0, reflectance = 0.0;
    std::vector<double> absorptance;  ///< of each pane, from outside
};

/// Unpolarised light from outside. Each polarisation goes through the stack on its own.
///
///   sin a = n sin b;  r_s = (sin(a-b)/sin(a+b))^2;  r_p = (tan(a-b)/tan(a+b))^2;  t = exp(-K d / cos b)
///   pane   T = t (1-r)^2 / (1 - r^2 t^2),  R = r (1 + t T)
///   stack  the fluxes both ways in every gap (net radiation)
///
/// cosine  of the angle of incidence a, 0 to 1
/// Source  Fresnel and Bouguer; siegel-1973 for the stack (memory). Check: proof/house/glass.toml
[[nodiscard]] Optics optics(const Glazing& glazing, double cosine);

/// Of light that comes evenly from a half-space: 2 integral of optics(mu) mu dmu, by 180 midpoints of the
/// angle.
[[nodiscard]] Optics diffuse_optics(const Glazing& glazing);

/// A gas between panes, at a mean temperature, 101325 Pa.
struct GasProperties {
    double conductivity = 0.0;   ///< W/(m K)
    double viscosity = 0.0;      ///< Pa s
    double specific_heat = 0.0;  ///< J/(kg K)
    double density = 0.0;        ///< kg/m3
};
/// Straight lines in temperature.  Source  iso-15099, annex B (memory)
[[nodiscard]] GasProperties properties_of(Gas gas, double temperature);

/// Nusselt number of an upright gap.
///
///   Ra > 5e4: 0.0673838 Ra^(1/3);  Ra > 1e4: 0.028154 Ra^0.4134;  else 1 + 1.7596678e-10 Ra^2.2984755
///   or, where larger, 0.242 (Ra d/H)^0.272
///
/// slenderness  H/d, above 1
/// Source       iso-15099, 5.3.3.5 (memory), after ElSherbiny 1982
[[nodiscard]] double nusselt(double rayleigh, double slenderness);

/// What stands on both sides of a glazing while its U value is measured.
struct Sides {
    double outdoors = 255.15, indoors = 294.15;  ///< K, air and what is seen
    double convection_outside = 26.0;            ///< W/(m2 K)
    /// W/(m2 K); below 0: natural, by the temperature of the inner pane (iso-15099, 8.3.2, memory)
    double convection_inside = -1.0;
    double height = 1.0;  ///< m
    double sun = 0.0;     ///< W/m2, at normal incidence, warms the panes
};
/// NFRC's winter (-18 and 21 degC, 5.5 m/s) and summer (32 and 24 degC, 2.75 m/s, 783 W/m2). Source
/// iso-15099 and nfrc-100 (memory)
inline constexpr Sides nfrc_winter{};
inline constexpr Sides nfrc_summer{305.15, 297.15, 15.0, -1.0, 1.0, 783.0};

/// Heat through the middle of a glazing at those conditions.
struct GlazingHeat {
    double u = 0.0;                      ///< W/(m2 K), air to air
    double outside = 0.0, inside = 0.0;  ///< W/(m2 K), films with radiation
    std::vector<double> gaps;            ///< W/(m2 K), from pane to pane
    /// m2 K/W, from the outdoor air to the middle of each pane
    std::vector<double> resistance_outward;
    /// W/(m2 K) of the glass and gaps alone, outer to inner face
    double conductance = 0.0;
};
/// Problem  those of check; not_converged
/// Source   iso-15099 (memory): each gap by Nusselt number and grey radiation between its faces, at the
/// panes'
///          own temperatures. Check: proof/house/glass.toml
[[nodiscard]] Result<GlazingHeat> heat_through(const Glazing& glazing, const Sides& sides = nfrc_winter);

/// What a window does with sun, by angle of incidence; shares of the incident sun on all of its area.
struct SolarBehaviour {
    /// [degree] 0 to 90; transmitted, and set free at the inner and the outer face: the heat of panes between
    /// is moved to the two faces so that all flows beyond them stay the same (two sources for the chain,
    /// exact where the chain has no mass).
    std::array<double, 91> transmitted{}, inner{}, outer{};
    double transmitted_diffuse = 0.0, inner_diffuse = 0.0, outer_diffuse = 0.0;
    double u = 0.0;            ///< W/(m2 K), at the rating
    double conductance = 0.0;  ///< W/(m2 K), face to face
    double gain = 0.0;         ///< SHGC at normal incidence, at the rating

    /// Between whole degrees straight in the angle; 0 behind the pane.
    [[nodiscard]] double transmitted_at(double cosine) const { return at(transmitted, cosine); }
    [[nodiscard]] double inner_at(double cosine) const { return at(inner, cosine); }
    [[nodiscard]] double outer_at(double cosine) const { return at(outer, cosine); }

private:
    [[nodiscard]] static double at(const std::array<double, 91>& table, double cosine);
};

/// By the panes; films and gaps as at `sides`.
///
///   SHGC = T + sum of A_i N_i,  N_i = U x resistance from the outdoor air to pane i
[[nodiscard]] Result<SolarBehaviour> behaviour(const Glazing& glazing, const Sides& sides = nfrc_summer);

/// Share of a window's SHGC that passes as sunlight where it gives no more than U and SHGC; the rest warms
/// its inner face. A choice of ours (common practice, no source); by our own panes clear double glass has
/// 0.92 to 0.95, clear triple 0.87 to 0.92, by its extinction (computed).
inline constexpr double transmitted_share = 0.9;

/// Films of a window's rating, W/(m2 K), that turn its U into a conductance from face to face.
/// Source  iso-6946: 0.13 and 0.04 m2 K/W (memory)
inline constexpr double rated_inside = 1.0 / 0.13, rated_outside = 1.0 / 0.04;

/// A window of the house file, of clear glass as far as the angle goes.
///
///   g(z) = g_0 (1 - a z^A - b z^2 - c z^C),  z = angle/90 deg,  a = 8, b = 0.25/q, c = 1 - a - b,
///   A = 5.2 + 0.7 q,  C = 5.26 + 0.06 p + (0.73 + 0.04 p) q
///
/// u       W/(m2 K), above 0 and below that of the films alone (5.88)
/// gain    SHGC at normal incidence, 0 to 1
/// panes   p; 0: by U, 1 above 4.5, 2 above 1.5, else 3 (ours)
/// q       category of the glass, 4 for clear
/// Problem out_of_range
/// Source  karlsson-roos-2000 (memory; against our own panes in glass_test: within 0.04 to 70 degrees, 0.08
/// beyond)
[[nodiscard]] Result<SolarBehaviour> behaviour(double u, double gain, int panes = 0, double q = 4.0);

}  // namespace warmside::house
