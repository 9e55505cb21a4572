#include "leakage/defaults.h"

#include <algorithm>

#include "base/embedded.h"
#include "units/reader.h"

namespace warmside::leakage {

namespace {

using units::TableReader;

template <class Read>
void part(TableReader& file, std::string_view key, Origin& origin, Problems& problems, Read read) {
    const toml::table* table = file.table(key);
    if (!table) {
        if (!file.has(key)) file.missing(key);
        return;
    }
    TableReader r(*table, "[" + std::string(key) + "]", problems);
    read(r);
    origin.kind = Origin::Kind::assumed;
    origin.where = r.place();
    origin.source = r.required(r.text("source"), "source").value_or("");
    const auto word = r.required(
        r.word("evidence", {"seen", "quoted", "memory", "computed", "practice", "none"}), "evidence");
    origin.evidence = evidence_of(word.value_or(""));
    (void)r.required(r.text("why"), "why");
    r.finish();
}

double one(TableReader& r, std::string_view key, const units::Dimension& dimension, units::Limits limits) {
    return r.required(r.quantity(key, dimension, limits), key).value_or(0.0);
}

std::vector<double> list(TableReader& r, std::string_view key, const units::Dimension& dimension) {
    return r.required(r.quantities(key, dimension, {.least = 0.0}), key).value_or(std::vector<double>{});
}

}  // namespace

Result<Defaults> read_defaults(std::string_view name, std::string_view text) {
    const auto parsed = units::parse_toml(name, text);
    if (!parsed) return fail(parsed.error());
    Defaults out;
    Problems problems;
    TableReader file(*parsed, std::string(name), problems);
    part(file, "assembly", out.assembly, problems, [&](TableReader& r) {
        out.permeance = list(r, "permeance", units::permeance);
        out.at_75_pa = list(r, "at_75_pa", units::air_leakage);
        if (out.at_75_pa.size() != out.permeance.size() + 1 ||
            !std::is_sorted(out.permeance.begin(), out.permeance.end()))
            r.complain("at_75_pa", Code::conflict, "one leakage more than limits of permeance, which rise");
        out.exponent = one(r, "exponent", units::number, {0.5, 1.0});
    });
    part(file, "blower_door", out.blower_door, problems, [&](TableReader& r) {
        out.through_assemblies = one(r, "through_assemblies", units::fraction, {0.0, 1.0});
    });
    part(file, "concentrated", out.concentrated, problems, [&](TableReader& r) {
        out.storey = one(r, "storey", units::length, {1.0, 10.0});
        out.gathers = one(r, "gathers", units::fraction, {0.0, 1.0});
        out.strip = one(r, "strip", units::length, {0.05, 5.0});
    });
    part(file, "default_house", out.house, problems, [&](TableReader& r) {
        out.side = one(r, "side", units::length, {3.0, 50.0});
        out.height = one(r, "height", units::length, {2.0, 5.0});
        out.floor_to_floor = one(r, "floor_to_floor", units::length, {2.0, 6.0});
    });
    file.finish();
    for (const auto& problem : problems)
        if (problem.severity == Severity::error) return fail(problem);
    return out;
}

const Result<Defaults>& defaults() {
    static const Result<Defaults> parsed = [] {
        constexpr std::string_view path = "data/leakage/defaults.toml";
        const auto text = embedded::find(path);
        if (!text) return Result<Defaults>(fail(Code::missing, "data/leakage/defaults.toml is not embedded"));
        return read_defaults(path, *text);
    }();
    return parsed;
}

}  // namespace warmside::leakage
