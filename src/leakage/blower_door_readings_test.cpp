#include "leakage/blower_door_readings.h"

#include <doctest/doctest.h>

#include <string>

using namespace warmside;
using namespace warmside::leakage;

namespace {

Problem refused(const std::string& text) {
    Problems problems;
    CAPTURE(text);
    CHECK_FALSE(read_blower_door("test.csv", text, problems));
    REQUIRE_FALSE(problems.empty());
    for (const Problem& each : problems) {
        CHECK(each.where.line > 0);
        CHECK(each.where.column > 0);
    }
    return problems.front();
}

const std::string points = "pressure [Pa], flow [m3/h]\n-20, 400\n-30, 520\n-40, 630\n";

}  // namespace

TEST_CASE("readings with header, baseline and both directions are read in SI") {
    const std::string text =
        "\xEF\xBB\xBF# after the siding\r\n"
        "name = Heron Ridge, final\r\n"
        "date = 2025-03-14,,\r\n"
        "volume = 14126 ft3\r\n"
        "\"envelope area = 420 m2\"\r\n"
        "indoor temperature = 68 degF\r\noutdoor temperature = -3 degC\r\n"
        "barometric pressure = 97.2 kPa\r\nwind = 2 m/s\r\nheight = 6 m\r\n\r\n"
        "[depressurise]\r\n"
        "baseline before = -1.2, -0.8 Pa\r\n"
        "baseline after = -1 Pa\r\n"
        "flow (cfm), pressure (Pa)\r\n"
        "300, -50\r\n250, -40\r\n200, -30\r\n"
        "[pressurize]\r\n"
        "pressure [Pa], flow [L/s]\r\n"
        "50, 140,\r\n";
    Problems problems;
    const auto r = read_blower_door("test.csv", text, problems);
    for (const auto& p : problems) MESSAGE(render(p, text));
    REQUIRE(r);
    CHECK(r->name == "Heron Ridge, final");
    CHECK(r->date == "2025-03-14");
    CHECK(*r->volume == doctest::Approx(400.0).epsilon(1e-4));
    CHECK(*r->envelope_area == 420.0);
    CHECK_FALSE(r->floor_area);
    CHECK(*r->indoor == doctest::Approx(293.15));
    CHECK(*r->outdoor == doctest::Approx(270.15));
    CHECK(*r->barometric == doctest::Approx(97200.0));
    REQUIRE(r->series.size() == 2);
    const TestSeries& out = r->series[0];
    CHECK(out.depressurise);
    CHECK(out.before == std::vector<double>{-1.2, -0.8});
    CHECK(out.after == std::vector<double>{-1.0});
    REQUIRE(out.points.size() == 3);
    CHECK(out.points[1].pressure == -40.0);
    CHECK(out.points[1].flow == doctest::Approx(250 * 0.000471947).epsilon(1e-5));
    CHECK(out.points[1].where == Place{"test.csv", 17, 1});
    CHECK_FALSE(r->series[1].depressurise);
    CHECK(r->series[1].points.size() == 1);
    CHECK(problems.empty());
}

TEST_CASE("a slip in the readings is told with line and column") {
    const auto number = refused("[depressurise]\n" + points + "-50, 7x0\n");
    CHECK(number.where == Place{"test.csv", 6, 6});
    CHECK(number.what == "flow \"7x0\" is not a number");

    const auto unit = refused("volume = 500\n[depressurise]\n" + points);
    CHECK(unit.where == Place{"test.csv", 1, 10});
    CHECK(unit.what == "volume 500 has no unit");
    CHECK(unit.code == Code::missing);

    CHECK(refused("volume = 500 m2\n[depressurise]\n" + points).code == Code::wrong_unit);
    CHECK(refused("volume = 5 m3\n[depressurise]\n" + points).code == Code::out_of_range);
    CHECK(refused("volumee = 500 m3\n[depressurise]\n" + points).suggestion == "volume");
    CHECK(refused("volume = 500 m3\nvolume = 510 m3\n[depressurise]\n" + points).code == Code::duplicate);
    CHECK(refused("volume = 500,5 m3\n[depressurise]\n" + points).suggestion ==
          "write the decimal point as a point");
}

TEST_CASE("columns need names and units") {
    CHECK(refused("[depressurise]\npressure, flow [m3/h]\n-20, 400\n").what == "column pressure has no unit");
    CHECK(refused("[depressurise]\npressure [Pa], flow [kg/s]\n-20, 400\n").code == Code::wrong_unit);
    CHECK(refused("[depressurise]\npressure [Pa], fan [m3/h]\n-20, 400\n").code == Code::unknown_name);
    CHECK(refused("[depressurise]\n-20, 400\n").what == "the columns have no names and units");
    CHECK(refused("[depressurise]\npressure [Pa]\n-20\n").code == Code::missing);
    CHECK(refused("[depressurise]\npressure [Pa], pressure [Pa]\n-20, -20\n").code == Code::missing);
}

TEST_CASE("signs belong to the section") {
    const auto mixed = refused("[depressurise]\n" + points + "50, 700\n");
    CHECK(mixed.code == Code::conflict);
    CHECK(mixed.where == Place{"test.csv", 6, 1});
    CHECK(mixed.what.find("below zero") != std::string::npos);
    CHECK(refused("[pressurise]\n" + points).code == Code::conflict);
    CHECK(refused("[depressurise]\npressure [Pa], flow [m3/h]\n0, 400\n").suggestion.find("baseline") !=
          std::string::npos);
}

TEST_CASE("too few points, no section, the same section twice, all at one pressure") {
    CHECK(refused("[depressurise]\npressure [Pa], flow [m3/h]\n-20, 400\n-50, 700\n").code ==
          Code::incomplete);
    CHECK(refused("[depressurise]\n").what == "[depressurise] has no points");
    CHECK(refused("volume = 500 m3\n").code == Code::missing);
    CHECK(refused("").code == Code::missing);
    CHECK(refused("[depressurise]\n" + points + "[depressurize]\n" + points).code == Code::duplicate);
    CHECK(refused("[blow]\n" + points).code == Code::unknown_name);
    CHECK(refused("-20, 400\n").code == Code::syntax);
    CHECK(refused("[depressurise]\npressure [Pa], flow [m3/h]\n-50, 400\n-50, 401\n-50.1, 402\n")
              .what.find("one pressure") != std::string::npos);
    CHECK(refused("baseline before = -1 Pa\n[depressurise]\n" + points).code == Code::syntax);
    CHECK(refused("[depressurise]\nbaseline before = -1, -2\n" + points).code == Code::missing);
}

TEST_CASE("all slips are told, up to fifty") {
    std::string text = "[depressurise]\npressure [Pa], flow [m3/h]\n";
    for (int i = 0; i < 200; ++i) text += "-20, nan\n";
    Problems problems;
    CHECK_FALSE(read_blower_door("test.csv", text, problems));
    CHECK(problems.size() == 50);
}
