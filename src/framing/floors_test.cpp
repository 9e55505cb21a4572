// Counts and lengths are worked by hand beside their checks (evidence: computed).
#include <doctest/doctest.h>

#include <algorithm>

#include "framing/frame.h"
#include "framing/sample_test.h"

using namespace warmside;
using namespace warmside::framing;
using framing::sample::inches;

namespace {

// Two storeys, the frame 12 in wider than the outline.
assembly::House two_storeys(const std::vector<std::pair<double, double>>& outline) {
    auto house = sample::around(outline, 97.125);
    assembly::Storey upper = house.storeys[0];
    upper.name = "upper";
    upper.floor = inches(110);
    house.storeys.push_back(upper);
    house.practice.joist.value = "2x12";
    house.practice.joist_run.value = "north-south";
    return house;
}

struct Framed {
    std::vector<Panel> panels;
    Problems notes;
};

Framed framed(const assembly::House& house) {
    Framed out;
    auto panels = frame_floors(house, house.assemblies.front(), out.notes);
    REQUIRE(panels);
    out.panels = std::move(*panels);
    return out;
}

std::vector<Member> all(const Panel& panel, Role role) {
    std::vector<Member> out;
    for (const Member& m : panel.members) {
        if (m.role == role) out.push_back(m);
    }
    return out;
}

bool overlap(const Box& a, const Box& b) {
    for (std::size_t i = 0; i < 3; ++i) {
        if (a.high[i] <= b.low[i] || b.high[i] <= a.low[i]) return false;
    }
    return true;
}

void check_apart(const Panel& panel) {
    for (std::size_t i = 0; i < panel.members.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j)
            CHECK_MESSAGE(!overlap(panel.members[i].box, panel.members[j].box),
                          panel.members[i].mark << " in " << panel.members[j].mark);
    }
}

double square_feet(const Panel& panel) {
    double out = 0.0;
    for (const Sheet& s : panel.sheets) out += s.box.size(0).metres() * s.box.size(1).metres();
    return out / 0.09290304;
}

}  // namespace

TEST_CASE("a floor of 32 ft by 24 ft, 2x12 at 16 in over a bearing line") {
    const auto floor = framed(two_storeys({{0, 0}, {372, 0}, {372, 276}, {0, 276}}));
    REQUIRE(floor.panels.size() == 1);
    const Panel& panel = floor.panels[0];
    CHECK(panel.name == "floor upper");
    CHECK(panel.length == inches(384));
    CHECK(panel.height == inches(288));
    CHECK(panel.origin[2] == doctest::Approx(97.125 * 0.0254));
    const auto joists = all(panel, Role::joist);
    // At 16, 32 ... 368 in: 23, each in two parts of 144 - 1 1/2.
    REQUIRE(joists.size() == 46);
    for (const Member& m : joists) CHECK(m.length == inches(142.5));
    // Rims: 2 x 384 across the joists' ends, 2 x (288 - 3) along them.
    Exact rims;
    for (const Member& m : all(panel, Role::rim)) rims += m.length;
    CHECK(rims == inches(2 * 384 + 2 * 285));
    // Blocks in 24 bays: 22 of 14 1/2 between joists, and 16 - 3/4 - 1 1/2 at both ends.
    auto blocks = all(panel, Role::blocking);
    REQUIRE(blocks.size() == 24);
    std::sort(blocks.begin(), blocks.end(),
              [](const Member& a, const Member& b) { return a.length < b.length; });
    CHECK(blocks[0].length == inches(13.75));
    CHECK(blocks[2].length == inches(14.5));
    check_apart(panel);
    // Six rows of 4 ft, of 4 sheets or of 3 and two halves: 27 pieces on 768 ft2.
    CHECK(panel.sheets.size() == 27);
    CHECK(square_feet(panel) == doctest::Approx(768));
    CHECK(floor.notes.size() == 1);
}

TEST_CASE("joists without a bearing line run through, and say when lumber is not that long") {
    auto house = two_storeys({{0, 0}, {372, 0}, {372, 276}, {0, 276}});
    house.practice.bearing_line.value = false;
    const auto floor = framed(house);
    const auto joists = all(floor.panels[0], Role::joist);
    REQUIRE(joists.size() == 23);
    CHECK(joists[0].length == inches(285));
    CHECK(all(floor.panels[0], Role::blocking).empty());
    REQUIRE(floor.notes.size() == 1);
    CHECK(floor.notes[0].what.find("longer than lumber comes") != std::string::npos);
    // The short way: east-west where the house is narrow that way.
    auto narrow = two_storeys({{0, 0}, {180, 0}, {180, 276}, {0, 276}});
    narrow.practice.joist_run.value.clear();
    CHECK(all(framed(narrow).panels[0], Role::joist).at(0).along == 0);
}

TEST_CASE("an outline with a step: joists in strips, rims at every edge, sheets on all of it") {
    // 360 x 288 in with a step: 30 ft by 24 ft less 12 ft by 6 ft.
    const auto floor = framed(two_storeys({{0, 0}, {360, 0}, {360, 288}, {216, 288}, {216, 216}, {0, 216}}));
    REQUIRE(floor.panels.size() == 1);
    check_apart(floor.panels[0]);
    // Frame 372 x 300 less 216 x 72 in (both moved out by 6 in): 111600 - 15552 = 96048 in2 = 667 ft2.
    CHECK(square_feet(floor.panels[0]) == doctest::Approx(667));
    // Six edges: 372, 156, 216 across the ends; along: 300 and 228 at outer corners, 72 at the step.
    Exact rims;
    for (const Member& m : all(floor.panels[0], Role::rim)) rims += m.length;
    CHECK(rims == inches(372 + 156 + 216 + (300 - 3) + (228 - 3) + (72 - 1.5)));
    CHECK(floor.notes[0].what.find("not a rectangle") != std::string::npos);
}

TEST_CASE("a framed floor over a crawl space takes its joists from its assembly") {
    auto house = sample::around({{0, 0}, {372, 0}, {372, 228}, {0, 228}}, 97.125);
    const auto& catalogue = material::built_in();
    assembly::Assembly joists{.name = "f", .part = assembly::Part::floor};
    joists.layers.push_back({.material = catalogue.material("plywood"), .thickness = inches(0.75)});
    joists.layers.push_back({.material = catalogue.material("stone wool batt"), .thickness = inches(9.25)});
    joists.layers.back().framing = assembly::Framing{
        .member = "2x10", .width = inches(1.5), .depth = inches(9.25), .spacing = inches(24)};
    house.assemblies.push_back(joists);
    house.floors.push_back({.name = "crawl", .over = assembly::Floor::Over::crawl_space, .assembly = "f"});
    const auto floor = framed(house);
    REQUIRE(floor.panels.size() == 1);
    const auto placed = all(floor.panels[0], Role::joist);
    // 384 / 24 - 1 marks, along the short way, in two parts.
    CHECK(placed.size() == 2 * 15);
    CHECK(placed[0].section.name == "2x10");
    CHECK(placed[0].layer == 1);
    CHECK(floor.panels[0].sheets.at(0).layer == 0);
    CHECK(floor.panels[0].sheets.at(0).box.low[2] == inches(9.25));
    // A slab has none.
    house.floors[0].over = assembly::Floor::Over::ground;
    CHECK(framed(house).panels.empty());
}
