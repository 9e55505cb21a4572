// NSRDB CSV of the physical solar model, 30 and 60 minutes. Layout: nsrdb-psm.
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

constexpr std::array<Expected, 10> columns{
    {{&Readings::temperature, "Temperature", -90.0, 60.0, true},
     {&Readings::dew_point, "Dew Point", -100.0, 45.0, false},
     {&Readings::relative_humidity, "Relative Humidity", 0.0, 100.0, false},
     {&Readings::pressure, "Pressure", 450.0, 1100.0, false},
     {&Readings::wind_speed, "Wind Speed", 0.0, 100.0, true},
     {&Readings::wind_direction, "Wind Direction", 0.0, 360.0, true},
     {&Readings::global, "GHI", 0.0, 1500.0, true},
     {&Readings::direct, "DNI", 0.0, 1400.0, true},
     {&Readings::diffuse, "DHI", 0.0, 1200.0, true},
     {&Readings::clear_global, "Clearsky GHI", 0.0, 1500.0, false}}};

void read_place(Readings& readings, const CsvLine& names, const CsvLine& values, Complaints& complaints) {
    const auto text = [&](std::string_view name) -> const CsvField* {
        for (std::size_t i = 0; i < names.fields.size() && i < values.fields.size(); ++i) {
            if (names.fields[i].text == name) return &values.fields[i];
        }
        return nullptr;
    };
    const auto number = [&](std::string_view name, double least, double most) {
        const CsvField* field = text(name);
        if (!field) {
            complaints.error(Code::missing, fmt::format("\"{}\" is missing in the first line", name),
                             names.number);
            return 0.0;
        }
        const auto value = to_number(field->text);
        if (!value) {
            complaints.error(Code::wrong_type, fmt::format("{} is \"{}\", not a number", name, field->text),
                             values.number, field->column);
            return 0.0;
        }
        if (*value < least || *value > most) {
            complaints.error(Code::out_of_range,
                             fmt::format("{} is {}, outside {} to {}", name, *value, least, most),
                             values.number, field->column);
        }
        return *value;
    };
    Year& year = readings.year;
    const double latitude = number("Latitude", -90.0, 90.0), longitude = number("Longitude", -180.0, 180.0);
    year.latitude = latitude * degree;
    year.longitude = longitude * degree;
    year.elevation = number("Elevation", -430.0, 6000.0);
    year.utc_offset = 3600.0 * number("Time Zone", -12.0, 14.0);
    const CsvField* id = text("Location ID");
    year.name =
        fmt::format("NSRDB {}{}{:.2f}, {:.2f}", id ? id->text : "", id ? ", " : "", latitude, longitude);
    year.origin = {
        .kind = Origin::Kind::standard,
        .where = {.file = complaints.file()},
        .source = fmt::format("NSRDB physical solar model{}{}", id ? ", location " : "", id ? id->text : ""),
        .evidence = Evidence::seen};
    const CsvField* local = text("Local Time Zone");
    const auto offset = local ? to_number(local->text) : std::nullopt;
    if (offset && *offset * 3600.0 != year.utc_offset) {
        year.notes.push_back(
            fmt::format("Times are UTC{:+g}, not the local standard time of the place (UTC{:+g}).",
                        year.utc_offset / 3600.0, *offset));
    }
}

struct Time {
    std::array<int, 5> field{-1, -1, -1, -1, -1};  // Year, Month, Day, Hour, Minute
    static constexpr std::array<const char*, 5> name{"Year", "Month", "Day", "Hour", "Minute"};
};

// Minute of a year without leap day; -2 on 29 February; nothing after a complaint.
std::optional<int> minute_of(const Time& time, const CsvLine& line, Complaints& complaints) {
    std::array<int, 5> value{};
    for (std::size_t i = 0; i < value.size(); ++i) {
        const auto& field = line.fields[static_cast<std::size_t>(time.field[i])];
        const auto number = to_number(field.text);
        if (!number || std::abs(*number) > 9999.0 || *number != std::floor(*number)) {
            complaints.error(Code::wrong_type,
                             fmt::format("\"{}\" is \"{}\", not a whole number", Time::name[i], field.text),
                             line.number, field.column);
            return std::nullopt;
        }
        value[i] = static_cast<int>(*number);
    }
    const auto [year, month, day, hour, minute] = value;
    const bool leap = month == 2 && day == 29 && year % 4 == 0;
    if (month < 1 || month > 12 || day < 1 ||
        (day > days_in_month[static_cast<std::size_t>(month - 1)] && !leap) || hour < 0 || hour > 23 ||
        minute < 0 || minute > 59) {
        complaints.error(
            Code::out_of_range,
            fmt::format("{}-{:02}-{:02} {:02}:{:02} is not in the calendar", year, month, day, hour, minute),
            line.number, 1);
        return std::nullopt;
    }
    if (leap) return -2;
    return 60 * (first_hour_of(month - 1) + 24 * (day - 1) + hour) + minute;
}

