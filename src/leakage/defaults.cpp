#include "leakage/defaults.h"

#include <algorithm>

#include "leakage/read_part.h"

namespace warmside::leakage {

using units::TableReader;

Result<Defaults> read_defaults(std::string_view name, std::string_view text) {
    const auto parsed = units::parse_toml(name, text);
    if (!parsed) return fail(parsed.error());
    Defaults out;
    Problems problems;
    TableReader file(*parsed, std::string(name), problems);
    read_part(file, "assembly", out.assembly, problems, [&](TableReader& r) {
        out.permeance = read_list(r, "permeance", units::permeance);
        out.at_75_pa = read_list(r, "at_75_pa", units::air_leakage);
        if (out.at_75_pa.size() != out.permeance.size() + 1 ||
            !std::is_sorted(out.permeance.begin(), out.permeance.end()))
            r.complain("at_75_pa", Code::conflict, "one leakage more than limits of permeance, which rise");
        out.exponent = read_one(r, "exponent", units::number, {0.5, 1.0});
    });
    read_part(file, "blower_door", out.blower_door, problems, [&](TableReader& r) {
        out.through_assemblies = read_one(r, "through_assemblies", units::fraction, {0.0, 1.0});
    });
    read_part(file, "concentrated", out.concentrated, problems, [&](TableReader& r) {
        out.storey = read_one(r, "storey", units::length, {1.0, 10.0});
        out.gathers = read_one(r, "gathers", units::fraction, {0.0, 1.0});
        out.strip = read_one(r, "strip", units::length, {0.05, 5.0});
    });
    read_part(file, "default_house", out.house, problems, [&](TableReader& r) {
        out.side = read_one(r, "side", units::length, {3.0, 50.0});
        out.height = read_one(r, "height", units::length, {2.0, 5.0});
        out.floor_to_floor = read_one(r, "floor_to_floor", units::length, {2.0, 6.0});
    });
    file.finish();
    for (const auto& problem : problems)
        if (problem.severity == Severity::error) return fail(problem);
    return out;
}

const Result<Defaults>& defaults() {
    static const Result<Defaults> parsed = read_embedded("data/leakage/defaults.toml", read_defaults);
    return parsed;
}

}  // namespace warmside::leakage
