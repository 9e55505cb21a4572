// TMY3 CSV, original and revised edition. Layout: wilcox-marion-2008, tables 1-1 to 1-3.
#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

#include "climate/calendar.h"
#include "climate/readings.h"

namespace warmside::climate {

namespace {

constexpr double degree = std::numbers::pi / 180.0;

constexpr std::array<Expected, 12> columns{{{&Readings::temperature, "Dry-bulb", -90.0, 60.0, true},
                                            {&Readings::dew_point, "Dew-point", -100.0, 45.0, false},
                                            {&Readings::relative_humidity, "RHum", 0.0, 100.0, false},
                                            {&Readings::pressure, "Pressure", 450.0, 1100.0, false},
                                            {&Readings::wind_speed, "Wspd", 0.0, 100.0, true},
                                            {&Readings::wind_direction, "Wdir", 0.0, 360.0, true},
                                            {&Readings::global, "GHI", 0.0, 1500.0, true},
                                            {&Readings::direct, "DNI", 0.0, 1400.0, true},
                                            {&Readings::diffuse, "DHI", 0.0, 1200.0, true},
                                            {&Readings::total_cloud, "TotCld", 0.0, 10.0, false},
                                            {&Readings::opaque_cloud, "OpqCld", 0.0, 10.0, false},
                                            {&Readings::rain, "Lprecip depth", 0.0, 1000.0, false}}};

std::string stamp(int hour) {
    const int month = month_of(hour);
    return fmt::format("{} {} {:02}:00", (hour - first_hour_of(month)) / 24 + 1,
                       month_names[static_cast<std::size_t>(month)], hour % 24 + 1);
}

void read_station(Readings& readings, const CsvLine& line, Complaints& complaints) {
    constexpr std::array<const char*, 4> names{"UTC offset", "latitude", "longitude", "elevation"};
    constexpr std::array least{-12.0, -90.0, -180.0, -430.0}, most{14.0, 90.0, 180.0, 6000.0};
    std::array<double, 4> value{};
    for (std::size_t i = 0; i < names.size(); ++i) {
        const auto& field = line.fields[i + 3];
        const auto number = to_number(field.text);
        if (!number) {
            complaints.error(Code::wrong_type,
                             fmt::format("{} is \"{}\", not a number", names[i], field.text), line.number,
                             field.column);
        } else if (*number < least[i] || *number > most[i]) {
            complaints.error(Code::out_of_range,
                             fmt::format("{} is {}, outside {} to {}", names[i], *number, least[i], most[i]),
                             line.number, field.column);
        } else {
            value[i] = *number;
        }
    }
    Year& year = readings.year;
    year.name = fmt::format("{}, {}", line.fields[1].text, line.fields[2].text);
    year.utc_offset = value[0] * 3600.0;
    year.latitude = value[1] * degree;
    year.longitude = value[2] * degree;
    year.elevation = value[3];
    year.origin = {.kind = Origin::Kind::standard,
                   .where = {.file = complaints.file()},
                   .source = fmt::format("TMY3, station {}", line.fields[0].text),
                   .evidence = Evidence::seen};
}

bool digits(std::string_view text, std::size_t least, std::size_t most) {
    return text.size() >= least && text.size() <= most &&
           text.find_first_not_of("0123456789") == std::string_view::npos;
}

int whole(std::string_view text) {
    return static_cast<int>(to_number(text).value_or(0.0));
}

constexpr int leap_day = -2;

// Hour of the year (0 to 8759) that a line's stamp ends; leap_day for 29 February; nothing after a complaint.
std::optional<int> hour_of(const CsvLine& line, Complaints& complaints) {
    const auto date = line.fields[0].text, time = line.fields[1].text;
    const auto first = date.find('/'), second = date.find('/', first + 1);
    if (second == std::string_view::npos || !digits(date.substr(0, first), 1, 2) ||
        !digits(date.substr(first + 1, second - first - 1), 1, 2) || !digits(date.substr(second + 1), 4, 4)) {
        complaints.error(Code::syntax, fmt::format("date \"{}\" is not MM/DD/YYYY", date), line.number,
                         line.fields[0].column);
        return std::nullopt;
    }
    const int month = whole(date.substr(0, first)), day = whole(date.substr(first + 1, second - first - 1));
    const bool leap = month == 2 && day == 29;
    if (month < 1 || month > 12 || day < 1 ||
        (day > days_in_month[static_cast<std::size_t>(month - 1)] && !leap)) {
        complaints.error(Code::out_of_range, fmt::format("date \"{}\" is not in the calendar", date),
                         line.number, line.fields[0].column);
        return std::nullopt;
    }
    const auto colon = time.find(':');
    if (colon == std::string_view::npos || !digits(time.substr(0, colon), 1, 2) ||
        time.substr(colon) != ":00" || whole(time.substr(0, colon)) < 1 ||
        whole(time.substr(0, colon)) > 24) {
        complaints.error(Code::syntax,
                         fmt::format("time \"{}\" is not one of 01:00 to 24:00 (hour ending)", time),
                         line.number, line.fields[1].column);
        return std::nullopt;
    }
    if (leap) return leap_day;
    return first_hour_of(month - 1) + 24 * (day - 1) + whole(time.substr(0, colon)) - 1;
}

// True when the line is the next hour of the year; complains about a gap, a repeat or a step back.
bool in_order(int hour, int expected, const CsvLine& line, Complaints& complaints) {
    if (hour == expected) return true;
    if (expected == hours_in_year) {
        complaints.error(Code::duplicate, fmt::format("{} stands after the year has ended", stamp(hour)),
                         line.number, 1);
    } else if (hour > expected) {
        const int count = hour - expected;
        complaints.error(Code::incomplete,
                         count == 1 ? fmt::format("the hour {} is missing before this line", stamp(expected))
                                    : fmt::format("{} hours are missing before this line, from {}", count,
                                                  stamp(expected)),
                         line.number, 1);
    } else {
        complaints.error(Code::duplicate,
                         hour == expected - 1
                             ? fmt::format("the hour {} stands twice", stamp(hour))
                             : fmt::format("{} stands after {}", stamp(hour), stamp(expected - 1)),
                         line.number, 1);
    }
    return false;
}

// Revised files count rain in tenths of a millimetre although the header says mm. They give themselves away:
// all values are whole numbers, most of them hundredths of an inch in tenths of a millimetre (3, 5, 8, 10, 13
// ...), and as millimetres the mean wet hour would bring 9 to 27 mm at the stations known, more than a
// cloudburst. In tenths it is 0.9 to 2.7 mm. The limit lies between the two.
bool rain_in_tenths(const std::vector<double>& rain) {
    constexpr double limit = 5.0;
    double sum = 0.0;
    int wet = 0;
    for (const double value : rain) {
        if (!(value > 0.0)) continue;
        if (value != std::floor(value)) return false;
        ++wet;
        sum += value;
    }
    return sum > limit * wet;
}

void settle_rain(Readings& readings, bool revised, Complaints& complaints) {
    if (!readings.rain.there() || !revised) return;
    if (std::none_of(readings.rain.value.begin(), readings.rain.value.end(),
                     [](double v) { return v > 0.0; }))
        return;
    if (rain_in_tenths(readings.rain.value)) {
        for (double& value : readings.rain.value) value *= 0.1;
        readings.year.notes.push_back(
            "Rain is read as tenths of a millimetre: the header says mm, but the mean wet hour would then "
            "bring more than "
            "5 mm. It is liquid rain only.");
    } else {
        complaints.warn(
            fmt::format("\"{}\" is read as millimetres, as its header says; the values do not look like the "
                        "tenths of a millimetre that the revised edition counts",
                        readings.rain.name));
    }
}

}  // namespace

Result<Readings> read_tmy3(CsvReader& csv, Complaints& complaints) {
    Readings readings;
    // Readings stand at the end of the hour, so the middle of an hour lies between its line and the one
    // before.
    readings.instant = {.first = -1, .weight = {0.5, 0.5}};
    CsvLine line;
    csv.next(line);
    read_station(readings, line, complaints);
    CsvLine header;
    if (!csv.next(header)) {
        complaints.error(Code::incomplete, "the file ends after the first line; line 2 names the columns", 1);
        return fail(complaints.take());
    }
    find_columns(readings, header, columns, complaints);
    if (!readings.dew_point.there() && !readings.relative_humidity.there()) {
        complaints.error(Code::missing, "column \"Dew-point\" is missing, and so is \"RHum\"", header.number);
    }
    if (complaints.any()) return fail(complaints.take());

    int expected = 0, leap_lines = 0, last = header.number;
    while (!complaints.full() && csv.next(line)) {
        last = line.number;
        if (line.fields.size() != header.fields.size()) {
            complaints.error(Code::syntax,
                             fmt::format("the line has {} values, the header names {}", line.fields.size(),
                                         header.fields.size()),
                             line.number);
            ++expected;
            continue;
        }
        const auto hour = hour_of(line, complaints);
        if (hour == leap_day) {
            ++leap_lines;
            continue;
        }
        if (hour && in_order(*hour, expected, line, complaints))
            read_values(readings, line, columns, complaints);
        readings.line.push_back(line.number);
        expected = hour ? std::max(expected, *hour + 1) : expected + 1;
    }
    if (!complaints.full() && expected < hours_in_year) {
        complaints.error(Code::incomplete,
                         fmt::format("the file ends {} hours early: {} is missing", hours_in_year - expected,
                                     stamp(expected)),
                         last);
    }
    if (complaints.any()) return fail(complaints.take());
    if (leap_lines > 0)
        readings.year.notes.push_back(fmt::format("{} lines of 29 February are left out.", leap_lines));
    bool revised = false;
    for (const auto& field : header.fields) revised = revised || field.text.starts_with("PresWth");
    settle_rain(readings, revised, complaints);
    return readings;
}

}  // namespace warmside::climate
