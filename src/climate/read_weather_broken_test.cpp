// Weather files with one thing wrong each, and the exact complaint.
#include <cmath>
#include <doctest/doctest.h>
#include <fmt/format.h>
#include <functional>

#include "air/saturation.h"
#include "climate/calendar.h"
#include "climate/year.h"

using namespace warmside;
using namespace warmside::climate;

namespace {

using Lines = std::vector<std::string>;

// A made-up year: 5 degC with a dew point of 1 degC, sun from 9 to 15 h, some rain in the evening.
Lines tmy3() {
    Lines lines{
        "999999,\"MADE UP, PLACE\",MN,-6.0,46.8,-92.2,430",
        "Date (MM/DD/YYYY),Time (HH:MM),GHI (W/m^2),DNI (W/m^2),DHI (W/m^2),OpqCld (tenths),Dry-bulb (C),"
        "Dew-point (C),RHum (%),Pressure (mbar),Wdir (degrees),Wspd (m/s),Lprecip depth (mm),PresWth (METAR "
        "code)"};
    for (int hour = 0; hour < hours_in_year; ++hour) {
        const int month = month_of(hour), day = (hour - first_hour_of(month)) / 24 + 1, end = hour % 24 + 1;
        const bool sunny = end >= 10 && end <= 15;
        lines.push_back(fmt::format("{:02}/{:02}/1990,{:02}:00,{},{},{},5,5.0,1.0,75,960,270,4.0,{},0",
                                    month + 1, day, end, sunny ? 300 : 0, sunny ? 400 : 0, sunny ? 100 : 0,
                                    end == 20 ? 10 : 0));
    }
    return lines;
}

Lines nsrdb(int first_minute, int step) {
    Lines lines{"Source,Location ID,Latitude,Longitude,Time Zone,Elevation,Local Time Zone",
                "NSRDB,77,46.8,-92.2,-6,430,-6",
                "Year,Month,Day,Hour,Minute,Temperature,Dew Point,DHI,DNI,GHI,Clearsky GHI,Pressure,Wind "
                "Direction,Wind Speed"};
    for (int minute = first_minute; minute < 60 * hours_in_year; minute += step) {
        const int hour = minute / 60, month = month_of(hour), day = (hour - first_hour_of(month)) / 24 + 1;
        const bool sunny = hour % 24 >= 9 && hour % 24 <= 15;
        lines.push_back(fmt::format("2023,{},{},{},{},{},-1.5,{},{},{},{},960,270,4", month + 1, day,
                                    hour % 24, minute % 60, 5.0 + 0.25 * (minute % 60) / 30, sunny ? 100 : 0,
                                    sunny ? 400 : 0, sunny ? 250 : 0, sunny ? 400 : 0));
    }
    return lines;
}

std::string joined(const Lines& lines, const std::string& end = "\n") {
    std::string text;
    for (const auto& line : lines) text += line + end;
    return text;
}

void set_field(std::string& line, std::size_t field, const std::string& value) {
    std::size_t begin = 0;
    for (std::size_t i = 0; i < field; ++i) begin = line.find(',', begin) + 1;
    line.replace(begin, std::min(line.find(',', begin), line.size()) - begin, value);
}

struct Broken {
    const char* name;
    std::function<void(Lines&)> harm;
    int line, column;
    const char* what;
};

}  // namespace

