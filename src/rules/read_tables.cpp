#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "base/embedded.h"
#include "base/nearest.h"
#include "rules/tables.h"
#include "units/reader.h"

namespace warmside::rules {

namespace {

struct UnitName {
    std::string_view text;
    const units::Dimension* dimension;
};
constexpr std::array unit_names{UnitName{"Btu/(h ft2 degF)", &units::transmittance},
                                UnitName{"h ft2 degF/Btu", &units::thermal_resistance},
                                UnitName{"Btu/(h ft degF)", &units::linear_transmittance},
                                UnitName{"ACH", &units::air_change},
                                UnitName{"cfm/ft2", &units::air_leakage},
                                UnitName{"perm", &units::permeance},
                                UnitName{"", &units::fraction}};

/// "6", "4C", "7-8" to columns; nothing when it names none.
std::vector<std::size_t> columns_named(std::string_view text) {
    const auto one = [](std::string_view word) -> std::optional<std::size_t> {
        if (word == "4C") return columns - 1;
        if (word.size() != 1 || word[0] < '0' || word[0] > '8') return std::nullopt;
        return static_cast<std::size_t>(word[0] - '0');
    };
    const auto dash = text.find('-');
    if (dash == std::string_view::npos) {
        const auto column = one(text);
        return column ? std::vector{*column} : std::vector<std::size_t>{};
    }
    const auto from = one(text.substr(0, dash)), to = one(text.substr(dash + 1));
    std::vector<std::size_t> out;
    if (from && to && *to < columns - 1) {
        for (std::size_t i = *from; i <= *to; ++i) out.push_back(i);
    }
    return out;
}

/// What a table says for all its rows, and a row may say anew.
struct Heading {
    std::string citation, source;
    std::vector<std::string> evidence, columns;  ///< evidence: one word, or one a column
};

class Reader {
public:
    Reader(std::string_view name, Tables& tables, Problems& problems)
        : name_(name), tables_(tables), problems_(problems) {}

    void read(const toml::table& root) {
        units::TableReader file(root, std::string(name_), problems_);
        const auto* code = file.table("code");
        if (!code) return file.missing("code");
        units::TableReader head(*code, "[code]", problems_);
        code_ = head.required(head.text("name"), "name").value_or("");
        tables_.edition =
            static_cast<int>(head.required(head.integer("edition", 2000, 2100), "edition").value_or(0));
        Heading top;
        top.columns = head.required(head.texts("columns"), "columns").value_or(top.columns);
        marine_ = head.text("marine");
        head.finish();
        const auto* list = file.array("table");
        if (!list) return file.missing("table");
        for (const toml::node& each : *list) {
            if (const auto* table = each.as_table()) read_table(*table, top);
        }
        file.finish();
    }

private:
    /// `evidence` is a word or a list of words.
    static std::vector<std::string> words_of(units::TableReader& from, std::string_view key) {
        const auto* node = from.node(key);
        if (!node) return {};
        if (const auto one = node->value<std::string>()) return {*one};
        return from.texts(key).value_or(std::vector<std::string>{});
    }

    static Heading heading(units::TableReader& from, const Heading& above) {
        Heading out = above;
        if (const auto text = from.text("citation")) out.citation = *text;
        if (const auto text = from.text("source")) out.source = *text;
        if (const auto list = from.texts("columns")) out.columns = *list;
        if (from.has("evidence")) out.evidence = words_of(from, "evidence");
        return out;
    }

    void read_table(const toml::table& node, const Heading& top) {
        units::TableReader from(node, "[[table]]", problems_);
        const auto id = from.required(from.text("id"), "id");
        Table table;
        const auto kind = from.word("kind", {"number", "layers", "words"}).value_or("number");
        table.kind = kind == "layers"  ? Table::Kind::layers
                     : kind == "words" ? Table::Kind::words
                                       : Table::Kind::number;
        table.unit = from.text("unit").value_or("");
        const auto unit = std::ranges::find(unit_names, std::string_view(table.unit), &UnitName::text);
        if (unit == unit_names.end()) {
            from.complain("unit", Code::wrong_unit, fmt::format("unit \"{}\" is not known here", table.unit));
            return;
        }
        table.dimension = unit->dimension;
        table.footnotes = from.texts("footnotes").value_or(std::vector<std::string>{});
        const Heading above = heading(from, top);
        const auto* rows = from.array("row");
        if (!rows) return from.missing("row");
        for (const toml::node& each : *rows) {
            if (const auto* row = each.as_table()) read_row(*row, above, table);
        }
        from.finish();
        if (id && !tables_.tables.emplace(*id, std::move(table)).second)
            from.complain("id", Code::duplicate, fmt::format("table \"{}\" stands there twice", *id));
    }

