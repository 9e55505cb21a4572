// Worked panels counted by hand (proof/framing/panels.toml holds every member), and what cannot be framed.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>

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
