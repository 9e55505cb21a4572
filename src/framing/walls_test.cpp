// Worked panels counted by hand (proof/framing/panels.toml holds every member), and what cannot be framed.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>

#include "framing/around_opening.h"
#include "framing/frame.h"
#include "framing/sample_test.h"

using namespace warmside;
using namespace warmside::framing;
using units::Exact;

namespace {

double in(Exact e) {
    return static_cast<double>(e.count()) / 203200.0;
}

std::map<std::string, std::map<double, int>> cut_list(const Panel& panel) {
    std::map<std::string, std::map<double, int>> out;
    for (const Member& m : panel.members) out[name_of(m.role)][in(m.length)]++;
    return out;
}

}  // namespace

TEST_CASE("worked panel p1: a 24 ft wall with a door and two windows has the members counted by hand") {
    auto house = sample::straight_wall(288, 97.5);
    house.details.header.value = 0.18415;  // 7 1/4 in
    house.faces[0].openings = {sample::door("D1", 20.5, 38.5, 82.5), sample::window("W1", 100, 36, 39.25, 48),
                               sample::window("W2", 196, 60, 39.25, 48)};
    const auto frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    auto list = cut_list(frame->panels[0]);
    CHECK(list["bottom plate"] == std::map<double, int>{{192, 1}, {96, 1}});
    CHECK(list["stud"] == std::map<double, int>{{93, 11}});
    CHECK(list["king stud"] == std::map<double, int>{{93, 6}});
    CHECK(list["jack stud"] == std::map<double, int>{{85.75, 6}});
    CHECK(list["header"] == std::map<double, int>{{41.5, 2}, {39, 2}, {63, 2}});
    CHECK(list["header filler"] == std::map<double, int>{{38.5, 1}});
    CHECK(list["cripple above"] == std::map<double, int>{{3.25, 4}});
    CHECK(list["cripple below"] == std::map<double, int>{{36.25, 9}});
    CHECK(list["sill"] == std::map<double, int>{{36, 1}, {60, 1}});
    CHECK(frame->factor.whole == doctest::Approx(6132.5 / 20295.75).epsilon(1e-9));
}

namespace {

const Panel& panel(const Frame& frame, const std::string& name) {
    for (const Panel& p : frame.panels) {
        if (p.name == name) return p;
    }
    FAIL("no panel");
    return frame.panels.front();
}

std::vector<const Member*> of_role(const Panel& p, Role role) {
    std::vector<const Member*> out;
    for (const Member& m : p.members) {
        if (m.role == role) out.push_back(&m);
    }
    return out;
}

std::string refusal(const assembly::House& house) {
    const auto frame = frame_walls(house, house.assemblies[0]);
    return frame ? std::string() : frame.error().what;
}

}  // namespace

TEST_CASE(
    "walls pass in turn: each runs on to the outer face of the next one's frame and butts at its left end") {
    // L: outer corners, and a re-entrant one between faces 2 and 3. Frame from 1/2 to 6 in behind the finish.
    const auto house = sample::around({{0, 0}, {240, 0}, {240, 120}, {120, 120}, {120, 240}, {0, 240}}, 97.5);
    const auto frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    const auto ends = [&](const char* name) {
        const Panel& p = panel(*frame, name);
        return std::pair{in(p.from), in(p.from + p.length)};
    };
    CHECK(ends("0") == std::pair{-0.5, 246.0});
    CHECK(ends("2") == std::pair{-0.5, 119.5});
    CHECK(ends("3") == std::pair{6.0, 126.0});
}

TEST_CASE("the upper of two top plates laps the corner: it passes where the lower one butts") {
    const auto house = sample::around({{0, 0}, {144, 0}, {144, 144}, {0, 144}}, 97.5);
    const auto frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    const auto plates = of_role(panel(*frame, "0"), Role::top_plate);
    REQUIRE(plates.size() == 2);
    CHECK(in(plates[0]->box.low[0]) == -0.5);
    CHECK(in(plates[0]->box.high[0]) == 150.0);
    CHECK(in(plates[1]->box.low[0]) == -6.0);
    CHECK(in(plates[1]->box.high[0]) == 144.5);
}

