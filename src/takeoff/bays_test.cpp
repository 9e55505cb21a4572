#include "takeoff/bays.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "takeoff/areas.h"
#include "takeoff/batts.h"

namespace {

using namespace warmside;
using framing::Member;
using framing::Panel;
using framing::Role;
using takeoff::Bay;
using takeoff::Bays;
using units::Exact;

Exact in(double inches) {
    return Exact::sixty_fourths_of_inch(std::llround(inches * 64.0));
}

constexpr double inch = 0.0254;

/// A box of a panel, in inches: from u, v, w on.
Member member(Role role, std::array<double, 3> low, std::array<double, 3> size, int along) {
    Member out{.role = role};
    for (std::size_t i = 0; i < 3; ++i) {
        out.box.low[i] = in(low[i]);
        out.box.high[i] = in(low[i] + size[i]);
    }
    out.along = along;
    out.length = out.box.size(along);
    out.layer = 0;
    return out;
}

/// A layer of wool between 2x6 at 24 in.
assembly::Layer layer() {
    assembly::Layer out;
    out.thickness = in(5.5);
    out.framing = assembly::Framing{.member = "2x6",
                                    .width = in(1.5),
                                    .depth = in(5.5),
                                    .run = assembly::Run::vertical,
                                    .spacing = in(24)};
    return out;
}

/// By hand: 72 in wide, 96 in high; studs at both ends, kings inside of them, a window 36 in wide and 48 in
/// high, sill at 30 in, with a header of two plies 9 1/4 in high over it that leaves 2 1/2 in of the depth.
struct Window {
    assembly::House house;
    Panel panel;
    Window() {
        assembly::Face face{.name = "south", .height = in(96)};
        face.openings.push_back(
            {.name = "window", .width = in(36), .height = in(48), .left = in(18), .sill = in(30)});
        house.faces.push_back(face);
        panel.face = 0;
        panel.length = in(72);
        panel.height = in(96);
        const auto add = [&](Role role, double u, double v, double wide, double high, int along) {
            panel.members.push_back(member(role, {u, v, 0}, {wide, high, 5.5}, along));
        };
        add(Role::bottom_plate, 0, 0, 72, 1.5, 0);
        add(Role::top_plate, 0, 94.5, 72, 1.5, 0);
        for (const double u : {0.0, 70.5}) add(Role::stud, u, 1.5, 1.5, 93, 1);
        for (const double u : {15.0, 55.5}) add(Role::king, u, 1.5, 1.5, 93, 1);
        for (const double u : {16.5, 54.0}) add(Role::jack, u, 1.5, 1.5, 83.75, 1);
        add(Role::sill, 18, 28.5, 36, 1.5, 0);
        for (const double u : {18.0, 35.25, 52.5}) add(Role::cripple_below, u, 1.5, 1.5, 27, 1);
        for (const double w : {2.5, 4.0})
            panel.members.push_back(member(Role::header, {16.5, 85.25, w}, {39, 9.25, 1.5}, 0));
    }
};

bool holds(const std::vector<Bay>& bays, double across, double along, double depth) {
    return std::any_of(bays.begin(), bays.end(), [&](const Bay& b) {
        return b.across == in(across) && b.along == in(along) && b.depth == in(depth);
    });
}

}  // namespace

TEST_CASE("the bays of a wall with a window, counted by hand") {
    const Window w;
    const Bays found = takeoff::bays_of(w.house, w.panel, layer(), 0);
    CHECK(found.placed);
    REQUIRE(found.bays.size() == 6);
    // Beside the window, between stud and king.
    CHECK(std::count_if(found.bays.begin(), found.bays.end(),
                        [](const Bay& b) { return b.across == in(13.5) && b.along == in(93); }) == 2);
    // Under the sill between the three cripples.
    CHECK(std::count_if(found.bays.begin(), found.bays.end(), [](const Bay& b) {
              return b.across == in(15.75) && b.along == in(27) && b.depth == in(5.5);
          }) == 2);
    // Behind the header, 2 1/2 in deep; over the window's head at 78 in, under the header at 85 1/4 in.
    CHECK(holds(found.bays, 39, 9.25, 2.5));
    CHECK(holds(found.bays, 36, 7.25, 5.5));
    const double hand = (2 * 13.5 * 93 + 2 * 15.75 * 27 + 36 * 7.25) * 5.5 + 39 * 9.25 * 2.5;
    CHECK(found.volume() == doctest::Approx(hand * inch * inch * inch).epsilon(1e-12));
}

TEST_CASE("a top plate that laps over the next wall encloses no bay beyond the last stud") {
    Window w;
    const Bays before = takeoff::bays_of(w.house, w.panel, layer(), 0);
    w.panel.members[1].box.low[0] = in(5.5);
    w.panel.members[1].box.high[0] = in(77.5);
    const Bays after = takeoff::bays_of(w.house, w.panel, layer(), 0);
    CHECK(after.bays.size() == before.bays.size());
    CHECK(after.volume() == doctest::Approx(before.volume()).epsilon(1e-12));
}

