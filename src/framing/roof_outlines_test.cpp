// Roofs over an L and walls above the plate. Expected values are worked by hand beside their checks
// (evidence: computed).
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "assembly/geometry.h"
#include "framing/frame.h"
#include "framing/sample_test.h"

using namespace warmside;
using namespace warmside::framing;
using assembly::Roof;
using framing::sample::inches;

namespace {

const double nine_in_twelve = std::atan(9.0 / 12.0);
constexpr double square_inch = 0.0254 * 0.0254;

double inch(Exact length) {
    return length.metres() / 0.0254;
}

std::vector<Panel> framed(const assembly::House& house, Problems* notes = nullptr) {
    Problems own;
    const auto panels = frame_roofs(house, house.assemblies.front(), notes ? *notes : own);
    REQUIRE(panels);
    return *panels;
}

std::vector<Member> all(const std::vector<Panel>& panels, Role role) {
    std::vector<Member> out;
    for (const Panel& panel : panels) {
        for (const Member& m : panel.members) {
            if (m.role == role) out.push_back(m);
        }
    }
    return out;
}

const Panel& named(const std::vector<Panel>& panels, const std::string& name) {
    const auto found =
        std::find_if(panels.begin(), panels.end(), [&](const Panel& p) { return p.name == name; });
    REQUIRE_MESSAGE(found != panels.end(), name);
    return *found;
}

// Frames: 24 ft wide and 40 ft long in the west, a wing 16 ft wide to the east of it along the south, 16 ft
// long. Lining 1/2 in and studs 5 1/2 in stand outside of the outline. Its edges lie 16 in from the frame.
assembly::House ell(Roof roof) {
    auto house = sample::around({{0, 0}, {468, 0}, {468, 180}, {276, 180}, {276, 468}, {0, 468}}, 97.125);
    roof.name = "main";
    roof.pitch = nine_in_twelve;
    roof.overhang = inches(16 - 0.4375);
    roof.member = "2x8";
    house.roofs.push_back(std::move(roof));
    return house;
}

// Layers of a slope: 2 in inside of 2x12 rafters.
assembly::Assembly cathedral() {
    const auto& catalogue = material::built_in();
    assembly::Assembly out{.name = "r", .part = assembly::Part::roof};
    const auto add = [&](const char* name, double thick) {
        out.layers.push_back({.material = catalogue.material(name), .thickness = inches(thick)});
    };
    add("gypsum board", 0.5);
    add("stone wool batt", 1.5);
    add("stone wool batt", 11.25);
    out.layers.back().framing = assembly::Framing{
        .member = "2x12", .width = inches(1.5), .depth = inches(11.25), .spacing = inches(24)};
    add("plywood", 0.625);
    return out;
}

}  // namespace

