// Boxes of a wall, placed by hand on 2x6 studs and in a cavity of lying 2x2.
#include <doctest/doctest.h>

#include <algorithm>

#include "framing/boxes.h"
#include "framing/frame.h"
#include "framing/sample_test.h"

using namespace warmside;
using namespace warmside::framing;
using assembly::BoxKind;
using units::Exact;

namespace {

double in(Exact e) {
    return static_cast<double>(e.count()) / 203200.0;
}

std::vector<double> centres(const Panel& panel) {
    std::vector<double> out;
    for (const WallBox& box : panel.boxes) out.push_back((in(box.box.low[0]) + in(box.box.high[0])) / 2);
    return out;
}

// Gypsum, 2x2 lying at 24 in, an airtight sheet, 2x6 at 16 in, OSB.
assembly::Assembly with_cavity() {
    const auto& all = material::built_in();
    auto wall = sample::two_by_six();
    assembly::Layer cavity{.material = all.material("stone wool batt"), .thickness = sample::inches(1.5)};
    cavity.framing = assembly::Framing{.member = "2x2",
                                       .width = sample::inches(1.5),
                                       .depth = sample::inches(1.5),
                                       .run = assembly::Run::horizontal,
                                       .spacing = sample::inches(24)};
    assembly::Layer sheet{.kind = assembly::Layer::Kind::membrane,
                          .membrane = all.membrane("variable retarder, medium"),
                          .airtight = true};
    wall.layers.insert(wall.layers.begin() + 1, {cavity, sheet});
    return wall;
}

assembly::ElectricalBox box(const char* name, double at, double height, BoxKind kind = BoxKind::receptacle) {
    return {.name = name,
            .face = "0",
            .at = {sample::inches(at), {}},
            .height = {sample::inches(height), {}},
            .kind = kind,
            .body = {"deepest that fits", {}},
            .origin = {}};
}

Panel only_panel(const assembly::House& house) {
    const auto frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    REQUIRE(frame->panels.size() == 1);
    return frame->panels[0];
}

}  // namespace

// By hand. Studs of 1 1/2 in at 16, 32 ... in, boxes of 2 in beside them. 288 in are two stretches of 144 in:
// a box at 72 in at most, right of the stud at 64 in: 65 3/4 in, which reaches 137 3/4 in. Half of the rest
// is two stretches still; the first asks for 137 3/4 + 150 1/4 / 4 = 175 5/16 in: left of the stud at 176 in,
// 174 1/4 in, which reaches 246 1/4 in. The middle of the rest, 267 1/8 in, is nearest to the left of the
// stud at 272 in: 270 1/4 in.
TEST_CASE("receptacles stand beside studs, no point of a wall space farther than 6 ft from one") {
    const auto panel = only_panel(sample::straight_wall(288, 97.5));
    CHECK(centres(panel) == std::vector<double>{65.75, 174.25, 270.25});
    for (const WallBox& each : panel.boxes) {
        CHECK(in(each.box.low[1]) == 14.5);
        CHECK(in(each.box.high[1]) == 17.5);
        CHECK(in(each.box.high[2]) == 3.5);
        CHECK(each.body == "device");
        CHECK(each.by_rule);
        CHECK(panel.members[each.holder].role == Role::stud);
    }
}

TEST_CASE("a doorway breaks a wall space, a window does not, less than 2 ft need no receptacle") {
    auto house = sample::straight_wall(240, 97.5);
    house.faces[0].openings = {sample::door("D", 20, 36, 82.5), sample::window("W", 100, 48, 36, 48)};
    const auto spaces = wall_spaces(house, house.faces[0]);
    REQUIRE(spaces.size() == 1);
    CHECK(in(spaces[0].u.low) == 56.0);
    CHECK(in(spaces[0].u.high) == 240.0);
}

// 20 in beside a door at a corner with 220 in beyond: the box of the long wall has to reach 20 in round the
// corner.
TEST_CASE("floor line too short for a receptacle is reached from round the corner") {
    auto house = sample::around({{0, 0}, {240, 0}, {240, 240}, {0, 240}}, 97.5);
    house.faces[0].openings = {sample::door("D", 184, 36, 82.5)};
    const auto spaces = wall_spaces(house, house.faces[1]);
    REQUIRE(spaces.size() == 1);
    CHECK(in(spaces[0].before) == 20.0);
    CHECK(in(spaces[0].after) == 0.0);
    CHECK(wall_spaces(house, house.faces[0]).size() == 1);
    const auto frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    CHECK(centres(frame->panels[1]).front() <= 52.0);
}

TEST_CASE(
    "without an airtight layer nothing is pierced; a sheet behind the lining is, one behind a cavity is "
    "not") {
    auto house = sample::straight_wall(144, 97.5);
    CHECK_FALSE(only_panel(house).boxes.at(0).pierces_airtight);
    house.assemblies[0].layers[0].airtight = true;
    CHECK(only_panel(house).boxes.at(0).pierces_airtight);
    house.assemblies[0] = with_cavity();
    const auto panel = only_panel(house);
    CHECK_FALSE(panel.boxes.at(0).pierces_airtight);
    CHECK(panel.boxes.at(0).inner_cavity);
    CHECK(panel.boxes.at(0).body == "square");
}

// Rows from 0 to 1 1/2 and from 23 1/4 in: a block of 21 3/4 in. A switch at 48 in meets the row at 47 1/4 to
// 48 3/4 in and goes under it: 45 1/4 in.
TEST_CASE("between lying rows a box gets a block of its own, or goes to the row that it would meet") {
    auto house = sample::straight_wall(144, 97.5);
    house.assemblies[0] = with_cavity();
    house.boxes = {box("switch", 60, 48, BoxKind::wall_switch)};
    const auto panel = only_panel(house);
    REQUIRE(panel.boxes.size() >= 2);
    for (const WallBox& each : panel.boxes) {
        const Member& holder = panel.members[each.holder];
        CHECK(holder.role == Role::furring);
        if (each.kind == BoxKind::wall_switch) {
            CHECK_FALSE(each.own_block);
            CHECK((in(each.box.low[1]) + in(each.box.high[1])) / 2 == doctest::Approx(45.25));
            CHECK(in(each.box.low[0]) == 58.0);
        } else {
            CHECK(each.own_block);
            CHECK(in(holder.length) == 21.75);
        }
    }
}

TEST_CASE("receptacles of the file count for the rule; without the rule they stand alone") {
    auto house = sample::straight_wall(144, 97.5);
    house.boxes = {box("mine", 70, 16)};
    // Right of the stud at 64 in or left of the one at 80 in: 65 3/4 in is nearer. It leaves 137 3/4 to 144
    // in.
    auto panel = only_panel(house);
    CHECK(centres(panel).front() == 65.75);
    CHECK(panel.boxes.size() == 2);
    house.boxes = {box("mine", 70, 80)};  // too high to count: over 5 1/2 ft
    CHECK(only_panel(house).boxes.size() == 3);
    house.practice.boxes.value = false;
    panel = only_panel(house);
    REQUIRE(panel.boxes.size() == 1);
    CHECK(panel.boxes[0].name == "mine");
}

TEST_CASE("an unheated storey gets no receptacles by the rule") {
    auto house = sample::straight_wall(144, 97.5);
    house.storeys[0].heated = false;
    CHECK(only_panel(house).boxes.empty());
}