TEST_CASE("a layer in which the framing placed nothing has no bays, and says so") {
    const Window w;
    CHECK_FALSE(takeoff::bays_of(w.house, w.panel, layer(), 1).placed);
}

TEST_CASE("between I-joists a bay reaches from web to web, and their flanges are no wool") {
    assembly::House house;
    assembly::Layer joists = layer();
    joists.framing->kind = assembly::Framing::Kind::i_joist;
    joists.framing->flange_depth = in(1.5);
    joists.framing->web_thickness = in(0.5);
    joists.framing->web_share = 1.0;
    Panel panel;
    for (const double u : {0.0, 24.0, 48.0})
        panel.members.push_back(member(Role::stud, {u, 0, 0}, {1.5, 96, 5.5}, 1));
    const Bays found = takeoff::bays_of(house, panel, joists, 0);
    // The field ends with the outer flanges: half a flange beside each outer web.
    REQUIRE(found.bays.size() == 4);
    CHECK(std::count_if(found.bays.begin(), found.bays.end(),
                        [](const Bay& b) { return b.across == in(23.5) && b.along == in(96); }) == 2);
    // By hand: 49 1/2 in x 5 1/2 in less three sections of 2 x 1 1/2 x 1 1/2 and 2 1/2 x 1/2.
    CHECK(found.volume() ==
          doctest::Approx((49.5 * 5.5 - 3 * (2 * 1.5 * 1.5 + 2.5 * 0.5)) * 96 * inch * inch * inch));
}

TEST_CASE("a rafter's tail is no bay: a slope's field is what its lining covers") {
    assembly::House house;
    Panel panel{.kind = Panel::Kind::roof};
    for (const double u : {0.0, 24.0}) {
        panel.members.push_back(member(Role::rafter, {u, 0, 0.5}, {1.5, 200, 5.5}, 1));
        panel.members.back().layer = 1;
    }
    framing::Sheet lining{.layer = 0, .box = {{in(0), in(30), {}}, {in(25.5), in(190), in(0.5)}}};
    framing::Sheet deck{.layer = 2, .box = {{in(-12), in(0), in(6)}, {in(40), in(200), in(6.5)}}};
    panel.sheets = {lining, deck};
    const Bays found = takeoff::bays_of(house, panel, layer(), 1);
    REQUIRE(found.bays.size() == 1);
    CHECK(found.bays[0].across == in(22.5));
    CHECK(found.bays[0].along == in(160));
}

TEST_CASE("under a slope of 45 degrees the studs of a gable wall bound triangles and trapezia") {
    assembly::House house;
    Panel panel{.kind = Panel::Kind::gable_wall};
    panel.members.push_back(member(Role::bottom_plate, {10, 0, 0}, {77, 1.5, 5.5}, 0));
    // The slope rises from (10, 1.5) to its peak in the middle, at 48.5, and falls: studs to their long
    // points.
    for (const auto& [u, high] : {std::pair{24.0, 15.5}, {47.75, 38.5}, {71.5, 15.5}}) {
        panel.members.push_back(member(Role::stud, {u, 1.5, 0}, {1.5, high, 5.5}, 1));
        panel.members.back().end_cut = {0.0, std::atan(1.0)};
    }
    const Bays found = takeoff::bays_of(house, panel, layer(), 0);
    REQUIRE(found.bays.size() == 4);
    // Left end: a triangle 14 in wide and high. Then from the first stud's long point, at 25 1/2 in and
    // 15 1/2 in over the plate, to the left edge of the stud under the ridge, at 47 3/4 in and 37 3/4 in.
    CHECK(found.bays[0].area == doctest::Approx(0.5 * 14 * 14 * inch * inch));
    CHECK(found.bays[0].along == in(14));
    CHECK(found.bays[1].across == in(22.25));
    CHECK(found.bays[1].along == in(37.75));
    CHECK(found.bays[1].area == doctest::Approx(22.25 * 0.5 * (15.5 + 37.75) * inch * inch));
    CHECK(found.bays[2].area == doctest::Approx(found.bays[1].area));
    CHECK(found.bays[3].area == doctest::Approx(found.bays[0].area));
}

TEST_CASE("two equal studs of a gable wall bound the bay under the ridge") {
    assembly::House house;
    Panel panel{.kind = Panel::Kind::gable_wall};
    panel.members.push_back(member(Role::bottom_plate, {0, 0, 0}, {60, 1.5, 5.5}, 0));
    // The slope rises from 0 to 30 in at its peak: long points at 20 and at 40 in from the left.
    for (const double u : {18.5, 40.0}) {
        panel.members.push_back(member(Role::stud, {u, 1.5, 0}, {1.5, 20, 5.5}, 1));
        panel.members.back().end_cut = {0.0, std::atan(1.0)};
    }
    const Bays found = takeoff::bays_of(house, panel, layer(), 0);
    REQUIRE(found.bays.size() == 3);
    CHECK(found.bays[1].along == in(30));
    CHECK(found.bays[1].area == doctest::Approx(20 * 25 * inch * inch));
    CHECK(found.bays[0].area == doctest::Approx(0.5 * 18.5 * 18.5 * inch * inch));
}

