#include "leakage/ventilation_rules.h"

#include <algorithm>
#include <fmt/format.h>

#include "leakage/read_part.h"

namespace warmside::leakage {

namespace {

using units::TableReader;

bool rises(const std::vector<double>& values) {
    return !values.empty() &&
           std::adjacent_find(values.begin(), values.end(), std::greater_equal<>()) == values.end();
}

void read_table(TableReader& r, VentilationRules& out) {
    out.table_bedrooms = read_list(r, "bedrooms", units::number);
    out.table_area = read_list(r, "floor_area", units::area);
    if (!rises(out.table_bedrooms)) r.complain("bedrooms", Code::conflict, "bedrooms have to rise");
    if (!rises(out.table_area)) r.complain("floor_area", Code::conflict, "floor areas have to rise");
    const toml::array* rows = r.array("flow");
    if (!rows) {
        if (!r.has("flow")) r.missing("flow");
        return;
    }
    for (const auto& row : *rows) {
        auto& flows = out.table.emplace_back();
        if (const auto* cells = row.as_array())
            for (const auto& cell : *cells) {
                const auto value = units::read_quantity(cell, "flow", units::flow, {.least = 0.0});
                if (value) flows.push_back(*value);
            }
        if (flows.size() != out.table_bedrooms.size() + 1)
            r.complain("flow", Code::conflict,
                       fmt::format("row {} has {} flows, not one more than the limits of bedrooms",
                                   out.table.size(), flows.size()));
    }
    if (out.table.size() != out.table_area.size() + 1)
        r.complain("flow", Code::conflict, "one row more than limits of floor area");
}

void read_intermittent(TableReader& r, VentilationRules& out) {
    out.run = read_list(r, "run", units::fraction, {0.0, 1.0});
    out.factor = read_list(r, "factor", units::number, {.least = 1.0});
    if (!rises(out.run) || out.factor.size() != out.run.size())
        r.complain("factor", Code::conflict, "one factor for each share of running, which rise");
}

}  // namespace

Result<VentilationRules> read_ventilation_rules(std::string_view name, std::string_view text) {
    const auto parsed = units::parse_toml(name, text);
    if (!parsed) return fail(parsed.error());
    VentilationRules out;
    Problems problems;
    TableReader file(*parsed, std::string(name), problems);
    const auto part = [&](std::string_view key, Origin& origin, auto read) {
        read_part(file, key, origin, problems, read);
    };
    part("irc", out.irc, [&](TableReader& r) {
        out.irc_area = read_one(r, "per_area", units::air_leakage, {.least = 0.0});
        out.irc_person = read_one(r, "per_person", units::flow, {.least = 0.0});
        out.irc_credit = read_one(r, "credit", units::fraction, {0.0, 1.0});
    });
    part("irc_table", out.irc_table, [&](TableReader& r) { read_table(r, out); });
    part("intermittent", out.intermittent, [&](TableReader& r) { read_intermittent(r, out); });
    part("total", out.total, [&](TableReader& r) {
        out.total_area = read_one(r, "per_area", units::air_leakage, {.least = 0.0});
        out.total_person = read_one(r, "per_person", units::flow, {.least = 0.0});
    });
    part("infiltration_credit", out.credit, [&](TableReader& r) {
        out.credit_factor = read_one(r, "factor", units::number, {0.0, 1.0});
        out.credit_height = read_one(r, "height", units::length, {0.1, 100.0});
        out.credit_exponent = read_one(r, "exponent", units::number, {0.0, 1.0});
        out.credit_most = read_one(r, "most", units::number, {0.0, 1.0});
    });
    part("weather_factor", out.weather_origin,
         [&](TableReader& r) { out.weather = read_one(r, "value", units::number, {0.0, 2.0}); });
    part("make_up", out.make_up,
         [&](TableReader& r) { out.make_up_over = read_one(r, "over", units::flow, {.least = 0.0}); });
    part("draught", out.draught, [&](TableReader& r) {
        out.natural_draught = read_one(r, "natural", units::pressure, {0.1, 100.0});
    });
    part("radon", out.radon,
         [&](TableReader& r) { out.radon_action = read_one(r, "action", units::number, {0.1, 100.0}); });
    file.finish();
    for (const auto& problem : problems)
        if (problem.severity == Severity::error) return fail(problem);
    return out;
}

const Result<VentilationRules>& ventilation_rules() {
    static const Result<VentilationRules> parsed =
        read_embedded("data/leakage/ventilation.toml", read_ventilation_rules);
    return parsed;
}

}  // namespace warmside::leakage
