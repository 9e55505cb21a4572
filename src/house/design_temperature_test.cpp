#include "house/design_temperature.h"

#include <cstdlib>
#include <doctest/doctest.h>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "base/what.h"

namespace warmside::house {

namespace {

climate::Year flat_year(double temperature) {
    climate::Year year;
    year.name = "a file";
    year.temperature.assign(climate::hours_in_year, temperature);
    return year;
}

const climate::PlaceRow* place(std::string_view name) {
    const auto found = climate::find_place(name);
    REQUIRE(found);
    return *found;
}

}  // namespace

TEST_CASE("every built-in place has its row of design temperatures") {
    const auto& rows = design_rows();
    REQUIRE_MESSAGE(rows, what_of(rows));
    CHECK(rows->size() == climate::places().size());
    for (const auto& built_in : climate::places()) {
        bool found = false;
        for (const auto& row : *rows)
            found = found || (row.name == built_in.name && row.state == built_in.state);
        CHECK_MESSAGE(found, built_in.name);
    }
}

TEST_CASE("a published value is taken before a typical year, and the year's own figure does not move it") {
    const auto done = design_temperature(place("Duluth, MN"), flat_year(240.0));
    REQUIRE(done);
    CHECK(done->heating.value == doctest::Approx(273.15 - 26.6));  // reference, design-temperatures-30
    CHECK(done->heating.origin.evidence == Evidence::quoted);
    CHECK(done->cooling.value == doctest::Approx((81.0 - 32.0) / 1.8 + 273.15));
    REQUIRE(done->notes.size() == 1);
    CHECK(done->notes[0].find("published 99 % value") != std::string::npos);
}

TEST_CASE("without a published value the county's code holds, with the typical year beside it") {
    const auto done = design_temperature(place("Gunnison, CO"), flat_year(260.0));
    REQUIRE(done);
    CHECK(done->heating.value == doctest::Approx((-20.0 - 32.0) / 1.8 + 273.15));
    REQUIRE(done->code);
    CHECK(done->code->value == done->heating.value);
    CHECK(done->notes[0].find("county's code") != std::string::npos);
    CHECK(done->notes[0].find("-21.0 degC") != std::string::npos);
}

TEST_CASE("a typical year's percentile says that it may be too warm; the colder of two is taken") {
    const auto milder = design_temperature(place("Burlington, VT"), flat_year(265.0));
    REQUIRE(milder);
    CHECK(milder->heating.value == doctest::Approx(273.15 - 18.3));
    CHECK(milder->notes[0].find("a typical year: may be 6 K too warm") != std::string::npos);
    const auto colder = design_temperature(place("Burlington, VT"), flat_year(240.0));
    REQUIRE(colder);
    CHECK(colder->heating.value == 240.0);
    const auto nowhere = design_temperature(nullptr, flat_year(250.0));
    REQUIRE(nowhere);
    CHECK(nowhere->heating.value == 250.0);
    CHECK(nowhere->cooling.value == 250.0);
    CHECK_FALSE(nowhere->code);
}

TEST_CASE("88 of 8760 hours lie below the 1 % value, 35 below the 0.4 % value") {
    std::vector<double> hours(8760);
    for (std::size_t i = 0; i < hours.size(); ++i) hours[i] = static_cast<double>((i * 7919) % 8760);
    CHECK(lower_percentile(hours, 0.01) == 88.0);
    CHECK(lower_percentile(hours, 0.004) == 35.0);
    CHECK(upper_percentile(hours, 0.01) == 8759.0 - 88.0);
    CHECK(upper_percentile(hours, 0.02) == 8759.0 - 175.0);
}

TEST_CASE("the percentiles of the Denver file are those counted for it") {
    const char* source = std::getenv("WARMSIDE_SOURCE");
    const auto folder = std::filesystem::path(source ? source : ".") / "../shared/reference/weather";
    std::ifstream in(folder / "tmy3_725650_Denver_CO.csv");
    if (!in) {
        MESSAGE("skipped: no real weather files at ../shared/reference/weather");
        return;
    }
    std::vector<double> dry_bulb;
    std::string line;
    std::getline(in, line);
    std::getline(in, line);
    std::size_t column = 0;
    std::istringstream head(line);
    for (std::string field; std::getline(head, field, ','); ++column)
        if (field.rfind("Dry-bulb (C)", 0) == 0) break;
    while (std::getline(in, line)) {
        std::istringstream row(line);
        std::string field;
        for (std::size_t i = 0; i <= column; ++i) std::getline(row, field, ',');
        dry_bulb.push_back(std::stod(field));
    }
    REQUIRE(dry_bulb.size() == 8760);
    // energy-more.json, design-temperature-method-check (computed)
    CHECK(lower_percentile(dry_bulb, 0.004) == doctest::Approx(-13.9));
    CHECK(lower_percentile(dry_bulb, 0.01) == doctest::Approx(-11.1));
    CHECK(upper_percentile(dry_bulb, 0.004) == doctest::Approx(34.4));
    CHECK(upper_percentile(dry_bulb, 0.01) == doctest::Approx(33.3));
    CHECK(upper_percentile(dry_bulb, 0.02) == doctest::Approx(32.2));
}

TEST_CASE("the daily range is that of the warmest month") {
    auto year = flat_year(280.0);
    for (std::size_t hour = 181 * 24; hour < 212 * 24; ++hour)  // July
        year.temperature[hour] = hour % 24 < 12 ? 290.0 : 302.0;
    for (std::size_t hour = 0; hour < 31 * 24; ++hour)
        year.temperature[hour] = hour % 24 < 12 ? 250.0 : 280.0;
    const auto done = design_temperature(nullptr, year);
    REQUIRE(done);
    CHECK(done->daily_range == doctest::Approx(12.0));
}

TEST_CASE("a bad table of design temperatures is told with its line") {
    const std::string head =
        "[published]\nsource = \"a\"\nevidence = \"quoted\"\n[typical]\nsource = \"b\"\nevidence = "
        "\"computed\"\n";
    const auto problem = [&](const std::string& rest) {
        const auto done = read_design("design.toml", head + rest);
        REQUIRE_FALSE(done);
        return done.error();
    };
    const auto turned = problem(
        "[[place]]\nname = \"X\"\nstate = \"Y\"\nheating_996 = \"-10 degC\"\nheating_99 = \"-12 degC\"\n");
    CHECK(turned.code == Code::conflict);
    CHECK(turned.where.line == 10);
    CHECK(problem("[[place]]\nname = \"X\"\nstate = \"Y\"\ncode = \"-20 degF\"\n").code == Code::missing);
    CHECK(problem("[[place]]\nname = \"X\"\nstate = \"Y\"\n[[place]]\nname = \"X\"\nstate = \"Y\"\n").code ==
          Code::duplicate);
    CHECK(problem("[[place]]\nname = \"X\"\nstate = \"Y\"\nheating_99 = \"-12 m\"\n").code ==
          Code::wrong_unit);
    CHECK(problem("").code == Code::missing);
    climate::Year empty;
    CHECK(design_temperature(nullptr, empty).error().code == Code::incomplete);
}

}  // namespace warmside::house
