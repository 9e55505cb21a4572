// Floors and walls in the ground as elements of a Network: layers, soil, and what ISO 13370 leaves as a
// resistance to a temperature that swings with the year.
#pragma once

#include "climate/ground.h"
#include "house/network.h"
#include "house/opaque.h"
#include "thermal/ground.h"

namespace warmside::house {

/// The ground under and around a house.
struct Soil {
    climate::Soil soil;
    climate::AnnualWave air;  ///< of the year
};

/// What touches the ground, ready to be stepped.
struct GroundContact {
    Chain chain;        ///< layers and soil
    Boundary boundary;  ///< the rest of the ground
    double u = 0.0;     ///< W/(m2 K), ISO 13370, films included
};

/// Chain of layers, then soil of half a metre (half of what U leaves for the ground, where that is less),
/// then a boundary:
///
///   1/conductance = 1/U - Rsi - R_layers - R_soil
///   T = mean - amplitude (H/(A U)) cos(2 pi (t - coldest - 1 month)/year)
///
/// so that the loss of a steady room has the mean and the yearly swing of ISO 13370's. The layers' chain ends
/// without an outer film.
///
/// u       W/(m2 K), of the element, by ISO 13370
/// swing   W/(m2 K), H_pe over the area (thermal::ground_swing)
/// steady  the boundary at its coldest, always
/// Problem out_of_range: the layers alone resist more than U leaves
/// Source  ISO 13370:2007 annex A and F, ISO 52016-1:2017 annex for the soil layer of 0.5 m (memory); a swing
///         above one of the air's is cut to it
[[nodiscard]] Result<GroundContact> ground_contact(const Chain& layers, const Soil& soil, double u,
                                                   double swing, bool steady, double fineness);

}  // namespace warmside::house
