// Houses for tests: 32 by 24 ft, walls of one framed layer, loads in trade units. Every figure is ours.
#pragma once

#include <string>

#include "assembly/assembly.h"
#include "structure/check.h"

namespace warmside::structure::made_up {

inline double unit(const char* text, const units::Dimension& dimension) {
    return *units::parse(text, dimension);
}
inline units::Exact inches(double n) {
    return units::Exact::nearest(n * 0.0254);
}

struct Choice {
    int storeys = 1;
    double stud = 5.5, breadth = 1.5, spacing = 24;  ///< in
    double height = 97.125;                          ///< in
    double snow = 50, wind = 115;                    ///< psf and mph; 0: not given
    double opening = 48;                             ///< in, one window in the south wall
    double header = 9.25;                            ///< in
    bool battens = false, wool = false;              ///< inner service cavity; exterior stone wool on screws
    const char* foam = nullptr;                      ///< or this foam, 1 in
    std::string stud_grade = "Stud";
};

inline assembly::Layer layer(const char* name, double thickness) {
    return {.material = material::built_in().material(name), .thickness = inches(thickness)};
}

inline assembly::Framing members(const char* name, double breadth, double depth, double spacing,
                                 assembly::Run run = assembly::Run::vertical) {
    return {.member = name,
            .width = inches(breadth),
            .depth = inches(depth),
            .run = run,
            .spacing = inches(spacing),
            .material = material::built_in().material("spruce")};
}

inline assembly::Assembly wall(const Choice& c) {
    assembly::Assembly out{.name = "w"};
    out.layers.push_back(layer("gypsum board", 0.5));
    if (c.battens) {
        out.layers.push_back(layer("stone wool batt", 1.5));
        out.layers.back().framing = members("2x2", 1.5, 1.5, 24, assembly::Run::horizontal);
    }
    out.layers.push_back(layer("stone wool batt", c.stud));
    out.layers.back().framing = members("stud", c.breadth, c.stud, c.spacing);
    out.layers.push_back(layer("osb", 0.4375));
    if (c.wool || c.foam) {
        out.layers.push_back(layer(c.foam ? c.foam : "stone wool board", c.foam ? 1 : 2));
        // Every 16 in along furring at 24 in.
        const double area = inches(16).metres() * inches(24).metres();
        out.layers.back().fasteners = assembly::Fasteners{1 / area, 1.83e-5, 50.0, {}};
        assembly::Layer air{.kind = assembly::Layer::Kind::air,
                            .air = assembly::AirKind::ventilated,
                            .thickness = inches(0.75)};
        air.framing = members("1x3", 2.5, 0.75, 24);
        out.layers.push_back(air);
    }
    out.layers.push_back(layer("spruce", 0.75));
    return out;
}

inline assembly::House house(const Choice& c) {
    assembly::House out;
    out.assemblies.push_back(wall(c));
    const double x = 384, y = 288;
    for (int i = 0; i < c.storeys; ++i) {
        assembly::Storey storey{.name = i == 0 ? "lower" : "upper",
                                .floor = inches(i * (c.height + 13)),
                                .height = inches(c.height)};
        for (const auto& [px, py] : {std::pair{0.0, 0.0}, {x, 0.0}, {x, y}, {0.0, y}})
            storey.outline.push_back({inches(px), inches(py)});
        const char* names[]{"south", "east", "north", "west"};
        for (std::size_t k = 0; k < 4; ++k) {
            out.faces.push_back({.name = storey.name + " " + names[k],
                                 .storey = storey.name,
                                 .from = storey.outline[k],
                                 .to = storey.outline[(k + 1) % 4],
                                 .height = storey.height});
        }
        out.storeys.push_back(std::move(storey));
    }
    out.faces.front().openings.push_back({.name = "big window",
                                          .width = inches(c.opening),
                                          .height = inches(48),
                                          .left = inches(96),
                                          .sill = inches(36)});
    out.roofs.push_back({.name = "main", .pitch = 0.6435, .ridge = "east-west", .overhang = inches(16)});
    out.details.header.value = inches(c.header).metres();
    out.practice.stud_grade.value = c.stud_grade;
    if (c.snow > 0) out.loads.ground_snow = Sourced<double>{c.snow * unit("1 psf", units::pressure), {}};
    if (c.wind > 0) {
        out.loads.wind_speed = Sourced<double>{c.wind * unit("1 mph", units::speed), {}};
        out.loads.exposure = Sourced<assembly::Loads::Exposure>{assembly::Loads::Exposure::b, {}};
    }
    return out;
}

/// Framed by hand: full-height studs and what stands around the openings.
inline framing::Frame frame(const assembly::House& house, const Choice& c) {
    framing::Frame out{.assembly = "w"};
    const framing::Section stud{"stud", inches(c.breadth), inches(c.stud)};
    const framing::Section header{"header", inches(1.5), inches(c.header)};
    const auto upright = [&](framing::Role role, int opening, double at) {
        const auto length = inches(c.height - 4.5);
        return framing::Member{
            .role = role,
            .section = stud,
            .box = {{inches(at), inches(1.5), inches(0)}, {inches(at + 1.5), length, inches(c.stud)}},
            .along = 1,
            .length = length,
            .opening = opening,
            .mark = "S"};
    };
    for (std::size_t i = 0; i < house.faces.size(); ++i) {
        framing::Panel panel{.name = house.faces[i].name,
                             .storey = house.faces[i].storey,
                             .face = i,
                             .height = inches(c.height)};
        panel.members.push_back(upright(framing::Role::stud, -1, 0));
        for (std::size_t k = 0; k < house.faces[i].openings.size(); ++k) {
            const auto& opening = house.faces[i].openings[k];
            const double left = opening.left.metres() / 0.0254,
                         right = left + opening.width.metres() / 0.0254;
            const int index = static_cast<int>(k);
            for (const double at : {left - 3, right + 1.5})
                panel.members.push_back(upright(framing::Role::king, index, at));
            for (const double at : {left - 1.5, right})
                panel.members.push_back(upright(framing::Role::jack, index, at));
            for (int ply = 0; ply < 2; ++ply)
                panel.members.push_back(
                    {.role = framing::Role::header,
                     .section = header,
                     .lumber = house.practice.species.value + " " + house.practice.grade.value,
                     .box = {{inches(left - 1.5), opening.sill + opening.height, inches(0)},
                             {inches(right + 1.5), opening.sill + opening.height + inches(c.header),
                              inches(1.5)}},
                     .along = 0,
                     .opening = index,
                     .mark = "H"});
        }
        out.panels.push_back(std::move(panel));
    }
    return out;
}

inline Result<Structure> checked(const Choice& c) {
    const auto built = house(c);
    return check(built, built.assemblies.front(), frame(built, c));
}

/// The first finding whose subject and rule begin so and that stands in `where`; null if none.
inline const Finding* find(const Structure& all, std::string_view subject, std::string_view rule,
                           std::string_view where = {}) {
    for (const auto& each : all.findings) {
        if (each.subject.starts_with(subject) && each.rule.starts_with(rule) &&
            each.where.find(where) != std::string::npos)
            return &each;
    }
    return nullptr;
}

}  // namespace warmside::structure::made_up
