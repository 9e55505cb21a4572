#include "conduction/shape.h"

#include <algorithm>
#include <cmath>

#include "conduction/grid.h"

namespace warmside::conduction {

Shape rectangle(Point low, Point high) {
    return {.outline = {{low.x, low.y}, {high.x, low.y}, {high.x, high.y}, {low.x, high.y}}};
}

Shape box(Point low, Point high) {
    Shape shape = rectangle(low, high);
    shape.bottom = low.z;
    shape.top = high.z;
    return shape;
}

Extent extent_of(const Shape& shape, bool solid) {
    Extent e;
    e.low.fill(std::numeric_limits<double>::infinity());
    e.high.fill(-std::numeric_limits<double>::infinity());
    for (const Point& p : shape.outline) {
        e.low[0] = std::min(e.low[0], p.x);
        e.high[0] = std::max(e.high[0], p.x);
        e.low[1] = std::min(e.low[1], p.y);
        e.high[1] = std::max(e.high[1], p.y);
    }
    e.low[2] = solid ? std::min(shape.bottom, shape.top) : 0.0;
    e.high[2] = solid ? std::max(shape.bottom, shape.top) : 1.0;
    return e;
}

Extent extent_of(const Model& model) {
    Extent all = extent_of(Shape{}, false);
    for (std::size_t r = 0; r < model.regions.size(); ++r) {
        const Extent e = extent_of(model.regions[r].shape, model.geometry == Geometry::solid);
        for (std::size_t axis = 0; axis < 3; ++axis) {
            all.low[axis] = r == 0 ? e.low[axis] : std::min(all.low[axis], e.low[axis]);
            all.high[axis] = r == 0 ? e.high[axis] : std::max(all.high[axis], e.high[axis]);
        }
    }
    return all;
}

bool inside(const std::vector<Point>& outline, double x, double y) {
    bool in = false;
    for (std::size_t i = 0, n = outline.size(); i < n; ++i) {
        const Point& a = outline[i];
        const Point& b = outline[(i + 1) % n];
        if ((a.y > y) != (b.y > y) && x < a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y)) in = !in;
    }
    return in;
}

std::uint16_t region_at(const Model& model, const Point& point) {
    for (std::size_t r = model.regions.size(); r-- > 0;) {
        const Shape& shape = model.regions[r].shape;
        if (model.geometry == Geometry::solid &&
            (point.z < std::min(shape.bottom, shape.top) || point.z > std::max(shape.bottom, shape.top)))
            continue;
        if (inside(shape.outline, point.x, point.y)) return static_cast<std::uint16_t>(r);
    }
    return no_region;
}

bool axis_parallel(const Point& a, const Point& b) {
    return std::abs(a.x - b.x) < same_place || std::abs(a.y - b.y) < same_place;
}

}  // namespace warmside::conduction
