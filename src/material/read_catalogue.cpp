#include <algorithm>
#include <fmt/format.h>

#include "base/nearest.h"
#include "material/read.h"
#include "material/row.h"

namespace warmside::material {

namespace {

using units::Limits;
using units::TableReader;

constexpr Limits permeances{1e-20, 1e-7};

bool has_error(const Problems& problems, std::size_t from) {
    return std::any_of(problems.begin() + static_cast<std::ptrdiff_t>(from), problems.end(),
                       [](const Problem& p) { return p.severity == Severity::error; });
}

// Rows in the order of the text: one may be based on an earlier one, and toml++ sorts by name.
std::vector<std::pair<std::string, const toml::table*>> rows_of(const toml::table* group, TableReader& reader,
                                                                std::string_view kind) {
    std::vector<std::pair<std::string, const toml::table*>> rows;
    if (!group) return rows;
    for (const auto& [key, node] : *group) {
        if (const toml::table* table = node.as_table()) {
            rows.emplace_back(std::string(key.str()), table);
        } else {
            reader.complain(kind, Code::wrong_type,
                            fmt::format("[{}] holds \"{}\", which is not a table", kind, key.str()));
        }
    }
    std::sort(rows.begin(), rows.end(), [](const auto& a, const auto& b) {
        return a.second->source().begin.line < b.second->source().begin.line;
    });
    return rows;
}

bool taken(const std::string& name, bool known, const toml::table& table, Problems& problems) {
    if (known) {
        problems.push_back({.code = Code::duplicate,
                            .what = fmt::format("\"{}\" is in the catalogue twice", name),
                            .where = units::place_of(table)});
    }
    return known;
}

// One [[lumber]] table: members of one region and source, each [name, thickness, depth].
void read_lumber(const toml::table& table, Origin::Kind kind, Catalogue& catalogue, Problems& problems) {
    Row row(table, "[[lumber]]", kind, problems);
    const auto region = row.reader.required(row.reader.text("region"), "region");
    const toml::array* members = row.reader.array("members");
    if (!members && !row.reader.has("members")) row.reader.missing("members");
    row.reader.finish();
    if (!region || !members) return;
    constexpr Limits sizes{0.005, 1.0};
    for (const toml::node& item : *members) {
        const toml::array* three = item.as_array();
        const auto* name = three && three->size() == 3 ? (*three)[0].as_string() : nullptr;
        if (!name) {
            row.complain(item, Code::wrong_type,
                         "a member is not of the form [\"2x6\", \"1 1/2 in\", \"5 1/2 in\"]");
            continue;
        }
        const auto thickness = row.read((*three)[1], "thickness", units::length, sizes);
        const auto depth = row.read((*three)[2], "depth", units::length, sizes);
        if (!thickness || !depth || taken(name->get(), catalogue.member(name->get()), table, problems))
            continue;
        Origin origin = row.origin();
        origin.where = units::place_of(item);
        catalogue.lumber.push_back({.name = name->get(),
                                    .thickness = *thickness,
                                    .depth = *depth,
                                    .region = *region,
                                    .origin = std::move(origin)});
    }
}

}  // namespace

std::optional<Membrane> read_membrane(const std::string& name, const toml::table& table,
                                      const Catalogue& known, Origin::Kind kind, Problems& problems) {
    const std::size_t before = problems.size();
    Row row(table, fmt::format("[membrane.\"{}\"]", name), kind, problems);
    Membrane m;
    bool based = false;
    if (const auto base_name = row.reader.text("based_on")) {
        based = true;
        if (const Membrane* base = known.membrane(*base_name)) {
            m = *base;
        } else {
            row.reader.complain("based_on", Code::unknown_name,
                                fmt::format("based_on \"{}\" is not a membrane of the catalogue", *base_name),
                                nearest(*base_name, known.membrane_names()));
        }
    }
    m.name = name;
    m.aliases = row.reader.texts("aliases").value_or(std::vector<std::string>{});
    if (auto note = row.reader.text("note")) m.note = std::move(*note);
    if (const auto found = row.value("permeance"); found.node) {
        if (found.node->is_array()) {
            if (auto curve = row.pairs("permeance", *found.node, units::permeance, {0.0, 1.0}, permeances)) {
                m.permeance = std::move(*curve);
            }
        } else if (const auto v = row.read(*found.node, "permeance", units::permeance, permeances)) {
            m.permeance = {{0.5}, {*v}};
        }
    } else if (!based && !row.reader.has("permeance")) {
        row.reader.missing("permeance");
    }
    if (const auto flag = row.reader.flag("variable")) m.variable = *flag;
    if (const auto flag = row.reader.flag("airtight")) m.airtight_capable = *flag;
    if (const auto flag = row.reader.flag("drains_water")) m.drains_water = *flag;
    row.reader.finish();
    if (has_error(problems, before)) return std::nullopt;
    m.retarder_class = retarder_class(m);
    m.origin = row.origin();
    for (const auto& [key, origin] : row.value_origin()) {
        if (key == "permeance") m.origin = origin;
    }
    return m;
}

void read_catalogue(std::string_view name, std::string_view text, Origin::Kind kind, Catalogue& catalogue,
                    Problems& problems) {
    const auto parsed = units::parse_toml(name, text);
    if (!parsed) {
        problems.push_back(parsed.error());
        return;
    }
    TableReader reader(*parsed, std::string(name), problems);
    for (const auto& [row, table] : rows_of(reader.table("material"), reader, "material")) {
        if (taken(row, catalogue.material(row), *table, problems)) continue;
        if (auto m = read_material(row, *table, catalogue, kind, problems))
            catalogue.materials.push_back(std::move(*m));
    }
    for (const auto& [row, table] : rows_of(reader.table("membrane"), reader, "membrane")) {
        if (taken(row, catalogue.membrane(row), *table, problems)) continue;
        if (auto m = read_membrane(row, *table, catalogue, kind, problems))
            catalogue.membranes.push_back(std::move(*m));
    }
    if (const toml::array* groups = reader.array("lumber")) {
        for (const toml::node& group : *groups) {
            if (const toml::table* table = group.as_table()) read_lumber(*table, kind, catalogue, problems);
        }
    }
    reader.finish();
}

}  // namespace warmside::material
