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

}  // namespace warmside::thermal
