// Which layer carries: by what common practice frames (no source), one wall at a time.
#include "assembly/duty.h"

#include <doctest/doctest.h>

namespace warmside::assembly {

namespace {

const material::Material osb{.name = "osb", .family = "panel"};
const material::Material wool{.name = "stone wool batt", .family = "insulation"};

Layer framed(int depth, Run run = Run::vertical, Framing::Kind kind = Framing::Kind::solid) {
    Layer out;
    out.kind = Layer::Kind::material;
    out.material = &wool;
    out.thickness = Exact::millimetres(depth);
    out.framing = Framing{};
    out.framing->kind = kind;
    out.framing->run = run;
    out.framing->depth = Exact::millimetres(depth);
    return out;
}

Layer panel() {
    Layer out;
    out.kind = Layer::Kind::material;
    out.material = &osb;
    out.thickness = Exact::millimetres(11);
    return out;
}

Layer ventilated(int depth) {
    Layer out = framed(depth);
    out.kind = Layer::Kind::air;
    out.air = AirKind::ventilated;
    return out;
}

using enum Duty;

}  // namespace

TEST_CASE("lying strips inside are furring, strips in a ventilated cavity battens, however deep") {
    const Assembly wall{.layers = {framed(48, Run::horizontal), framed(140), panel(), ventilated(89)}};
    CHECK(duties_of(wall) == std::vector{furring, bearing, none, batten});
}

TEST_CASE("of two equal frames the one with a panel nailed to it bears, else the outer one") {
    const Assembly inner{.layers = {framed(89), panel(), framed(89)}};
    CHECK(duties_of(inner) == std::vector{bearing, none, second});
    const Assembly outer{.layers = {framed(89), framed(89)}};
    CHECK(duties_of(outer) == std::vector{second, bearing});
}

TEST_CASE("solid studs bear before a deeper outrigger of I-joists; in a floor the deepest joists do") {
    Assembly built{.layers = {framed(89), panel(), framed(241, Run::vertical, Framing::Kind::i_joist)}};
    CHECK(duties_of(built) == std::vector{bearing, none, second});
    built.part = Part::floor;
    CHECK(duties_of(built) == std::vector{second, none, bearing});
}

TEST_CASE("without a frame the deepest strips carry; nothing carries where nothing is framed") {
    const Assembly strips{.layers = {framed(38, Run::horizontal), framed(38), panel()}};
    CHECK(bearing_layer(strips) == std::size_t{1});
    CHECK_FALSE(is_frame(strips.layers[1]));
    CHECK_FALSE(bearing_layer(Assembly{.layers = {panel(), ventilated(19)}}));
}

}  // namespace warmside::assembly
