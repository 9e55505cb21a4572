// The rows of data/framing/boxes.toml, and which layer holds a box.
#include <doctest/doctest.h>

#include "assembly/boxes.h"
#include "base/embedded.h"

using namespace warmside;
using namespace warmside::assembly;

namespace {

Exact inches(int sixty_fourths) {
    return Exact::sixty_fourths_of_inch(sixty_fourths);
}

Layer framed(int thickness, Run run = Run::vertical) {
    Layer out{.material = material::built_in().material("stone wool batt"), .thickness = inches(thickness)};
    out.framing =
        Framing{.width = inches(96), .depth = inches(thickness), .run = run, .spacing = inches(24 * 64)};
    return out;
}

// From inside to outside: a lining of 1/2 in, then `rest`.
Assembly wall(std::vector<Layer> rest) {
    Assembly out{.name = "w"};
    out.layers.push_back(
        {.material = material::built_in().material("gypsum board"), .thickness = inches(32)});
    for (Layer& each : rest) out.layers.push_back(std::move(each));
    return out;
}

Layer sheet() {
    return {.kind = Layer::Kind::membrane, .airtight = true};
}

}  // namespace

TEST_CASE("the built-in rows of boxes read; bodies hold two cables, a receptacle and a clamp") {
    const auto text = embedded::find("data/framing/boxes.toml");
    REQUIRE(text);
    const auto read = read_box_rules("boxes.toml", *text);
    REQUIRE(read);
    REQUIRE(read->bodies.size() == 2);
    // NEC 314.16 (quoted): two 14/2, receptacle, clamp: 4 + 1 + 1 + 2 = 8 x 2.0 in3; two 12/2: 8 x 2.25 in3.
    constexpr double cubic_inch = 0.0254 * 0.0254 * 0.0254;
    for (const BoxBody& body : read->bodies) CHECK(body.volume >= (8 * 2.25 - 1e-9) * cubic_inch);
    CHECK(read->reach == inches(72 * 64));  // NEC 210.52(A), memory
    CHECK(read->spacing_origin.evidence == Evidence::memory);
    const auto broken = read_box_rules("boxes.toml", "[spacing]\nreach = \"6 kg\"\n");
    REQUIRE_FALSE(broken);
}

// A lining of 1/2 in and a cavity of 1 1/2 in take a square box of 1 1/2 in, no device box of 3 1/2 in; 3 1/2
// in of studs take it with 1/2 in to spare.
TEST_CASE(
    "the innermost layer inside of the airtight one that is deep enough holds the box, else the studs") {
    const auto plain = box_seat(wall({sheet(), framed(352)}), "deepest that fits");
    REQUIRE(plain);
    CHECK(plain->layer == 2);
    CHECK(plain->body->name == "device");
    CHECK(plain->back == inches(224));
    CHECK(plain->pierces_airtight);
    const auto wired =
        box_seat(wall({framed(96, Run::horizontal), sheet(), framed(352)}), "deepest that fits");
    REQUIRE(wired);
    CHECK(wired->layer == 1);
    CHECK(wired->body->name == "square");
    CHECK(wired->inner_cavity);
    CHECK_FALSE(wired->pierces_airtight);
    const auto shallow =
        box_seat(wall({framed(48, Run::horizontal), sheet(), framed(352)}), "deepest that fits");
    REQUIRE(shallow);
    CHECK(shallow->layer == 3);
    CHECK(shallow->pierces_airtight);
    const auto forced = box_seat(wall({framed(96, Run::horizontal), sheet(), framed(352)}), "device");
    REQUIRE(forced);
    CHECK(forced->layer == 3);
    CHECK(forced->pierces_airtight);
    CHECK_FALSE(box_seat(wall({framed(48, Run::horizontal)}), "deepest that fits"));
}

TEST_CASE("an airtight lining is pierced, an airtight sheathing is not") {
    auto lined = wall({framed(352)});
    lined.layers[0].airtight = true;
    CHECK(box_seat(lined, "deepest that fits")->pierces_airtight);
    auto sheathed = wall({framed(352), sheet()});
    CHECK_FALSE(box_seat(sheathed, "deepest that fits")->pierces_airtight);
}
