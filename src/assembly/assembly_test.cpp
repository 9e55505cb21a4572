#include "assembly/assembly.h"

#include <doctest/doctest.h>

#include "assembly/check.h"

using namespace warmside;
using assembly::Assembly;
using assembly::Framing;
using assembly::Layer;
using units::Exact;

namespace {

material::Material made(const char* name, const char* family, const char* hatch) {
    material::Material out;
    out.name = name;
    out.family = family;
    out.hatch = hatch;
    return out;
}

const material::Material gypsum = made("gypsum board", "gypsum", "gypsum");
const material::Material wool = made("stone wool batt", "batt", "batt");
const material::Material board = made("stone wool board", "board insulation", "board");
const material::Material osb = made("osb", "panel", "sheathing");
const material::Material siding = made("spruce siding", "wood", "wood");
const material::Material lumber = made("spruce", "wood", "wood");

Layer solid(const material::Material& material, int mm) {
    Layer layer;
    layer.material = &material;
    layer.thickness = Exact::millimetres(mm);
    return layer;
}

Layer framed(const material::Material& material, int mm, int width, int spacing, int depth = 0) {
    Layer layer = solid(material, mm);
    layer.framing = Framing{.member = "stud",
                            .width = Exact::millimetres(width),
                            .depth = Exact::millimetres(depth > 0 ? depth : mm),
                            .spacing = Exact::millimetres(spacing),
                            .material = &lumber};
    return layer;
}

Layer vented(int mm) {
    Layer layer;
    layer.kind = Layer::Kind::air;
    layer.air = assembly::AirKind::ventilated;
    layer.thickness = Exact::millimetres(mm);
    layer.framing = Framing{.member = "batten",
                            .width = Exact::millimetres(70),
                            .depth = Exact::millimetres(mm),
                            .spacing = Exact::millimetres(600),
                            .material = &lumber};
    return layer;
}

}  // namespace

TEST_CASE("the datum is the outer face of the sheathing") {
    Assembly wall;
    wall.layers = {solid(gypsum, 13), framed(wool, 140, 38, 600), solid(osb, 11), solid(board, 50),
                   vented(19),        solid(siding, 19)};
    CHECK(wall.datum() == 2);
}

TEST_CASE("without sheathing the datum is the outer face of the outermost framing, strapping not counted") {
    Assembly wall;
    wall.layers = {solid(gypsum, 13), framed(wool, 140, 38, 600), solid(board, 50), vented(19),
                   solid(siding, 19)};
    CHECK(wall.datum() == 1);
}

TEST_CASE("a lining is no sheathing, and a wall without framing has its outer face as datum") {
    Assembly wall;
    wall.layers = {solid(gypsum, 13), solid(osb, 11), framed(wool, 140, 38, 600), solid(board, 50)};
    CHECK(wall.datum() == 2);
    wall.layers = {solid(gypsum, 13), solid(board, 50)};
    CHECK(wall.datum() == 1);
}

TEST_CASE("thickness is the exact sum of the layers") {
    Assembly wall;
    wall.layers = {solid(gypsum, 13), solid(wool, 140)};
    wall.layers[0].thickness = Exact::sixty_fourths_of_inch(32);  // 1/2 in = 12.7 mm
    CHECK(wall.thickness().count() == 12700 * 8 + 140000 * 8);
}

TEST_CASE("slices of a solid stud: 38 mm at 600 mm is 6.333 % of the face") {
    const auto slices = assembly::slices(framed(wool, 140, 38, 600));
    REQUIRE(slices.size() == 1);
    CHECK(slices[0].share == doctest::Approx(38.0 / 600.0));
    CHECK(slices[0].member == &lumber);
}

TEST_CASE("a stud shallower than its layer leaves a plain slice outside of it") {
    const auto slices = assembly::slices(framed(wool, 300, 38, 600, 89));
    REQUIRE(slices.size() == 2);
    CHECK(slices[0].thickness == doctest::Approx(0.089));
    CHECK(slices[1].thickness == doctest::Approx(0.211));
    CHECK(slices[1].share == 0.0);
    CHECK(slices[1].member == nullptr);
}

TEST_CASE("an I-joist is flange, web, flange; a truss web counts with its share") {
    Layer layer = framed(wool, 300, 60, 600);
    layer.framing->kind = Framing::Kind::i_joist;
    layer.framing->flange_depth = Exact::millimetres(38);
    layer.framing->web_thickness = Exact::millimetres(9);
    layer.framing->web_material = &osb;
    auto slices = assembly::slices(layer);
    REQUIRE(slices.size() == 3);
    CHECK(slices[0].thickness == doctest::Approx(0.038));
    CHECK(slices[1].thickness == doctest::Approx(0.224));  // 300 - 2 x 38
    CHECK(slices[1].share == doctest::Approx(9.0 / 600.0));
    CHECK(slices[1].member == &osb);
    CHECK(slices[2].share == doctest::Approx(0.1));
    layer.framing->kind = Framing::Kind::truss;
    layer.framing->web_share = 0.25;
    slices = assembly::slices(layer);
    CHECK(slices[1].share == doctest::Approx(0.25 * 9.0 / 600.0));
}

TEST_CASE("slices always sum to the layer") {
    for (const int depth : {50, 89, 140, 300}) {
        double sum = 0.0;
        for (const auto& each : assembly::slices(framed(wool, 300, 38, 600, depth))) sum += each.thickness;
        CHECK(sum == doctest::Approx(0.3));
    }
}

TEST_CASE("names of parts are the words of the house file") {
    CHECK(std::string(assembly::name_of(assembly::Part::basement_wall)) == "basement wall");
    CHECK(std::string(assembly::name_of(assembly::Part::wall)) == "wall");
}