TEST_CASE("a gable over an L: ridges, a valley that carries, one that hangs on it") {
    const auto panels = framed(ell({.ridge = "north-south", .structure = Roof::Structure::rafters}));
    // Over the eaves' edges the main body is 288 + 32 = 320 in wide, 480 + 32 long; the wing 192 + 32 = 224
    // wide. Its ridge begins 192 in beyond the main frame and 16 in of overhang, and dies where the main
    // slope is 224 / 2 = 112 in from its edge (16 in outside of the frame): 192 + 16 + 96 = 304, less 1 1/2 /
    // sqrt 2.
    const auto ridges = all(panels, Role::ridge);
    double main = 0.0, wing = 0.0;
    for (const Panel& panel : panels) {
        for (const Member& m : panel.members) {
            if (m.role == Role::ridge) (panel.name == "roof main ridge" ? main : wing) += inch(m.length);
        }
    }
    CHECK(std::max(main, wing) == doctest::Approx(512).epsilon(1e-6));
    CHECK(std::min(main, wing) == doctest::Approx(304 - 1.0606602).epsilon(1e-6));
    // Valleys in plan: 160 sqrt 2 to the main ridge with its long points 3/4 in beyond both ends,
    // less 1.06066 at the ridge; 112 sqrt 2 and 3/4 at the tail, less 3/4 at the valley that carries it.
    // Slope of a valley: 9 / (12 sqrt 2), sqrt(1 + 9/32) = 1.131923; the plumb cut of 9 1/4 in takes 9 1/4 x
    // 0.53033 = 4.9056.
    auto valleys = all(panels, Role::valley);
    REQUIRE(valleys.size() == 2);
    if (valleys[0].length < valleys[1].length) std::swap(valleys[0], valleys[1]);
    CHECK(inch(valleys[0].length) ==
          doctest::Approx((160 * std::sqrt(2.0) + 1.5 - 1.0606602) * 1.131923 + 4.9056).epsilon(0.02 / 260));
    CHECK(inch(valleys[1].length) ==
          doctest::Approx(112 * std::sqrt(2.0) * 1.131923 + 4.9056).epsilon(0.02 / 180));
    CHECK(all(panels, Role::hip).empty());
    // Commons of the main body: 160 - 3/4 in of run; / 0.8, and 7 1/4 x 3/4: 199 1/16 + 5 7/16.
    CHECK(all({named(panels, "roof main west")}, Role::rafter).front().length == inches(204.5));
    // Two parts of the rafters that cross the valley which runs on: somewhere a cut at both ends.
    const auto east = all({named(panels, "roof main east")}, Role::rafter);
    CHECK(std::any_of(east.begin(), east.end(),
                      [](const Member& m) { return m.bevel[0] != 0 && m.bevel[1] != 0; }));
}

TEST_CASE("trusses over an L: the main ones run through, sets lie on them where the wing comes in") {
    Problems notes;
    const auto panels = framed(ell({.ridge = "north-south"}), &notes);
    std::vector<double> sets;
    int main = 0, wing = 0;
    for (const Member& m : all(panels, Role::truss)) {
        if (m.section.name == "valley set")
            sets.push_back(inch(m.length));
        else
            ++(m.length == inches(288) ? main : wing);
    }
    // 40 ft at 24 in: 21 with both ends; 16 ft: 9 with both ends.
    CHECK(main == 21);
    CHECK(wing == 9);
    // 192 in wide, narrower by 48 in each module of 24 in: 144, 96, 48.
    CHECK(sets.size() == 3);
    for (std::size_t i = 0; i < sets.size(); ++i)
        CHECK(sets[i] == doctest::Approx(144 - 48.0 * static_cast<double>(i)));
    CHECK(std::any_of(notes.begin(), notes.end(),
                      [](const Problem& n) { return n.what.find("girder or beam") != std::string::npos; }));
}

TEST_CASE("the deck of a gable over an L covers its outline and overhangs once") {
    const auto panels = framed(ell({.ridge = "north-south", .structure = Roof::Structure::rafters}));
    double deck = 0.0;
    for (const Panel& panel : panels) {
        for (const Sheet& sheet : panel.sheets) {
            if (panel.kind == Panel::Kind::roof) deck += area_of(sheet);
        }
    }
    // Edges: 320 x 512 in, and the wing 224 in wide, 192 in beyond; slope 1 / 0.8.
    CHECK(deck / square_inch == doctest::Approx((320 * 512 + 224 * 192) / 0.8).epsilon(1e-4));
}

