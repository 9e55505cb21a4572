#include <fmt/format.h>

#include "base/embedded.h"
#include "house/systems.h"
#include "units/reader.h"

namespace warmside::house {

namespace {

using assembly::PerformancePoint;
using units::TableReader;

Origin read_origin(TableReader& r) {
    const auto word = r.required(
        r.word("evidence", {"seen", "quoted", "memory", "computed", "practice", "none"}), "evidence");
    return {Origin::Kind::assumed, r.place(), r.required(r.text("source"), "source").value_or(""),
            evidence_of(word.value_or(""))};
}

Sourced<double> read_share(TableReader& file, std::string_view key, Problems& problems) {
    const toml::table* table = file.table(key);
    if (!table) {
        if (!file.has(key)) file.missing(key);
        return {};
    }
    TableReader r(*table, fmt::format("[{}]", key), problems);
    Sourced<double> out;
    out.value =
        r.required(r.quantity("electricity", units::fraction, {0.0, 1.0}), "electricity").value_or(0.0);
    out.origin = read_origin(r);
    r.finish();
    return out;
}

std::vector<PerformancePoint> read_points(TableReader& file, Problems& problems) {
    std::vector<PerformancePoint> out;
    const toml::array* rows = file.array("heating");
    if (!rows) file.missing("heating");
    for (std::size_t i = 0; rows && i < rows->size(); ++i) {
        const toml::table* table = (*rows)[i].as_table();
        if (!table) continue;
        TableReader r(*table, fmt::format("heating point {}", i + 1), problems);
        PerformancePoint point;
        point.outdoor = r.required(r.quantity("outdoor", units::temperature), "outdoor").value_or(0.0);
        point.capacity = r.required(r.quantity("capacity", units::fraction), "capacity").value_or(0.0);
        point.efficiency = r.required(r.quantity("efficiency", units::number), "efficiency").value_or(0.0);
        r.finish();
        out.push_back(point);
    }
    return out;
}

}  // namespace

Result<SystemData> read_systems(std::string_view name, std::string_view text, std::string_view demo_name,
                                std::string_view demo_text) {
    const auto systems = units::parse_toml(name, text);
    if (!systems) return fail(systems.error());
    const auto demo = units::parse_toml(demo_name, demo_text);
    if (!demo) return fail(demo.error());
    Problems problems;
    SystemData out;
    TableReader file(*systems, std::string(name), problems);
    out.furnace = read_share(file, "furnace", problems);
    out.boiler = read_share(file, "boiler", problems);
    file.finish();
    TableReader curve(*demo, std::string(demo_name), problems);
    if (!curve.required(curve.flag("demo"), "demo").value_or(false))
        curve.complain("demo", Code::conflict,
                       "the built-in curve is for the demo and has to say so: demo = true");
    out.demo_origin = read_origin(curve);
    out.demo = read_points(curve, problems);
    curve.finish();
    for (const auto& problem : problems)
        if (problem.severity == Severity::error) return fail(problem);
    if (auto sound = check(out.demo, "the demo heat pump", out.demo_origin.where); !sound)
        return fail(sound.error());
    return out;
}

const Result<SystemData>& system_data() {
    static const Result<SystemData> parsed = [] {
        constexpr std::string_view path = "data/house/systems.toml", demo = "data/house/demo_heat_pump.toml";
        const auto text = embedded::find(path), curve = embedded::find(demo);
        if (!text || !curve)
            return Result<SystemData>(
                fail(Code::missing, fmt::format("{} or {} is not embedded", path, demo)));
        return read_systems(path, *text, demo, *curve);
    }();
    return parsed;
}

}  // namespace warmside::house