std::string stamp(int minute) {
    const int hour = minute / 60, month = month_of(hour);
    return fmt::format("{} {} {:02}:{:02}", (hour - first_hour_of(month)) / 24 + 1,
                       month_names[static_cast<std::size_t>(month)], hour % 24, minute % 60);
}

// Values of the model are snapshots at their stamps; an hour's mean is the trapezoid through those that bound
// it.
bool choose_stencil(Readings& readings, int first_minute, int step) {
    if (step == 30 && first_minute == 0) {
        readings.lines_per_hour = 2;
        readings.instant = {.lines_per_hour = 2, .first = 0, .weight = {0.25, 0.5, 0.25}};
    } else if (step == 60 && first_minute == 30) {
        readings.instant = {};
    } else if (step == 60 && first_minute == 0) {
        readings.instant = {.first = 0, .weight = {0.5, 0.5}};
    } else {
        return false;
    }
    readings.radiation = readings.instant;
    return true;
}

bool in_order(int minute, int expected, int step, const CsvLine& line, Complaints& complaints) {
    if (minute == expected) return true;
    if (minute > expected) {
        const int count = (minute - expected) / step;
        complaints.error(Code::incomplete,
                         fmt::format("{} {} missing before this line, from {}", count,
                                     count == 1 ? "time is" : "times are", stamp(expected)),
                         line.number, 1);
    } else {
        complaints.error(Code::duplicate, fmt::format("{} stands twice or out of order", stamp(minute)),
                         line.number, 1);
    }
    return false;
}

void read_lines(Readings& readings, CsvReader& csv, const CsvLine& header, const Time& time,
                Complaints& complaints) {
    CsvLine line;
    int count = 0, leap_lines = 0, expected = 0, step = 0, first = 0, last = header.number;
    while (!complaints.full() && csv.next(line)) {
        last = line.number;
        // NSRDB headers may end with empty names; short lines lack what they name.
        if (line.fields.size() < header.fields.size()) {
            complaints.error(Code::syntax,
                             fmt::format("the line has {} values, the header names {}", line.fields.size(),
                                         header.fields.size()),
                             line.number);
            expected += step;
            ++count;
            continue;
        }
        const auto minute = minute_of(time, line, complaints);
        if (minute == -2) {
            ++leap_lines;
            continue;
        }
        if (count == 0) {
            first = expected = minute.value_or(0);
        } else if (count == 1) {
            step = minute.value_or(0) - first;
            expected = first + step;
            if (!choose_stencil(readings, first, step)) {
                complaints.error(
                    Code::unsupported,
                    fmt::format(
                        "the file begins at {} and goes in steps of {} min; read are 30 min from 00:00 "
                        "and 60 min from 00:00 or 00:30",
                        stamp(first), step),
                    line.number, 1);
                return;
            }
        }
        if (minute && in_order(*minute, expected, std::max(step, 1), line, complaints)) {
            read_values(readings, line, columns, complaints);
        }
        readings.line.push_back(line.number);
        expected = minute ? std::max(expected, *minute + step) : expected + step;
        ++count;
    }
    if (count < 2) {
        complaints.error(Code::incomplete, "the file has no hours after its header", last);
    } else if (!complaints.full() && expected < 60 * hours_in_year) {
        complaints.error(Code::incomplete, fmt::format("the file ends early: {} is missing", stamp(expected)),
                         last);
    }
    if (leap_lines > 0)
        readings.year.notes.push_back(fmt::format("{} lines of 29 February are left out.", leap_lines));
}

}  // namespace

Result<Readings> read_nsrdb(CsvReader& csv, Complaints& complaints) {
    Readings readings;
    CsvLine names, values, header;
    csv.next(names);
    if (!csv.next(values) || !csv.next(header)) {
        complaints.error(Code::incomplete, "the file ends in its header; line 3 names the columns",
                         values.number);
        return fail(complaints.take());
    }
    read_place(readings, names, values, complaints);
    find_columns(readings, header, columns, complaints);
    Time time;
    for (std::size_t i = 0; i < time.field.size(); ++i) {
        for (std::size_t k = 0; k < header.fields.size(); ++k) {
            if (header.fields[k].text == Time::name[i]) time.field[i] = static_cast<int>(k);
        }
        if (time.field[i] < 0) {
            complaints.error(Code::missing, fmt::format("column \"{}\" is missing", Time::name[i]),
                             header.number);
        }
    }
    if (!readings.dew_point.there() && !readings.relative_humidity.there()) {
        complaints.error(Code::missing, "column \"Dew Point\" is missing, and so is \"Relative Humidity\"",
                         header.number);
    }
    if (complaints.any()) return fail(complaints.take());
    read_lines(readings, csv, header, time, complaints);
    if (complaints.any()) return fail(complaints.take());
    return readings;
}

}  // namespace warmside::climate