TEST_CASE("a third corner stud lies flat and backs the lining; two studs have none, and clips are noted") {
    auto house = sample::around({{0, 0}, {144, 0}, {144, 144}, {0, 144}}, 97.5);
    const auto three = frame_walls(house, house.assemblies[0]);
    REQUIRE(three);
    const auto studs = of_role(panel(*three, "0"), Role::corner);
    REQUIRE(studs.size() == 3);
    const auto flat =
        std::find_if(studs.begin(), studs.end(), [](auto* m) { return in(m->box.size(0)) == 5.5; });
    REQUIRE(flat != studs.end());
    // One inch of it lies before the corner of the finish: that backs the lining.
    CHECK(in((*flat)->box.low[0]) <= 143.0);
    CHECK(in((*flat)->box.low[2]) == 0.5);
    house.details.corner_studs.value = 2;
    const auto two = frame_walls(house, house.assemblies[0]);
    REQUIRE(two);
    CHECK(of_role(panel(*two, "0"), Role::corner).size() == 2);
    CHECK(two->notes.back().what == "clips hold the lining at outer corners of two studs");
}

TEST_CASE("joints of two top plates lie on studs and at least 24 in apart") {
    auto house = sample::straight_wall(600, 97.5);
    const auto frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    std::map<double, std::vector<double>> joints;
    for (const Member* m : of_role(frame->panels[0], Role::top_plate)) {
        CHECK(in(m->length) <= 240);
        if (in(m->box.high[0]) < 600) joints[in(m->box.low[1])].push_back(in(m->box.high[0]));
    }
    REQUIRE(joints.size() == 2);
    for (const double a : joints.begin()->second) {
        CHECK(std::fmod(a, 16.0) == 0.0);
        for (const double b : joints.rbegin()->second) CHECK(std::abs(a - b) >= 24);
    }
}

TEST_CASE("a header lower than its own height under the plates is dropped, with cripples on it") {
    auto house = sample::straight_wall(288, 120);
    house.details.header.value = 0.18415;
    house.faces[0].openings = {sample::window("low", 100, 60, 30, 48)};
    const auto frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    const Panel& p = frame->panels[0];
    CHECK(in(of_role(p, Role::header).front()->box.low[1]) == 78.0);
    const auto above = of_role(p, Role::cripple_above);
    REQUIRE(above.size() == 4);  // layout at 112, 128, 144, 160 lies between the kings
    CHECK(in(above.front()->box.low[1]) == 85.25);
    CHECK(in(above.front()->box.high[1]) == 117.0);
    CHECK(in(of_role(p, Role::jack).front()->length) == 76.5);
}

TEST_CASE("what cannot be framed is refused with the opening's name and what would do") {
    auto house = sample::straight_wall(288, 97.5);
    house.faces[0].openings = {sample::window("A", 100, 36, 45, 48)};
    CHECK(refusal(house) ==
          "A of face 0: its head is 7 ft 9 in above the floor, which leaves 1 1/2 in under the plates for a "
          "header of "
          "9 1/4 in");
    house.faces[0].openings = {sample::window("A", 3, 36, 30, 48)};
    CHECK(refusal(house) ==
          "A of face 0: no room for its king and jack studs, 3 in, at the left end of the wall");
    house.faces[0].openings = {sample::window("A", 60, 36, 30, 48), sample::window("B", 100, 36, 30, 48)};
    CHECK(refusal(house) ==
          "A and B of face 0: their king and jack studs need 6 in between the openings, there are 4 in");
    house.faces[0].openings = {sample::window("A", 60, 36, 1, 48)};
    CHECK(refusal(house) == "A of face 0: its sill, 1 in above the floor, lies within the bottom plate");
    house.faces[0].openings.clear();
    house.assemblies[0].layers[1].framing.reset();
    CHECK(refusal(house) == "assembly w has no layer of upright studs, so it is not framed");
}

