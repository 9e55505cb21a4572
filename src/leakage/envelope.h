// What leaks of a house: its walls by direction, and its top.
#pragma once

#include <vector>

#include "assembly/assembly.h"
#include "base/result.h"

namespace warmside::leakage {

/// One straight wall over all storeys, or the top.
struct Patch {
    double azimuth = 0.0;            ///< rad, of the outer normal
    double bottom = 0.0, top = 0.0;  ///< m above the lowest heated floor
    double area = 0.0;               ///< m2, gross
};

/// What leaks of a house, as the balance sees it: walls by direction, and the top as one. The lowest floor
/// and walls in the ground are taken as tight.
struct Envelope {
    std::vector<Patch> walls;
    double top_area = 0.0;       ///< m2
    double top_height = 0.0;     ///< m, its middle
    double pitch = 0.0;          ///< rad, of the steepest roof
    bool attic = true;           ///< the top is a ceiling under a vented attic, not the roof itself
    double slope_azimuth = 0.0;  ///< rad, of one of its two slopes
    double volume = 0.0;         ///< m3, heated
    double eaves = 0.0;          ///< m above the ground: where the wind is taken
    double upper_floor = 0.0, upper_height = 0.0;  ///< m, of the highest heated storey
    bool assumed = false;                          ///< the house file has no storeys: the default house
};
/// Walls whose azimuth agrees to a degree count as one from the lowest to the highest.
[[nodiscard]] Result<Envelope> envelope_of(const assembly::House& house);
/// m2, walls and top.
[[nodiscard]] double leaky_area(const Envelope& envelope);

}  // namespace warmside::leakage
