// Expected values are worked by hand beside their checks (evidence: computed) unless a source is named.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "framing/frame.h"
#include "framing/sample_test.h"

using namespace warmside;
using namespace warmside::framing;
using assembly::Roof;
using framing::sample::inches;

namespace {

const double nine_in_twelve = std::atan(9.0 / 12.0);

// Frame 32 ft by 24 ft over its outer faces: lining 1/2 in and studs 5 1/2 in stand outside of the outline.
assembly::House house_with(Roof roof, double x = 372, double y = 276) {
    auto house = sample::around({{0, 0}, {x, 0}, {x, y}, {0, y}}, 97.125);
    roof.name = "main";
    house.roofs.push_back(std::move(roof));
    return house;
}

// 16 in from the frame, of which 7/16 in are sheathing.
Roof gable(Roof::Structure structure) {
    return {.pitch = nine_in_twelve,
            .ridge = "east-west",
            .overhang = inches(16 - 0.4375),
            .structure = structure,
            .member = "2x8"};
}

std::vector<Panel> framed(const assembly::House& house) {
    Problems notes;
    const auto panels = frame_roofs(house, house.assemblies.front(), notes);
    REQUIRE(panels);
    return *panels;
}

const Panel& panel(const std::vector<Panel>& panels, std::string_view name) {
    const auto found =
        std::find_if(panels.begin(), panels.end(), [&](const Panel& p) { return p.name == name; });
    REQUIRE_MESSAGE(found != panels.end(), name);
    return *found;
}

std::vector<Member> all(const Panel& panel, Role role) {
    std::vector<Member> out;
    for (const Member& m : panel.members) {
        if (m.role == role) out.push_back(m);
    }
    return out;
}

double inch(Exact length) {
    return length.metres() / 0.0254;
}

assembly::Assembly cathedral(double spacing) {
    const auto& catalogue = material::built_in();
    assembly::Assembly out{.name = "r", .part = assembly::Part::roof};
    const auto add = [&](const char* name, double thick) {
        out.layers.push_back({.material = catalogue.material(name), .thickness = inches(thick)});
    };
    add("gypsum board", 0.5);
    add("stone wool batt", 1.5);
    out.layers.back().framing = assembly::Framing{.member = "2x2",
                                                  .width = inches(1.5),
                                                  .depth = inches(1.5),
                                                  .run = assembly::Run::horizontal,
                                                  .spacing = inches(24)};
    add("stone wool batt", 11.25);
    out.layers.back().framing = assembly::Framing{
        .member = "2x12", .width = inches(1.5), .depth = inches(11.25), .spacing = inches(spacing)};
    add("plywood", 0.625);
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
        for (std::size_t j = 0; j < i; ++j) {
            const Member &a = panel.members[i], &b = panel.members[j];
            CHECK_MESSAGE(!overlap(a.box, b.box), panel.name << ": " << a.mark << " in " << b.mark);
        }
    }
}

void check_inside(const Panel& panel) {
    for (const Member& m : panel.members) {
        CHECK_MESSAGE(m.box.low[0] >= panel.from, panel.name << ": " << m.mark);
        CHECK_MESSAGE(m.box.high[0] <= panel.from + panel.length, panel.name << ": " << m.mark);
        CHECK_MESSAGE(m.box.high[1] <= panel.height, panel.name << ": " << m.mark << " ends at "
                                                                << inch(m.box.high[1]) << " of "
                                                                << inch(panel.height));
        CHECK(m.length == m.box.size(m.along));
    }
}

}  // namespace

TEST_CASE("trusses at 24 in over 32 ft: 17, the outer two gable trusses, as long as the frame is deep") {
    const auto panels = framed(house_with(gable(Roof::Structure::truss)));
    const auto trusses = all(panel(panels, "ceiling main"), Role::truss);
    // Marks at 24, 48 ... 360 in: 15; one flush with each end.
    CHECK(trusses.size() == 17);
    CHECK(std::count_if(trusses.begin(), trusses.end(),
                        [](const Member& m) { return m.section.name == "gable truss"; }) == 2);
    for (const Member& m : trusses) CHECK(m.length == inches(288));
    // Heel 12 in, rise 144 x 9/12 = 108 in.
    CHECK(inch(trusses[5].section.width) == doctest::Approx(120).epsilon(1e-6));
}

