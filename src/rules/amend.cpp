// A user's local amendments laid over the printed tables.
#include <fmt/format.h>

#include <cmath>

#include "base/nearest.h"
#include "rules/tables.h"
#include "units/reader.h"

namespace warmside::rules {

namespace {

template <class Map>
std::vector<std::string> keys_of(const Map& map) {
    std::vector<std::string> out;
    for (const auto& [key, value] : map) out.push_back(key);
    return out;
}

std::string joined(const std::vector<std::string>& words) {
    return fmt::format("{}", fmt::join(words, ", "));
}

class Amendment {
public:
    Amendment(Tables& tables, Problems& problems) : tables_(tables), problems_(problems) {}

    void read(const toml::table& root, std::string_view file_name) {
        units::TableReader file(root, std::string(file_name), problems_);
        const auto* head = file.table("amendment");
        if (head)
            read_head(*head);
        else
            file.missing("amendment");
        const auto* rows = file.array("row");
        if (!rows || rows->empty()) file.missing("row");
        for (std::size_t i = 0; rows && i < rows->size(); ++i) {
            const auto* row = rows->get(i)->as_table();
            if (row)
                read_row(*row, fmt::format("row {}", i + 1));
            else
                file.complain("row", Code::wrong_type, "each row is a table, [[row]]");
        }
        file.finish();
    }
    [[nodiscard]] const std::string& title() const { return title_; }

private:
    void read_head(const toml::table& node) {
        units::TableReader from(node, "[amendment]", problems_);
        title_ = from.required(from.text("name"), "name").value_or("");
        source_ = from.text("source").value_or(title_);
        const auto edition = from.required(from.integer("edition", 2000, 2100), "edition");
        if (edition && *edition != tables_.edition) {
            from.complain(
                "edition", Code::conflict,
                fmt::format("amends edition {}, but the findings are for {}", *edition, tables_.edition),
                "set the same edition in [code] of the house file");
        }
        from.finish();
    }

    void read_row(const toml::table& node, const std::string& title) {
        units::TableReader from(node, title, problems_);
        const auto table_name = from.required(from.text("table"), "table");
        const auto row_name = from.required(from.text("row"), "row");
        const auto zones = from.required(from.texts("zones"), "zones");
        const auto note = from.text("note"), source = from.text("source");
        const auto* value = from.node("value");
        if (!value) from.missing("value");
        from.finish();
        if (!table_name || !row_name || !zones || !value) return;
        const auto table = tables_.tables.find(*table_name);
        if (table == tables_.tables.end()) {
            const auto known = keys_of(tables_.tables);
            return unknown(from, "table", *table_name, known);
        }
        const auto row = table->second.rows.find(*row_name);
        if (row == table->second.rows.end())
            return unknown(from, "row", *row_name, keys_of(table->second.rows));
        auto cell = read_value(*value, table->second);
        if (!cell) {
            Problem p = cell.error();
            p.where = units::place_of(*value);
            problems_.push_back(std::move(p));
            return;
        }
        cell->note = note.value_or("");
        cell->origin = {Origin::Kind::house_file, from.place(), source.value_or(source_), Evidence::none};
        lay(from, *zones, *cell, row->second);
    }

    void unknown(units::TableReader& from, std::string_view key, const std::string& found,
                 const std::vector<std::string>& known) {
        from.complain(key, Code::unknown_name,
                      fmt::format("the edition of {} has no {} \"{}\" ({})", tables_.edition, key, found,
                                  joined(known)),
                      nearest(found, known));
    }

    Result<Cell> read_value(const toml::node& node, const Table& table) const {
        const auto text = node.value<std::string>();
        if (text && *text == "NR") return read_layers(*text);
        Cell cell;
        if (table.kind == Table::Kind::words) {
            if (!text) return fail(Code::wrong_type, "value is a text in quotes here");
            cell.words = *text;
            return cell;
        }
        if (table.kind == Table::Kind::layers) {
            if (!text) return fail(Code::wrong_type, "value is a text here, such as \"30 or 20&5ci\"");
            return read_layers(*text);
        }
        const auto si = units::read_quantity(node, "value", *table.dimension, {.least = 0.0});
        if (!si) return fail(si.error());
        cell.value = *si;
        return cell;
    }

    void lay(units::TableReader& from, const std::vector<std::string>& zones, Cell cell,
             std::array<std::optional<Cell>, columns>& row) {
        std::string base;
        for (const auto& printed : row) {
            if (printed) base = printed->citation;
        }
        cell.citation = fmt::format("{}, amending {}", title_, base);
        for (const std::string& name : zones) {
            if (name == "all") {
                row.fill(cell);
                continue;
            }
            // "4" is every zone 4 but Marine.
            const auto zone = read_zone(name == "4" ? "4A" : name);
            if (!zone)
                from.complain("zones", Code::unknown_name, zone.error().what + "; \"all\" is every zone");
            else
                row[column_of(*zone)] = cell;
        }
    }

    Tables& tables_;
    Problems& problems_;
    std::string title_, source_;
};

}  // namespace

void amend(std::string_view name, std::string_view text, Tables& tables, Problems& problems) {
    const auto root = units::parse_toml(name, text);
    if (!root) {
        problems.push_back(root.error());
        return;
    }
    Problems found;
    Tables changed = tables;
    Amendment amendment(changed, found);
    amendment.read(*root, name);
    if (usable(found)) {
        changed.amendments.push_back(amendment.title());
        tables = std::move(changed);
    }
    problems.insert(problems.end(), found.begin(), found.end());
}

}  // namespace warmside::rules
