#include "house/design_temperature.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

#include "base/embedded.h"
#include "units/reader.h"

namespace warmside::house {

namespace {

using units::TableReader;

constexpr std::string_view path = "data/house/design.toml";

Origin origin_in(TableReader& r, std::string_view source, std::string_view evidence) {
    Origin out{Origin::Kind::catalogue, r.place(), r.required(r.text(source), source).value_or(""),
               Evidence::none};
    const auto word =
        r.required(r.word(evidence, {"seen", "quoted", "memory", "computed", "practice"}), evidence);
    out.evidence = evidence_of(word.value_or(""));
    return out;
}

std::optional<Sourced<double>> degrees(TableReader& r, std::string_view key, Origin origin) {
    const auto value = r.quantity(key, units::temperature, {.least = 200.0, .most = 330.0});
    if (!value) return std::nullopt;
    origin.where = r.place(key);
    return Sourced<double>{*value, std::move(origin)};
}

// Rarer is further out.
void ordered(TableReader& r, std::string_view key, const std::optional<Sourced<double>>& outer,
             const std::optional<Sourced<double>>& inner, double sign) {
    if (outer && inner && sign * outer->value < sign * inner->value)
        r.complain(key, Code::conflict,
                   fmt::format("{} is not as far out as the next more frequent value", key));
}

DesignRow read_row(TableReader& r, const Origin& published, const Origin& typical) {
    DesignRow row;
    row.name = r.required(r.text("name"), "name").value_or("");
    row.state = r.required(r.text("state"), "state").value_or("");
    row.heating_996 = degrees(r, "heating_996", published);
    row.heating_99 = degrees(r, "heating_99", published);
    row.cooling_04 = degrees(r, "cooling_04", published);
    row.cooling_1 = degrees(r, "cooling_1", published);
    row.cooling_2 = degrees(r, "cooling_2", published);
    row.typical_99 = degrees(r, "typical_99", typical);
    row.typical_1 = degrees(r, "typical_1", typical);
    if (r.has("code")) row.code = degrees(r, "code", origin_in(r, "code_source", "code_evidence"));
    ordered(r, "heating_996", row.heating_996, row.heating_99, -1.0);
    ordered(r, "cooling_04", row.cooling_04, row.cooling_1, 1.0);
    ordered(r, "cooling_1", row.cooling_1, row.cooling_2, 1.0);
    return row;
}

Origin read_source(TableReader& file, std::string_view key, Problems& problems) {
    const toml::table* table = file.table(key);
    if (!table) {
        if (!file.has(key)) file.missing(key);
        return {};
    }
    TableReader r(*table, fmt::format("[{}]", key), problems);
    Origin out = origin_in(r, "source", "evidence");
    r.finish();
    return out;
}

std::string in_words(double temperature) {
    return fmt::format("{:.0f} degF ({:.1f} degC)", units::fahrenheit(temperature),
                       units::celsius(temperature));
}

const DesignRow* row_of(const std::vector<DesignRow>& rows, const climate::PlaceRow* place) {
    if (!place) return nullptr;
    for (const DesignRow& row : rows)
        if (row.name == place->name && row.state == place->state) return &row;
    return nullptr;
}

// Mean of the daily ranges of the month with the warmest mean.
double range_of_warmest_month(const std::vector<double>& temperature) {
    constexpr std::array days{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    double warmest = 0.0, range = 0.0;
    auto from = temperature.begin();
    for (const int length : days) {
        double mean = 0.0, ranges = 0.0;
        for (int day = 0; day < length; ++day, from += 24) {
            const auto [low, high] = std::minmax_element(from, from + 24);
            ranges += (*high - *low) / length;
            for (int hour = 0; hour < 24; ++hour) mean += from[hour] / (24.0 * length);
        }
        if (mean > warmest) {
            warmest = mean;
            range = ranges;
        }
    }
    return range;
}

Sourced<double> of_year(double value, const climate::Year& year, const char* share) {
    return {value,
            {Origin::Kind::computed, year.origin.where,
             fmt::format("{} of the one typical year {}", share, year.name), Evidence::computed}};
}

Sourced<double> heating(const DesignRow* row, const climate::Year& year, std::vector<std::string>& notes) {
    const auto own = of_year(lower_percentile(year.temperature, 0.01), year, "99 % value");
    if (row && row->heating_99) {
        notes.push_back(fmt::format("heating: {} outdoors is the published 99 % value; 99.6 % is {}",
                                    in_words(row->heating_99->value),
                                    row->heating_996 ? in_words(row->heating_996->value) : "not known"));
        return *row->heating_99;
    }
    const bool table = row && row->typical_99 && row->typical_99->value < own.value;
    const Sourced<double> typical = table ? *row->typical_99 : own;
    if (row && row->code) {
        notes.push_back(
            fmt::format("heating: {} outdoors is the winter design value of the county's code; a "
                        "typical year's 99 % value is {}",
                        in_words(row->code->value), in_words(typical.value)));
        return *row->code;
    }
    notes.push_back(
        fmt::format("heating: {} outdoors is the 99 % value of a typical year: may be 6 K too warm; "
                    "no published value is built in for this place; ask the building department",
                    in_words(typical.value)));
    return typical;
}

Sourced<double> cooling(const DesignRow* row, const climate::Year& year, std::vector<std::string>& notes) {
    if (row && row->cooling_1) return *row->cooling_1;
    const auto own = of_year(upper_percentile(year.temperature, 0.01), year, "1 % value");
    const bool table = row && row->typical_1 && row->typical_1->value > own.value;
    const Sourced<double> typical = table ? *row->typical_1 : own;
    notes.push_back(
        fmt::format("cooling: {} outdoors is the 1 % value of a typical year, not a published one",
                    in_words(typical.value)));
    return typical;
}

}  // namespace

Result<std::vector<DesignRow>> read_design(std::string_view name, std::string_view text) {
    const auto parsed = units::parse_toml(name, text);
    if (!parsed) return fail(parsed.error());
    Problems problems;
    TableReader file(*parsed, std::string(name), problems);
    const Origin published = read_source(file, "published", problems);
    const Origin typical = read_source(file, "typical", problems);
    std::vector<DesignRow> out;
    const toml::array* places = file.array("place");
    if (!places) file.missing("place");
    for (std::size_t i = 0; places && i < places->size(); ++i) {
        const toml::table* table = (*places)[i].as_table();
        if (!table) {
            file.complain("place", Code::wrong_type, "place is not a list of tables");
            break;
        }
        TableReader r(*table, fmt::format("place {}", i + 1), problems);
        DesignRow row = read_row(r, published, typical);
        for (const DesignRow& before : out)
            if (before.name == row.name && before.state == row.state)
                r.complain("name", Code::duplicate,
                           fmt::format("{}, {} stands here twice", row.name, row.state));
        r.finish();
        out.push_back(std::move(row));
    }
    file.finish();
    for (const auto& problem : problems)
        if (problem.severity == Severity::error) return fail(problem);
    return out;
}

const Result<std::vector<DesignRow>>& design_rows() {
    static const Result<std::vector<DesignRow>> parsed = [] {
        const auto text = embedded::find(path);
        if (!text)
            return Result<std::vector<DesignRow>>(
                fail(Code::missing, fmt::format("{} is not embedded", path)));
        return read_design(path, *text);
    }();
    return parsed;
}

double lower_percentile(std::span<const double> values, double share) {
    std::vector<double> sorted(values.begin(), values.end());
    const auto count = static_cast<double>(sorted.size());
    const auto index =
        static_cast<std::ptrdiff_t>(std::clamp(std::round(share * count), 0.0, std::max(0.0, count - 1.0)));
    std::nth_element(sorted.begin(), sorted.begin() + index, sorted.end());
    return sorted[static_cast<std::size_t>(index)];
}

double upper_percentile(std::span<const double> values, double share) {
    std::vector<double> turned(values.begin(), values.end());
    for (double& value : turned) value = -value;
    return -lower_percentile(turned, share);
}

Result<DesignTemperature> design_temperature(const climate::PlaceRow* place, const climate::Year& year) {
    const auto& rows = design_rows();
    if (!rows) return fail(rows.error());
    if (year.temperature.size() != static_cast<std::size_t>(climate::hours_in_year))
        return fail(Code::incomplete,
                    fmt::format("the year has {} temperatures, not 8760", year.temperature.size()));
    const DesignRow* row = row_of(*rows, place);
    DesignTemperature out;
    out.heating = heating(row, year, out.notes);
    out.cooling = cooling(row, year, out.notes);
    out.daily_range = range_of_warmest_month(year.temperature);
    if (row) out.code = row->code;
    return out;
}

}  // namespace warmside::house
