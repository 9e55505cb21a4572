// Planes and lines of a roof out of the rectangles that it is the envelope of. Inner part of roof_shape.
#pragma once

#include <optional>
#include <vector>

#include "assembly/roof_shape.h"

namespace warmside::assembly {

struct RoofTop {
    double level = 0.0;
    Side side = Side::south;
    double line = 0.0;
};
/// The highest plane over a point; nothing outside of all parts.
[[nodiscard]] std::optional<RoofTop> top_at(const std::vector<RoofShape::Part>& parts, double x, double y);

/// Fills planes, lines and breaks of `shape` from its parts, by sections in both directions, between places
/// where three planes can meet. In counts, so that all places are exact. False where the parts leave a step
/// or a level gutter between two slopes.
[[nodiscard]] bool build_surface(RoofShape& shape);

}  // namespace warmside::assembly
