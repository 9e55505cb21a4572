#include "assembly/geometry.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>
#include <optional>

#include "assembly/roof_shape.h"

namespace warmside::assembly {

double distance(const Point& a, const Point& b) {
    return std::hypot((b.x - a.x).metres(), (b.y - a.y).metres());
}

double azimuth(const Face& face) {
    // The outward normal is the walking direction turned clockwise: (dx, dy) -> (dy, -dx).
    const double east = (face.to.y - face.from.y).metres();
    const double north = -(face.to.x - face.from.x).metres();
    const double angle = std::atan2(east, north);
    return angle < 0.0 ? angle + 2 * std::numbers::pi : angle;
}

double signed_area(const std::vector<Point>& outline) {
    double twice = 0.0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point& a = outline[i];
        const Point& b = outline[(i + 1) % outline.size()];
        twice += a.x.metres() * b.y.metres() - b.x.metres() * a.y.metres();
    }
    return twice / 2;
}

std::optional<Rectangle> rectangle_of(const std::vector<Point>& outline) {
    if (outline.size() != 4) return std::nullopt;
    const auto [left, right] =
        std::minmax_element(outline.begin(), outline.end(), [](auto& a, auto& b) { return a.x < b.x; });
    const auto [low, high] =
        std::minmax_element(outline.begin(), outline.end(), [](auto& a, auto& b) { return a.y < b.y; });
    for (std::size_t i = 0; i < 4; ++i) {
        const Point& p = outline[i];
        const Point& next = outline[(i + 1) % 4];
        if ((p.x != left->x && p.x != right->x) || (p.y != low->y && p.y != high->y)) return std::nullopt;
        if ((p.x == next.x) == (p.y == next.y)) return std::nullopt;
    }
    return Rectangle{{left->x, low->y}, {right->x, high->y}};
}

namespace {

RoofArea roof_area(const Roof& roof, const Storey& storey, const std::optional<RoofShape>& shape) {
    RoofArea out{.roof = roof.name, .attic = roof.over_attic};
    const bool flat = roof.form == Roof::Form::flat;
    out.plan = std::abs(signed_area(storey.outline));
    out.surface = out.plan / std::cos(flat ? 0.0 : roof.pitch);
    if (flat || !shape) return out;
    const double slope = std::tan(roof.pitch);
    out.rise = shape->most * slope;
    out.volume = shape->moment * slope;
    for (std::size_t i = 0; i < storey.outline.size(); ++i)
        out.gable += shape->along(storey.outline[i], storey.outline[(i + 1) % storey.outline.size()]) * slope;
    return out;
}

void note_shape(const Roof& roof, const Storey& storey, const std::optional<RoofShape>& shape,
                Problems& notes) {
    if (roof.form == Roof::Form::flat || (shape && !shape->turned)) return;
    std::string what;
    if (shape) {
        what = fmt::format(
            "roof {}: storey {} divides into a main body and wings no wider than it only with "
            "the main ridge {}; it is taken so",
            roof.name, storey.name, shape->bodies.front().ridge_east_west ? "east-west" : "north-south");
    } else {
        what = fmt::format(
            "roof {}: storey {} has edges off the axes or does not divide into a main body and "
            "wings, so the volume under the roof and its gable walls are left out of the areas",
            roof.name, storey.name);
    }
    notes.push_back({.code = Code::unsupported,
                     .severity = Severity::warning,
                     .what = std::move(what),
                     .where = roof.origin.where});
}

// Wall that the roof adds over each face of its storey.
void add_gables(const House& house, const Roof& roof, const Storey& storey, const RoofShape& shape,
                std::vector<FaceArea>& faces) {
    if (roof.over_attic || roof.form == Roof::Form::flat) return;
    for (std::size_t i = 0; i < house.faces.size(); ++i) {
        const Face& face = house.faces[i];
        if (face.storey != storey.name || (face.from.x == face.to.x) == (face.from.y == face.to.y)) continue;
        faces[i].gable += shape.along(face.from, face.to) * std::tan(roof.pitch);
    }
}

FaceArea face_area(const Face& face) {
    FaceArea out{.face = face.name, .length = distance(face.from, face.to), .azimuth = azimuth(face)};
    out.gross = out.length * face.height.metres();
    for (const Opening& opening : face.openings)
        out.openings += opening.width.metres() * opening.height.metres();
    return out;
}

void sum_storeys(const House& house, Areas& out) {
    const Storey* lowest = nullptr;
    for (const Storey& storey : house.storeys) {
        if (!storey.heated) continue;
        const double area = std::abs(signed_area(storey.outline));
        out.floor += area;
        out.volume += area * storey.height.metres();
        if (!lowest || storey.floor < lowest->floor) lowest = &storey;
    }
    if (lowest) out.ground_floor = std::abs(signed_area(lowest->outline));
}

}  // namespace

Areas areas(const House& house) {
    Areas out;
    for (const Face& face : house.faces) out.faces.push_back(face_area(face));
    sum_storeys(house, out);
    for (const Roof& roof : house.roofs) {
        const Storey* storey = storey_under(house, roof);
        if (!storey) {
            out.roofs.push_back({.roof = roof.name, .attic = roof.over_attic});
            continue;
        }
        const auto shape = roof_shape(storey->outline, roof);
        const RoofArea area = roof_area(roof, *storey, shape);
        note_shape(roof, *storey, shape, out.notes);
        if (roof.over_attic) {
            out.attic_volume += area.volume;
            if (storey->heated) out.ceiling += area.plan;
        } else if (storey->heated) {
            out.roof += area.surface;
            out.volume += area.volume;
        }
        if (shape) add_gables(house, roof, *storey, *shape, out.faces);
        out.roofs.push_back(area);
    }
    for (std::size_t i = 0; i < out.faces.size(); ++i) {
        FaceArea& face = out.faces[i];
        face.net = face.gross + face.gable - face.openings;
        const Storey* storey = house.storey(house.faces[i].storey);
        if (storey && !storey->heated) continue;
        out.walls_gross += face.gross + face.gable;
        out.walls_net += face.net;
        out.openings += face.openings;
    }
    return out;
}

}  // namespace warmside::assembly