TEST_CASE("the lining of a gable wall is the gable of the areas less what the slope's own lining takes") {
    auto house = sample::around({{0, 0}, {372, 0}, {372, 276}, {0, 276}}, 97.125);
    house.assemblies.push_back(cathedral());
    house.roofs.push_back({.name = "main",
                           .pitch = nine_in_twelve,
                           .ridge = "east-west",
                           .overhang = inches(16 - 0.4375),
                           .assembly = "r",
                           .over_attic = false,
                           .structure = Roof::Structure::rafters,
                           .member = "2x12"});
    const auto panels = framed(house);
    const double gable = assembly::areas(house).roofs[0].gable / 2 / square_inch;
    CHECK(gable == doctest::Approx(276 * 103.5 / 2));
    for (const char* name : {"gable east of roof main", "gable west of roof main"}) {
        const Panel& wall = named(panels, name);
        double lining = 0.0, sheathing = 0.0;
        for (const Sheet& sheet : wall.sheets)
            (sheet.layer == 0 ? lining : sheathing) += area_of(sheet) / square_inch;
        // Rafters' underside over the plate, u in from the inside corner: (u + 6 - 3 1/2) x 3/4; the lining
        // of the slope hangs 2 in / 0.8 lower: 3/4 u - 5/8. From u = 5/6 to 138, both sides: 3/4 (138 -
        // 5/6)^2.
        CHECK(lining == doctest::Approx(0.75 * std::pow(138 - 5.0 / 6, 2)).epsilon(1e-5));
        // 5/8 in lower along 276 in, less the corners: 1.2 % of the gable.
        CHECK(gable - lining == doctest::Approx(276 * 0.625 - 0.75 * 25.0 / 36).epsilon(1e-3));
        // Sheathing up to the top of the end rafter, 1 1/2 in below the others': (11 1/4 - 1 1/2) / 0.8
        // higher than the underside, and out to 6 7/16 in from the inside corner: 3/4 u + 14 1/16.
        const auto under = [](double u) { return 0.375 * u * u + 14.0625 * u; };
        CHECK(sheathing == doctest::Approx(2 * (under(138) - under(-6.4375))).epsilon(1e-5));
        // Cut to the slope, not counted as boxes.
        CHECK(std::any_of(wall.sheets.begin(), wall.sheets.end(),
                          [](const Sheet& s) { return !s.outline.empty(); }));
    }
}

TEST_CASE("gable walls have the furring, battens and membranes of their wall") {
    auto house = sample::around({{0, 0}, {372, 0}, {372, 276}, {0, 276}}, 97.125);
    auto& wall = house.assemblies.front();
    const auto& catalogue = material::built_in();
    assembly::Layer cavity{.kind = assembly::Layer::Kind::air, .thickness = inches(1.5)};
    cavity.framing = assembly::Framing{.member = "2x2",
                                       .width = inches(1.5),
                                       .depth = inches(1.5),
                                       .run = assembly::Run::horizontal,
                                       .spacing = inches(24)};
    assembly::Layer sheet{.kind = assembly::Layer::Kind::membrane, .membrane = &catalogue.membranes.front()};
    sheet.airtight = true;
    wall.layers.insert(wall.layers.begin() + 1, {cavity, sheet});
    house.assemblies.push_back(cathedral());
    house.roofs.push_back({.name = "main",
                           .pitch = nine_in_twelve,
                           .ridge = "east-west",
                           .assembly = "r",
                           .over_attic = false,
                           .structure = Roof::Structure::rafters,
                           .member = "2x12"});
    const auto panels = framed(house);
    const Panel& east = named(panels, "gable east of roof main");
    const auto furring = all({east}, Role::furring);
    REQUIRE_FALSE(furring.empty());
    // At the plate and every 24 in; the roof stands (138 + 7 1/2 - 3 1/2) x 3/4 - 2 / 0.8 = 104 in high over
    // the middle: rows at 0 and about 24, 48, 72, 96.
    CHECK(std::count_if(furring.begin(), furring.end(),
                        [](const Member& m) { return m.box.low[1] == Exact{}; }) >= 1);
    Exact top;
    for (const Member& m : furring) top = std::max(top, m.box.low[1]);
    CHECK(inch(top) == doctest::Approx(95.25));
    CHECK_FALSE(east.runs.empty());
    for (const Run& run : east.runs) CHECK(run.layer == 2);
    double slopes = 0.0;
    for (const Seam& seam : east.seams) {
        if (seam.kind == Seam::Kind::plate) slopes += inch(seam.length);
    }
    // Sealed along both slopes: the membrane's height over the middle is 104 in, its slopes 104 / 0.6.
    CHECK(slopes == doctest::Approx(2 * 104 / 0.6).epsilon(1e-3));
}
