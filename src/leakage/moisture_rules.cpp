#include "leakage/moisture_rules.h"

#include <algorithm>

#include "leakage/read_part.h"

namespace warmside::leakage {

using units::TableReader;

double MoistureRules::rate(int bedrooms) const {
    const auto wanted = static_cast<std::size_t>(std::max(1, bedrooms));
    const std::size_t listed = std::min(wanted, by_bedrooms.size());
    return by_bedrooms[listed - 1] + further * static_cast<double>(wanted - listed);
}

Result<MoistureRules> read_moisture_rules(std::string_view name, std::string_view text) {
    const auto parsed = units::parse_toml(name, text);
    if (!parsed) return fail(parsed.error());
    MoistureRules out;
    Problems problems;
    TableReader file(*parsed, std::string(name), problems);
    const auto part = [&](std::string_view key, Origin& origin, auto read) {
        read_part(file, key, origin, problems, read);
    };
    part("by_bedrooms", out.sources, [&](TableReader& r) {
        out.by_bedrooms = read_list(r, "rate", units::mass_flow);
        out.further = read_one(r, "further", units::mass_flow, {.least = 0.0});
        if (r.has("rate") && out.by_bedrooms.empty())
            r.complain("rate", Code::incomplete, "rate needs one value at least");
    });
    part("buffer", out.buffer, [&](TableReader& r) {
        out.lining = r.required(r.text("material"), "material").value_or("");
        out.partitions = read_one(r, "partitions", units::number, {0.0, 10.0});
        out.convection = read_one(r, "convection", units::transmittance, {0.1, 50.0});
        out.period = read_one(r, "period", units::duration, {60.0, 1e8});
        out.humidity = read_one(r, "humidity", units::fraction, {0.05, 0.95});
    });
    part("cooling", out.cooling, [&](TableReader& r) {
        out.balance_point = read_one(r, "balance_point", units::temperature, {273.15, 313.15});
        out.cooled_humidity = read_one(r, "humidity", units::fraction, {0.2, 1.0});
    });
    part("airing", out.windows, [&](TableReader& r) {
        out.airing = read_one(r, "air_change", units::air_change, {.least = 0.0});
        out.airing_none = read_one(r, "none", units::temperature, {223.15, 323.15});
        out.airing_full = read_one(r, "full", units::temperature, {223.15, 323.15});
        if (out.airing_full <= out.airing_none)
            r.complain("full", Code::conflict, "full has to be warmer than none");
    });
    part("timber_houses", out.timber, [&](TableReader& r) {
        out.timber_cold = read_one(r, "cold", units::vapour_density, {0.0, 0.1});
        out.timber_cold_at = read_one(r, "cold_at", units::temperature, {223.15, 323.15});
        out.timber_mild = read_one(r, "mild", units::vapour_density, {0.0, 0.1});
        out.timber_mild_at = read_one(r, "mild_at", units::temperature, {223.15, 323.15});
    });
    file.finish();
    for (const auto& problem : problems)
        if (problem.severity == Severity::error) return fail(problem);
    return out;
}

const Result<MoistureRules>& moisture_rules() {
    static const Result<MoistureRules> parsed =
        read_embedded("data/leakage/moisture.toml", read_moisture_rules);
    return parsed;
}

}  // namespace warmside::leakage