TEST_CASE("lookouts reach from the first truss to the edge of the roof, at 24 in up the slope") {
    const auto panels = framed(house_with(gable(Roof::Structure::truss)));
    const Panel& south = panel(panels, "roof main south");
    const auto lookouts = all(south, Role::lookout);
    // Overhang 16, first truss at 24 in less half of it: 16 + 24 - 3/4.
    for (const Member& m : lookouts) CHECK(inch(m.length) == doctest::Approx(39.25).epsilon(1e-6));
    // 159 1/4 / 0.8 = 199 1/16 in of slope: at 0, 24 ... 192, eight spaces and a lookout of 3 1/2 in.
    CHECK(lookouts.size() == 2 * 9);
    check_apart(south);
    check_inside(south);
}

TEST_CASE("common rafters of a gable, 24 ft span, 9/12, 16 in overhang") {
    const auto panels = framed(house_with(gable(Roof::Structure::rafters)));
    const Panel& south = panel(panels, "roof main south");
    const auto rafters = all(south, Role::rafter);
    CHECK(rafters.size() == 17);
    // Run 144 + 16 less half of the ridge, 3/4: 159 1/4; / 0.8 = 199 1/16; and 7 1/4 x 9/12 = 5 7/16 more
    // from long point to long point.
    for (const Member& m : rafters) {
        CHECK(m.length == inches(204.5));
        CHECK(m.end_cut[0] == doctest::Approx(nine_in_twelve));
        CHECK(m.section.name == "2x8");
    }
    // 7 1/4 / 0.8 = 9 1/16 in of plumb cut: a 2x10. 32 ft and two overhangs: 416 in.
    const auto ridge = all(panel(panels, "roof main ridge"), Role::ridge);
    REQUIRE(ridge.size() == 2);
    CHECK(ridge[0].section.name == "2x10");
    CHECK(ridge[0].length + ridge[1].length == inches(416));
    // One beside each rafter, in two parts over the bearing line.
    const auto joists = all(panel(panels, "ceiling main"), Role::ceiling_joist);
    CHECK(joists.size() == 34);
    CHECK(joists[0].length == inches(144));
    for (const Panel& each : panels) {
        check_apart(each);
        check_inside(each);
    }
    // Both slopes carry their rafters at the same places of the house: u runs the other way.
    const auto north = all(panel(panels, "roof main north"), Role::rafter);
    for (std::size_t i = 0; i < rafters.size(); ++i)
        CHECK(north[i].box.low[0] == south.length - rafters[rafters.size() - 1 - i].box.high[0]);
}

