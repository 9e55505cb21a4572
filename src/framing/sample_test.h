// Small houses for tests.
#pragma once

#include "assembly/assembly.h"

namespace warmside::framing::sample {

inline units::Exact inches(double n) {
    return units::Exact::nearest(n * 0.0254);
}

inline assembly::Opening window(std::string name, double left, double width, double sill, double height) {
    return {.name = std::move(name),
            .width = inches(width),
            .height = inches(height),
            .left = inches(left),
            .sill = inches(sill)};
}

inline assembly::Opening door(std::string name, double left, double width, double height) {
    auto out = window(std::move(name), left, width, 0, height);
    out.kind = assembly::Opening::Kind::door;
    return out;
}

/// 2x6 at 16 in between gypsum board and OSB.
inline assembly::Assembly two_by_six(double spacing = 16) {
    const auto& all = material::built_in();
    assembly::Assembly wall{.name = "w"};
    const auto layer = [&](const char* name, double thick) {
        assembly::Layer out{.material = all.material(name), .thickness = inches(thick)};
        wall.layers.push_back(out);
    };
    layer("gypsum board", 0.5);
    layer("stone wool batt", 5.5);
    wall.layers.back().framing = assembly::Framing{
        .member = "2x6", .width = inches(1.5), .depth = inches(5.5), .spacing = inches(spacing)};
    layer("osb", 0.4375);
    return wall;
}

/// A house around an outline of inside corners, one storey, its faces named "0", "1" ...; inches.
inline assembly::House around(const std::vector<std::pair<double, double>>& outline, double height) {
    assembly::House house;
    house.assemblies.push_back(two_by_six());
    assembly::Storey storey{.name = "main", .height = inches(height)};
    for (const auto& [x, y] : outline) storey.outline.push_back({inches(x), inches(y)});
    for (std::size_t i = 0; i < outline.size(); ++i) {
        house.faces.push_back({.name = std::to_string(i),
                               .storey = "main",
                               .from = storey.outline[i],
                               .to = storey.outline[(i + 1) % outline.size()],
                               .height = inches(height)});
    }
    house.storeys.push_back(storey);
    return house;
}

/// One wall that meets no other.
inline assembly::House straight_wall(double length, double height) {
    auto house = around({{0, 0}, {length, 0}, {length, 240}, {0, 240}}, height);
    house.faces.resize(1);
    return house;
}

}  // namespace warmside::framing::sample
