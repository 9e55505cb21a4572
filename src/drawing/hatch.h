// Drafting hatches as vector content.
#pragma once

#include <string_view>

#include "drawing/display.h"

namespace warmside::drawing {

/// The ground colour of a hatch word (batt, board, wood, sheathing, gypsum, concrete, brick, foam, plain).
[[nodiscard]] Ink ground_of(std::string_view hatch);

/// Hatches a box, clipped to it: batt loops, short waves of mineral board, grain of finish wood, strokes of
/// sheathing, dots of gypsum, dots and triangles of concrete, 45 degree lines of brick, crossed diagonals of
/// foam. Deterministic. An unknown word hatches nothing.
[[nodiscard]] Group hatch(std::string_view word, const Box& box, Ink ink);

/// Cut framing: a rectangle with both diagonals.
[[nodiscard]] Group crossed(const Box& box, Ink ink);

}  // namespace warmside::drawing