TEST_CASE("rafters, hips and jacks by the rafter table of a framing square, 9 in 12") {
    auto roof = gable(Roof::Structure::rafters);
    roof.form = Roof::Form::hip;
    roof.ridge.clear();
    const auto panels = framed(house_with(roof));
    const auto south = all(panel(panels, "roof main south"), Role::rafter);
    // Jacks at 24 in differ by 30 in (framing square, memory). The first stands 40 in from the corner of the
    // eave: 40 + 3/4 - 1.06066 = 39.68934; / 0.8 + 5 7/16 = 55.049, up to 55 1/16.
    CHECK(inch(south[0].length) == doctest::Approx(55.0625).epsilon(1e-9));
    CHECK(inch(south[1].length - south[0].length) == doctest::Approx(30).epsilon(0.016 / 30));
    CHECK(inch(south[2].length - south[1].length) == doctest::Approx(30).epsilon(0.016 / 30));
    CHECK(south[0].bevel[1] == doctest::Approx(std::numbers::pi / 4));
    // Commons between the ends of the ridge: as those of the gable.
    CHECK(std::count_if(south.begin(), south.end(),
                        [](const Member& m) { return m.length == inches(204.5); }) == 5);
    // Hip: 19.21 in a foot of common run (framing square, memory), over 160 in: 256.13. Shorter by half of
    // the ridge at 45 degrees, 1.06066 x sqrt(1 + 9/32) = 1.2006, and a plumb cut of 9 1/4 x 0.53033 = 4.9056
    // more.
    int hips = 0;
    for (const Panel& each : panels) {
        for (const Member& m : all(each, Role::hip)) {
            ++hips;
            CHECK(inch(m.length) == doctest::Approx(19.21 * 160 / 12 - 1.2006 + 4.9056).epsilon(0.07 / 260));
        }
    }
    CHECK(hips == 4);
    // 32 ft - 24 ft, and half a thickness more at each end.
    CHECK(all(panel(panels, "roof main ridge"), Role::ridge).at(0).length == inches(97.5));
    // Hip end, 24 ft: marks at 24 ... 264 in; that at 144 in is the king common.
    const auto west = all(panel(panels, "roof main west"), Role::rafter);
    CHECK(west.size() == 11);
    CHECK(west[5].length == inches(204.5));
    for (const Panel& each : panels) {
        check_apart(each);
        check_inside(each);
    }
}

TEST_CASE("a shed of 20 ft, 4/12: one rafter from low to high, a wall on the high plate") {
    Roof roof{.form = Roof::Form::shed,
              .pitch = std::atan(4.0 / 12.0),
              .high_side = "north",
              .over_attic = false,
              .structure = Roof::Structure::rafters,
              .member = "2x12"};
    auto house = house_with(roof, 372, 228);
    house.assemblies.push_back(cathedral(24));
    house.roofs[0].assembly = "r";
    const auto panels = framed(house);
    const auto rafters = all(panel(panels, "roof main south"), Role::rafter);
    CHECK(rafters.size() == 17);
    // 240 x sqrt(10)/3 = 252.982; 11 1/4 / 3 = 3.75: 256.732, up to 256 47/64.
    CHECK(inch(rafters[0].length) == doctest::Approx(256 + 47.0 / 64).epsilon(1e-9));
    const auto high = all(panel(panels, "gable north of roof main"), Role::stud);
    // The rafter's underside over the inner edge of the high wall: 240 - 5 1/2 - 3 1/2 = 231 in / 3 = 77 in,
    // less three plates: 72 1/2.
    REQUIRE(high.size() == 25);
    CHECK(inch(high[0].length) == doctest::Approx(72.5).epsilon(1e-6));
    // Studs of the sloping walls grow by 16 / 3 in from mark to mark.
    const auto east = all(panel(panels, "gable east of roof main"), Role::stud);
    REQUIRE(east.size() > 5);
    CHECK(inch(east[3].length - east[2].length) == doctest::Approx(16.0 / 3).epsilon(0.02));
    for (const Panel& each : panels) {
        check_apart(each);
        check_inside(each);
    }
}

TEST_CASE("gable walls stand under a roof without an attic only") {
    auto house = house_with(gable(Roof::Structure::rafters));
    house.assemblies.push_back(cathedral(24));
    house.roofs[0].over_attic = false;
    house.roofs[0].assembly = "r";
    house.roofs[0].member = "2x12";
    const auto panels = framed(house);
    const Panel& east = panel(panels, "gable east of roof main");
    const auto studs = all(east, Role::stud);
    // Middle stud, its centre under the ridge: (144 - 3 1/2) x 3/4 = 105.375; end rafter lowered 1 1/2 and
    // two plates 3 in: 4 1/2 / 0.8 = 5.625; less the bottom plate: 98.25.
    const auto tallest = std::max_element(
        studs.begin(), studs.end(), [](const Member& a, const Member& b) { return a.length < b.length; });
    CHECK(inch(tallest->length) == doctest::Approx(98.25).epsilon(0.016 / 98));
    CHECK(std::count_if(panels.begin(), panels.end(),
                        [](const Panel& p) { return p.kind == Panel::Kind::gable_wall; }) == 2);
    // Strapping across the rafters inside: 2x2, in the second layer.
    const auto furring = all(panel(panels, "roof main south"), Role::furring);
    REQUIRE_FALSE(furring.empty());
    CHECK(furring[0].layer == 1);
    for (const Panel& each : panels) {
        check_apart(each);
        check_inside(each);
    }
}

