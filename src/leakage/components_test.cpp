#include "leakage/components.h"

#include <doctest/doctest.h>

#include <string>
#include <utility>
#include <vector>

using namespace warmside;
using namespace warmside::leakage;

TEST_CASE("the component table has 43 rows, all from memory, all in order") {
    const auto& table = components();
    REQUIRE(table);
    CHECK(table->rows.size() == 43);
    for (const Component& row : table->rows) {
        CAPTURE(row.part);
        CHECK(row.origin.evidence == Evidence::memory);
        CHECK(row.origin.where.line > 0);
        CHECK(row.area.typical > 0.0);
    }
    const Component* outlet = table->find("outlet or switch, no gasket");
    REQUIRE(outlet);
    CHECK(outlet->area.typical == doctest::Approx(2.5e-4));
    CHECK_FALSE(outlet->one_value);
    CHECK(table->find("surface light")->one_value);
    CHECK(table->find("an outlet") == nullptr);
}

// The worked list beside the table (computed apart from the program): 181.5 cm2 and 870 m3/h at 50 Pa with
// best estimates, 52.06 cm2 and 249 m3/h with minima; 1 cm2 passes 4.792 m3/h.
TEST_CASE("the worked list gives its areas and flows") {
    const auto& table = components();
    REQUIRE(table);
    const std::vector<std::pair<double, const char*>> list{
        {36, "joint sole plate, caulked"},         {36, "joint ceiling-wall"},
        {30, "outlet or switch, gasket"},          {12, "pipe or wire penetration, caulked"},
        {160, "wall with continuous air barrier"}, {70, "window, casement, weatherstripped"},
        {2, "single door, weatherstripped"},       {18, "window frame, wood, caulked"}};
    Workmanship sum;
    for (const auto& [count, part] : list) {
        const Component* row = table->find(part);
        REQUIRE(row);
        sum += count * row->area;
    }
    const auto hourly = [&](double area) {
        return 3600.0 * flow_of_area(area, 50.0, table->exponent, table->density, table->pressure);
    };
    CHECK(sum.typical == doctest::Approx(181.5e-4).epsilon(1e-6));
    CHECK(sum.best == doctest::Approx(52.06e-4).epsilon(1e-6));
    CHECK(hourly(sum.typical) == doctest::Approx(870.0).epsilon(0.0005));
    CHECK(hourly(sum.best) == doctest::Approx(249.0).epsilon(0.002));
    CHECK(hourly(1e-4) == doctest::Approx(4.792).epsilon(0.0002));
}

TEST_CASE("area to flow and back is the same area") {
    for (const double n : {0.5, 0.65, 1.0})
        CHECK(area_of_flow(flow_of_area(0.018, 50.0, n, 1.2), 50.0, n, 1.2) == doctest::Approx(0.018));
}

TEST_CASE("a component table with a slip says where") {
    const std::string head =
        "source = \"s\"\nevidence = \"memory\"\npressure = \"4 Pa\"\nexponent = 0.65\ndensity = \"1.2 "
        "kg/m3\"\n";
    const auto said = [&](const char* row) {
        const auto table = read_components("c.toml", head + row);
        REQUIRE_FALSE(table);
        CHECK(table.error().where.line >= 6);
        return table.error().what;
    };
    CHECK(said("component = [{ part = \"a\", per = \"each\", typical = \"1 cm2\", best = \"2 cm2\", poor = "
               "\"3 cm2\" }]")
              .find("rise in this order") != std::string::npos);
    CHECK(said("component = [{ part = \"a\", per = \"m\", typical = \"1 cm2\" }]").find("of what") !=
          std::string::npos);
    CHECK(said("component = [{ part = \"a\", per = \"each\", typical = \"1 cm2\" },\n{ part = \"a\", per = "
               "\"each\", "
               "typical = \"1 cm2\" }]")
              .find("twice") != std::string::npos);
    CHECK(said("component = [{ part = \"a\", per = \"each\", typical = \"1 W\" }]").find("an area") !=
          std::string::npos);
}
