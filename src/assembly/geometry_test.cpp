// Every expected value is worked by hand beside its check (evidence: computed).
#include "assembly/geometry.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "assembly/check.h"

using namespace warmside;
using assembly::Face;
using assembly::House;
using assembly::Opening;
using assembly::Point;
using assembly::Roof;
using assembly::Storey;
using units::Exact;

namespace {

constexpr double pi = std::numbers::pi;

Point at(double x, double y) {
    return {Exact::nearest(x), Exact::nearest(y)};
}
Exact m(double metres) {
    return Exact::nearest(metres);
}

// 10 m east-west by 8 m north-south, 2.5 m high, a face on each side.
House rectangle_house() {
    House house;
    house.storeys.push_back({.name = "main",
                             .floor = m(0),
                             .height = m(2.5),
                             .outline = {at(0, 0), at(10, 0), at(10, 8), at(0, 8)}});
    const auto& o = house.storeys.front().outline;
    const char* names[] = {"south", "east", "north", "west"};
    for (std::size_t i = 0; i < 4; ++i) {
        house.faces.push_back(
            {.name = names[i], .storey = "main", .from = o[i], .to = o[(i + 1) % 4], .height = m(2.5)});
    }
    return house;
}

double gable_of(const assembly::Areas& areas, std::string_view face) {
    for (const auto& each : areas.faces) {
        if (each.face == face) return each.gable;
    }
    return -1.0;
}

}  // namespace

TEST_CASE("faces look outward: a counter-clockwise rectangle starting at its south-west corner") {
    const House house = rectangle_house();
    CHECK(assembly::azimuth(house.faces[0]) == doctest::Approx(pi));          // south
    CHECK(assembly::azimuth(house.faces[1]) == doctest::Approx(pi / 2));      // east
    CHECK(assembly::azimuth(house.faces[2]) == doctest::Approx(0.0));         // north
    CHECK(assembly::azimuth(house.faces[3]) == doctest::Approx(3 * pi / 2));  // west
    // From (0, 0) to (1, 1), house on the left: looks to the south-east, 135 degrees.
    CHECK(assembly::azimuth({.from = at(0, 0), .to = at(1, 1)}) == doctest::Approx(0.75 * pi));
}

TEST_CASE("a rectangle of 10 m by 8 m, 2.5 m high, with a window and a door") {
    House house = rectangle_house();
    house.faces[0].openings.push_back(
        {.name = "window", .width = m(2), .height = m(1.2), .left = m(1), .sill = m(0.9)});
    house.faces[0].openings.push_back(
        {.name = "door", .kind = Opening::Kind::door, .width = m(0.9), .height = m(2.1), .left = m(5)});
    const auto areas = assembly::areas(house);
    // 10 x 2.5 = 25; 2 x 1.2 + 0.9 x 2.1 = 2.4 + 1.89 = 4.29; 25 - 4.29 = 20.71
    CHECK(areas.faces[0].gross == doctest::Approx(25.0));
    CHECK(areas.faces[0].openings == doctest::Approx(4.29));
    CHECK(areas.faces[0].net == doctest::Approx(20.71));
    // perimeter 36 m x 2.5 m = 90 m2; floor 80 m2; volume 80 x 2.5 = 200 m3
    CHECK(areas.walls_gross == doctest::Approx(90.0));
    CHECK(areas.walls_net == doctest::Approx(85.71));
    CHECK(areas.floor == doctest::Approx(80.0));
    CHECK(areas.volume == doctest::Approx(200.0));
}

TEST_CASE("feet and inches stay exact: 32 ft x 24 ft x 8 ft 1 1/8 in") {
    // 1 ft2 = 0.09290304 m2 exactly, so 768 ft2 = 71.34953472 m2; 97 1/8 in = 2.466975 m
    House house;
    house.storeys.push_back(
        {.name = "main",
         .floor = m(0),
         .height = units::parse_exact("8 ft 1 1/8 in").value(),
         .outline = {at(0, 0),
                     {units::parse_exact("32 ft").value(), m(0)},
                     {units::parse_exact("32 ft").value(), units::parse_exact("24 ft").value()},
                     {m(0), units::parse_exact("24 ft").value()}}});
    const auto areas = assembly::areas(house);
    CHECK(areas.floor == doctest::Approx(71.34953472).epsilon(1e-12));
    CHECK(areas.volume == doctest::Approx(71.34953472 * 2.466975).epsilon(1e-12));
}

