#include "models.h"

#include <cmath>
#include <numbers>

namespace warmside::fem {

namespace {

using conduction::Model;
using conduction::Point;
using conduction::Region;

// W/(m K)
constexpr double wood = 0.12, wool = 0.035, gypsum = 0.25, osb = 0.13, concrete = 2.0, soil = 1.5,
                 eps = 0.036, steel = 50.0, stainless = 15.0, masonry = 0.7;

Region material(const char* name, double conductivity, conduction::Shape shape) {
    return {.name = name, .shape = std::move(shape), .conductivity = conductivity, .over = true};
}
Region air(const char* name, std::size_t environment, double film, conduction::Shape shape) {
    return {.name = name, .shape = std::move(shape), .environment = environment, .film = film, .over = true};
}

conduction::Shape flat(double x0, double x1, double y0, double y1) {
    return conduction::rectangle({x0, y0}, {x1, y1});
}
conduction::Shape cuboid(double x0, double x1, double y0, double y1, double z0, double z1) {
    return conduction::box({x0, y0, z0}, {x1, y1, z1});
}

Model model_of(const char* name) {
    Model model;
    model.name = name;
    model.environments = {{"inside", 293.15}, {"outside", 273.15}};
    return model;
}

// A strip along a line from `start` in direction (c, s), from depth `low` to `high` to the left of it.
conduction::Shape strip(Point start, double angle, double from, double to, double low, double high) {
    const double c = std::cos(angle), s = std::sin(angle);
    const auto at = [&](double along, double off) {
        return Point{start.x + along * c - off * s, start.y + along * s + off * c};
    };
    return {.outline = {at(from, low), at(to, low), at(to, high), at(from, high)}};
}

}  // namespace

Model stud_wall() {
    Model m = model_of("stud wall");
    m.regions = {
        air("inside", 0, 0.13, flat(0, 0.4, -0.05, 0)),
        material("gypsum board", gypsum, flat(0, 0.4, 0, 0.0125)),
        material("wool", wool, flat(0, 0.4, 0.0125, 0.1525)),
        material("stud", wood, flat(0.181, 0.219, 0.0125, 0.1525)),
        material("osb", osb, flat(0, 0.4, 0.1525, 0.1635)),
        air("outside", 1, 0.04, flat(0, 0.4, 0.1635, 0.2135)),
    };
    return m;
}

Model steel_stud() {
    Model m = model_of("steel stud");
    constexpr double t = 0.0012;
    m.regions = {
        air("inside", 0, 0.13, flat(0, 0.4, -0.05, 0)),
        material("gypsum board", gypsum, flat(0, 0.4, 0, 0.0125)),
        material("wool", wool, flat(0, 0.4, 0.0125, 0.1025)),
        material("inner flange", steel, flat(0.18, 0.22, 0.0125, 0.0125 + t)),
        material("web", steel, flat(0.18, 0.18 + t, 0.0125, 0.1025)),
        material("outer flange", steel, flat(0.18, 0.22, 0.1025 - t, 0.1025)),
        material("outer insulation", eps, flat(0, 0.4, 0.1025, 0.1525)),
        air("outside", 1, 0.04, flat(0, 0.4, 0.1525, 0.2)),
    };
    return m;
}

Model outer_corner() {
    Model m = model_of("outer corner");
    constexpr double end = 1.2, out = 0.011, core = 0.151, in = 0.1635;
    m.regions = {
        air("outside", 1, 0.04, flat(-0.05, end, -0.05, end)),
        material("osb", osb, flat(0, end, 0, end)),
        material("wool", wool, flat(out, end, out, end)),
        material("stud at the end", wood, flat(out, 0.049, out, core)),
        material("stud turned", wood, flat(0.049, core, 0.113, core)),
        material("stud of the other wall", wood, flat(out, core, core, 0.189)),
        material("next stud", wood, flat(0.6, 0.638, out, core)),
        material("next stud of the other wall", wood, flat(out, core, 0.62, 0.658)),
        material("gypsum board", gypsum, flat(core, end, core, end)),
        air("inside", 0, 0.13, flat(in, end, in, end)),
    };
    return m;
}

Model rim_joist() {
    Model m = model_of("rim joist");
    m.environments = {{"upper room", 293.15}, {"lower room", 291.15}, {"outside", 273.15}};
    m.regions = {
        air("outside", 2, 0.04, flat(-0.05, 0, -1.2, 1.2)),
        material("osb", osb, flat(0, 0.011, -1.2, 1.2)),
        material("wool", wool, flat(0.011, 0.151, -1.2, 1.2)),
        material("gypsum board", gypsum, flat(0.151, 0.1635, -1.2, 1.2)),
        air("lower room", 1, 0.13, flat(0.1635, 1.2, -1.2, -0.2525)),
        air("upper room", 0, 0.13, flat(0.1635, 1.2, 0.018, 1.2)),
        material("ceiling board", gypsum, flat(0.151, 1.2, -0.2525, -0.24)),
        material("still air among the joists", 0.6, flat(0.151, 1.2, -0.24, 0)),
        material("insulation at the rim", wool, flat(0.041, 0.151, -0.24, 0)),
        material("rim board", wood, flat(0.011, 0.041, -0.24, 0)),
        material("subfloor", osb, flat(0.011, 1.2, 0, 0.018)),
        material("bottom plate", wood, flat(0.011, 0.151, 0.018, 0.056)),
        material("top plates", wood, flat(0.011, 0.151, -0.316, -0.24)),
    };
    return m;
}

Model slab_edge() {
    Model m = model_of("slab edge");
    m.regions = {
        air("outside", 1, 0.04, flat(-4, 0, 0, 1)),
        air("inside", 0, 0.17, flat(0.2, 4, 0.1, 1)),
        material("soil", soil, flat(-4, 4, -4, 0)),
        material("gravel", 1.0, flat(0.2, 4, -0.25, -0.1)),
        material("underslab insulation", eps, flat(0.2, 4, -0.1, 0)),
        material("slab", concrete, flat(0.2, 4, 0, 0.1)),
        material("frost wall", concrete, flat(0, 0.2, -1.2, 0.1)),
        material("edge insulation", eps, flat(0.15, 0.2, -0.1, 0.1)),
        material("outer insulation", eps, flat(-0.06, 0, -0.8, 0.1)),
        material("cover", 0.5, flat(-0.072, -0.06, -0.2, 0.1)),
        material("wall", 0.045, flat(0, 0.2, 0.1, 1)),
        material("sill", wood, flat(0, 0.2, 0.1, 0.138)),
        air("outside, above the insulation", 1, 0.04, flat(-0.072, 0, 0.1, 1)),
    };
    return m;
}

Model window_jamb() {
    Model m = model_of("window jamb");
    m.regions = {
        air("inside", 0, 0.13, flat(0, 1.4, -0.1, 0)),
        air("outside", 1, 0.04, flat(0, 1.4, 0.28, 0.38)),
        material("gypsum board", gypsum, flat(0, 0.8, 0, 0.0125)),
        material("wool", wool, flat(0, 0.8, 0.0125, 0.2)),
        material("king stud", wood, flat(0.70, 0.738, 0.0125, 0.2)),
        material("jack stud", wood, flat(0.738, 0.776, 0.0125, 0.2)),
        material("osb", osb, flat(0, 0.776, 0.2, 0.211)),
        material("outer insulation", 0.037, flat(0, 0.776, 0.211, 0.28)),
        material("buck", wood, flat(0.776, 0.8, 0.0125, 0.28)),
        air("inside, before the glass", 0, 0.13, flat(0.8, 1.4, 0, 0.1)),
        air("outside, before the glass", 1, 0.04, flat(0.8, 1.4, 0.1, 0.28)),
        material("frame", wood, flat(0.8, 0.9, 0.1, 0.17)),
        material("glazing", 0.035, flat(0.885, 1.4, 0.12, 0.148)),
    };
    m.regions.back().own_film = 0.1;
    return m;
}

Model eave() {
    Model m = model_of("eave");
    constexpr double pitch = 35.0 * std::numbers::pi / 180.0;
    const Point start{0.0, 1.0};  // outer top corner of the wall; the roof rises to the right
    const double reach = 1.5;
    // The section ends upright at x = 1.2.
    const auto layer = [&](double from, double low, double high) {
        conduction::Shape shape = strip(start, pitch, from, reach, low, high);
        const auto cut = [&](double off) {
            return Point{1.2, start.y + off / std::cos(pitch) + 1.2 * std::tan(pitch)};
        };
        shape.outline[1] = cut(low);
        shape.outline[2] = cut(high);
        return shape;
    };
    m.regions = {
        air("outside", 1, 0.04, flat(-0.6, 1.2, 0, 2.5)),
        air("inside", 0, 0.13, flat(0.1635, 1.2, 0, 1.9)),
        material("osb", osb, {.outline = {{0, 0}, {0.011, 0}, {0.011, 1.05}, {0, 1.05}}}),
        material("wool", wool, flat(0.011, 0.151, 0, 1.05)),
        material("gypsum board", gypsum, flat(0.151, 0.1635, 0, 1.05)),
        material("top plates", wood, flat(0.011, 0.151, 0.924, 1.0)),
        material("ceiling board", gypsum, layer(0.19, -0.0125, 0.0)),
        material("roof insulation", wool, layer(-0.05, 0.0, 0.24)),
        material("blocking", wood, layer(-0.05, 0.0, 0.24)),
        material("roof deck", osb, layer(-0.4, 0.24, 0.258)),
        material("outer roof insulation", eps, layer(-0.05, 0.258, 0.338)),
    };
    Region& blocking = m.regions[8];
    blocking.shape = strip(start, pitch, -0.05, -0.012, 0.0, 0.24);
    // Above the roof there is no inside air.
    m.regions[1].shape.outline = {{0.1635, 0},
                                  {1.2, 0},
                                  {1.2, start.y + 1.2 * std::tan(pitch)},
                                  {0.1635, start.y + 0.1635 * std::tan(pitch)}};
    return m;
}

Model rotated_wall() {
    Model m = model_of("rotated wall");
    constexpr double turn = 30.0 * std::numbers::pi / 180.0;
    const auto layer = [&](double from, double to, double low, double high) {
        return strip({0, 0}, turn, from, to, low, high);
    };
    m.regions = {
        air("inside", 0, 0.13, layer(0, 0.6, -0.05, 0)),
        material("masonry", masonry, layer(0, 0.6, 0, 0.1)),
        material("insulation", wool, layer(0, 0.6, 0.1, 0.25)),
        material("stud", wood, layer(0.28, 0.32, 0.1, 0.25)),
        material("cladding", 0.14, layer(0, 0.6, 0.25, 0.27)),
        air("outside", 1, 0.04, layer(0, 0.6, 0.27, 0.32)),
    };
    return m;
}

Model stud_and_furring() {
    Model m = model_of("stud and furring");
    m.geometry = conduction::Geometry::solid;
    constexpr double w = 0.2, h = 0.3;  // half a stud bay, half a furring bay
    m.regions = {
        air("inside", 0, 0.13, cuboid(0, w, -0.05, 0, 0, h)),
        material("gypsum board", gypsum, cuboid(0, w, 0, 0.0125, 0, h)),
        material("inner wool", wool, cuboid(0, w, 0.0125, 0.0505, 0, h)),
        material("furring", wood, cuboid(0, w, 0.0125, 0.0505, 0, 0.019)),
        material("wool", wool, cuboid(0, w, 0.0505, 0.1905, 0, h)),
        material("stud", wood, cuboid(0, 0.019, 0.0505, 0.1905, 0, h)),
        material("osb", osb, cuboid(0, w, 0.1905, 0.2015, 0, h)),
        air("outside", 1, 0.04, cuboid(0, w, 0.2015, 0.25, 0, h)),
    };
    return m;
}

Model steel_bracket() {
    Model m = model_of("stainless bracket");
    m.geometry = conduction::Geometry::solid;
    m.regions = {
        // a quarter
        air("inside", 0, 0.13, cuboid(0, 0.3, -0.05, 0, 0, 0.3)),
        material("concrete", concrete, cuboid(0, 0.3, 0, 0.15, 0, 0.3)),
        material("insulation", wool, cuboid(0, 0.3, 0.15, 0.27, 0, 0.3)),
        air("outside", 1, 0.04, cuboid(0, 0.3, 0.27, 0.42, 0, 0.3)),
        material("plate", stainless, cuboid(0, 0.01, 0.04, 0.33, 0, 0.06)),
    };
    return m;
}

Model sloped_roof() {
    Model m = model_of("sloped roof");
    m.geometry = conduction::Geometry::solid;
    constexpr double pitch = 25.0 * std::numbers::pi / 180.0, w = 0.2;
    const auto layer = [&](double from, double to, double low, double high, double bottom, double top) {
        conduction::Shape shape = strip({0, 0}, pitch, from, to, low, high);
        shape.bottom = bottom;
        shape.top = top;
        return shape;
    };
    m.regions = {
        air("inside", 0, 0.10, layer(0, 0.4, -0.05, 0, 0, w)),
        material("ceiling board", gypsum, layer(0, 0.4, 0, 0.0125, 0, w)),
        material("inner wool", wool, layer(0, 0.4, 0.0125, 0.0505, 0, w)),
        material("batten", wood, layer(0.18, 0.22, 0.0125, 0.0505, 0, w)),
        material("wool", wool, layer(0, 0.4, 0.0505, 0.2405, 0, w)),
        material("rafter", wood, layer(0, 0.4, 0.0505, 0.2405, 0, 0.019)),
        material("deck", osb, layer(0, 0.4, 0.2405, 0.2585, 0, w)),
        air("outside", 1, 0.04, layer(0, 0.4, 0.2585, 0.3, 0, w)),
    };
    return m;
}

}  // namespace warmside::fem