TEST_CASE("a broken TMY3 file is refused with line, column and what is wrong") {
    enum { ghi = 2, dry = 6, dew = 7, humidity = 8, pressure = 9, direction = 10, wind = 11, rain = 12 };
    const Broken table[] = {
        {"another format", [](Lines& l) { l[0] = "LOCATION,Somewhere"; }, 1, 1,
         "this is no weather file that is read here: TMY3 CSV begins with a line of station number, name, "
         "state, UTC "
         "offset, latitude, longitude, elevation; NSRDB CSV with \"Source,Location ID\""},
        {"only one line", [](Lines& l) { l.resize(1); }, 1, 0,
         "the file ends after the first line; line 2 names the columns"},
        {"latitude of no place", [](Lines& l) { l[0] = "1,\"A\",MN,-6.0,146.8,-92.2,430"; }, 1, 15,
         "latitude is 146.8, outside -90 to 90"},
        {"UTC offset in words", [](Lines& l) { l[0] = "1,\"A\",MN,CST,46.8,-92.2,430"; }, 1, 10,
         "UTC offset is \"CST\", not a number"},
        {"column missing", [](Lines& l) { l[1].replace(l[1].find("Dry-bulb"), 8, "Dry bulb"); }, 2, 0,
         "column \"Dry-bulb\" is missing"},
        {"column twice", [](Lines& l) { l[1].replace(l[1].find("RHum (%)"), 8, "Wspd (m)"); }, 2, 151,
         "column \"Wspd (m/s)\" stands twice"},
        {"no humidity at all",
         [](Lines& l) {
             l[1].replace(l[1].find("RHum"), 4, "Xxxx");
             l[1].replace(l[1].find("Dew-point"), 9, "Xxx-point");
         },
         2, 0, "column \"Dew-point\" is missing, and so is \"RHum\""},
        {"text for a number", [](Lines& l) { set_field(l[102], dry, "cold"); }, 103, 26,
         "\"Dry-bulb (C)\" is \"cold\", not a number"},
        {"a number with a tail", [](Lines& l) { set_field(l[102], wind, "4.0 m/s"); }, 103, 45,
         "\"Wspd (m/s)\" is \"4.0 m/s\", not a number"},
        {"not a number by name", [](Lines& l) { set_field(l[102], dry, "nan"); }, 103, 26,
         "\"Dry-bulb (C)\" is \"nan\", not a number"},
        {"hotter than the earth", [](Lines& l) { set_field(l[102], dry, "75.5"); }, 103, 26,
         "\"Dry-bulb (C)\" is 75.5, outside -90 to 60"},
        {"missing mark of another format", [](Lines& l) { set_field(l[102], pressure, "9999"); }, 103, 37,
         "\"Pressure (mbar)\" is 9999, outside 450 to 1100"},
        {"humidity above 100 %", [](Lines& l) { set_field(l[102], humidity, "175"); }, 103, 34,
         "\"RHum (%)\" is 175, outside 0 to 100"},
        {"direction beyond the rose", [](Lines& l) { set_field(l[102], direction, "365"); }, 103, 41,
         "\"Wdir (degrees)\" is 365, outside 0 to 360"},
        {"negative radiation", [](Lines& l) { set_field(l[102], ghi, "-5"); }, 103, 18,
         "\"GHI (W/m^2)\" is -5, outside 0 to 1500"},
        {"radiation missing by day", [](Lines& l) { set_field(l[2 + 11], ghi, "-9900"); }, 14, 0,
         "\"GHI (W/m^2)\" is missing while the sun is up"},
        {"a short line", [](Lines& l) { l[102].resize(l[102].rfind(',')); }, 103, 0,
         "the line has 13 values, the header names 14"},
        {"an empty line in the middle", [](Lines& l) { l.insert(l.begin() + 102, ""); }, 103, 0,
         "the line has 1 values, the header names 14"},
        {"date of another order", [](Lines& l) { set_field(l[102], 0, "1990-01-05"); }, 103, 1,
         "date \"1990-01-05\" is not MM/DD/YYYY"},
        {"date of no calendar", [](Lines& l) { set_field(l[102], 0, "13/05/1990"); }, 103, 1,
         "date \"13/05/1990\" is not in the calendar"},
        {"hour from zero", [](Lines& l) { set_field(l[2], 1, "00:00"); }, 3, 12,
         "time \"00:00\" is not one of 01:00 to 24:00 (hour ending)"},
        {"half an hour", [](Lines& l) { set_field(l[2], 1, "00:30"); }, 3, 12,
         "time \"00:30\" is not one of 01:00 to 24:00 (hour ending)"},
        {"one hour missing", [](Lines& l) { l.erase(l.begin() + 102); }, 103, 1,
         "the hour 5 January 05:00 is missing before this line"},
        {"a day missing", [](Lines& l) { l.erase(l.begin() + 2 + 24, l.begin() + 2 + 48); }, 27, 1,
         "24 hours are missing before this line, from 2 January 01:00"},
        {"an hour twice", [](Lines& l) { l.insert(l.begin() + 102, l[101]); }, 103, 1,
         "the hour 5 January 04:00 stands twice"},
        {"an hour out of order", [](Lines& l) { l.insert(l.begin() + 102, l[50]); }, 103, 1,
         "3 January 01:00 stands after 5 January 04:00"},
        {"the end missing", [](Lines& l) { l.resize(l.size() - 24); }, 8738, 0,
         "the file ends 24 hours early: 31 December 01:00 is missing"},
        {"more than a year", [](Lines& l) { l.push_back(l[2]); }, 8763, 1,
         "1 January 01:00 stands after the year has ended"},
        {"a long gap",
         [](Lines& l) {
             for (std::size_t i = 102; i < 109; ++i) set_field(l[i], dry, "-9900");
         },
         103, 0, "\"Dry-bulb (C)\" is missing in 7 readings from this line on; at most 6 h can be bridged"},
        {"no value at all",
         [](Lines& l) {
             for (std::size_t i = 2; i < l.size(); ++i) set_field(l[i], wind, "");
         },
         3, 0, "\"Wspd (m/s)\" has no value in the whole file"},
    };
    for (const auto& broken : table) {
        CAPTURE(broken.name);
        Lines lines = tmy3();
        broken.harm(lines);
        Problems problems;
        const auto year = read_weather("x.csv", joined(lines), problems);
        REQUIRE_FALSE(year);
        CHECK(year.error().what == broken.what);
        CHECK(year.error().where.line == broken.line);
        CHECK(year.error().where.column == broken.column);
        CHECK(year.error().where.file == "x.csv");
    }
    Problems problems;
    const auto nothing = read_weather("x.csv", "", problems);
    REQUIRE_FALSE(nothing);
    CHECK(nothing.error().what == "the file is empty");
}