TEST_CASE("an L: 12 x 9 less a corner of 5 x 4") {
    // 12 x 9 - 5 x 4 = 108 - 20 = 88 m2
    const std::vector<Point> outline{at(0, 0), at(12, 0), at(12, 5), at(7, 5), at(7, 9), at(0, 9)};
    CHECK(assembly::signed_area(outline) == doctest::Approx(88.0));
    House house;
    house.storeys.push_back({.name = "main", .floor = m(0), .height = m(2.5), .outline = outline});
    house.roofs.push_back(
        {.name = "roof", .form = Roof::Form::hip, .pitch = std::atan(0.75), .over_attic = false});
    const auto areas = assembly::areas(house);
    // Equal pitch 3 : 4 : 5, so cos = 4/5: 88 / 0.8 = 110 m2 of slope.
    CHECK(areas.roof == doctest::Approx(110.0));
    // Integral of the level distance, by parts in roof_shape_test.cpp: 81 2/3 over the west body alone, 15
    // 5/8 and 10 5/12 over the wing beyond it, 5 5/24 of wing over the west body's slope: 112 11/12, x 3/4.
    CHECK(areas.volume == doctest::Approx(220.0 + 0.75 * (112.0 + 11.0 / 12)));
    CHECK(areas.roofs[0].rise == doctest::Approx(3.5 * 0.75));
    CHECK(areas.roofs[0].gable == 0.0);
    CHECK(areas.notes.empty());
}

TEST_CASE("a roof that no body and wings can carry says what is left out of the areas") {
    House house = rectangle_house();
    house.storeys[0].outline[2] = at(9, 8);
    house.roofs.push_back({.name = "roof", .pitch = 0.5, .ridge = "east-west", .over_attic = false});
    const auto areas = assembly::areas(house);
    CHECK(areas.roofs[0].volume == 0.0);
    REQUIRE(areas.notes.size() == 1);
    CHECK(areas.notes[0].severity == Severity::warning);
}

TEST_CASE("two faces under one gable have each the wall over it") {
    House house = rectangle_house();
    house.faces[1].to = at(10, 3);
    house.faces.push_back(
        {.name = "east upper", .storey = "main", .from = at(10, 3), .to = at(10, 8), .height = m(2.5)});
    house.roofs.push_back(
        {.name = "roof", .pitch = std::atan(0.75), .ridge = "east-west", .over_attic = false});
    const auto areas = assembly::areas(house);
    // Triangle of 8 m, 3 m high: 12 m2. Over the first 3 m it rises to 2.25 m: 3 x 2.25 / 2 = 3.375.
    CHECK(gable_of(areas, "east") == doctest::Approx(3.375));
    CHECK(gable_of(areas, "east upper") == doctest::Approx(8.625));
}

TEST_CASE("a gable with a 9/12 pitch over 10 m by 8 m, ridge east-west") {
    House house = rectangle_house();
    house.roofs.push_back({.name = "roof",
                           .form = Roof::Form::gable,
                           .pitch = std::atan(9.0 / 12.0),
                           .ridge = "east-west",
                           .over_attic = false});
    const auto open = assembly::areas(house);
    // span 8: rise 4 x 0.75 = 3 m; triangle 8 x 3 / 2 = 12 m2 over east and west; slopes 2 x 5 x 10 = 100 m2
    // prism 12 x 10 = 120 m3; heated 200 + 120 = 320 m3
    CHECK(open.roofs[0].rise == doctest::Approx(3.0));
    CHECK(gable_of(open, "east") == doctest::Approx(12.0));
    CHECK(gable_of(open, "west") == doctest::Approx(12.0));
    CHECK(gable_of(open, "north") == 0.0);
    CHECK(open.roof == doctest::Approx(100.0));
    CHECK(open.ceiling == 0.0);
    CHECK(open.volume == doctest::Approx(320.0));
    CHECK(open.walls_gross == doctest::Approx(90.0 + 24.0));

    house.roofs[0].over_attic = true;
    const auto attic = assembly::areas(house);
    CHECK(attic.roof == 0.0);
    CHECK(attic.ceiling == doctest::Approx(80.0));
    CHECK(attic.volume == doctest::Approx(200.0));
    CHECK(attic.attic_volume == doctest::Approx(120.0));
    CHECK(gable_of(attic, "east") == 0.0);

    house.roofs[0].over_attic = false;
    house.roofs[0].ridge = "north-south";
    const auto turned = assembly::areas(house);
    // span 10: rise 3.75 m; triangle 18.75 m2 over north and south; prism 18.75 x 8 = 150 m3
    CHECK(gable_of(turned, "north") == doctest::Approx(18.75));
    CHECK(gable_of(turned, "east") == 0.0);
    CHECK(turned.volume == doctest::Approx(350.0));
}

