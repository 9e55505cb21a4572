#include "house/load_data.h"

#include <algorithm>
#include <fmt/format.h>

#include "base/embedded.h"
#include "units/reader.h"

namespace warmside::house {

namespace {

using units::TableReader;

constexpr std::string_view path = "data/house/loads.toml";

template <class Read>
Origin part(TableReader& file, std::string_view key, Problems& problems, Read read) {
    const toml::table* table = file.table(key);
    if (!table) {
        if (!file.has(key)) file.missing(key);
        return {};
    }
    TableReader r(*table, fmt::format("[{}]", key), problems);
    read(r);
    const auto word = r.required(
        r.word("evidence", {"seen", "quoted", "memory", "computed", "practice", "none"}), "evidence");
    Origin out{Origin::Kind::standard, r.place(), r.required(r.text("source"), "source").value_or(""),
               evidence_of(word.value_or(""))};
    r.finish();
    return out;
}

double one(TableReader& r, std::string_view key, const units::Dimension& dimension = units::number) {
    return r.required(r.quantity(key, dimension, {.least = 0.0}), key).value_or(0.0);
}

template <std::size_t size>
std::array<double, size> list(TableReader& r, std::string_view key) {
    std::array<double, size> out{};
    const auto values = r.required(r.quantities(key, units::number, {.least = 0.0}), key);
    if (values && values->size() != size)
        r.complain(key, Code::incomplete, fmt::format("{} has {} values, not {}", key, values->size(), size));
    else if (values)
        std::copy(values->begin(), values->end(), out.begin());
    return out;
}

DrivingForce force(TableReader& file, std::string_view key, Problems& problems) {
    DrivingForce out;
    out.origin = part(file, key, problems, [&](TableReader& r) {
        out.base = one(r, "base");
        out.stack = one(r, "stack");
        out.flue = one(r, "flue");
    });
    return out;
}

}  // namespace

Result<LoadData> read_loads(std::string_view name, std::string_view text) {
    const auto parsed = units::parse_toml(name, text);
    if (!parsed) return fail(parsed.error());
    LoadData out;
    Problems problems;
    TableReader file(*parsed, std::string(name), problems);
    out.heating = force(file, "heating", problems);
    out.cooling = force(file, "cooling", problems);
    out.air_heat.origin =
        part(file, "air", problems, [&](TableReader& r) { out.air_heat.value = one(r, "heat"); });
    out.sky = part(file, "clear_sky", problems, [&](TableReader& r) {
        out.sky_a = list<12>(r, "a");
        out.sky_b = list<12>(r, "b");
        out.sky_c = list<12>(r, "c");
    });
    out.day = part(file, "design_day", problems, [&](TableReader& r) {
        out.below = list<24>(r, "below");
        out.wind = one(r, "wind", units::speed);
    });
    file.finish();
    for (const auto& problem : problems)
        if (problem.severity == Severity::error) return fail(problem);
    return out;
}

const Result<LoadData>& load_data() {
    static const Result<LoadData> parsed = [] {
        const auto text = embedded::find(path);
        if (!text) return Result<LoadData>(fail(Code::missing, fmt::format("{} is not embedded", path)));
        return read_loads(path, *text);
    }();
    return parsed;
}

}  // namespace warmside::house
