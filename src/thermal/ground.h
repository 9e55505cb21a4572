// Heat through the ground: slab and basement by ISO 13370, in their simple steady form.
#pragma once

#include "base/result.h"

namespace warmside::thermal {

/// Ground and wall around a floor.
struct Ground {
    double conductivity = 2.0;    ///< W/(m K), of the ground
    double wall_thickness = 0.3;  ///< m, w, full thickness of the walls above
    double inside_film = 0.17;    ///< m2 K/W, heat flow down
    double outside_film = 0.04;   ///< m2 K/W
};

struct FloorPlan {
    double area = 0.0;                                                              ///< m2
    double perimeter = 0.0;                                                         ///< m, exposed
    [[nodiscard]] double characteristic() const { return 2.0 * area / perimeter; }  ///< m, B'
};

struct GroundFloor {
    double characteristic = 0.0;  ///< m, B'
    double equivalent = 0.0;      ///< m, d_t (plus half the depth for a basement floor)
    double u = 0.0;               ///< W/(m2 K)
};

/// Slab on ground, insulated all over or not:
///
///   B' = 2 A/P,  d_t = w + k (Rsi + Rf + Rse)
///   U = 2 k/(pi B' + d_t) ln(pi B'/d_t + 1)   for d_t < B',   else   U = k/(0.457 B' + d_t)
///
/// resistance  m2 K/W, Rf of the slab's layers
/// Problem     out_of_range: area, perimeter, conductivity or thickness not above 0, resistance below 0
/// Source      ISO 13370:2017 7.1 (evidence: memory); check: proof/thermal/iso13370_slab.toml
[[nodiscard]] Result<GroundFloor> slab(const FloorPlan& plan, const Ground& ground, double resistance);

/// Basement floor at depth z below grade, d_t + z/2 in place of d_t (ISO 13370:2017 7.3; evidence: memory).
[[nodiscard]] Result<GroundFloor> basement_floor(const FloorPlan& plan, const Ground& ground,
                                                 double resistance, double depth);

/// Basement wall below grade, W/(m2 K):
///
///   d_w = k (Rsi + Rw + Rse),  U = 2 k/(pi z) (1 + d_t/(2 (d_t + z))) ln(z/d_w + 1),  d_t not above d_w
///
/// floor_equivalent  m, d_t of the basement's floor
/// resistance        m2 K/W, Rw of the wall's layers
/// Source            ISO 13370:2017 7.3 (evidence: memory); no published value was to hand, only limits are
/// tested
[[nodiscard]] Result<double> basement_wall(const Ground& ground, double floor_equivalent, double resistance,
                                           double depth);

/// Insulation along the edge of a slab, lying under its rim or standing against the foundation wall.
struct EdgeInsulation {
    double resistance = 0.0;  ///< m2 K/W, R_n
    double thickness = 0.0;   ///< m, d_n: ground that it takes the place of
    double reach = 0.0;       ///< m, D: how far it lies inwards, or stands down
    bool vertical = false;
};

/// What edge insulation adds to the loss per metre of edge, W/(m K), 0 or less; U = U_0 + 2 psi/B':
///
///   R' = R_n - d_n/k,  d' = k R',  psi = -(k/pi) [ln(D/d_t + 1) - ln(D/(d_t + d') + 1)],  vertical: 2 D for
///   D
///
/// equivalent  m, d_t of the slab without it
/// Problem     out_of_range: equivalent not above 0, reach, thickness or R' below 0
/// Source      ISO 13370:2007 annex B (evidence: memory); check: proof/thermal/iso13370_edges.toml
[[nodiscard]] Result<double> edge_psi(const Ground& ground, double equivalent, const EdgeInsulation& edge);

/// A floor over a crawl space that outdoor air passes through.
struct CrawlSpace {
    double floor_u = 0.0;            ///< W/(m2 K), U_f, inside film on both sides
    double height = 0.0;             ///< m, h: floor's upper face over the ground outside
    double wall_u = 0.0;             ///< W/(m2 K), U_w, walls above the ground
    double vents = 0.0;              ///< m2 of opening per m of perimeter, eps
    double wind = 4.0;               ///< m/s, mean at 10 m
    double shelter = 0.05;           ///< f_w: 0.02 city, 0.05 suburb, 0.10 open country
    double ground_resistance = 0.0;  ///< m2 K/W, R_g, of insulation on the ground
};
struct SuspendedFloor {
    double ground_u = 0.0;  ///< W/(m2 K), U_g, from the space to the ground
    double air_u = 0.0;     ///< W/(m2 K), U_x: walls and air, per m2 of floor
    double u = 0.0;         ///< W/(m2 K), the whole
};

/// 1/U = 1/U_f + 1/(U_g + U_x),  U_g as a slab with d_g = w + k (Rsi + R_g + Rse),
/// U_x = 2 h U_w/B' + 1450 eps v f_w/B'
///
/// Problem  those of slab; out_of_range: floor_u not above 0, others below 0
/// Source   ISO 13370:2007 9.2 (evidence: memory); check: proof/thermal/iso13370_edges.toml
[[nodiscard]] Result<SuspendedFloor> suspended_floor(const FloorPlan& plan, const Ground& ground,
                                                     const CrawlSpace& space);

/// Swing of the heat loss per kelvin of the outdoor swing over a year, W/K: floor, and wall of a basement.
struct GroundSwing {
    double floor = 0.0, wall = 0.0;
};

/// H_pe, no edge insulation:
///
///   floor  0.37 P k exp(-z/delta) ln(delta/d_t + 1)
///   wall   0.37 P k 2 (1 - exp(-z/delta)) ln(delta/d_w + 1)
///
/// equivalent       m, d_t of the floor, without half the depth
/// wall_equivalent  m, d_w; read with a depth only
/// penetration      m, delta (climate::penetration_depth)
/// Problem          out_of_range: a length that is not above 0 (depth: below 0)
/// Source           ISO 13370:2007 annex A (evidence: memory); check: proof/thermal/iso13370_edges.toml
[[nodiscard]] Result<GroundSwing> ground_swing(double perimeter, const Ground& ground, double equivalent,
                                               double penetration, double depth = 0.0,
                                               double wall_equivalent = 0.0);

}  // namespace warmside::thermal