TEST_CASE("a broken NSRDB file is refused with line, column and what is wrong") {
    const Broken table[] = {
        {"no time zone", [](Lines& l) { l[0].replace(l[0].find("Time Zone"), 9, "Time Zoom"); }, 1, 0,
         "\"Time Zone\" is missing in the first line"},
        {"header only", [](Lines& l) { l.resize(2); }, 2, 0,
         "the file ends in its header; line 3 names the columns"},
        {"no hours", [](Lines& l) { l.resize(3); }, 3, 0, "the file has no hours after its header"},
        {"no minutes", [](Lines& l) { l[2].replace(l[2].find("Minute"), 6, "Second"); }, 3, 0,
         "column \"Minute\" is missing"},
        {"no radiation", [](Lines& l) { l[2].replace(l[2].find("DNI"), 3, "XYZ"); }, 3, 0,
         "column \"DNI\" is missing"},
        {"month in words", [](Lines& l) { set_field(l[3], 1, "Jan"); }, 4, 6,
         "\"Month\" is \"Jan\", not a whole number"},
        {"day of no calendar", [](Lines& l) { set_field(l[3], 2, "32"); }, 4, 1,
         "2023-01-32 00:00 is not in the calendar"},
        {"one time missing", [](Lines& l) { l.erase(l.begin() + 13); }, 14, 1,
         "1 time is missing before this line, from 1 January 05:00"},
        {"one time twice", [](Lines& l) { l.insert(l.begin() + 13, l[12]); }, 14, 1,
         "1 January 04:30 stands twice or out of order"},
        {"the end missing", [](Lines& l) { l.resize(l.size() - 1); }, 17522, 0,
         "the file ends early: 31 December 23:30 is missing"},
        {"text for a number", [](Lines& l) { set_field(l[3], 5, "?"); }, 4, 14,
         "\"Temperature\" is \"?\", not a number"},
    };
    for (const auto& broken : table) {
        CAPTURE(broken.name);
        Lines lines = nsrdb(0, 30);
        broken.harm(lines);
        Problems problems;
        const auto year = read_weather("x.csv", joined(lines), problems);
        REQUIRE_FALSE(year);
        CHECK(year.error().what == broken.what);
        CHECK(year.error().where.line == broken.line);
        CHECK(year.error().where.column == broken.column);
    }
    Problems problems;
    const auto fine = read_weather("x.csv", joined(nsrdb(0, 5)), problems);
    REQUIRE_FALSE(fine);
    CHECK(fine.error().what ==
          "the file begins at 1 January 00:00 and goes in steps of 5 min; read are 30 min from 00:00 and 60 "
          "min from 00:00 "
          "or 00:30");
}