    void read_row(const toml::table& node, const Heading& above, Table& table) {
        units::TableReader from(node, "[[table.row]]", problems_);
        const auto name = from.required(from.text("name"), "name");
        const Heading head = heading(from, above);
        const auto note = from.text("note");
        const auto note_for = from.texts("note_for");
        const auto* values = from.array("values");
        if (!values) from.missing("values");
        from.finish();
        if (!name || !values) return;
        const bool even = values->size() == head.columns.size() &&
                          (head.evidence.size() == 1 || head.evidence.size() == values->size());
        if (!even) {
            return from.complain(
                "values", Code::incomplete,
                fmt::format("\"{}\" has {} values and {} evidence words for {} columns", *name,
                            values->size(), head.evidence.size(), head.columns.size()));
        }
        std::array<std::optional<Cell>, columns> row;
        for (std::size_t i = 0; i < values->size(); ++i) {
            auto cell = read_cell(*values->get(i), table);
            if (!cell) {
                problems_.push_back(cell.error());
                continue;
            }
            cell->citation = fmt::format("{} {} {}", code_, tables_.edition, head.citation);
            const auto& evidence = head.evidence.size() == 1 ? head.evidence[0] : head.evidence[i];
            cell->origin = {Origin::Kind::standard, units::place_of(node), head.source,
                            evidence_of(evidence)};
            if (cell->origin.evidence == Evidence::none)
                from.complain("evidence", Code::unknown_name,
                              fmt::format("evidence \"{}\" is not a word that we use", evidence));
            const auto where = columns_named(head.columns[i]);
            if (where.empty())
                from.complain("columns", Code::unknown_name,
                              fmt::format("\"{}\" names no zone", head.columns[i]));
            const bool noted = !note_for || std::ranges::find(*note_for, head.columns[i]) != note_for->end();
            cell->note = noted ? note.value_or("") : std::string();
            for (const std::size_t column : where) row[column] = *cell;
        }
        if (!row[columns - 1] && marine_) {
            const auto like = columns_named(*marine_);
            if (!like.empty()) row[columns - 1] = row[like.front()];
        }
        if (!table.rows.emplace(*name, std::move(row)).second)
            from.complain("name", Code::duplicate, fmt::format("row \"{}\" stands there twice", *name));
    }

    Result<Cell> read_cell(const toml::node& node, const Table& table) {
        const auto text = node.value<std::string>();
        const auto place = [&](Problem p) {
            p.where = units::place_of(node);
            return p;
        };
        if (text && *text == "NR") return read_layers(*text);
        if (table.kind == Table::Kind::words) {
            if (!text) return fail(Code::wrong_type, "a cell of words is a text", units::place_of(node));
            Cell cell;
            cell.words = *text;
            return cell;
        }
        const auto number = node.value<double>();
        if (table.kind == Table::Kind::layers) {
            if (!text && !number)
                return fail(Code::wrong_type, "a cell is a number or a text", units::place_of(node));
            return read_layers(text ? *text : fmt::format("{}", *number)).map_error(place);
        }
        if (text || !number || !std::isfinite(*number) || *number < 0.0)
            return fail(Code::wrong_type, "a cell is a number of at least 0, or \"NR\"",
                        units::place_of(node));
        Cell cell;
        const auto si = units::parse(fmt::format("{} {}", *number, table.unit), *table.dimension);
        if (!si) return fail(place(si.error()));
        cell.value = *si;
        return cell;
    }

    std::string_view name_;
    Tables& tables_;
    Problems& problems_;
    std::string code_;
    std::optional<std::string> marine_;
};

}  // namespace

const Cell* Tables::find(std::string_view table, std::string_view row, Zone zone) const {
    const auto found = tables.find(table);
    if (found == tables.end()) return nullptr;
    const auto at = found->second.rows.find(row);
    if (at == found->second.rows.end()) return nullptr;
    const auto& cell = at->second[column_of(zone)];
    return cell ? &*cell : nullptr;
}

const std::vector<std::string>& Tables::footnotes(std::string_view table) const {
    static const std::vector<std::string> none;
    const auto found = tables.find(table);
    return found == tables.end() ? none : found->second.footnotes;
}

void read_tables(std::string_view name, std::string_view text, Tables& tables, Problems& problems) {
    const auto root = units::parse_toml(name, text);
    if (!root) {
        problems.push_back(root.error());
        return;
    }
    Reader(name, tables, problems).read(*root);
}

Result<Tables> tables_of(int edition) {
    Tables out;
    Problems problems;
    for (const std::string_view code : {"iecc", "irc"}) {
        const std::string path = fmt::format("data/rules/{}_{}.toml", code, edition);
        const auto text = embedded::find(path);
        if (!text) {
            return fail(Problem{.code = Code::unsupported,
                                .what = fmt::format("there are no tables of edition {}", edition),
                                .found = fmt::format("{}", edition),
                                .expected = "2018, 2021 or 2024"});
        }
        read_tables(path, *text, out, problems);
    }
    if (!usable(problems)) return fail(problems.front());
    return out;
}

}  // namespace warmside::rules
