// Every way in which a model is refused.
#include <doctest/doctest.h>

#include <limits>

#include "conduction/test_models.h"

using namespace warmside;
using namespace warmside::conduction;
using namespace warmside::conduction::testing;

namespace {

Problems problems_of(const Model& m, bool allow_holes = true) {
    Problems problems;
    check(m, problems, allow_holes);
    return problems;
}

void refused(const Model& m, Code code, const std::string& what, bool allow_holes = true) {
    const Problems problems = problems_of(m, allow_holes);
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].code == code);
    CHECK(problems[0].what == what);
    CHECK(problems[0].severity == Severity::error);
    if (allow_holes) CHECK_FALSE(steady(m));
}

}  // namespace

TEST_CASE("models of the tests pass") {
    for (const Model& m : {wall(), wall(Geometry::solid), duct(), stud_wall(), corner(), crossing(), eave(),
                           turned_slab(30, 0.1, 0.1)})
        CHECK(problems_of(m).empty());
    CHECK(problems_of(wall(), false).empty());
    CHECK(problems_of(eave(), false).empty());
}

TEST_CASE("an outline needs three corners, extent, area, and must not cross itself") {
    Model m = wall();
    m.regions[1].shape.outline.resize(2);
    m.regions[1].where = {"a.toml", 7, 3};
    refused(m, Code::out_of_range, "region \"wool\" has 2 corners, an outline needs three");
    CHECK(problems_of(m)[0].where == Place{"a.toml", 7, 3});
    m.regions[1].shape.outline = {{0, 0}, {1, 1}, {1, 0}, {0, 1}};
    refused(m, Code::out_of_range, "region \"wool\" crosses itself at x 500, y 500 mm");
    m.regions[1].shape.outline = {{0, 0}, {1, 0}, {1, 1}, {0.5, 0}};
    refused(m, Code::out_of_range, "region \"wool\" crosses itself at x 500, y 0 mm");
    m.regions[1].shape.outline = {{0, 0}, {1, 0}, {2, 0}};
    refused(m, Code::out_of_range, "region \"wool\" has no extent along y");
    m.regions[1].shape.outline = {{0, 0}, {1, 1}, {2, 2}};
    refused(m, Code::out_of_range, "region \"wool\" has no area");
    m.regions[1].shape.outline = {{0, 0}, {0, 0}, {1, 0}, {0, 1}};
    refused(m, Code::out_of_range, "region \"wool\" has two corners at one place, x 0, y 0 mm");
    m.regions[1].shape.outline = {{0, 0}, {1, 0}, {0, std::numeric_limits<double>::quiet_NaN()}};
    refused(m, Code::out_of_range, "region \"wool\" has a corner that is not a number");
    Model deep = wall(Geometry::solid);
    deep.regions[1].shape.top = 0.0;
    refused(deep, Code::out_of_range, "region \"wool\" has no extent along z");
    deep.regions[1].shape.top = std::numeric_limits<double>::infinity();
    refused(deep, Code::out_of_range, "region \"wool\" has a bottom or top that is not a number");
}

TEST_CASE("nothing lies beyond the axis of a revolution") {
    Model m = wall(Geometry::axisymmetric);
    refused(m, Code::out_of_range, "region \"in\" reaches x -100 mm, beyond the axis x = 0");
}

TEST_CASE("a material needs a conductivity above 0, films are not below 0") {
    Model m = wall();
    m.regions[0].conductivity = 0.0;
    refused(m, Code::missing, "region \"board\" has no conductivity");
    m.regions[0].conductivity = -1.0;
    refused(m, Code::missing, "region \"board\" has a conductivity of -1 W/(m K), it must be above 0");
    m = wall();
    m.regions[2].film = -0.1;
    refused(m, Code::out_of_range, "region \"in\" has a film of -0.1 m2 K/W, it must not be below 0");
    m = wall();
    m.regions[0].own_film = -0.2;
    refused(m, Code::out_of_range, "region \"board\" has a film of -0.2 m2 K/W, it must not be below 0");
}

