#include "framing/fractions.h"

#include <cassert>
#include <fmt/format.h>
#include <iterator>

#include "base/embedded.h"
#include "units/reader.h"

namespace warmside::framing {

namespace {

constexpr std::string_view file = "data/framing/fractions.toml";
// Lengths come through decimal text: 1 um is far below any real difference in spacing.
constexpr double slack = 1e-6;

std::optional<FractionRow> read_row(units::TableReader reader, std::string_view file_name) {
    const auto from =
        reader.required(reader.quantity("spacing_from", units::length, {0.1, 2.0}), "spacing_from");
    const auto to = reader.required(reader.quantity("spacing_to", units::length, {0.1, 2.0}), "spacing_to");
    const auto members = reader.required(reader.quantity("members", units::fraction, {0.0, 1.0}), "members");
    const auto headers = reader.required(reader.quantity("headers", units::fraction, {0.0, 1.0}), "headers");
    const auto source = reader.required(reader.text("source"), "source");
    const auto evidence = reader.required(reader.text("evidence"), "evidence");
    reader.finish();
    if (!from || !to || !members || !headers || !source || !evidence) return std::nullopt;
    Place where = reader.place();
    where.file = std::string(file_name);
    return FractionRow{*from, *to, *members, *headers,
                       Origin{Origin::Kind::standard, where, *source, evidence_of(*evidence)}};
}

}  // namespace

Result<std::vector<FractionRow>> read_fractions(std::string_view file_name, std::string_view text) {
    const auto table = units::parse_toml(file_name, text);
    if (!table) return fail(table.error());
    Problems problems;
    units::TableReader reader(*table, std::string(file_name), problems);
    std::vector<FractionRow> rows;
    if (const toml::array* array = reader.array("fraction")) {
        for (const toml::node& node : *array) {
            const toml::table* row = node.as_table();
            if (!row) return fail(Code::wrong_type, "a fraction is a table", units::place_of(node));
            if (auto read = read_row({*row, "[[fraction]]", problems}, file_name)) rows.push_back(*read);
        }
    }
    reader.finish();
    if (!problems.empty()) return fail(problems.front());
    if (rows.empty()) return fail(Code::missing, fmt::format("{} holds no [[fraction]]", file_name));
    double last = 0.0;
    for (const FractionRow& row : rows) {
        if (row.spacing_from <= last || row.spacing_to < row.spacing_from) {
            return fail(Code::conflict, "fractions must stand in order of spacing", row.origin.where);
        }
        last = row.spacing_to;
    }
    return rows;
}

std::optional<Fraction> published_fraction(double spacing) {
    static const std::vector<FractionRow> rows = [] {
        const auto text = embedded::find(file);
        assert(text && "fractions.toml is embedded");
        auto read = read_fractions(file, *text);
        assert(read && "fractions.toml reads; framing_test checks it");
        return std::move(*read);
    }();
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const FractionRow& row = rows[i];
        if (spacing < row.spacing_from - slack) {
            if (i == 0) return std::nullopt;
            const FractionRow& before = rows[i - 1];
            const double t = (spacing - before.spacing_to) / (row.spacing_from - before.spacing_to);
            const double members = before.members + t * (row.members - before.members);
            const double headers = before.headers + t * (row.headers - before.headers);
            return Fraction{members + headers, headers, true, row.origin};
        }
        if (spacing <= row.spacing_to + slack)
            return Fraction{row.members + row.headers, row.headers, false, row.origin};
    }
    return std::nullopt;
}

}  // namespace warmside::framing
