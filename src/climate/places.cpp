#include "climate/places.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cassert>
#include <cctype>
#include <charconv>

#include "base/embedded.h"
#include "base/nearest.h"
#include "climate/year.h"
#include "units/quantity.h"

namespace warmside::climate {
namespace {

constexpr std::string_view places_file = "data/climate/places.csv";
constexpr std::string_view places_source =
    "monthly figures of the TMY3 station (National Solar Radiation Data Base 1991-2005, NREL/TP-581-43156): "
    "typical months";

// Postal codes of the states in the table, for "Duluth, Minnesota".
constexpr std::array<std::pair<std::string_view, std::string_view>, 16> states{{
    {"AK", "Alaska"},
    {"CO", "Colorado"},
    {"ID", "Idaho"},
    {"IL", "Illinois"},
    {"MA", "Massachusetts"},
    {"ME", "Maine"},
    {"MI", "Michigan"},
    {"MN", "Minnesota"},
    {"MT", "Montana"},
    {"ND", "North Dakota"},
    {"NH", "New Hampshire"},
    {"NY", "New York"},
    {"SD", "South Dakota"},
    {"UT", "Utah"},
    {"VT", "Vermont"},
    {"WI", "Wisconsin"},
}};

}  // namespace

std::string_view state_name(std::string_view code) {
    const auto found = std::ranges::find(states, code, &std::pair<std::string_view, std::string_view>::first);
    return found == states.end() ? code : found->second;
}

namespace {

/// SI value of a field with a unit; our own data, so a failure is our own slip.
double quantity(const CsvField& field, std::string_view unit, const units::Dimension& dimension) {
    const auto value = units::parse(fmt::format("{} {}", field.text, unit), dimension);
    assert(value);
    return value.value_or(0.0);
}

PlaceRow::Month month_of(const std::vector<CsvField>& field) {
    return {.temperature = quantity(field[11], "degC", units::temperature),
            .dew_point = quantity(field[12], "degC", units::temperature),
            .relative_humidity = quantity(field[13], "%", units::fraction),
            .wind_speed = number_of(field[14]),
            .global = number_of(field[15]) * 1000.0 / 24.0,  // kWh a day to W
            .rain = number_of(field[16])};
}

PlaceRow place_of(const CsvLine& line) {
    const auto& field = line.fields;
    const Place where{.file = std::string(places_file), .line = line.number};
    return {
        .name = std::string(field[0].text),
        .state = std::string(field[1].text),
        .county = std::string(field[2].text),
        .station = std::string(field[3].text),
        .latitude = quantity(field[4], "deg", units::angle),
        .longitude = quantity(field[5], "deg", units::angle),
        .elevation = number_of(field[6]),
        .utc_offset = quantity(field[7], "h", units::duration),
        .climate_zone = std::string(field[8].text),
        .zone_origin = {.kind = Origin::Kind::catalogue,
                        .where = where,
                        .source = fmt::format("IECC climate zone, editions 2009 to 2018 ({})", field[9].text),
                        .evidence = Evidence::memory},
        .months = {},
        .origin = {.kind = Origin::Kind::catalogue,
                   .where = where,
                   .source = fmt::format("station {}, {}", field[3].text, places_source),
                   .evidence = Evidence::computed}};
}

std::vector<PlaceRow> read_places() {
    std::vector<PlaceRow> rows;
    for (const CsvLine& line : embedded_table(places_file)) {
        assert(line.fields.size() == 17);
        if (rows.empty() || rows.back().station != line.fields[3].text) rows.push_back(place_of(line));
        const auto month = static_cast<std::size_t>(number_of(line.fields[10]));
        rows.back().months.at(month - 1) = month_of(line.fields);
    }
    return rows;
}

/// Lower case, letters and digits only, so that "St. Cloud" is "st cloud" and blanks do not matter.
std::string plain(std::string_view text) {
    std::string out;
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if (std::isalnum(byte)) out += static_cast<char>(std::tolower(byte));
    }
    return out;
}

bool state_matches(const PlaceRow& row, std::string_view state) {
    return plain(row.state) == plain(state) || plain(state_name(row.state)) == plain(state);
}

std::string full_name(const PlaceRow& row) {
    return fmt::format("{}, {}", row.name, state_name(row.state));
}

Problem unknown(std::string_view name, std::string_view city) {
    std::vector<std::string> full, cities;
    for (const PlaceRow& row : places()) {
        full.push_back(full_name(row));
        cities.push_back(row.name);
    }
    std::string near = nearest(name, full);
    if (near.empty()) {
        const std::string near_city = nearest(city, cities);
        const auto found = std::ranges::find(cities, near_city);
        if (!near_city.empty()) near = full[static_cast<std::size_t>(found - cities.begin())];
    }
    return {.code = Code::unknown_name,
            .what = fmt::format("no built-in weather for \"{}\"", name),
            .found = std::string(name),
            .expected = "a built-in place (warmside places), or a weather file",
            .suggestion = near};
}

}  // namespace

std::vector<CsvLine> embedded_table(std::string_view path) {
    std::vector<CsvLine> lines;
    CsvReader reader(embedded::find(path).value_or(""));
    bool header_seen = false;
    for (CsvLine line; reader.next(line);) {
        const std::string_view first = line.fields.front().text;
        if (line.fields.size() < 2 || first.starts_with('#')) continue;
        if (std::exchange(header_seen, true)) lines.push_back(line);
    }
    return lines;
}

double number_of(const CsvField& field) {
    double value = 0.0;
    const std::string_view text = field.text;
    [[maybe_unused]] const auto done = std::from_chars(text.data(), text.data() + text.size(), value);
    assert(text.empty() || done.ptr == text.data() + text.size());
    return value;
}

const std::vector<PlaceRow>& places() {
    static const std::vector<PlaceRow> rows = read_places();
    return rows;
}

Result<const PlaceRow*> find_place(std::string_view name) {
    const std::size_t comma = name.find(',');
    const std::string_view city = name.substr(0, comma);
    std::vector<const PlaceRow*> found;
    for (const PlaceRow& row : places()) {
        const bool in_state = comma == std::string_view::npos || state_matches(row, name.substr(comma + 1));
        if (plain(row.name) == plain(city) && in_state) found.push_back(&row);
    }
    if (found.empty()) return fail(unknown(name, city));
    if (found.size() > 1) {
        return fail({.code = Code::conflict,
                     .what = fmt::format("\"{}\" is the name of two places", name),
                     .found = std::string(name),
                     .expected = fmt::format("{} or {}", full_name(*found[0]), full_name(*found[1])),
                     .suggestion = full_name(*found[0])});
    }
    return found.front();
}

}  // namespace warmside::climate
