#include "report/dry_files.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "drawing/xml_check.h"
#include "report/made_up.h"
#include "report/words.h"

using namespace warmside;

namespace {

/// A year and two days of invented hours, so that weeks and days leave a rest.
moisture::History history(const std::string& name) {
    moisture::History h;
    h.name = name;
    h.start_hour = 6552;
    h.hours = 8760 + 50;
    moisture::Probe probe{.name = "inner face of \"osb\", north", .layer = 3};
    for (int i = 0; i < h.hours; ++i) {
        probe.temperature.push_back(static_cast<float>(273.15 + i % 24));
        probe.relative_humidity.push_back(static_cast<float>(0.5 + 0.001 * (i % 24)));
    }
    h.probes = {probe};
    probe.name = "at 100.0 mm";
    probe.moisture.assign(static_cast<std::size_t>(h.hours), 2.5F);
    h.depths = {probe};
    h.layers = {{.layer = 0, .moisture = probe.moisture, .wettest = probe.moisture}};
    h.carpet = {.columns = 2,
                .rows = 2,
                .relative_humidity = {0.5F, 0.6F, 0.7F, 0.8F},
                .temperature = {280.0F, 281.0F, 282.0F, 283.0F},
                .depth = {0.05F, 0.15F}};
    return h;
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> out;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) {
        REQUIRE(line.ends_with('\r'));
        line.pop_back();
        out.push_back(line);
    }
    return out;
}

answer::RungAnswer judged(const answer::Answer& answer) {
    auto rung = answer.ladders[0].rungs[2];
    rung.carpet_run = rung.verdict->deciding.run;
    rung.histories = std::make_shared<const std::vector<moisture::History>>(
        std::vector{history(rung.carpet_run), history("w3 north bay typical")});
    return rung;
}

}  // namespace

TEST_CASE("a table of places has its units in the head, one row an interval, RFC 4180 throughout") {
    const auto h = history("w3 north framing stressed");
    const auto hourly =
        lines_of(report::places_csv(h, {{h.probes[0].name, &h.probes[0]}, {"100 mm", &h.depths[0]}}, {}));
    REQUIRE(hourly.size() == 8810 + 1);
    CHECK(hourly[0].starts_with(
        "time since start (h),date,\"inner face of \"\"osb\"\", north temperature (degC)\","));
    CHECK(hourly[0].ends_with("100 mm vapour pressure (Pa),100 mm water content (kg/m3)"));
    // 273.15 K, 50 % of 610.5 Pa: ISO 13788, E.7 at 0 degC.
    CHECK(hourly[1] == "1,2001-10-01T01:00,0.000,50.000,305.25,0.000,50.000,305.25,2.5000");
    for (const auto& line : hourly) {
        if (line != hourly[0]) CHECK(std::count(line.begin(), line.end(), ',') == 8);
    }
    const auto daily = lines_of(report::places_csv(h, {{"p", &h.probes[0]}}, {.samples = 24}));
    REQUIRE(daily.size() == 367 + 2);  // 8810 h = 367 days and 2 h
    CHECK(daily[1].starts_with("24,2001-10-02T00:00,11.500,51.150,"));
    CHECK(daily[368].starts_with("8810,2002-10-03T02:00,0.500,50.050,"));
}

TEST_CASE("dates run through the calendar without a leap day") {
    CHECK(report::date_of(0, 0) == "2001-01-01T00:00");
    CHECK(report::date_of(6552, 0) == "2001-10-01T00:00");
    CHECK(report::date_of(6552, 2208) == "2002-01-01T00:00");
    CHECK(report::date_of(0, 59 * 24) == "2001-03-01T00:00");
    CHECK(report::date_of(0, 3 * 8760 + 59 * 24 + 5) == "2004-03-01T05:00");
}

TEST_CASE("the deciding run gives pictures and tables, a wish picks others by their words") {
    const auto house = made_up::house();
    const auto rung = judged(made_up::answer(house));
    auto files = report::dry_files(house, rung, {});
    REQUIRE(files);
    std::vector<std::string> names;
    for (const auto& file : *files) {
        names.push_back(file.name);
        CHECK(file.bytes.size() > 1000);
        if (file.name.ends_with(".svg"))
            CHECK_MESSAGE(made_up::xml_fault(file.bytes).empty(), made_up::xml_fault(file.bytes));
        if (file.name.ends_with(".png")) CHECK(file.bytes.starts_with("\x89PNG"));
    }
    CHECK(names ==
          std::vector<std::string>{"w3-humidity.svg", "w3-humidity.png", "w3-layers.svg", "w3-layers.png"});
    files = report::dry_files(house, rung, {.temperature = true, .tables = true, .run = "typical bay"});
    REQUIRE(files);
    REQUIRE(files->size() == 8);
    CHECK(files->front().name == "w3-north-bay-typical-humidity.svg");
    CHECK(files->back().name == "w3-north-bay-typical-layers.csv");
    const auto none = report::dry_files(house, rung, {.run = "west"});
    REQUIRE_FALSE(none);
    CHECK(none.error().code == Code::unknown_name);
    CHECK(none.error().what.find("w3 north bay typical") != std::string::npos);
}

TEST_CASE("a rung's name never leads out of the folder") {
    CHECK(report::file_word("w3") == "w3");
    CHECK(report::file_word("../a b/c.d") == "---a-b-c-d");
}

TEST_CASE("the table of verdicts has a row for each rung, judged or not, and fits 80 columns") {
    const auto house = made_up::house();
    const auto answer = made_up::answer(house);
    const auto text = report::verdict_table(answer, {.width = 80});
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) CHECK(report::visible(line) <= 80);
    for (const char* word : {"w1", "w6", "r1", "not judged", "mould index"})
        CHECK_MESSAGE(text.find(word) != std::string::npos, word);
    CHECK(report::verdict_table(answer, {.width = 80}, "w2").find("w1") == std::string::npos);
    const auto rows = lines_of(report::verdicts_csv(answer));
    REQUIRE(rows.size() == 1 + 8);
    CHECK(rows[0].starts_with("part,rung,title,verdict,criterion"));
    CHECK(rows[1].starts_with("wall,w1,\"2x4, the old minimum\","));
    CHECK(rows[8].ends_with("roofs are made up without a transient run"));
}
