// Surface temperatures as means over short pieces of surface.
#pragma once

#include <span>

#include "conduction/steady.h"

namespace warmside::thermal {

/// The lowest mean of the surface temperature factor over pieces of `width`, m, of a two-dimensional model
/// with two environments. Pieces lie side by side from either end of each straight surface of a region; a
/// shorter surface counts whole. What a calculation with cells of that width calls its lowest surface
/// temperature: beside a corner where materials meet, the temperature of a point lies below it.
///
/// inside   environment at whose surfaces to look
/// regions  of the model
[[nodiscard]] double lowest_mean_factor(const conduction::Steady& solution, std::size_t inside,
                                        std::span<const std::size_t> regions, double width);

}  // namespace warmside::thermal