TEST_CASE("there is a boundary temperature and it reaches a material") {
    Model m = wall();
    m.regions[2].environment = 5;
    refused(m, Code::unknown_name, "region \"in\" is air of environment 5, but there are 2");
    m = wall();
    m.environments[1].temperature = std::numeric_limits<double>::quiet_NaN();
    refused(m, Code::out_of_range, "the temperature of environment \"out\" is not a number");
    m = wall();
    m.regions.resize(2);
    refused(m, Code::missing, "no environment touches a material: no boundary temperature");
    m.regions.push_back(air("far", rectangle({1, 0}, {2, 1}), 0, 0.1));
    refused(m, Code::missing, "no environment touches a material: no boundary temperature");
    m.environments.clear();
    m.regions.resize(2);
    refused(m, Code::missing, "there is no boundary temperature: the model has no environment");
    m = wall();
    m.regions = {m.regions[2], m.regions[3]};
    refused(m, Code::missing, "the model has no material");
}

TEST_CASE("a region lies over another only where it may; both are named, with the place") {
    Model m = wall();
    m.regions[0].where = {"a.toml", 4, 1};
    m.regions.push_back(material("stud", rectangle({0.005, 0.2}, {0.012, 0.3}), 0.13));
    m.regions.back().where = {"a.toml", 9, 1};
    refused(m, Code::conflict, "region \"stud\" lies over region \"board\" (line 4) at x 8.5, y 250 mm");
    CHECK(problems_of(m)[0].where.line == 9);
    m.regions.back().over = true;
    CHECK(problems_of(m).empty());
    m.regions.back() = material("batten", {.outline = {{0.1, 0.2}, {0.3, 0.2}, {0.1, 0.5}}}, 0.13);
    CHECK(problems_of(m).size() == 2);
    Model deep = wall(Geometry::solid);
    deep.regions.push_back(material("above", box({0, 0, 0.5}, {0.2, 1, 0.6}), 0.1));
    CHECK(problems_of(deep).empty());
    deep.regions.back().shape.bottom = 0.4;
    REQUIRE(problems_of(deep).size() == 2);
    CHECK(problems_of(deep)[0].what == "region \"above\" lies over region \"board\" at x 6, y 500, z 450 mm");
}

TEST_CASE("regions that share an edge, sloped ones too, do not overlap") {
    CHECK(problems_of(turned_slab(36.87, 0.1, 0.1)).empty());
    CHECK(problems_of(turned_slab(211.0, 0.1, 0.1)).empty());
}

TEST_CASE("an open detail is refused where holes are not allowed") {
    Model m = wall();
    m.regions[1].shape = rectangle({0.012, 0}, {0.2, 0.5});
    CHECK(problems_of(m).empty());
    const Problems open = problems_of(m, false);
    REQUIRE(open.size() == 1);
    CHECK(open[0].code == Code::incomplete);
    CHECK(open[0].what == "the detail is open: region \"board\" has nothing beside it at x 12, y 750 mm");
    Model deep = wall(Geometry::solid);
    deep.regions[1].shape.top = 0.3;
    REQUIRE(problems_of(deep, false).size() == 1);
    CHECK(problems_of(deep, false)[0].code == Code::incomplete);
}

TEST_CASE("features a million times thinner than the model are refused, with the region") {
    Model m = wall();
    m.regions[2].shape = rectangle({-5e5, 0}, {0, 1});
    m.regions[0].where = {"a.toml", 4, 1};
    const Problems slender = problems_of(m);
    REQUIRE(slender.size() == 1);
    CHECK(slender[0].code == Code::out_of_range);
    CHECK(slender[0].what ==
          "corners 12 mm apart along x at 0 mm (region \"board\") in a model of 5e+08 mm: more than a "
          "million to one");
    CHECK(slender[0].where.line == 4);
}