TEST_CASE("inside of the rim boards: between the ends of the joists, and along the outer joist") {
    Panel panel{.kind = Panel::Kind::floor};
    const auto add = [&](Role role, double u, double v, double wide, double high, int along) {
        panel.members.push_back(member(role, {u, v, 0}, {wide, high, 9.25}, along));
    };
    // 49 1/2 in x 100 in; rims across the joists' ends pass, one joist in the middle.
    add(Role::rim, 0, 0, 49.5, 1.5, 0);
    add(Role::rim, 0, 98.5, 49.5, 1.5, 0);
    add(Role::rim, 0, 1.5, 1.5, 97, 1);
    add(Role::rim, 48, 1.5, 1.5, 97, 1);
    add(Role::joist, 24, 1.5, 1.5, 97, 1);
    panel.sheets.push_back({.layer = -1, .box = {{in(0), in(0), in(9.25)}, {in(49.5), in(100), in(10)}}});
    const auto bays = takeoff::rim_bays(panel, in(5.5));
    // Four between rim and joist, 22 1/2 in wide; two beside the outer rims, 97 in long; all 4 in deep.
    CHECK(bays.size() == 6);
    CHECK(std::count_if(bays.begin(), bays.end(), [](const Bay& b) {
              return b.across == in(22.5) && b.along == in(9.25) && b.depth == in(4);
          }) == 4);
    CHECK(std::count_if(bays.begin(), bays.end(), [](const Bay& b) {
              return b.across == in(97) && b.along == in(9.25) && b.depth == in(4);
          }) == 2);
    CHECK(takeoff::rim_bays(panel, in(1.5)).empty());
}

TEST_CASE("batts: whole where they fit, cut with friction where a bay is narrower, offcuts used again") {
    const takeoff::PackageSize size{in(15.25), in(47)};
    const takeoff::BattRule rule{.friction = in(0.5), .squeeze = in(1), .least = in(0.75), .bag_depth = {}};
    const auto plan = [&](double across, double along, std::size_t count) {
        Bay bay{.across = in(across), .along = in(along), .depth = in(5.5)};
        return takeoff::fill_with_batts(std::vector<Bay>(count, bay), size, rule);
    };
    // A bay of the batt's size.
    CHECK(plan(14.5, 47, 3).whole == 3);
    CHECK(plan(14.5, 47, 3).cut_from == 0);
    // 47 + 15 in: three ends of 15 in come out of one batt.
    CHECK(plan(14.5, 62, 3).whole == 3);
    CHECK(plan(14.5, 62, 3).cut == 3);
    CHECK(plan(14.5, 62, 3).cut_from == 1);
    // 4 1/2 in and 1/2 in for friction: three strips side by side out of each batt, 3 x 5 = 15 in.
    CHECK(plan(4.5, 47, 6).batts() == 2);
    CHECK(plan(4.75, 47, 6).batts() == 3);
    // Wider than the batt: one whole and a strip of 5 1/4 in, of which two come out of a batt.
    CHECK(plan(20, 47, 2).whole == 2);
    CHECK(plan(20, 47, 2).cut_from == 1);
    // Stuffed with scraps.
    CHECK(plan(0.5, 47, 2).bays == 0);
    CHECK(plan(14.5, 47.5, 1).batts() == 1);
}

TEST_CASE("cut batts: never fewer than their area needs, whatever the bays") {
    const takeoff::PackageSize size{in(23), in(47)};
    const takeoff::BattRule rule{.friction = in(0.5), .squeeze = in(1), .least = in(0.75), .bag_depth = {}};
    std::vector<Bay> bays;
    unsigned state = 7;
    const auto draw = [&](double least, double most) {
        state = state * 1664525u + 1013904223u;
        return std::round((least + (most - least) * (state >> 8) / 16777216.0) * 64.0) / 64.0;
    };
    double area = 0.0;
    for (int n = 0; n < 300; ++n) {
        const Bay bay{.across = in(draw(1, 22.5)), .along = in(draw(1, 120)), .depth = in(5.5)};
        bays.push_back(bay);
        const auto plan = takeoff::fill_with_batts(bays, size, rule);
        if (bay.across >= rule.least && bay.along >= rule.least)
            area += bay.across.metres() * bay.along.metres();
        CHECK(static_cast<double>(plan.batts()) >= plan.bound);
        // Less what is stuffed at the bays' ends.
        const double scraps = static_cast<double>(n + 1) * 23 * 0.75 * inch * inch;
        CHECK(plan.bound * 23 * 47 * inch * inch >= area - scraps);
    }
    const auto plan = takeoff::fill_with_batts(bays, size, rule);
    MESSAGE("300 random bays: " << plan.batts() << " batts, " << plan.bound << " by area");
}
