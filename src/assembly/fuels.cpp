#include "assembly/fuels.h"

#include <algorithm>
#include <fmt/format.h>

#include "base/embedded.h"
#include "units/reader.h"

namespace warmside::assembly {

namespace {

using units::TableReader;

Origin origin_of(TableReader& r, std::string_view key, std::string_view source, std::string_view evidence) {
    const auto word =
        r.required(r.word(evidence, {"seen", "quoted", "memory", "computed", "practice"}), evidence);
    return {Origin::Kind::catalogue, r.place(key), r.required(r.text(source), source).value_or(""),
            evidence_of(word.value_or(""))};
}

// J per m3 or kg: the energy of `heat` over the amount of `per`.
std::optional<Sourced<double>> read_heat(TableReader& r, std::string_view heat, std::string_view per,
                                         const units::Dimension& amount, std::string_view source,
                                         std::string_view evidence) {
    if (!r.has(heat)) return std::nullopt;
    const auto joules = r.quantity(heat, units::energy, {.least = 1.0});
    const auto size = r.required(r.quantity(per, amount, {.least = 1e-6}), per);
    Sourced<double> out{0.0, origin_of(r, heat, source, evidence)};
    if (!joules || !size) return std::nullopt;
    out.value = *joules / *size;
    return out;
}

FuelRow read_row(TableReader& r) {
    FuelRow row;
    row.sold_by = r.required(r.texts("sold_by"), "sold_by").value_or(std::vector<std::string>{});
    row.per_volume = read_heat(r, "heat", "heat_per", units::volume, "heat_source", "heat_evidence");
    row.per_mass = read_heat(r, "heat_of_mass", "mass", units::mass, "mass_source", "mass_evidence");
    row.carbon.value =
        r.required(r.quantity("carbon", units::emission, {.least = 0.0}), "carbon").value_or(0.0);
    row.carbon.origin = origin_of(r, "carbon", "carbon_source", "carbon_evidence");
    for (const std::string& unit : row.sold_by) {
        const auto amount = units::parse_amount("1 " + unit);
        const bool known = amount && ((amount->per == units::Per::cubic_metre && row.per_volume) ||
                                      (amount->per == units::Per::kilogram && row.per_mass));
        if (!known)
            r.complain("sold_by", Code::conflict, fmt::format("no heat content of what is sold by {}", unit));
    }
    return row;
}

}  // namespace

Result<FuelTable> read_fuels(std::string_view name, std::string_view text) {
    const auto parsed = units::parse_toml(name, text);
    if (!parsed) return fail(parsed.error());
    FuelTable out;
    Problems problems;
    TableReader file(*parsed, std::string(name), problems);
    std::array<int, fuel_count> seen{};
    if (const auto* rows = file.array("fuel")) {
        for (const auto& item : *rows) {
            const auto* table = item.as_table();
            if (!table) return fail(Code::wrong_type, "fuel is not a list of tables", units::place_of(item));
            TableReader r(*table, "[[fuel]]", problems);
            const auto word = r.required(
                r.word("name", {"electricity", "natural gas", "propane", "heating oil", "wood"}), "name");
            FuelRow row = read_row(r);
            r.finish();
            for (std::size_t i = 0; word && i < fuel_count; ++i) {
                if (*word != name_of(static_cast<Fuel>(i))) continue;
                row.fuel = static_cast<Fuel>(i);
                out[i] = std::move(row);
                ++seen[i];
                break;
            }
        }
    }
    file.finish();
    for (std::size_t i = 0; i < fuel_count; ++i) {
        if (seen[i] == 1) continue;
        file.complain("", Code::incomplete,
                      fmt::format("{} rows of {}, not one", seen[i], name_of(static_cast<Fuel>(i))));
    }
    for (const auto& problem : problems)
        if (problem.severity == Severity::error) return fail(problem);
    return out;
}

const Result<FuelTable>& fuels() {
    static const Result<FuelTable> parsed = [] {
        constexpr std::string_view path = "data/house/energy.toml";
        const auto text = embedded::find(path);
        if (!text) return Result<FuelTable>(fail(Code::missing, "data/house/energy.toml is not embedded"));
        return read_fuels(path, *text);
    }();
    return parsed;
}

Result<double> energy_of(const units::Amount& amount, const FuelRow& row) {
    if (amount.per == units::Per::joule) return amount.value;
    const auto& by = row.sold_by;
    if (std::find(by.begin(), by.end(), amount.unit) != by.end()) {
        if (amount.per == units::Per::cubic_metre && row.per_volume)
            return amount.value * row.per_volume->value;
        if (amount.per == units::Per::kilogram && row.per_mass) return amount.value * row.per_mass->value;
    }
    // Of several spellings of one unit the first is enough.
    std::string sold = "kWh, therm";
    std::vector<double> sizes;
    for (const std::string& unit : by) {
        const double size =
            units::parse_amount("1 " + unit).map([](const auto& a) { return a.value; }).value_or(0.0);
        if (std::find(sizes.begin(), sizes.end(), size) != sizes.end()) continue;
        sizes.push_back(size);
        sold += ", " + unit;
    }
    Problem problem;
    problem.code = Code::wrong_unit;
    problem.what = fmt::format("by the {}; {} is sold by {}", amount.unit, name_of(row.fuel), sold);
    problem.found = amount.unit;
    return fail(std::move(problem));
}

}  // namespace warmside::assembly
