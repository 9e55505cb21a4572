#include "random_house.h"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <fstream>
#include <map>
#include <sstream>

#include "project/read.h"

namespace warmside::tests {

namespace {

using assembly::House;
using units::Exact;

Exact inches(int n) {
    return Exact::sixty_fourths_of_inch(64 * n);
}

const std::string& text_of(const std::string& path) {
    static std::map<std::string, std::string> read;
    auto& text = read[path];
    if (text.empty()) {
        std::ostringstream all;
        all << std::ifstream(path).rdbuf();
        text = all.str();
    }
    return text;
}

// Corners in feet, counter-clockwise: rectangle, L, U, Z.
std::vector<assembly::Point> outline(Draw draw) {
    const int a = 16 + draw(28), b = 16 + draw(20), c = 6 + draw(6), d = 6 + draw(6);
    const auto p = [](int x, int y) { return assembly::Point{inches(12 * x), inches(12 * y)}; };
    switch (draw(4)) {
        case 0: return {p(0, 0), p(a, 0), p(a, b), p(0, b)};
        case 1: return {p(0, 0), p(a + c, 0), p(a + c, d), p(a, d), p(a, b), p(0, b)};
        case 2: {
            const int right = 2 * c + a;
            return {p(0, 0),     p(right, 0), p(right, b + d), p(c + a, b + d),
                    p(c + a, b), p(c, b),     p(c, b + d),     p(0, b + d)};
        }
        default:
            return {p(0, 0), p(a, 0), p(a, d), p(a + c, d), p(a + c, d + b), p(c, d + b), p(c, b), p(0, b)};
    }
}

void add_openings(assembly::Face& face, int length, int height, Draw draw) {
    int at = 14 + draw(40);
    for (int i = 0; at < length - 50; ++i) {
        const bool door = draw(5) == 0;
        const int width = door ? 38 : 20 + draw(60), gap = 4 + draw(90);
        if (at + width > length - 14) break;
        const int head = door ? 82 : std::min(height - 30 + draw(17), 84) - draw(3) * 6;
        const int tall = door ? 82 : std::min(20 + draw(50), head);
        face.openings.push_back(
            {.name = fmt::format("{} {}", door ? "door" : "window", i),
             .kind = door ? assembly::Opening::Kind::door : assembly::Opening::Kind::window,
             .width = inches(width),
             .height = inches(tall),
             .left = inches(at),
             .sill = inches(door ? 0 : head - tall)});
        at += width + gap;
    }
}

// Anywhere on the face, in an opening too: the framer finds the nearest wood or says that there is none.
assembly::ElectricalBox any_box(const std::string& face, int number, int length, Draw draw) {
    assembly::ElectricalBox out{.name = fmt::format("{} box {}", face, number), .face = face};
    out.kind = static_cast<assembly::BoxKind>(draw(4));
    out.at.value = inches(2 + draw(length - 4));
    out.height.value = inches(6 + draw(72));
    out.body.value = std::array{"deepest that fits", "device", "square"}[static_cast<std::size_t>(draw(3))];
    return out;
}

// Above or below some of the openings another: as wide, wider or narrower, centred or not.
void add_stacked(assembly::Face& face, int length, int height, Draw draw) {
    const std::size_t n = face.openings.size();
    for (std::size_t i = 0; i < n; ++i) {
        if (draw(3)) continue;
        const assembly::Opening below = face.openings[i];
        const auto whole = [](Exact e) { return static_cast<int>(e.count() / inches(1).count()); };
        const int left = whole(below.left), width = whole(below.width);
        const int wide = std::max(12, draw(2) ? width : width + draw(60) - 30);
        const int at = draw(2) ? left + (width - wide) / 2 : left + draw(24) - 12;
        const int head = whole(below.sill + below.height), tall = 8 + draw(20);
        const bool above = below.sill == Exact{} || draw(2) == 0;
        const int gap = 1 + draw(12);
        const int sill = above ? head + gap : whole(below.sill) - gap - tall;
        if (at < 14 || at + wide > length - 14 || sill < 4 || sill + tall > height - 14) continue;
        const auto clash = [&](const assembly::Opening& o) {
            return o.left < inches(at + wide) && inches(at) < o.left + o.width &&
                   o.sill < inches(sill + tall) && inches(sill) < o.sill + o.height;
        };
        if (std::any_of(face.openings.begin(), face.openings.end(), clash)) continue;
        face.openings.push_back({.name = fmt::format("{} {}", above ? "over" : "under", i),
                                 .kind = assembly::Opening::Kind::window,
                                 .width = inches(wide),
                                 .height = inches(tall),
                                 .left = inches(at),
                                 .sill = inches(sill)});
    }
}

void set_practice(House& house, Draw draw) {
    house.details = {};
    house.practice = {};
    house.loads = {};
    auto& d = house.details;
    d.corner_studs.value = 2 + draw(2);
    d.top_plates.value = 1 + draw(2);
    d.jamb_studs.value = 1 + draw(3);
    d.header.value = std::array{0.1397, 0.18415, 0.23495}[static_cast<std::size_t>(draw(3))];
    d.header_plies.value = 1 + draw(3);
    if (draw(3) == 0) d.header_place.value = assembly::HeaderPlace::rim;
    d.partitions.value = draw(6);
    d.partition_stud.value = draw(2) == 1;
    house.practice.stacked.value = draw(3) == 0;
    house.practice.edge_blocking.value = draw(2) == 1;
    house.practice.sized_headers.value = draw(3) == 0;
    if (draw(2)) {
        const std::array snow{1436.0, 2394.0, 3352.0};
        house.loads.ground_snow = assembly::Details::ours(snow[static_cast<std::size_t>(draw(3))]);
    }
    if (draw(2)) {
        house.loads.wind_speed = assembly::Details::ours(51.4);
        house.loads.exposure = assembly::Details::ours(assembly::Loads::Exposure::b);
    }
}

const std::array<const char*, 5> files{"heron-ridge/house.toml", "assemblies/double-stud.toml",
                                       "assemblies/i-joist-wall.toml", "assemblies/truss-wall.toml",
                                       "assemblies/retrofit.toml"};

}  // namespace

RandomHouse random_house(const std::string& source, Draw draw) {
    const std::string file = files[static_cast<std::size_t>(draw(3) ? 0 : draw(5))];
    auto reading = project::read_house(file, text_of(source + "/examples/" + file));
    RandomHouse out{.house = std::move(reading.house)};
    if (!out.house) return out;
    House& house = *out.house;
    house.storeys.clear();
    house.faces.clear();
    house.roofs.clear();
    house.partitions.clear();
    house.boxes.clear();
    std::vector<const assembly::Assembly*> walls;
    for (const auto& each : house.assemblies) {
        if (each.part == assembly::Part::wall) walls.push_back(&each);
    }
    const auto any_wall = [&] {
        return walls[static_cast<std::size_t>(draw(static_cast<int>(walls.size())))];
    };
    out.wall = any_wall();
    set_practice(house, draw);
    const auto corners = outline(draw);
    const int storeys = 1 + draw(2);
    const bool mixed = draw(5) == 0, stacks = draw(2) == 0;
    for (int s = 0; s < storeys; ++s) {
        const int height = 92 + draw(4) * 8 + draw(2) * 40;
        const std::string name = fmt::format("storey {}", s);
        house.storeys.push_back(
            {.name = name, .floor = inches(200 * s), .height = inches(height), .outline = corners});
        for (std::size_t i = 0; i < corners.size(); ++i) {
            assembly::Face face{.name = fmt::format("{}.{}", s, i),
                                .storey = name,
                                .from = corners[i],
                                .to = corners[(i + 1) % corners.size()],
                                .height = inches(height)};
            if (mixed && draw(3) == 0) face.assembly = any_wall()->name;
            const Exact dx = face.to.x - face.from.x, dy = face.to.y - face.from.y;
            const int length = static_cast<int>(std::abs(dx.count() + dy.count()) / inches(1).count());
            add_openings(face, length, height, draw);
            for (int b = draw(3); b > 0; --b) house.boxes.push_back(any_box(face.name, b, length, draw));
            if (stacks) add_stacked(face, length, height, draw);
            house.faces.push_back(std::move(face));
        }
    }
    out.text = fmt::format("{}, wall {}, {} corners, {} storeys, mixed {}, stacked openings {}", file,
                           out.wall->name, corners.size(), storeys, mixed, stacks);
    return out;
}

}  // namespace warmside::tests