TEST_CASE("all errors are handed on, the first as the Problem, at most twenty") {
    Lines lines = tmy3();
    for (std::size_t i = 10; i < 13; ++i) set_field(lines[i], 6, "x");
    Problems problems;
    const auto year = read_weather("x.csv", joined(lines), problems);
    REQUIRE_FALSE(year);
    CHECK(year.error().where.line == 11);
    REQUIRE(problems.size() == 2);
    CHECK(problems[1].where.line == 13);
    for (std::size_t i = 10; i < 2000; ++i) set_field(lines[i], 6, "x");
    problems.clear();
    REQUIRE_FALSE(read_weather("x.csv", joined(lines), problems));
    CHECK(problems.size() == 19);
}

TEST_CASE(
    "readings at the end of the hour become values of its middle, radiation and rain stay with their hour") {
    Lines lines = tmy3();
    set_field(lines[2 + 100], 6, "9.0");  // reading at 5 January 05:00
    set_field(lines[2 + 11], 2, "444");   // radiation of 11:00 to 12:00
    set_field(lines[2 + 50], 12, "20");   // rain of 3 January 02:00 to 03:00
    Problems problems;
    const auto year = read_weather("x.csv", joined(lines), problems);
    REQUIRE(year);
    CHECK(problems.empty());
    CHECK(year->temperature[99] == doctest::Approx(273.15 + 5.0));
    CHECK(year->temperature[100] == doctest::Approx(273.15 + 7.0));
    CHECK(year->temperature[101] == doctest::Approx(273.15 + 7.0));
    CHECK(year->temperature[102] == doctest::Approx(273.15 + 5.0));
    CHECK(year->global[11] == 444.0);
    CHECK(year->global[10] == 300.0);
    CHECK(year->rain[50] == doctest::Approx(2.0 / 3600.0));
    CHECK(year->vapour_pressure[7] == doctest::Approx(air::over_water(274.15)));
    CHECK(year->wind_direction[7] == doctest::Approx(1.5 * 3.14159265358979));
    CHECK(year->name == "MADE UP, PLACE, MN");
}

TEST_CASE("CRLF, a byte order mark, spreadsheet dates and leap days are taken") {
    Problems problems;
    REQUIRE(read_weather("x.csv", "\xEF\xBB\xBF" + joined(tmy3(), "\r\n") + "\r\n", problems));
    Lines lines = tmy3();
    set_field(lines[2], 0, "1/1/1990");
    set_field(lines[2], 1, "1:00");
    for (int end = 1; end <= 24; ++end) {
        const int before = 2 + first_hour_of(2) + end - 1;
        lines.insert(lines.begin() + before, lines[2]);
        set_field(lines[static_cast<std::size_t>(before)], 0, "02/29/1992");
        set_field(lines[static_cast<std::size_t>(before)], 1, fmt::format("{:02}:00", end));
    }
    const auto year = read_weather("x.csv", joined(lines), problems);
    REQUIRE(year);
    CHECK(problems.empty());
    CHECK(year->notes.front() == "24 lines of 29 February are left out.");
}

TEST_CASE("short gaps are bridged and noted, night gaps of radiation are zero") {
    Lines lines = tmy3();
    for (std::size_t i = 102; i < 108; ++i) set_field(lines[i], 6, "-9900");
    set_field(lines[108], 6, "12.0");
    set_field(lines[2 + 30], 7, "");  // dew point, for which the humidity of the line stands in
    set_field(lines[2 + 1], 2, "-9900");
    Problems problems;
    const auto year = read_weather("x.csv", joined(lines), problems);
    REQUIRE(year);
    CHECK(problems.empty());
    CHECK(year->temperature[103] == doctest::Approx(273.15 + 5.0 + 3.5));
    CHECK(year->global[1] == 0.0);
    REQUIRE(year->notes.size() >= 3);
    CHECK(year->notes[1] ==
          "6 of 8760 readings of \"Dry-bulb (C)\" are missing and bridged by a straight line.");
    CHECK(year->notes[2] == "1 missing readings of \"GHI (W/m^2)\" at night are zero.");
}

