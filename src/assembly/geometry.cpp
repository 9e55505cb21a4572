#include "assembly/geometry.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

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

struct Sides {
    double east_west = 0.0, north_south = 0.0;  // m
};

std::optional<Sides> sides_of(const std::vector<Point>& outline) {
    const auto box = rectangle_of(outline);
    if (!box) return std::nullopt;
    return Sides{(box->high.x - box->low.x).metres(), (box->high.y - box->low.y).metres()};
}

void shape_roof(const Roof& roof, const Sides& plan, RoofArea& out) {
    const bool along_x = roof.ridge != "north-south";
    const double slope = std::tan(roof.pitch);
    switch (roof.form) {
        case Roof::Form::gable: {
            const double span = along_x ? plan.north_south : plan.east_west;
            const double length = along_x ? plan.east_west : plan.north_south;
            out.rise = span / 2 * slope;
            out.gable = span * out.rise;
            out.volume = span * out.rise / 2 * length;
            break;
        }
        case Roof::Form::shed: {
            const bool climbs_y = roof.high_side == "north" || roof.high_side == "south";
            const double span = climbs_y ? plan.north_south : plan.east_west;
            const double length = climbs_y ? plan.east_west : plan.north_south;
            out.rise = span * slope;
            out.gable = span * out.rise + out.rise * length;
            out.volume = out.plan * out.rise / 2;
            break;
        }
        case Roof::Form::hip: {
            const double narrow = std::min(plan.east_west, plan.north_south);
            const double wide = std::max(plan.east_west, plan.north_south);
            out.rise = narrow / 2 * slope;
            out.volume = out.rise * narrow * (3 * wide - narrow) / 6;
            break;
        }
        case Roof::Form::flat: break;
    }
}

RoofArea roof_area(const House& house, const Roof& roof, Problems& notes) {
    RoofArea out{.roof = roof.name, .attic = roof.over_attic};
    const Storey* storey = storey_under(house, roof);
    if (!storey) return out;
    out.plan = std::abs(signed_area(storey->outline));
    out.surface = out.plan / std::cos(roof.form == Roof::Form::flat ? 0.0 : roof.pitch);
    if (const auto plan = sides_of(storey->outline)) {
        shape_roof(roof, *plan, out);
    } else if (roof.form != Roof::Form::flat) {
        notes.push_back(
            {.code = Code::unsupported,
             .severity = Severity::warning,
             .what = fmt::format(
                 "roof {}: storey {} is not a rectangle along the axes, so the volume under the roof and its "
                 "gable walls are left out of the areas",
                 roof.name, storey->name),
             .where = roof.origin.where});
    }
    return out;
}

// Quarter of the compass that a face looks to, "north" and so on; empty for a slanting one.
std::string_view side_of(const Face& face) {
    constexpr std::array<std::string_view, 4> names{"north", "east", "south", "west"};
    const double quarter = azimuth(face) / (std::numbers::pi / 2);
    const double whole = std::round(quarter);
    if (std::abs(quarter - whole) > 1e-6) return {};
    return names[static_cast<std::size_t>(whole) % 4];
}

// Area of wall that the roof adds over one face of its storey, shared by length among faces of one side.
double gable_over(const Roof& roof, const RoofArea& area, const Face& face, double side_length) {
    if (area.rise <= 0.0 || side_length <= 0.0) return 0.0;
    const auto side = side_of(face);
    if (side.empty()) return 0.0;
    const bool looks_y = side == "north" || side == "south";
    const double share = distance(face.from, face.to) / side_length;
    if (roof.form == Roof::Form::gable) {
        const bool along_x = roof.ridge != "north-south";
        return looks_y != along_x ? share * side_length * area.rise / 2 : 0.0;
    }
    if (roof.form == Roof::Form::shed) {
        const bool climbs_y = roof.high_side == "north" || roof.high_side == "south";
        if (side == roof.high_side) return share * side_length * area.rise;
        return looks_y != climbs_y ? share * side_length * area.rise / 2 : 0.0;
    }
    return 0.0;
}

void add_gables(const House& house, const Roof& roof, const RoofArea& area, std::vector<FaceArea>& faces) {
    const Storey* storey = storey_under(house, roof);
    if (!storey || roof.over_attic) return;
    const auto plan = sides_of(storey->outline);
    if (!plan) return;
    for (std::size_t i = 0; i < house.faces.size(); ++i) {
        const Face& face = house.faces[i];
        if (face.storey != storey->name) continue;
        const auto side = side_of(face);
        const double side_length = side == "north" || side == "south" ? plan->east_west : plan->north_south;
        faces[i].gable += gable_over(roof, area, face, side_length);
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
        const RoofArea area = roof_area(house, roof, out.notes);
        const Storey* storey = storey_under(house, roof);
        const bool heated = storey && storey->heated;
        if (roof.over_attic) {
            out.attic_volume += area.volume;
            if (heated) out.ceiling += area.plan;
        } else if (heated) {
            out.roof += area.surface;
            out.volume += area.volume;
        }
        add_gables(house, roof, area, out.faces);
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
