#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <doctest/doctest.h>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <numbers>
#include <sstream>

#include "air/saturation.h"
#include "base/what.h"
#include "climate/calendar.h"
#include "climate/irradiance.h"
#include "climate/sky.h"
#include "climate/year.h"

using namespace warmside;
using namespace warmside::climate;

namespace {

std::optional<std::string> real_file(const std::string& name) {
    const char* source = std::getenv("WARMSIDE_SOURCE");
    const auto path = std::filesystem::path(source ? source : ".") / "../shared/reference/weather" / name;
    std::ifstream in(path, std::ios::binary);
    if (!in) return std::nullopt;
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

double rain_total(const Year& year) {
    double sum = 0.0;
    for (const double rate : year.rain) sum += rate * 3600.0;
    return sum;
}

double mean(const std::vector<double>& values) {
    double sum = 0.0;
    for (const double value : values) sum += value;
    return sum / static_cast<double>(values.size());
}

// Heating degree days, base 65 degF, of daily (highest + lowest)/2, in degF d as US tables count them
double heating_degree_days(const Year& year) {
    double sum = 0.0;
    for (auto day = year.temperature.begin(); day != year.temperature.end(); day += 24) {
        const auto [low, high] = std::minmax_element(day, day + 24);
        sum += std::max(0.0, (65.0 - 32.0) / 1.8 - (0.5 * (*low + *high) - 273.15)) * 1.8;
    }
    return sum;
}

}  // namespace

TEST_CASE("the real TMY3 files are read without a problem and have the statistics of their table") {
    struct Row {
        const char* file;
        double rain, degree_days, mean;
        int wet_hours;
    };
    // weather/README.md: rain in mm/yr, HDD65, mean degC, computed there from the same files by another
    // program
    const Row rows[] = {{"tmy3_727450_Duluth_MN.csv", 735, 9618, 4.0, 327},
                        {"tmy3_726580_Minneapolis_MN.csv", 502, 7782, 7.7, 246},
                        {"tmy3_727470_International_Falls_MN.csv", 646, 10381, 3.4, 425},
                        {"tmy3_726170_Burlington_VT.csv", 667, 7491, 7.9, 490},
                        {"tmy3_725090_Boston_MA.csv", 868, 5793, 10.6, 530},
                        {"tmy3_725650_Denver_CO.csv", 196, 5656, 10.9, 110},
                        {"tmy3_702610_Fairbanks_AK.csv", 125, 13072, -1.4, 144},
                        {"tmy3_726410_Madison_WI.csv", 814, 7723, 7.7, 354},
                        {"tmy3_725280_Buffalo_NY.csv", 700, 6612, 9.1, 496},
                        {"tmy3_727640_Bismarck_ND.csv", 385, 8451, 6.3, 191},
                        {"tmy3_727120_Caribou_ME.csv", 636, 9841, 3.9, 523},
                        {"tmy3_702730_Anchorage_AK.csv", 213, 10157, 3.0, 214},
                        {"tmy3_727720_Helena_MT.csv", 124, 7587, 7.2, 102},
                        {"tmy3_726050_Concord_NH.csv", 739, 7478, 8.0, 411},
                        {"tmy3_725300_Chicago_OHare_IL.csv", 620, 6398, 10.0, 311},
                        {"tmy3_724677_Gunnison_CO.csv", 152, 9300, 4.2, 56},
                        {"tmy3_724660_Colorado_Springs_CO.csv", 267, 6115, 9.7, 168}};
    for (const auto& row : rows) {
        const auto text = real_file(row.file);
        if (!text) {
            MESSAGE("skipped: no real weather files beside the checkout");
            return;
        }
        CAPTURE(row.file);
        Problems problems;
        const auto year = read_weather(row.file, *text, problems);
        REQUIRE_MESSAGE(year, render(year ? Problem{} : year.error()));
        CHECK(problems.empty());
        CHECK(std::abs(rain_total(*year) - row.rain) < 0.51);
        CHECK(std::count_if(year->rain.begin(), year->rain.end(), [](double r) { return r > 0.0; }) ==
              row.wet_hours);
        // The table rounds some means twice: Buffalo's 9.0488 stands there as 9.1.
        CHECK(std::abs(mean(year->temperature) - 273.15 - row.mean) < 0.055);
        // Beam, sky and sun of each hour add up to the file's own global radiation; where they do not, a note
        // says so.
        double away = 0.0;
        const auto flat = solar_on(*year, {.tilt = 0.0});
        for (std::size_t i = 0; i < flat.size(); ++i) away += flat[i] - year->global[i];
        const bool noted = std::any_of(year->notes.begin(), year->notes.end(), [](const std::string& note) {
            return note.starts_with("The radiation of ");
        });
        const double share = away / (mean(year->global) * hours_in_year);
        CHECK((noted || std::abs(share) < 0.0025));
        CHECK(noted == (std::string(row.file).find("Fairbanks") != std::string::npos ||
                        std::string(row.file).find("Bismarck") != std::string::npos));
        // Mid-hours are means of two readings and so miss the tips of the day, the warm and the cold one
        // alike.
        CHECK(std::abs(heating_degree_days(*year) / row.degree_days - 1.0) < 0.005);
    }
}

TEST_CASE("radiation and sky at Denver lie inside the ranges published for that station") {
    const auto text = real_file("tmy3_725650_Denver_CO.csv");
    if (!text) {
        MESSAGE("skipped: no real weather files beside the checkout");
        return;
    }
    Problems problems;
    const auto year = read_weather("denver.csv", *text, problems);
    REQUIRE(year);
    const auto sum = [&](const Plane& plane) {
        double energy = 0.0;
        for (const double flux : solar_on(*year, plane)) energy += flux / 1000.0;
        return energy;
    };
    constexpr double quarter = std::numbers::pi / 2.0;
    // ASHRAE 140-2020, informative annex B8, tables B8-1 and following: lowest and highest reference result,
    // kWh/m2 (seen)
    struct Range {
        const char* face;
        Plane plane;
        double least, most;
    };
    for (const auto& range :
         {Range{"north", {.azimuth = 0.0}, 399, 477}, Range{"east", {.azimuth = quarter}, 1017, 1068},
          Range{"south", {.azimuth = 2 * quarter}, 1291, 1387},
          Range{"west", {.azimuth = 3 * quarter}, 903, 997}}) {
        const double energy = sum(range.plane);
        CAPTURE(range.face);
        CAPTURE(energy);
        CHECK(energy > range.least);
        CHECK(energy < range.most);
    }
    // The horizontal sum of the file itself is 1670 (range 1663 to 1670); from beam and diffuse with the sun
    // of the middle of each hour it comes out within 0.2 %.
    CHECK(std::abs(mean(year->global) * 8.76 - 1670.0) < 1.0);
    CHECK(std::abs(sum({.tilt = 0.0}) / 1670.0 - 1.0) < 0.002);

    // The same annex, sky temperature of case 600, degC (seen): mean -5.9 to -2.0, lowest -46.9 to -38.0,
    // highest 24.6 to 30.1. Half a printed digit is allowed.
    const auto sky = sky_temperature(*year);
    const auto [low, high] = std::minmax_element(sky.begin(), sky.end());
    CHECK(mean(sky) - 273.15 > -5.95);
    CHECK(mean(sky) - 273.15 < -1.95);
    CHECK(*low - 273.15 > -46.95);
    CHECK(*low - 273.15 < -37.95);
    CHECK(*high - 273.15 > 24.55);
    CHECK(*high - 273.15 < 30.15);
}

TEST_CASE("files without rain are read with one warning, the half-hourly one keeps its radiation") {
    const auto satellite = real_file("nsrdb_psm4_2023_halfhourly_NW_Colorado.csv");
    const auto original = real_file("original_tmy3_703165_Sand_Point_AK.csv");
    if (!satellite || !original) {
        MESSAGE("skipped: no real weather files beside the checkout");
        return;
    }
    Problems problems;
    const auto nsrdb = read_weather("nsrdb.csv", *satellite, problems);
    REQUIRE(nsrdb);
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].what ==
          "the file has no rain: the year counts as dry and driving rain is not considered");
    CHECK(nsrdb->name == "NSRDB 401182, 40.53, -108.54");
    double from_parts = 0.0;
    for (const double flux : solar_on(*nsrdb, {.tilt = 0.0})) from_parts += flux;
    CHECK(std::abs(from_parts / (mean(nsrdb->global) * hours_in_year) - 1.0) < 0.003);

    problems.clear();
    const auto sand_point = read_weather("sand_point.csv", *original, problems);
    REQUIRE(sand_point);
    REQUIRE(problems.size() == 1);
    // weather/README.md: 8,011 of 8,760 hours missing
    CHECK(problems[0].what ==
          "rain is missing in 8011 of 8760 hours: the year counts as dry and driving rain is not considered");
    problems.clear();
    MonthlyPrecipitation months{};
    months.fill(80.0);
    const auto wet = read_weather("sand_point.csv", *original, problems, months);
    REQUIRE(wet);
    CHECK(rain_total(*wet) > 0.5 * 12 * 80.0);
    CHECK(rain_total(*wet) < 12 * 80.0);
}
