// Air layers by the formula of ISO 6946 and by the handbook's table.
#pragma once

#include <optional>

#include "base/result.h"
#include "thermal/films.h"

namespace warmside::thermal {

/// E = 1/(1/e1 + 1/e2 - 1); emissivities above 0 up to 1.
[[nodiscard]] double effective_emittance(double inside, double outside);

/// h_r0 = 4 sigma T^3, W/(m2 K), of a black surface; T in K (ISO 6946:2017 annex C; evidence: memory).
[[nodiscard]] double radiative_coefficient(double temperature);

struct AirLayer {
    double thickness = 0.0;  ///< m
    double emissivity_inside = 0.9;
    double emissivity_outside = 0.9;
    double temperature = 283.15;  ///< K, mean
    HeatFlow flow = HeatFlow::horizontal;
};

/// Unventilated air layer, m2 K/W:
///
///   R = 1/(h_a + E h_r0),  h_a = max(1.25, 0.025/d) horizontal, max(1.95, 0.025/d) up,
///                          max(0.12 d^-0.44, 0.025/d) down
///
/// Zero thickness is R 0.
/// Problem  out_of_range: thickness below 0 or above 0.3 m (the method's limit), emissivity outside 0 to 1
/// Source   ISO 6946:2017 annex D (evidence: memory); check: proof/thermal/iso6946_air_layer.toml
[[nodiscard]] Result<double> air_layer_resistance(const AirLayer& layer);

/// Share of what stands outside a layer of air that still counts, by openings in mm2 per m length (per m2
/// when it lies flat): 1 up to 500, 0 from 1500, linear between (ISO 6946:2017 6.9; the formula quoted, the
/// limits from memory).
[[nodiscard]] double counted_share(double openings);

/// Total resistance of an element with a slightly ventilated layer: counted_share of the unventilated total,
/// the rest of the well-ventilated one.
[[nodiscard]] double slightly_ventilated_total(double unventilated, double ventilated, double openings);

/// A plane air space as the handbook's table knows it.
struct AirSpace {
    double thickness = 0.0;                      ///< m
    double emittance = 0.82;                     ///< effective, of both faces
    double temperature = 283.15;                 ///< K, mean
    double temperature_difference = 50.0 / 9.0;  ///< K, 10 degF
    HeatFlow flow = HeatFlow::horizontal;
};

/// m2 K/W from ASHRAE Handbook Fundamentals 2021 (SI) chapter 26, Table 3 (selected rows; seen). Between rows
/// the conductance is linear in effective emittance, the resistance in thickness, mean temperature and
/// difference. The table prints 1/2, 3/4, 1 1/2 and 3 1/2 in as 13, 20, 40 and 90 mm; a thickness within 5 %
/// of a row takes that row. Nothing outside the rows that are held: 13 to 90 mm vertical, 20 to 90 mm up and
/// down, emittance 0.03 to 0.82. Check    proof/thermal/handbook_air_spaces.toml
[[nodiscard]] std::optional<double> handbook_air_space(const AirSpace& space);

}  // namespace warmside::thermal