TEST_CASE(
    "an inner wall gets blocks in the bays beside it, or a flat stud where none of the layout is in the "
    "way") {
    auto house = sample::straight_wall(288, 97.5);
    house.partitions = {{.name = "hall", .face = "0", .at = sample::inches(120), .member = "2x4"}};
    auto frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    // Bay 112 to 128 in: blocks of 14 1/2 in at 24, 48, 72 in.
    auto backing = of_role(frame->panels[0], Role::backing);
    REQUIRE(backing.size() == 3);
    CHECK(in(backing[0]->length) == 14.5);
    CHECK(backing[0]->partition == "hall");
    house.details.partition_stud.value = true;
    frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    backing = of_role(frame->panels[0], Role::backing);
    REQUIRE(backing.size() == 1);
    CHECK(in(backing[0]->box.low[0]) == 117.25);
    house.faces[0].openings = {sample::window("A", 110, 36, 30, 48)};
    CHECK(refusal(house) == "partition hall meets face 0 where A is");
}

TEST_CASE("with stacked framing opposite walls have their studs on one grid") {
    auto house = sample::around({{0, 0}, {200, 0}, {200, 144}, {0, 144}}, 97.5);
    house.practice.stacked.value = true;
    const auto frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    for (const char* name : {"0", "2"}) {
        const Panel& p = panel(*frame, name);
        for (const Member* m : of_role(p, Role::stud)) {
            const double u = in(m->box.low[0]) + 0.75, x = p.u[0] > 0 ? u : 200 - u;
            CHECK(std::fmod(x, 16.0) == doctest::Approx(0.0));
        }
    }
}

TEST_CASE(
    "sized headers take the table's row where the snow is given, and say when the table does not hold") {
    auto house = sample::around({{0, 0}, {384, 0}, {384, 288}, {0, 288}}, 97.5);
    house.practice.sized_headers.value = true;
    house.loads.ground_snow = assembly::Details::ours(50 * 47.880259);
    house.faces[0].openings = {sample::window("A", 100, 59, 36, 46)};
    auto frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    // 4 ft 11 in, 24 ft wide, 50 psf, roof alone: 2-2x8 spans 5 ft 0 in with two jacks; 2-2x6 3 ft 11 in.
    CHECK(of_role(panel(*frame, "0"), Role::header).front()->section.name == "2x8");
    CHECK(of_role(panel(*frame, "0"), Role::jack).size() == 4);
    house.practice.species.value = "larch of the lot";
    frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    CHECK(frame->notes.front().what ==
          "A of face 0: the header is taken as [details] says, an engineer decides: the table does not hold "
          "for larch of "
          "the lot No. 2");
}

TEST_CASE("a header wider than any row of the table stands on the jacks of the row that it is like") {
    auto house = sample::around({{0, 0}, {384, 0}, {384, 288}, {0, 288}}, 97.5);
    house.practice.sized_headers.value = true;
    house.loads.ground_snow = assembly::Details::ours(50 * 47.880259);
    // 9 ft 4 in; 24 ft wide, 50 psf, roof alone: three plies fit in, and 3-2x12 spans 8 ft 8 in. That of
    // [details], 2 plies of 9 1/4 in, is like 2-2x10: two jacks at each end (IRC 2021 Table R602.7(1)).
    house.faces[0].openings = {sample::window("A", 100, 112, 36, 46)};
    const auto frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    CHECK(of_role(panel(*frame, "0"), Role::header).front()->section.name == "2x10");
    CHECK(of_role(panel(*frame, "0"), Role::jack).size() == 4);
    CHECK(std::any_of(frame->notes.begin(), frame->notes.end(), [](const Problem& n) {
        return n.what.find("no row of IRC Table R602.7(1) here holds and fits in") != std::string::npos;
    }));
}

