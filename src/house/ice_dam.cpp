#include "house/ice_dam.h"

#include <cmath>
#include <fmt/format.h>

#include "base/embedded.h"
#include "units/reader.h"

namespace warmside::house {

namespace {

using units::TableReader;

constexpr std::string_view path = "data/house/ice_dam.toml";
constexpr double freezing = 273.15;

Origin read_origin(TableReader& r, const std::string& before) {
    const std::string source = before + "source", evidence = before + "evidence";
    const auto word =
        r.required(r.word(evidence, {"seen", "quoted", "memory", "computed", "practice", "none"}), evidence);
    return {Origin::Kind::assumed, r.place(), r.required(r.text(source), source).value_or(""),
            evidence_of(word.value_or(""))};
}

template <class Read>
void part(TableReader& file, std::string_view key, Problems& problems, Read read) {
    const toml::table* table = file.table(key);
    if (!table) {
        if (!file.has(key)) file.missing(key);
        return;
    }
    TableReader r(*table, fmt::format("[{}]", key), problems);
    read(r);
    r.finish();
}

double one(TableReader& r, std::string_view key, const units::Dimension& dimension, units::Limits limits) {
    return r.required(r.quantity(key, dimension, limits), key).value_or(0.0);
}

}  // namespace

double SnowCover::conductivity_of_snow() const {
    const double d = density.value / 1000.0;
    return 0.138 - 1.01 * d + 3.233 * d * d;
}

Result<SnowCover> read_snow(std::string_view name, std::string_view text) {
    const auto parsed = units::parse_toml(name, text);
    if (!parsed) return fail(parsed.error());
    SnowCover out;
    Problems problems;
    TableReader file(*parsed, std::string(name), problems);
    part(file, "snow", problems, [&](TableReader& r) {
        out.depth.value = one(r, "depth", units::length, {0.01, 3.0});
        out.depth.origin = read_origin(r, "depth_");
        out.density.value = one(r, "density", units::density, {156.0, 600.0});
        out.density.origin = read_origin(r, "density_");
        out.conductivity = read_origin(r, "conductivity_");
    });
    part(file, "films", problems, [&](TableReader& r) {
        out.under = one(r, "under", units::thermal_resistance, {0.0, 1.0});
        out.over = one(r, "over", units::thermal_resistance, {0.0, 1.0});
        out.films = read_origin(r, "");
    });
    part(file, "attic", problems, [&](TableReader& r) {
        out.cold_air = one(r, "air", units::temperature, {240.0, 280.0});
        out.warm_attic = one(r, "attic", units::temperature, {240.0, 280.0});
        out.attic = read_origin(r, "");
    });
    file.finish();
    for (const auto& problem : problems)
        if (problem.severity == Severity::error) return fail(problem);
    return out;
}

const Result<SnowCover>& snow_cover() {
    static const Result<SnowCover> parsed = [] {
        const auto text = embedded::find(path);
        if (!text) return Result<SnowCover>(fail(Code::missing, fmt::format("{} is not embedded", path)));
        return read_snow(path, *text);
    }();
    return parsed;
}

Result<IceDam> ice_dam(std::span<const double> inner, std::span<const double> outdoor, double deck,
                       bool over_attic) {
    const auto& snow = snow_cover();
    if (!snow) return fail(snow.error());
    return ice_dam(inner, outdoor, deck, over_attic, *snow);
}

Result<IceDam> ice_dam(std::span<const double> inner, std::span<const double> outdoor, double deck,
                       bool over_attic, const SnowCover& snow) {
    if (inner.size() != outdoor.size())
        return fail(Code::incomplete,
                    fmt::format("{} hours under the roof, {} outdoors", inner.size(), outdoor.size()));
    const double under = snow.under + deck;
    const double over = snow.depth.value / snow.conductivity_of_snow() + snow.over;
    if (!(deck >= 0.0 && under > 0.0 && over > 0.0 && std::isfinite(under + over)))
        return fail(Code::out_of_range,
                    fmt::format("a deck of {:g} m2 K/W under snow of {:g} m2 K/W", deck, over));
    IceDam out;
    int warm = 0;
    for (std::size_t hour = 0; hour < inner.size(); ++hour) {
        warm += outdoor[hour] < snow.cold_air && inner[hour] > snow.warm_attic;
        if (!(outdoor[hour] < freezing)) continue;
        const double surface = outdoor[hour] + (inner[hour] - outdoor[hour]) * over / (over + under);
        if (surface <= freezing) continue;
        ++out.hours;
        out.degree_hours += surface - freezing;
    }
    out.words = fmt::format(
        "{} hours, {:.0f} K h above 0 degC under {:.0f} mm of snow while the air is below; our own "
        "index, steady, without sun and leaks at single places: for comparing rungs",
        out.hours, out.degree_hours, 1000.0 * snow.depth.value);
    if (over_attic)
        out.words += fmt::format(
            "; attic above {:.1f} degC with air below {:.1f} degC in {} hours (field work: "
            "icings form then; memory)",
            units::celsius(snow.warm_attic), units::celsius(snow.cold_air), warm);
    return out;
}

}  // namespace warmside::house
