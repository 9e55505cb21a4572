// Invented assemblies for the tests of this room; only tests include it.
#pragma once

#include <doctest/doctest.h>

#include <utility>
#include <vector>

#include "assembly/assembly.h"
#include "thermal/worth.h"
#include "units/quantity.h"

namespace warmside::house::made_up {

using assembly::AirKind;
using assembly::Assembly;
using assembly::Layer;
using units::Exact;

inline constexpr thermal::Conditions cold{.inside = 294.15, .outside = 263.15};

inline const material::Material& of(const char* name) {
    const material::Material* m = material::built_in().material(name);
    REQUIRE_MESSAGE(m, name);
    return *m;
}

inline Layer board(const char* name, double thickness) {
    Layer layer;
    layer.material = &of(name);
    layer.thickness = Exact::nearest(thickness);
    return layer;
}

/// Upright spruce, 38 mm at 600 mm, as deep as its layer.
inline Layer studs(const char* fill, double thickness) {
    Layer layer = board(fill, thickness);
    assembly::Framing f;
    f.member = "stud";
    f.width = Exact::millimetres(38);
    f.depth = layer.thickness;
    f.spacing = Exact::millimetres(600);
    f.material = &of("spruce");
    layer.framing = f;
    return layer;
}

inline Layer cavity(AirKind kind, double thickness) {
    Layer layer;
    layer.kind = Layer::Kind::air;
    layer.air = kind;
    layer.thickness = Exact::nearest(thickness);
    return layer;
}

inline Assembly wall(std::vector<Layer> layers) {
    Assembly a;
    a.name = "w";
    a.layers = std::move(layers);
    return a;
}

}  // namespace warmside::house::made_up