TEST_CASE("the runs of a membrane lap and cover the wall; its seams are as long as the joints") {
    auto house = sample::straight_wall(288, 97.5);
    assembly::Layer sheet{.kind = assembly::Layer::Kind::membrane, .airtight = true};
    auto& layers = house.assemblies[0].layers;
    layers.insert(layers.begin() + 1, sheet);
    house.faces[0].openings = {sample::window("A", 100, 36, 30, 48)};
    const auto frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    const auto& runs = frame->panels[0].runs;
    REQUIRE(runs.size() == 2);
    CHECK(runs[0].box.high[1] == Exact::millimetres(1500));
    CHECK(runs[1].box.low[1] == Exact::millimetres(1400));
    CHECK(in(runs[1].box.high[1]) == 97.5);
    std::map<Seam::Kind, double> length;
    for (const Seam& s : frame->panels[0].seams) length[s.kind] += in(s.length);
    CHECK(length[Seam::Kind::lap] == 288 - 36);
    CHECK(length[Seam::Kind::opening] == 168);
    CHECK(length[Seam::Kind::plate] == 2 * 288);
}

TEST_CASE("a clerestory over two windows: one header, rails and studs between the jambs, counted by hand") {
    auto house = sample::straight_wall(288, 97.5);
    house.details.header.value = 0.18415;  // 7 1/4 in
    // In this order: the clerestory governs wherever it stands in the list.
    house.faces[0].openings = {sample::window("low left", 100, 24, 30, 36),
                               sample::window("high", 100, 60, 72, 15.25),
                               sample::window("low right", 136, 24, 30, 36)};
    const auto frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    const Panel& p = frame->panels[0];
    auto list = cut_list(p);
    CHECK(list["king stud"] == std::map<double, int>{{93, 2}});
    CHECK(list["jack stud"] == std::map<double, int>{{85.75, 2}});
    CHECK(list["header"] == std::map<double, int>{{63, 2}});
    CHECK(list["header filler"] == std::map<double, int>{{60, 1}});
    CHECK(list["sill"] == std::map<double, int>{{24, 2}, {60, 1}});
    // Six under the two sills; five of 3 in between the filler at 66 in and the sill at 70 1/2 in.
    CHECK(list["cripple below"] == std::map<double, int>{{3, 5}, {27, 6}});
    // A stud beside each lower window, and that of the layout at 128 in between them.
    CHECK(list["stud"][64.5] == 3);
    for (const Member* m : of_role(p, Role::king)) CHECK(m->opening == 1);
    for (const int each : {0, 1, 2}) CHECK(around_opening(p, house.faces[0], each).governing == 1);
    CHECK(around_opening(p, house.faces[0], 0).jambs == std::array{2, 1});
    CHECK(in(around_opening(p, house.faces[0], 1).clear) == 60);
    CHECK(list["cripple above"].empty());
}

TEST_CASE("a transom over a door: the flat pieces between them fill what there is") {
    auto house = sample::straight_wall(288, 97.5);
    house.details.header.value = 0.18415;
    house.faces[0].openings = {sample::door("door", 20.5, 38.5, 70),
                               sample::window("transom", 20.5, 38.5, 73, 14.25)};
    auto frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    auto list = cut_list(frame->panels[0]);
    CHECK(list["header"] == std::map<double, int>{{41.5, 2}});
    CHECK(list["header filler"] == std::map<double, int>{{38.5, 1}});
    CHECK(list["sill"] == std::map<double, int>{{38.5, 1}});
    CHECK(list["cripple below"].empty());
    CHECK(list["jack stud"] == std::map<double, int>{{85.75, 2}});
    // Narrower and off the middle by an inch: the stud of 3/4 in on each side is ripped.
    house.faces[0].openings[1] = sample::window("transom", 21.25, 37, 73, 14.25);
    frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    list = cut_list(frame->panels[0]);
    CHECK(list["stud"][12.75 + 1.5] == 2);
    house.faces[0].openings[1] = sample::window("transom", 20.5, 38.5, 71, 14);
    CHECK(refusal(house) ==
          "door and transom of face 0 have 1 in between head and sill, a flat piece takes 1 1/2 in");
}