TEST_CASE("any roof: members apart and inside, rafters at most a module apart, run / cos long") {
    std::mt19937 dice(7);
    const auto pick = [&](int n) { return static_cast<int>(dice() % static_cast<unsigned>(n)); };
    for (int i = 0; i < 300; ++i) {
        const double x = 160 + pick(320) + pick(16) / 16.0, y = 160 + pick(320) + pick(16) / 16.0;
        const int form = pick(4);
        Roof roof{.form = static_cast<Roof::Form>(form),
                  .pitch = form == 3 ? 0.0 : std::atan((2.0 + pick(14)) / 12),
                  .overhang = pick(4) == 0 ? Exact{} : inches(6 + pick(20)),
                  .over_attic = pick(2) == 0,
                  .structure = pick(3) == 0 ? Roof::Structure::truss : Roof::Structure::rafters,
                  .member = pick(2) == 0 ? "2x12" : "2x8",
                  .spacing = inches(pick(2) == 0 ? 16 : 24)};
        if (form == 0) roof.ridge = pick(2) == 0 ? "east-west" : "north-south";
        constexpr std::array<const char*, 4> high{"south", "east", "north", "west"};
        if (form == 1) roof.high_side = high[static_cast<std::size_t>(pick(4))];
        auto house = house_with(roof, x, y);
        if (!roof.over_attic) {
            house.assemblies.push_back(cathedral(24));
            house.roofs[0].assembly = "r";
        }
        INFO(i << ": form " << form << ", " << x << " x " << y << ", pitch " << roof.pitch << ", attic "
               << roof.over_attic);
        const Exact module = house.roofs[0].spacing;
        for (const Panel& each : framed(house)) {
            check_apart(each);
            check_inside(each);
            auto rafters = all(each, Role::rafter);
            std::sort(rafters.begin(), rafters.end(),
                      [](const Member& a, const Member& b) { return a.box.low[0] < b.box.low[0]; });
            for (std::size_t k = 0; k < rafters.size(); ++k) {
                if (k > 0) CHECK(rafters[k].box.low[0] - rafters[k - 1].box.low[0] <= module + inches(0.01));
                const double depth = rafters[k].box.size(2).metres();
                const double run =
                    (rafters[k].length.metres() - depth * std::tan(roof.pitch)) * std::cos(roof.pitch);
                // Between the whole level run of the slope and what a jack has.
                const double across =
                    std::cos(roof.pitch) * (each.height.metres() - depth * std::tan(roof.pitch));
                CHECK(run <= across + 1e-3);
                CHECK(run > 0.0);
                if (form != 0) continue;
                // A gable's are all alike: half the frame, the overhang, less half the ridge; up to 1/64 in
                // more.
                const double span = 12 + (roof.ridge == "east-west" ? y : x);
                const double eave = roof.overhang > Exact{} ? inch(roof.overhang) + 0.4375 : 0;
                const double long_point =
                    (span / 2 + eave - 0.75) / std::cos(roof.pitch) + depth / 0.0254 * std::tan(roof.pitch);
                CHECK(inch(rafters[k].length) >= long_point - 1e-4);
                CHECK(inch(rafters[k].length) <= long_point + 1.0 / 64 + 1e-4);
            }
            // Sheets lie beside each other and cover a rectangle without gaps.
            for (std::size_t a = 0; a < each.sheets.size(); ++a) {
                for (std::size_t b = 0; b < a; ++b) {
                    if (each.sheets[a].layer == each.sheets[b].layer)
                        CHECK_FALSE(overlap(each.sheets[a].box, each.sheets[b].box));
                }
            }
        }
    }
}
