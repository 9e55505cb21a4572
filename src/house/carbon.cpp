#include "house/carbon.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "assembly/duty.h"
#include "base/embedded.h"
#include "units/reader.h"

namespace warmside::house {

namespace {

using assembly::Layer;
using units::TableReader;

constexpr std::string_view path = "data/house/carbon.toml";
constexpr double carbon_to_dioxide = 44.0 / 12.0;  // molar masses, rounded as the sources do

Origin read_origin(TableReader& r) {
    const auto word =
        r.required(r.word("evidence", {"seen", "quoted", "memory", "computed", "practice"}), "evidence");
    return {Origin::Kind::catalogue, r.place(), r.required(r.text("source"), "source").value_or(""),
            evidence_of(word.value_or(""))};
}

CarbonFactor read_factor(TableReader& r) {
    CarbonFactor out;
    out.name = r.required(r.text("name"), "name").value_or("");
    out.materials = r.required(r.texts("materials"), "materials").value_or(std::vector<std::string>{});
    out.per_volume = r.quantity("per_volume", units::density, {.least = 0.0});
    out.per_mass = r.quantity("per_mass", units::number, {.least = 0.0});
    if (r.has("per_volume") == r.has("per_mass"))
        r.complain("", Code::conflict, fmt::format("{}: one of per_volume and per_mass", r.title()));
    out.biogenic = r.quantity("biogenic", units::fraction, {0.0, 1.0}).value_or(0.0);
    out.origin = read_origin(r);
    for (const std::string& name : out.materials)
        if (!material::built_in().material(name))
            r.complain("materials", Code::unknown_name, fmt::format("the catalogue has no {}", name));
    return out;
}

SheetFactor read_sheet(TableReader& r, Problems& problems) {
    SheetFactor out;
    out.name = r.required(r.text("name"), "name").value_or("");
    out.per_mass =
        r.required(r.quantity("per_mass", units::number, {.least = 0.0}), "per_mass").value_or(0.0);
    const double density =
        r.required(r.quantity("density", units::density, {.least = 1.0}), "density").value_or(0.0);
    out.origin = read_origin(r);
    const toml::table* membranes = r.table("membranes");
    if (!membranes) {
        r.missing("membranes");
        return out;
    }
    TableReader each(*membranes, r.title() + " membranes", problems);
    for (const auto& [key, node] : *membranes) {
        out.mass[std::string(key.str())] = density * each.quantity(key.str(), units::length).value_or(0.0);
        if (!material::built_in().membrane(key.str()))
            each.complain(key.str(), Code::unknown_name, fmt::format("the catalogue has no {}", key.str()));
    }
    return out;
}

template <class Read>
void each_row(TableReader& file, std::string_view key, Problems& problems, Read read) {
    const toml::array* rows = file.array(key);
    if (!rows) file.missing(key);
    for (std::size_t i = 0; rows && i < rows->size(); ++i) {
        const toml::table* table = (*rows)[i].as_table();
        if (!table) continue;
        TableReader r(*table, fmt::format("{} {}", key, i + 1), problems);
        read(r);
        r.finish();
    }
}

int weakness(Evidence evidence) {
    switch (evidence) {
        case Evidence::seen: return 0;
        case Evidence::quoted: return 1;
        case Evidence::computed: return 2;
        case Evidence::memory: return 3;
        case Evidence::practice: return 4;
        case Evidence::none: return 5;
    }
    return 5;
}

const CarbonFactor* factor_of(const CarbonTable& table, const std::string& material) {
    for (const CarbonFactor& factor : table.factors)
        if (std::find(factor.materials.begin(), factor.materials.end(), material) != factor.materials.end())
            return &factor;
    return nullptr;
}

// One sum under work.
struct Count {
    const CarbonTable& table;
    const std::map<std::string, double, std::less<>>& entered;
    Embodied out{};
    std::optional<Evidence> weakest{};