TEST_CASE("nothing thinner than 1/2 in is cut: a slit stays open and is told") {
    auto house = sample::straight_wall(288, 97.5);
    house.details.header.value = 0.18415;
    // Head at 85 5/8 in, header at 87 1/4 in: a flat piece and 1/8 in more.
    house.faces[0].openings = {sample::window("A", 100, 36, 40, 45.625)};
    const auto frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    auto list = cut_list(frame->panels[0]);
    CHECK(list["header filler"] == std::map<double, int>{{36, 1}});
    CHECK(list["cripple above"].empty());
    CHECK(frame->notes.front().what ==
          "face 0: 3 mm wide at most stay open at A: nothing thinner than 1/2 in is cut, shims or foam fill "
          "them");
}

TEST_CASE("plies that the frame's depth has no room for are told with the place of header_plies") {
    auto house = sample::straight_wall(288, 97.5);
    house.details.header.value = 0.18415;
    house.details.header_plies.value = 5;
    house.practice.boxes.value = false;
    house.details.header_plies.origin.where = {"house.toml", 30, 16};
    house.faces[0].openings = {sample::window("A", 60, 36, 30, 48), sample::window("B", 160, 36, 30, 48)};
    const auto frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    CHECK(of_role(frame->panels[0], Role::header).size() == 6);
    REQUIRE(frame->notes.size() == 1);
    CHECK(frame->notes[0].what ==
          "headers of w have 3 of 5 plies: its frame is 5 1/2 in deep, a ply 1 1/2 in");
    CHECK(frame->notes[0].where.line == 30);
}

TEST_CASE("a header in the rim: no jacks, full-height studs, the floor's rim and joists keep clear of it") {
    auto house = sample::around({{0, 0}, {384, 0}, {384, 288}, {0, 288}}, 97.5);
    house.storeys.push_back({.name = "upper",
                             .floor = sample::inches(108),
                             .height = sample::inches(97.5),
                             .outline = house.storeys[0].outline});
    const auto faces = house.faces;
    for (auto face : faces) {
        face.name += " upper";
        face.storey = "upper";
        house.faces.push_back(face);
    }
    house.details.header_place = {assembly::HeaderPlace::rim, {}};
    house.practice.joist_run.value = "north-south";
    // Higher than a header in the wall would allow.
    house.faces[0].openings = {sample::window("A", 100, 36, 30, 58)};
    house.faces[4].openings = {sample::window("B", 100, 36, 30, 48)};
    const auto frame = warmside::framing::frame(house, house.assemblies[0]);
    REQUIRE(frame);
    auto list = cut_list(panel(*frame, "0"));
    CHECK(list["jack stud"].empty());
    CHECK(list["king stud"] == std::map<double, int>{{93, 4}});  // 18 in displace two of 16 in
    CHECK(list["header"] == std::map<double, int>{{48, 2}});     // 6 in past the opening
    CHECK(list["header filler"] == std::map<double, int>{{36, 1}});
    CHECK(list["cripple above"] == std::map<double, int>{{5, 4}});
    const Member* header = of_role(panel(*frame, "0"), Role::header).front();
    CHECK(in(header->box.low[1]) == 97.5);
    CHECK(in(header->box.high[1]) == 106.75);
    CHECK(header->section.name == "2x10");
    // Joists at 106, 122 and 138 in of the face end at the inner of two plies, the others at the rim of one.
    std::map<double, int> starts;
    for (const Member* m : of_role(panel(*frame, "floor upper"), Role::joist)) ++starts[in(m->box.low[1])];
    CHECK(starts[3.0] == 3);
    for (const Member* m : of_role(panel(*frame, "floor upper"), Role::rim)) {
        // The header takes 100 to 148 in of the floor's own axis.
        if (m->box.low[1] == Exact{} && m->along == 0)
            CHECK((in(m->box.high[0]) <= 100 || in(m->box.low[0]) >= 148));
    }
    const auto told = [&](const std::string& what) {
        return std::any_of(frame->notes.begin(), frame->notes.end(),
                           [&](const Problem& note) { return note.what.starts_with(what); });
    };
    CHECK(told("storey upper: headers lie in the wall, not in the rim: no floor stands above"));
    CHECK(told("floor upper: headers lie in its rim; 3 joists end at them"));
    CHECK(of_role(panel(*frame, "0 upper"), Role::jack).size() == 2);
    // Seen from outside the wall has no header: flat filler, kings and sill alone.
    CHECK(panel(*frame, "0").height == sample::inches(97.5));
}

