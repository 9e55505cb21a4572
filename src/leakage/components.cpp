#include "leakage/components.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/embedded.h"
#include "units/reader.h"

namespace warmside::leakage {

namespace {

using units::TableReader;

Component read_row(TableReader& r, const Origin& origin) {
    Component out{.origin = origin};
    out.part = r.required(r.text("part"), "part").value_or("");
    const auto per = r.required(r.word("per", {"each", "m", "m2"}), "per").value_or("each");
    out.per = per == "m2" ? Per::square_metre : per == "m" ? Per::metre : Per::each;
    out.of = r.word("of", {"joint", "crack", "sash"}).value_or("");
    if ((out.per == Per::metre) == out.of.empty())
        r.complain("per", Code::conflict, "a row per m says of what, and no other row does");
    const auto area = [&](std::string_view key) { return r.quantity(key, units::area, {.least = 0.0}); };
    const auto typical = r.required(area("typical"), "typical");
    const auto best = area("best"), poor = area("poor");
    if (best.has_value() != poor.has_value())
        r.complain("typical", Code::incomplete, "best and poor come together");
    out.one_value = !best;
    out.area.typical = typical.value_or(0.0);
    out.area.best = best.value_or(out.area.typical);
    out.area.poor = poor.value_or(out.area.typical);
    if (out.area.best > out.area.typical || out.area.typical > out.area.poor)
        r.complain("typical", Code::conflict, "best, typical and poor rise in this order");
    out.origin.where = r.place();
    r.finish();
    return out;
}

}  // namespace

const char* name_of(Per per) {
    switch (per) {
        case Per::metre: return "m";
        case Per::square_metre: return "m2";
        case Per::each: break;
    }
    return "each";
}

const Component* ComponentTable::find(std::string_view part) const {
    const auto at = std::find_if(rows.begin(), rows.end(), [&](const auto& row) { return row.part == part; });
    return at == rows.end() ? nullptr : &*at;
}

Result<ComponentTable> read_components(std::string_view name, std::string_view text) {
    const auto parsed = units::parse_toml(name, text);
    if (!parsed) return fail(parsed.error());
    ComponentTable out;
    Problems problems;
    TableReader file(*parsed, std::string(name), problems);
    out.origin = {.kind = Origin::Kind::catalogue, .where = file.place()};
    out.origin.source = file.required(file.text("source"), "source").value_or("");
    out.origin.evidence = evidence_of(
        file.required(file.word("evidence", {"seen", "quoted", "memory", "computed", "practice", "none"}),
                      "evidence")
            .value_or(""));
    out.pressure =
        file.required(file.quantity("pressure", units::pressure, {1.0, 100.0}), "pressure").value_or(4.0);
    out.exponent =
        file.required(file.quantity("exponent", units::number, {0.5, 1.0}), "exponent").value_or(0.65);
    out.density =
        file.required(file.quantity("density", units::density, {0.5, 2.0}), "density").value_or(1.2);
    const toml::array* rows = file.array("component");
    if (!rows && !file.has("component")) file.missing("component");
    for (std::size_t i = 0; rows && i < rows->size(); ++i) {
        const toml::table* table = (*rows)[i].as_table();
        if (!table) {
            file.complain("component", Code::wrong_type, fmt::format("row {} is not a table", i + 1));
            continue;
        }
        TableReader r(*table, fmt::format("component {}", i + 1), problems);
        auto row = read_row(r, out.origin);
        if (out.find(row.part))
            r.complain("part", Code::duplicate, "\"" + row.part + "\" stands there twice");
        out.rows.push_back(std::move(row));
    }
    file.finish();
    for (const auto& problem : problems)
        if (problem.severity == Severity::error) return fail(problem);
    return out;
}

const Result<ComponentTable>& components() {
    static const Result<ComponentTable> parsed = [] {
        constexpr std::string_view path = "data/leakage/components.toml";
        const auto text = embedded::find(path);
        if (!text) return Result<ComponentTable>(fail(Code::missing, std::string(path) + " is not embedded"));
        return read_components(path, *text);
    }();
    return parsed;
}

double flow_of_area(double area, double pressure_difference, double exponent, double density,
                    double pressure) {
    return area * std::sqrt(2.0 * pressure / density) * std::pow(pressure_difference / pressure, exponent);
}

double area_of_flow(double flow, double pressure_difference, double exponent, double density,
                    double pressure) {
    return flow / flow_of_area(1.0, pressure_difference, exponent, density, pressure);
}

}  // namespace warmside::leakage
