#include "house/room_shares.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "assembly/geometry.h"

namespace warmside::house {

namespace {

using assembly::Face;
using assembly::House;
using assembly::Opening;
using Kind = Loss::Kind;

// Outlines are typed to a sixteenth of an inch; less than this apart is together.
constexpr double slack = 2e-3;
constexpr double leftover = 0.005;
constexpr std::size_t kinds = std::tuple_size_v<decltype(RoomShare::of)>;

struct Interval {
    double from = 0.0, to = 0.0;  // m along a face
    [[nodiscard]] double within(double low, double high) const {
        return std::max(0.0, std::min(to, high) - std::max(from, low));
    }
};

// The part of a face that an edge runs along; empty where it does not.
Interval along(const Face& face, double ax, double ay, double bx, double by) {
    const double fx = face.from.x.metres(), fy = face.from.y.metres();
    const double length = assembly::distance(face.from, face.to);
    if (length <= 0.0) return {};
    const double dx = (face.to.x.metres() - fx) / length, dy = (face.to.y.metres() - fy) / length;
    const auto off = [&](double x, double y) { return std::abs((x - fx) * dy - (y - fy) * dx); };
    if (off(ax, ay) > slack || off(bx, by) > slack) return {};
    const double a = (ax - fx) * dx + (ay - fy) * dy, b = (bx - fx) * dx + (by - fy) * dy;
    const Interval out{std::max(0.0, std::min(a, b)), std::min(length, std::max(a, b))};
    return out.to > out.from ? out : Interval{};
}

double area_of(const std::vector<std::array<units::Exact, 2>>& outline) {
    std::vector<assembly::Point> points;
    for (const auto& [x, y] : outline) points.push_back({x, y});
    return std::abs(assembly::signed_area(points));
}

// Sums that shares are of.
struct Sums {
    std::array<double, kinds> of{};
    double& at(Kind kind) { return of[static_cast<std::size_t>(kind)]; }
};

// Walls and openings of a face between two places.
void add_face(Sums& sums, double& exposed, double& glazed, const Face& face, const Interval& part) {
    const double length = part.to - part.from, gross = length * face.height.metres();
    double openings = 0.0;
    for (const Opening& opening : face.openings) {
        const double left = opening.left.metres(), width = opening.width.metres();
        const double area = part.within(left, left + width) * opening.height.metres();
        openings += area;
        const double weight = area * (opening.u > 0.0 ? opening.u : 1.0);
        sums.at(opening.kind == Opening::Kind::window ? Kind::window : Kind::door) += weight;
    }
    sums.at(Kind::wall) += std::max(0.0, gross - openings);
    sums.at(Kind::leakage) += gross;
    sums.at(Kind::junction) += length;
    exposed += length;
    glazed += openings;
}

void add_floor(Sums& sums, double area, bool under_roof, bool lowest) {
    sums.at(Kind::ventilation) += area;
    sums.at(Kind::other) += area;
    if (under_roof)
        for (const Kind kind : {Kind::ceiling, Kind::roof}) sums.at(kind) += area;
    if (lowest)
        for (const Kind kind : {Kind::floor, Kind::ground}) sums.at(kind) += area;
}

struct Levels {
    const assembly::Storey* lowest = nullptr;
    std::vector<const assembly::Storey*> under_roofs;
    [[nodiscard]] bool under_roof(const assembly::Storey& storey) const {
        return std::find(under_roofs.begin(), under_roofs.end(), &storey) != under_roofs.end();
    }
};

Levels levels_of(const House& house) {
    Levels out;
    for (const auto& storey : house.storeys)
        if (storey.heated && (!out.lowest || storey.floor < out.lowest->floor)) out.lowest = &storey;
    for (const auto& roof : house.roofs)
        if (const auto* storey = assembly::storey_under(house, roof)) out.under_roofs.push_back(storey);
    return out;
}

}  // namespace

Result<std::vector<RoomShare>> room_shares(const House& house) {
    const Levels levels = levels_of(house);
    if (!levels.lowest) return fail(Code::incomplete, "room loads need a heated storey");
    Sums whole;
    RoomShare rest{.room = "other rooms", .openings = std::vector<double>(house.faces.size(), 0.0)};
    for (std::size_t i = 0; i < house.faces.size(); ++i) {
        const Face& face = house.faces[i];
        const auto* storey = house.storey(face.storey);
        if (!storey || !storey->heated) continue;
        add_face(whole, rest.exposed, rest.openings[i], face, {0.0, assembly::distance(face.from, face.to)});
    }
    for (const auto& storey : house.storeys) {
        if (!storey.heated) continue;
        const double area = std::abs(assembly::signed_area(storey.outline));
        rest.floor += area;
        add_floor(whole, area, levels.under_roof(storey), &storey == levels.lowest);
    }
    if (rest.floor <= 0.0) return fail(Code::incomplete, "room loads need a storey with an outline");
    std::vector<RoomShare> out;
    rest.of.fill(1.0);
    for (const assembly::Room& room : house.services.rooms) {
        const auto* storey = house.storey(room.storey);
        if (!storey || !storey->heated)
            return fail(Code::unknown_name,
                        fmt::format("room {}: {} is no heated storey", room.name, room.storey),
                        room.origin.where);
        RoomShare share{.room = room.name, .openings = std::vector<double>(house.faces.size(), 0.0)};
        Sums sums;
        for (std::size_t i = 0; i < room.outline.size(); ++i) {
            const auto& [ax, ay] = room.outline[i];
            const auto& [bx, by] = room.outline[(i + 1) % room.outline.size()];
            for (std::size_t k = 0; k < house.faces.size(); ++k) {
                const Face& face = house.faces[k];
                if (face.storey != room.storey) continue;
                const auto part = along(face, ax.metres(), ay.metres(), bx.metres(), by.metres());
                if (part.to > part.from) add_face(sums, share.exposed, share.openings[k], face, part);
            }
        }
        share.floor = area_of(room.outline);
        add_floor(sums, share.floor, levels.under_roof(*storey), storey == levels.lowest);
        for (std::size_t k = 0; k < kinds; ++k) {
            // What the house file shows nothing of goes by floor area.
            const std::size_t by = whole.of[k] > 0.0 ? k : static_cast<std::size_t>(Kind::other);
            share.of[k] = sums.of[by] / whole.of[by];
            rest.of[k] -= share.of[k];
        }
        for (std::size_t k = 0; k < house.faces.size(); ++k) rest.openings[k] -= share.openings[k];
        rest.floor -= share.floor;
        rest.exposed -= share.exposed;
        out.push_back(std::move(share));
    }
    const bool all =
        std::all_of(rest.of.begin(), rest.of.end(), [](double share) { return share < leftover; });
    if (!out.empty() && !all) out.push_back(std::move(rest));
    return out;
}

}  // namespace warmside::house
