#include "assembly/roof_shape.h"

#include <algorithm>
#include <cmath>

#include "assembly/roof_bodies.h"
#include "assembly/roof_surface.h"

namespace warmside::assembly {

namespace {

using Form = Roof::Form;
using Part = RoofShape::Part;

constexpr std::array<const char*, 4> names{"south", "east", "north", "west"};
constexpr std::array sides{Side::south, Side::east, Side::north, Side::west};
constexpr double counts_per_metre = 8e6;  // divided by, as Exact::metres does: the same bits

std::size_t index(Side side) {
    return static_cast<std::size_t>(side);
}

std::vector<Part> gable_parts(const std::vector<RoofBody>& bodies) {
    std::vector<Part> out;
    for (const RoofBody& b : bodies) {
        Part part{b.west, b.east, b.south, b.north, {}, {b.south, b.east, b.north, b.west}};
        const bool flat = b.ridge_east_west;
        part.rises = {flat, !flat, flat, !flat};
        if (b.parent >= 0) {
            const double ridge = bodies[static_cast<std::size_t>(b.parent)].middle();
            switch (b.tip) {
                case Side::south: part.north = ridge; break;
                case Side::east: part.west = ridge; break;
                case Side::north: part.south = ridge; break;
                case Side::west: part.east = ridge; break;
            }
        }
        out.push_back(part);
    }
    return out;
}

std::vector<Part> rectangle_parts(const RoofGrid& grid, const std::array<bool, 4>& rises, bool one_line) {
    const auto at = [](const std::vector<double>& v, int i) { return v[static_cast<std::size_t>(i)]; };
    std::vector<Part> out;
    for (const CellBox& b : greatest_rectangles(grid)) {
        Part part{at(grid.x, b.i0), at(grid.x, b.i1), at(grid.y, b.j0), at(grid.y, b.j1), rises, {}};
        part.line = one_line ? std::array{grid.y.front(), grid.x.back(), grid.y.back(), grid.x.front()}
                             : std::array{part.south, part.east, part.north, part.west};
        out.push_back(part);
    }
    return out;
}

// Bodies and parts of a roof, in counts.
bool divide(const RoofGrid& grid, const Roof& roof, Side low, RoofShape& out) {
    const bool wide = grid.x.back() - grid.x.front() >= grid.y.back() - grid.y.front();
    const bool asked = roof.form == Form::gable ? roof.ridge != "north-south" : wide;
    if (roof.form == Form::gable || roof.form == Form::hip) {
        out.bodies = bodies_of(grid, asked);
        if (out.bodies.empty()) {
            out.bodies = bodies_of(grid, !asked);
            out.turned = roof.form == Form::gable && !out.bodies.empty();
        }
    }
    switch (roof.form) {
        case Form::gable: out.parts = gable_parts(out.bodies); break;
        case Form::hip: out.parts = rectangle_parts(grid, {true, true, true, true}, false); break;
        case Form::shed:
        case Form::flat: {
            std::array<bool, 4> rises{};
            rises[index(low)] = true;
            out.parts = rectangle_parts(grid, rises, true);
            break;
        }
    }
    return !out.parts.empty();
}

void in_metres(RoofShape& shape) {
    const auto scale = [](std::initializer_list<double*> values) {
        for (double* value : values) *value /= counts_per_metre;
    };
    for (RoofPlane& plane : shape.planes) {
        scale({&plane.line});
        for (RoofStrip& s : plane.strips)
            scale({&s.from, &s.to, &s.low_from, &s.low_to, &s.high_from, &s.high_to});
    }
    for (RoofLine& l : shape.lines) {
        scale({&l.from.x, &l.from.y, &l.from.level, &l.to.x, &l.to.y, &l.to.level});
        if (l.from.level > l.to.level) std::swap(l.from, l.to);
    }
    for (RoofBody& b : shape.bodies) scale({&b.west, &b.east, &b.south, &b.north});
    for (Part& p : shape.parts) {
        scale({&p.west, &p.east, &p.south, &p.north});
        for (double& line : p.line) scale({&line});
    }
    for (auto* breaks : {&shape.x_breaks, &shape.y_breaks}) {
        for (double& at : *breaks) scale({&at});
    }
}

}  // namespace

const char* name_of(Side side) {
    return names[index(side)];
}

Side opposite(Side side) {
    return static_cast<Side>((static_cast<int>(side) + 2) % 4);
}

bool runs_east_west(Side side) {
    return side == Side::south || side == Side::north;
}

Side low_side(const Roof& roof, const Rectangle& around) {
    if (roof.form == Form::shed) {
        for (const Side side : sides) {
            if (roof.high_side == name_of(side)) return opposite(side);
        }
    }
    return around.high.y - around.low.y <= around.high.x - around.low.x ? Side::south : Side::west;
}

double RoofStrip::area() const {
    return (to - from) * (high_from + high_to - low_from - low_to) / 2;
}

double RoofStrip::moment() const {
    const auto square = [](double a, double b) { return (a * a + a * b + b * b) / 3; };
    return (to - from) * (square(high_from, high_to) - square(low_from, low_to)) / 2;
}

double RoofPlane::from() const {
    double out = strips.front().from;
    for (const RoofStrip& s : strips) out = std::min(out, s.from);
    return out;
}

double RoofPlane::to() const {
    double out = strips.front().to;
    for (const RoofStrip& s : strips) out = std::max(out, s.to);
    return out;
}

double RoofPlane::area() const {
    double out = 0.0;
    for (const RoofStrip& s : strips) out += s.area();
    return out;
}

double RoofShape::level(double x, double y) const {
    const auto top = top_at(parts, x, y);
    return top ? top->level : 0.0;
}

double RoofShape::along(const Point& a, const Point& b) const {
    const bool on_x = a.y == b.y;
    const double line = (on_x ? a.y : a.x).metres();
    const double from = std::min((on_x ? a.x : a.y).metres(), (on_x ? b.x : b.y).metres());
    const double to = std::max((on_x ? a.x : a.y).metres(), (on_x ? b.x : b.y).metres());
    std::vector<double> places{from, to};
    for (const double at : on_x ? x_breaks : y_breaks) {
        if (from < at && at < to) places.push_back(at);
    }
    std::sort(places.begin(), places.end());
    double out = 0.0;
    for (std::size_t i = 0; i + 1 < places.size(); ++i) {
        const double middle = (places[i] + places[i + 1]) / 2;
        out += (places[i + 1] - places[i]) * (on_x ? level(middle, line) : level(line, middle));
    }
    return out;
}

std::optional<RoofShape> roof_shape(const std::vector<Point>& outline, const Roof& roof) {
    const auto grid = grid_of(outline);
    if (!grid) return std::nullopt;
    const auto exact = [](double count) {
        return Exact::eighths_of_micrometre(static_cast<std::int64_t>(count));
    };
    const Rectangle around{{exact(grid->x.front()), exact(grid->y.front())},
                           {exact(grid->x.back()), exact(grid->y.back())}};
    RoofShape out;
    if (!divide(*grid, roof, low_side(roof, around), out) || !build_surface(out)) return std::nullopt;
    in_metres(out);
    for (const RoofPlane& plane : out.planes) {
        out.plan += plane.area();
        for (const RoofStrip& s : plane.strips) {
            out.moment += s.moment();
            out.most = std::max({out.most, s.high_from, s.high_to});
        }
    }
    return out;
}

}  // namespace warmside::assembly