    void rests_on(Evidence evidence) {
        if (!weakest || weakness(evidence) > weakness(*weakest)) weakest = evidence;
    }
    void miss(const std::string& name) {
        if (std::find(out.missing.begin(), out.missing.end(), name) == out.missing.end())
            out.missing.push_back(name);
    }
    void add(const material::Material& material, double volume) {
        const CarbonFactor* factor = factor_of(table, material.name);
        const double mass = volume * material.density;
        if (factor) out.stored += mass * factor->biogenic * carbon_to_dioxide;
        if (const auto own = entered.find(material.name); own != entered.end()) {
            out.carbon += mass * own->second;
            rests_on(Evidence::none);
        } else if (factor) {
            out.carbon +=
                factor->per_volume ? volume * *factor->per_volume : mass * factor->per_mass.value_or(0.0);
            rests_on(factor->origin.evidence);
        } else {
            miss(material.name);
        }
    }
    void add(const material::Membrane& membrane, double area) {
        for (const SheetFactor& sheet : table.sheets) {
            const auto mass = sheet.mass.find(membrane.name);
            if (mass == sheet.mass.end()) continue;
            out.carbon += area * mass->second * sheet.per_mass;
            rests_on(sheet.origin.evidence);
            return;
        }
        miss(membrane.name);
    }
};

void put(std::vector<Amount>& out, const material::Material* material, double volume) {
    if (!material || volume <= 0.0) return;
    for (Amount& each : out)
        if (each.material == material) {
            each.volume += volume;
            return;
        }
    out.push_back({.material = material, .volume = volume});
}

void put_layer(std::vector<Amount>& out, const Layer& layer, double area, double members) {
    if (layer.finish) out.push_back({.membrane = layer.finish, .area = area});
    if (layer.kind == Layer::Kind::membrane) {
        if (layer.membrane) out.push_back({.membrane = layer.membrane, .area = area});
        return;
    }
    for (const auto& slice : assembly::slices(layer)) {
        // Plates and headers stand where members do, and are of the members' material.
        const double extra = slice.member ? std::min(members, 1.0 - slice.share) : 0.0;
        put(out, slice.member, area * slice.thickness * (slice.share + extra));
        put(out, layer.material, area * slice.thickness * (1.0 - slice.share - extra));
    }
}

}  // namespace

Result<CarbonTable> read_carbon(std::string_view name, std::string_view text) {
    const auto parsed = units::parse_toml(name, text);
    if (!parsed) return fail(parsed.error());
    CarbonTable out;
    Problems problems;
    TableReader file(*parsed, std::string(name), problems);
    each_row(file, "factor", problems, [&](TableReader& r) {
        CarbonFactor row = read_factor(r);
        for (const std::string& material : row.materials)
            if (factor_of(out, material))
                r.complain("materials", Code::duplicate, fmt::format("{} has a factor already", material));
        out.factors.push_back(std::move(row));
    });
    each_row(file, "sheet", problems, [&](TableReader& r) { out.sheets.push_back(read_sheet(r, problems)); });
    file.finish();
    for (const auto& problem : problems)
        if (problem.severity == Severity::error) return fail(problem);
    return out;
}

const Result<CarbonTable>& carbon_table() {
    static const Result<CarbonTable> parsed = [] {
        const auto text = embedded::find(path);
        if (!text) return Result<CarbonTable>(fail(Code::missing, fmt::format("{} is not embedded", path)));
        return read_carbon(path, *text);
    }();
    return parsed;
}

Result<std::vector<Amount>> amounts_of(const assembly::Assembly& assembly, double area, double members) {
    if (!(area >= 0.0 && std::isfinite(area) && members >= 0.0 && members <= 1.0))
        return fail(Code::out_of_range, fmt::format("{}: {:g} m2 with a share of {:g} of further members",
                                                    assembly.name, area, members));
    std::vector<Amount> out;
    const auto bearing = assembly::bearing_layer(assembly);
    for (std::size_t i = 0; i < assembly.layers.size(); ++i)
        put_layer(out, assembly.layers[i], area, bearing && *bearing == i ? members : 0.0);
    return out;
}

Result<Embodied> embodied(std::span<const Amount> amounts,
                          const std::map<std::string, double, std::less<>>& entered) {
    const auto& table = carbon_table();
    if (!table) return fail(table.error());
    for (const auto& [name, factor] : entered)
        if (!std::isfinite(factor))
            return fail(Code::out_of_range, fmt::format("the carbon entered for {} is not a number", name));
    Count count{*table, entered};
    for (const Amount& amount : amounts) {
        if (amount.material) count.add(*amount.material, amount.volume);
        if (amount.membrane) count.add(*amount.membrane, amount.area);
    }
    // A choice of the user is no evidence of ours.
    if (count.weakest)
        count.out.evidence =
            *count.weakest == Evidence::none ? "entered by the user" : name_of(*count.weakest);
    return std::move(count.out);
}

}  // namespace warmside::house
