// Invented walls for the tests of this room; only tests include it.
#pragma once

#include <doctest/doctest.h>

#include <utility>
#include <vector>

#include "thermal/buildup.h"
#include "thermal/worth.h"
#include "units/quantity.h"

namespace warmside::thermal::made_up {

using assembly::AirKind;
using assembly::Assembly;
using assembly::Framing;
using assembly::Layer;
using assembly::Run;
using units::Exact;

inline constexpr Conditions cold{.inside = 294.15, .outside = 263.15};

inline const material::Material& of(const char* name) {
    const material::Material* m = material::built_in().material(name);
    REQUIRE_MESSAGE(m, name);
    return *m;
}

inline Exact length(const char* text) {
    return *units::parse_exact(text);
}

inline Layer board(const char* name, const char* thickness) {
    Layer layer;
    layer.material = &of(name);
    layer.thickness = length(thickness);
    return layer;
}

inline Layer air(AirKind kind, const char* thickness) {
    Layer layer;
    layer.kind = Layer::Kind::air;
    layer.air = kind;
    layer.thickness = length(thickness);
    return layer;
}

inline Framing lumber(const char* width, const char* depth, const char* spacing, Run run = Run::vertical) {
    Framing f;
    f.member = depth;
    f.width = length(width);
    f.depth = length(depth);
    f.spacing = length(spacing);
    f.run = run;
    f.material = &of("spruce");
    return f;
}

inline Layer framed(Layer layer, Framing f) {
    layer.framing = std::move(f);
    return layer;
}

inline Assembly wall(std::vector<Layer> layers) {
    Assembly a;
    a.name = "w";
    a.layers = std::move(layers);
    return a;
}

// 2x6 at 24 in with an inner cavity of crossing 2x2.
inline Assembly inner_cavity() {
    return wall({board("gypsum board", "1/2 in"),
                 framed(board("stone wool batt", "1 1/2 in"),
                        lumber("1 1/2 in", "1 1/2 in", "24 in", Run::horizontal)),
                 framed(board("stone wool batt", "5 1/2 in"), lumber("1 1/2 in", "5 1/2 in", "24 in")),
                 board("osb", "7/16 in"), air(AirKind::ventilated, "3/4 in"),
                 board("spruce siding", "3/4 in")});
}

/// Lining, framing with wool, sheathing, wool outside.
inline Buildup buildup(double core = 0.14) {
    return {.name = "made up",
            .sheets = {{"lining", 0.0125, 0.25},
                       {"wool", core, 0.036, true},
                       {"sheathing", 0.0125, 0.13},
                       {"wool board", 0.05, 0.036}},
            .inside_film = 0.13,
            .outside_film = 0.13};
}

/// A ceiling or floor of lining and framing with wool.
inline Buildup flat_buildup(double insulation, double film) {
    return {.name = "made up",
            .sheets = {{"lining", 0.0125, 0.25}, {"wool", insulation, 0.04, true}},
            .inside_film = film,
            .outside_film = film};
}

/// Concrete on foam.
inline Buildup slab_buildup() {
    return {.name = "made up",
            .sheets = {{"concrete", 0.1, 2.0}, {"foam", 0.15, 0.036, true}},
            .inside_film = 0.17,
            .outside_film = 0.0};
}

}  // namespace warmside::thermal::made_up