TEST_CASE(
    "a file without rain gives a dry year and a warning, or a construction that keeps the month's water") {
    Lines lines = tmy3();
    for (std::size_t i = 2; i < lines.size(); ++i) {
        set_field(lines[i], 12, "-9900");
        if (i % 7 == 0) {
            set_field(lines[i], 5, "10");
            set_field(lines[i], 7, "4.5");
        }
    }
    Problems problems;
    const auto dry = read_weather("x.csv", joined(lines), problems);
    REQUIRE(dry);
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].severity == Severity::warning);
    CHECK(problems[0].what ==
          "rain is missing in 8760 of 8760 hours: the year counts as dry and driving rain is not considered");
    CHECK(*std::max_element(dry->rain.begin(), dry->rain.end()) == 0.0);

    MonthlyPrecipitation months{30, 20, 50, 60, 80, 110, 100, 105, 105, 75, 50, 30};
    problems.clear();
    const auto wet = read_weather("x.csv", joined(lines), problems, months);
    REQUIRE(wet);
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].what ==
          "rain is missing in 8760 of 8760 hours: it is constructed from monthly precipitation");
    for (int month = 0; month < 12; ++month) {
        double sum = 0.0;
        for (int hour = first_hour_of(month); hour < first_hour_of(month + 1); ++hour) {
            sum += 3600.0 * wet->rain[static_cast<std::size_t>(hour)];
        }
        // 5 degC all year: all of it is liquid.
        CHECK(sum == doctest::Approx(months[static_cast<std::size_t>(month)]).epsilon(1e-9));
    }
}

TEST_CASE("decimal rain of a revised file is millimetres, and the reader says that it is unusual") {
    Lines lines = tmy3();
    for (std::size_t i = 2 + 19; i < lines.size(); i += 24) set_field(lines[i], 12, "1.3");
    Problems problems;
    const auto year = read_weather("x.csv", joined(lines), problems);
    REQUIRE(year);
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].what ==
          "\"Lprecip depth (mm)\" is read as millimetres, as its header says; the values do not look like "
          "the tenths of a "
          "millimetre that the revised edition counts");
    CHECK(year->rain[19] == doctest::Approx(1.3 / 3600.0));
}

TEST_CASE("NSRDB snapshots become means of hours by the trapezoid, cloud comes from clearness") {
    Problems problems;
    const auto half = read_weather("x.csv", joined(nsrdb(0, 30)), problems);
    REQUIRE(half);
    // 5.0 at the full hour, 5.25 at the half
    CHECK(half->temperature[5] == doctest::Approx(273.15 + 5.125));
    CHECK(half->global[8] == doctest::Approx(62.5));
    CHECK(half->global[12] == doctest::Approx(250.0));
    CHECK(half->global[15] == doctest::Approx(187.5));
    // 250 of 400 W/m2: N = (0.375/0.75)^(1/3.4)
    CHECK(half->cloud[12] == doctest::Approx(std::pow(0.5, 1.0 / 3.4)).epsilon(1e-9));
    CHECK(half->cloud[0] == doctest::Approx(std::pow(0.5, 1.0 / 3.4)).epsilon(1e-9));
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].what ==
          "the file has no rain: the year counts as dry and driving rain is not considered");

    const auto middle = read_weather("x.csv", joined(nsrdb(30, 60)), problems);
    REQUIRE(middle);
    CHECK(middle->temperature[5] == doctest::Approx(273.15 + 5.25));
    const auto full = read_weather("x.csv", joined(nsrdb(0, 60)), problems);
    REQUIRE(full);
    CHECK(full->global[8] == doctest::Approx(125.0));
}
