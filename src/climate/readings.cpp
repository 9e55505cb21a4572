#include "climate/readings.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace warmside::climate {

namespace {

constexpr double missing_mark = -9900.0;

// "Dry-bulb (C)" is known as "Dry-bulb": the unit in brackets differs between printings of the same file.
std::string_view without_unit(std::string_view name) {
    const auto bracket = name.find(" (");
    return bracket == std::string_view::npos ? name : name.substr(0, bracket);
}

}  // namespace

void Complaints::error(Code code, std::string what, int line, int column) {
    ++count_;
    if (count_ > 20) return;
    errors_.push_back(
        {.code = code, .what = std::move(what), .where = {.file = file_, .line = line, .column = column}});
}

void Complaints::warn(std::string what) {
    warnings_.push_back({.code = Code::incomplete,
                         .severity = Severity::warning,
                         .what = std::move(what),
                         .where = {.file = file_}});
}

Problem Complaints::take() {
    Problem first = errors_.front();
    warnings_.insert(warnings_.end(), errors_.begin() + 1, errors_.end());
    errors_.clear();
    return first;
}

std::optional<double> to_number(std::string_view text) {
    double value = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value))
        return std::nullopt;
    return value;
}

void find_columns(Readings& readings, const CsvLine& header, std::span<const Expected> expected,
                  Complaints& complaints) {
    for (const auto& wanted : expected) {
        Column& column = readings.*wanted.column;
        for (std::size_t i = 0; i < header.fields.size(); ++i) {
            if (without_unit(header.fields[i].text) != wanted.name) continue;
            if (column.there()) {
                complaints.error(Code::duplicate,
                                 fmt::format("column \"{}\" stands twice", header.fields[i].text),
                                 header.number, header.fields[i].column);
            }
            column.name = header.fields[i].text;
            column.field = static_cast<int>(i);
        }
        if (!column.there() && wanted.required) {
            complaints.error(Code::missing, fmt::format("column \"{}\" is missing", wanted.name),
                             header.number);
        }
    }
}

void read_values(Readings& readings, const CsvLine& line, std::span<const Expected> expected,
                 Complaints& complaints) {
    for (const auto& wanted : expected) {
        Column& column = readings.*wanted.column;
        if (!column.there()) continue;
        const auto& field = line.fields[static_cast<std::size_t>(column.field)];
        double value = std::numeric_limits<double>::quiet_NaN();
        if (!field.text.empty()) {
            const auto number = to_number(field.text);
            if (!number) {
                complaints.error(Code::wrong_type,
                                 fmt::format("\"{}\" is \"{}\", not a number", column.name, field.text),
                                 line.number, field.column);
            } else if (*number != missing_mark) {
                value = *number;
                if (value < wanted.least || value > wanted.most) {
                    complaints.error(Code::out_of_range,
                                     fmt::format("\"{}\" is {}, outside {} to {}", column.name, value,
                                                 wanted.least, wanted.most),
                                     line.number, field.column);
                }
            }
        }
        column.value.push_back(value);
    }
}

Result<Year> read_weather(std::string_view file_name, std::string_view text, Problems& problems,
                          const std::optional<MonthlyPrecipitation>& precipitation) {
    Complaints complaints(file_name, problems);
    CsvReader csv(text);
    CsvLine first;
    CsvReader peek = csv;
    if (!peek.next(first)) return fail(Code::syntax, "the file is empty", {.file = std::string(file_name)});

    Result<Readings> readings = [&]() -> Result<Readings> {
        if (first.fields.front().text == "Source") return read_nsrdb(csv, complaints);
        if (first.fields.size() == 7 && to_number(first.fields.front().text))
            return read_tmy3(csv, complaints);
        complaints.error(
            Code::syntax,
            "this is no weather file that is read here: TMY3 CSV begins with a line of station number, "
            "name, state, UTC offset, latitude, longitude, elevation; NSRDB CSV with \"Source,Location ID\"",
            1, 1);
        return fail(complaints.take());
    }();
    if (!readings) return fail(readings.error());
    return to_year(std::move(*readings), precipitation, complaints);
}

}  // namespace warmside::climate
