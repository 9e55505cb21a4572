// Models that several tests solve.
#pragma once

#include <cmath>
#include <numbers>

#include "conduction/steady.h"

namespace warmside::conduction::testing {

inline Region material(const char* name, Shape shape, double conductivity) {
    return {.name = name, .shape = std::move(shape), .conductivity = conductivity};
}
inline Region air(const char* name, Shape shape, std::size_t environment, double film) {
    return {.name = name, .shape = std::move(shape), .environment = environment, .film = film};
}
inline Region over(Region region) {
    region.over = true;
    return region;
}

/// Two layers between films, one metre high, half a metre deep.
inline Model wall(Geometry geometry = Geometry::plane) {
    Model m{.name = "wall", .geometry = geometry, .environments = {{"in", 293.15}, {"out", 273.15}}};
    m.regions = {material("board", box({0, 0, 0}, {0.012, 1, 0.5}), 0.25),
                 material("wool", box({0.012, 0, 0}, {0.2, 1, 0.5}), 0.04),
                 air("in", box({-0.1, 0, 0}, {0, 1, 0.5}), 0, 0.13),
                 air("out", box({0.2, 0, 0}, {0.3, 1, 0.5}), 1, 0.04)};
    return m;
}

/// A quarter of a square duct with walls as thick as half its opening, by default without films.
inline Model duct(double film = 0.0) {
    Model m{.name = "duct", .environments = {{"in", 1}, {"out", 0}}};
    m.regions = {material("wall", rectangle({0, 0}, {1, 1}), 1.0),
                 over(air("in", rectangle({0.5, 0.5}, {1, 1}), 0, film)),
                 air("left", rectangle({-0.2, -0.2}, {0, 1}), 1, film),
                 air("below", rectangle({0, -0.2}, {1, 0}), 1, film)};
    return m;
}

/// Half a bay of a framed wall: board, 140 mm stud or wool, sheathing.
inline Model stud_wall() {
    Model m{.name = "stud wall", .environments = {{"in", 1}, {"out", 0}}};
    m.regions = {air("in", rectangle({-0.1, 0}, {0, 0.3}), 0, 0.13),
                 material("gypsum board", rectangle({0, 0}, {0.0125, 0.3}), 0.25),
                 material("wool", rectangle({0.0125, 0}, {0.1525, 0.3}), 0.037),
                 over(material("stud", rectangle({0.0125, 0}, {0.1525, 0.019}), 0.13)),
                 material("osb", rectangle({0.1525, 0}, {0.1635, 0.3}), 0.13),
                 air("out", rectangle({0.1635, 0}, {0.2, 0.3}), 1, 0.04)};
    return m;
}

/// Outer corner of a wall with three studs.
inline Model corner() {
    Model m{.name = "corner", .environments = {{"in", 1}, {"out", 0}}};
    m.regions = {air("out", rectangle({-0.1, -0.1}, {1.2, 1.2}), 1, 0.04)};
    m.regions.push_back(material("osb", rectangle({0, 0}, {1.2, 1.2}), 0.13));
    m.regions.push_back(material("wool", rectangle({0.012, 0.012}, {1.2, 1.2}), 0.035));
    m.regions.push_back(material("stud", rectangle({0.012, 0.012}, {0.05, 0.288}), 0.13));
    m.regions.push_back(material("stud", rectangle({0.05, 0.25}, {0.288, 0.288}), 0.13));
    m.regions.push_back(material("stud", rectangle({0.25, 0.012}, {0.288, 0.25}), 0.13));
    m.regions.push_back(material("gypsum board", rectangle({0.288, 0.288}, {1.2, 1.2}), 0.25));
    m.regions.push_back(air("in", rectangle({0.3, 0.3}, {1.2, 1.2}), 0, 0.13));
    for (Region& r : m.regions) r.over = true;
    return m;
}

/// Furring across studs: the repeating cell between planes of symmetry.
inline Model crossing() {
    Model m{.name = "crossing", .geometry = Geometry::solid, .environments = {{"in", 1}, {"out", 0}}};
    m.regions = {air("in", box({-0.1, 0, 0}, {0, 0.3, 0.3}), 0, 0.13),
                 material("gypsum board", box({0, 0, 0}, {0.0125, 0.3, 0.3}), 0.25),
                 material("wool", box({0.0125, 0, 0}, {0.2, 0.3, 0.3}), 0.037),
                 over(material("furring", box({0.0125, 0, 0}, {0.06, 0.3, 0.019}), 0.13)),
                 over(material("stud", box({0.06, 0, 0}, {0.2, 0.019, 0.3}), 0.13)),
                 material("osb", box({0.2, 0, 0}, {0.211, 0.3, 0.3}), 0.13),
                 air("out", box({0.211, 0, 0}, {0.25, 0.3, 0.3}), 1, 0.04)};
    return m;
}

/// Three layers, one metre long, turned by an angle (degrees): every edge is sloped.
inline Model turned_slab(double angle, double inside, double outside) {
    const double a = angle * std::numbers::pi / 180.0, c = std::cos(a), s = std::sin(a);
    const auto layer = [&](double from, double to) {
        const auto at = [&](double u, double v) { return Point{u * c - v * s, u * s + v * c}; };
        return Shape{.outline = {at(from, 0), at(to, 0), at(to, 1), at(from, 1)}, .bottom = 0.0, .top = 0.5};
    };
    Model m{.name = "turned slab", .environments = {{"in", 1}, {"out", 0}}};
    m.regions = {air("in", layer(-0.1, 0), 0, inside), material("gypsum board", layer(0, 0.0125), 0.25),
                 material("wool", layer(0.0125, 0.2), 0.037), material("osb", layer(0.2, 0.25), 0.13),
                 air("out", layer(0.25, 0.3), 1, outside)};
    return m;
}
inline double slab_resistance() {
    return 0.0125 / 0.25 + 0.1875 / 0.037 + 0.05 / 0.13;
}

/// An eave: a pitched roof of insulation and sheathing on a wall.
inline Model eave(double pitch = 40.0) {
    const double t = std::tan(pitch * std::numbers::pi / 180.0);
    const auto band = [&](double x0, double x1, double d0, double d1) {
        return Shape{.outline = {{x0, x0 * t + d0}, {x1, x1 * t + d0}, {x1, x1 * t + d1}, {x0, x0 * t + d1}}};
    };
    Model m{.name = "eave", .environments = {{"in", 20}, {"out", 0}}};
    m.regions = {
        air("out", rectangle({-0.6, -1.2}, {1.2, 2.0}), 1, 0.04),
        material("osb", rectangle({-0.312, -1.2}, {-0.3, 0.05}), 0.13),
        material("wool", rectangle({-0.3, -1.2}, {0, 0.05}), 0.037),
        material("plate", rectangle({-0.3, 0.0}, {-0.15, 0.05}), 0.13),
        material("gypsum board", rectangle({0, -1.2}, {0.012, 0.0}), 0.25),
        air("in", {.outline = {{0.012, -1.2}, {1.2, -1.2}, {1.2, 1.2 * t}, {0.012, 0.012 * t}}}, 0, 0.13),
        material("gypsum board", band(0.0, 1.2, -0.012, 0.0), 0.25),
        material("wool", band(-0.3, 1.2, 0, 0.35), 0.037),
        material("sheathing", band(-0.5, 1.2, 0.35, 0.365), 0.13)};
    for (Region& r : m.regions) r.over = true;
    return m;
}

}  // namespace warmside::conduction::testing
