// Geometry of polygons and prisms.
#pragma once

#include <array>

#include "conduction/model.h"

namespace warmside::conduction {

/// Coordinates closer than this are one, m.
inline constexpr double same_place = 1e-9;

struct Extent {
    std::array<double, 3> low{}, high{};
    [[nodiscard]] double size(std::size_t axis) const { return high[axis] - low[axis]; }
};
[[nodiscard]] Extent extent_of(const Shape& shape, bool solid);
/// Of all regions; z from 0 to 1 in two dimensions.
[[nodiscard]] Extent extent_of(const Model& model);

/// Inside the outline, by the even-odd rule; on the outline either.
[[nodiscard]] bool inside(const std::vector<Point>& outline, double x, double y);

/// The region that has the say at a point: the last one that holds it; no_region where none does.
[[nodiscard]] std::uint16_t region_at(const Model& model, const Point& point);

/// Parallel to an axis, to within the distance of places that are one.
[[nodiscard]] bool axis_parallel(const Point& a, const Point& b);

[[nodiscard]] inline double coordinate(const Point& p, std::size_t axis) {
    return axis == 0 ? p.x : axis == 1 ? p.y : p.z;
}

}  // namespace warmside::conduction