TEST_CASE("a shed of 3/12 that climbs to the north") {
    House house = rectangle_house();
    house.roofs.push_back({.name = "roof",
                           .form = Roof::Form::shed,
                           .pitch = std::atan(0.25),
                           .high_side = "north",
                           .over_attic = false});
    const auto areas = assembly::areas(house);
    // rise 8 x 0.25 = 2 m; north wall + 10 x 2 = 20 m2; east and west triangles 8 x 2 / 2 = 8 m2; volume 80 x
    // 2 / 2 = 80 m3
    CHECK(gable_of(areas, "north") == doctest::Approx(20.0));
    CHECK(gable_of(areas, "east") == doctest::Approx(8.0));
    CHECK(gable_of(areas, "west") == doctest::Approx(8.0));
    CHECK(gable_of(areas, "south") == 0.0);
    CHECK(areas.volume == doctest::Approx(280.0));
    // slope 10 x sqrt(8^2 + 2^2) = 10 x 8.246211 m2
    CHECK(areas.roof == doctest::Approx(82.46211251));
}

TEST_CASE("a hip of 45 degrees over 10 m by 8 m") {
    House house = rectangle_house();
    house.roofs.push_back({.name = "roof", .form = Roof::Form::hip, .pitch = pi / 4, .over_attic = false});
    const auto areas = assembly::areas(house);
    // rise 4 m. Middle prism 2 m long: 8 x 4 / 2 x 2 = 32. Two half pyramids 4 m deep make one pyramid
    // 8 x 8 x 4 / 3 = 85.333. Together 117.333 m3. Slopes 80 / cos 45 = 113.137 m2.
    CHECK(areas.roofs[0].volume == doctest::Approx(32.0 + 256.0 / 3.0));
    CHECK(areas.roof == doctest::Approx(113.13708499));
    CHECK(areas.walls_gross == doctest::Approx(90.0));
}

TEST_CASE("an unheated storey counts neither as floor nor as wall nor as volume") {
    House house = rectangle_house();
    house.storeys[0].heated = false;
    const auto areas = assembly::areas(house);
    CHECK(areas.floor == 0.0);
    CHECK(areas.volume == 0.0);
    CHECK(areas.walls_net == 0.0);
    CHECK(areas.faces[0].gross == doctest::Approx(25.0));
}

TEST_CASE("a polygon's area does not depend on where it stands, and changes sign with its sense") {
    for (const double shift : {0.0, 13.7, -250.0}) {
        const std::vector<Point> outline{at(shift, shift), at(shift + 3, shift), at(shift, shift + 4)};
        CHECK(assembly::signed_area(outline) == doctest::Approx(6.0));  // 3 x 4 / 2
        CHECK(assembly::signed_area({outline.rbegin(), outline.rend()}) == doctest::Approx(-6.0));
    }
}

TEST_CASE("outlines that touch themselves by a hair are found, sound ones pass") {
    const std::vector<Place> places(8);
    const auto problems_of = [&](const std::vector<Point>& outline) {
        Problems problems;
        assembly::check_outline("storey", outline, {}, places, problems);
        return problems.size();
    };
    CHECK(problems_of({at(0, 0), at(4, 0), at(4, 3), at(0, 3)}) == 0);
    // A corner in the middle of a straight edge is fine.
    CHECK(problems_of({at(0, 0), at(2, 0), at(4, 0), at(4, 3), at(0, 3)}) == 0);
    CHECK(problems_of({at(0, 0), at(4, 0), at(4, 3), at(2, 0), at(0, 3)}) == 1);  // corner on the first edge
    // ... and 1/8 micrometre away from it is not.
    CHECK(problems_of({at(0, 0), at(4, 0), at(4, 3), {m(2), Exact::eighths_of_micrometre(1)}, at(0, 3)}) ==
          0);
    CHECK(problems_of({at(0, 0), at(4, 3), at(4, 0), at(0, 3)}) == 1);  // bow tie
    CHECK(problems_of({at(0, 0), at(4, 0)}) == 1);
}
