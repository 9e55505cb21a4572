// Invented walls for the tests of this room; only tests include it.
#pragma once

#include <doctest/doctest.h>

#include <utility>
#include <vector>

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

}  // namespace warmside::thermal::made_up