TEST_CASE("a single top plate has a steel plate over each joint, corner and inner wall; two plates lap") {
    auto house = sample::around({{0, 0}, {600, 0}, {600, 240}, {0, 240}}, 97.5);
    house.details.top_plates.value = 1;
    house.partitions = {{.name = "hall", .face = "0", .at = sample::inches(120), .member = "2x4"}};
    auto frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    std::map<std::pair<PlateJoint::Kind, double>, int> found;
    for (const PlateJoint& joint : panel(*frame, "0").plate_joints) {
        CHECK(joint.steel);
        CHECK(joint.nails == (joint.kind == PlateJoint::Kind::straight ? 12 : 6));
        ++found[{joint.kind, in(joint.length)}];
    }
    // 606 in of plate in pieces of 20 ft at most has two joints.
    CHECK(found ==
          std::map<std::pair<PlateJoint::Kind, double>, int>{{{PlateJoint::Kind::straight, 12}, 2},
                                                             {{PlateJoint::Kind::corner, 6}, 1},
                                                             {{PlateJoint::Kind::inner_wall, 6}, 1}});
    house.details.top_plates.value = 2;
    frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    const auto& laps = panel(*frame, "0").plate_joints;
    CHECK(laps.size() == 4);
    for (const PlateJoint& joint : laps) {
        CHECK_FALSE(joint.steel);
        CHECK(in(joint.length) == 24);
        CHECK(joint.nails == 8);
    }
}

TEST_CASE("walls that meet at 135 degrees: plates mitred at 22 1/2 degrees, a bevelled stud at each side") {
    // An octagon of sides of 96 in, two of them along the axes.
    const double d = 96.0 / std::numbers::sqrt2;
    const auto house = sample::around({{0, 0},
                                       {96, 0},
                                       {96 + d, d},
                                       {96 + d, d + 96},
                                       {96, 2 * d + 96},
                                       {0, 2 * d + 96},
                                       {-d, d + 96},
                                       {-d, d}},
                                      97.5);
    const auto frame = frame_walls(house, house.assemblies[0]);
    REQUIRE(frame);
    const double slope = std::tan(std::numbers::pi / 8);
    const Panel& p = panel(*frame, "0");
    for (const Role role : {Role::bottom_plate, Role::top_plate}) {
        for (const Member* m : of_role(p, role)) {
            // To the long points at the outer face of the frame, 6 in behind the finish's inner face.
            CHECK(in(m->length) == doctest::Approx(96 + 2 * 6 * slope).epsilon(1e-6));
            CHECK(m->end_cut[0] == doctest::Approx(std::numbers::pi / 8));
            CHECK(m->end_cut[1] == doctest::Approx(std::numbers::pi / 8));
        }
    }
    int bevelled = 0;
    for (const Member* m : of_role(p, Role::corner)) {
        if (m->rip == 0.0) continue;
        ++bevelled;
        CHECK(in(m->box.size(0)) == 1.5);
        CHECK(in(m->box.size(2)) == doctest::Approx(1.5 / slope).epsilon(1e-5));
        CHECK(in(m->box.high[2]) == 6.0);
    }
    CHECK(bevelled == 2);
    CHECK(in(p.sheets.back().box.high[0]) == doctest::Approx(96 + 6.4375 * slope).epsilon(1e-6));
    CHECK(p.plate_joints.size() == 1);
    CHECK(p.plate_joints.front().steel);
}
