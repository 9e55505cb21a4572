// Every expected value is worked by hand beside its check (evidence: computed).
#include <doctest/doctest.h>

#include "assembly/check.h"
#include "assembly/geometry.h"
#include "assembly/members.h"

using namespace warmside;
using assembly::Face;
using assembly::House;
using assembly::Partition;
using assembly::Point;
using units::Exact;

namespace {

Exact inches(double n) {
    return Exact::nearest(n * 0.0254);
}

Face face() {
    Face out{.name = "south",
             .from = {inches(0), inches(0)},
             .to = {inches(240), inches(0)},
             .height = inches(96)};
    out.openings.push_back({.name = "window",
                            .width = inches(36),
                            .height = inches(48),
                            .left = inches(100),
                            .sill = inches(36)});
    return out;
}

Problems partition_at(double at, double other = -1) {
    Problems problems;
    std::vector<Partition> others;
    if (other >= 0) others.push_back({.name = "other", .face = "south", .at = inches(other)});
    assembly::check_partition(face(), {.name = "p", .face = "south", .at = inches(at)}, inches(3.5), others,
                              {}, problems);
    return problems;
}

}  // namespace

TEST_CASE("a partition may touch a rough opening or a corner, not lie in it") {
    // Half of 3 1/2 is 1 3/4: 98 1/4 ends at 100, where the window begins.
    CHECK(partition_at(98.25).empty());
    CHECK(partition_at(98.5).size() == 1);
    CHECK(partition_at(137.75).empty());
    CHECK(partition_at(118).size() == 1);
    CHECK(partition_at(1.75).empty());
    CHECK(partition_at(1.5).size() == 1);
    CHECK(partition_at(238.25).empty());
    CHECK(partition_at(238.5).size() == 1);
    CHECK(partition_at(50, 46.5).empty());
    CHECK(partition_at(50, 47).size() == 1);
}

TEST_CASE("a header needs room under the top plates, unless it is sized by its table") {
    House house;
    house.faces.push_back(face());
    house.details.header.value = 0.2350;
    // 96 - 3 - 84 = 9 in of room for 9 1/4.
    Problems problems;
    assembly::check_framing(house, inches(9.25), problems);
    REQUIRE(problems.empty() == false);
    CHECK(problems[0].severity == Severity::warning);
    CHECK(problems[0].what.find("9 in") != std::string::npos);
    problems.clear();
    house.practice.sized_headers.value = true;
    assembly::check_framing(house, inches(9.25), problems);
    CHECK(problems.empty());
    house.practice.sized_headers.value = false;
    house.faces[0].openings[0].sill = inches(24);
    assembly::check_framing(house, inches(9.25), problems);
    CHECK(problems.empty());
}

TEST_CASE("two sizes read as a member, narrow side first") {
    const auto& all = material::built_in();
    CHECK(assembly::member_size(all, "2x6")->wide == inches(5.5));
    CHECK(assembly::member_size(all, "2x6")->narrow == inches(1.5));
    CHECK(assembly::member_size(all, "45 x 220 mm")->wide == Exact::millimetres(220));
    CHECK(assembly::member_size(all, "1 1/2 in x 11 7/8 in")->wide == inches(11.875));
    CHECK_FALSE(assembly::member_size(all, "2x5"));
    CHECK_FALSE(assembly::member_size(all, ""));
}

TEST_CASE("a rectangle along the axes, and what is none") {
    const auto at = [](double x, double y) { return Point{inches(x), inches(y)}; };
    const auto box = assembly::rectangle_of({at(10, 5), at(40, 5), at(40, 25), at(10, 25)});
    REQUIRE(box);
    CHECK(box->low.x == inches(10));
    CHECK(box->high.y == inches(25));
    CHECK_FALSE(assembly::rectangle_of({at(0, 0), at(40, 5), at(40, 25), at(0, 25)}));
    CHECK_FALSE(assembly::rectangle_of({at(0, 0), at(40, 0), at(40, 25)}));
}
