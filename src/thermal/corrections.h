// Corrections to U for air voids and for fasteners.
#pragma once

#include "base/result.h"

namespace warmside::thermal {

/// Air voids, W/(m2 K): 0.00, 0.01 or 0.04 (level 0, 1, 2) x (R1/R_T,h)^2.
///
/// layer    m2 K/W, R1 of the layer with the voids
/// total    m2 K/W, R_T,h of the element without thermal bridges, films included
/// Problem  out_of_range: a level that is not 0, 1 or 2; resistances not above 0, R1 above R_T,h
/// Source   ISO 6946:2017 annex F (evidence: memory); check: proof/thermal/iso6946_corrections.toml
[[nodiscard]] Result<double> void_correction(int level, double layer, double total);

/// Fasteners that cross an insulation layer.
struct FastenerSet {
    double per_area = 0.0;         ///< 1/m2
    double cross_section = 0.0;    ///< m2
    double conductivity = 0.0;     ///< W/(m K)
    double layer_thickness = 0.0;  ///< m, d0
    double penetration =
        0.0;  ///< m, d1: length of the fastener that crosses the layer; d0 when it passes through
};

/// alpha k_f n_f A_f / d0 (R1/R_T,h)^2 with alpha = 0.8 d1/d0, W/(m2 K).
/// Problem, source  as void_correction
[[nodiscard]] Result<double> fastener_correction(const FastenerSet& fasteners, double layer, double total);

/// The correction that counts: zero below 3 % of the uncorrected U (ISO 6946:2017 6.7; the rule quoted).
[[nodiscard]] double counted_correction(double correction, double u);

/// Modified zone method's last step for a steel stud, m2 K/W: the zone of width W around each stud and the
/// rest of the spacing in parallel (ASHRAE Handbook Fundamentals ch. 27, example 5; seen).
///
/// zone_width, spacing        m
/// zone, cavity               m2 K/W through the zone and through the cavity, films included
/// Problem  out_of_range: a figure not above 0, or a zone wider than the spacing
[[nodiscard]] Result<double> zone_resistance(double zone_width, double spacing, double zone, double cavity);

/// U of a face with a linear thermal bridge, W/(m2 K): U + psi L / A. Area above 0.
[[nodiscard]] Result<double> with_linear(double u, double psi, double length, double area);

/// Temperature factor of an inner surface, (T_si - T_e)/(T_i - T_e) = 1 - U Rsi for a plane element.
[[nodiscard]] Result<double> surface_factor(double surface, double inside, double outside);

}  // namespace warmside::thermal
