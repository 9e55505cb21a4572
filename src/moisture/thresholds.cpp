#include "moisture/thresholds.h"

#include "base/embedded.h"
#include "units/reader.h"

namespace warmside::moisture {

namespace {

using units::TableReader;

/// One criterion's table; `read` takes its further keys.
template <class Read>
void criterion(TableReader& file, std::string_view key, Problems& problems, Read read) {
    const toml::table* table = file.table(key);
    if (!table) {
        if (!file.has(key)) file.missing(key);
        return;
    }
    TableReader reader(*table, "[" + std::string(key) + "]", problems);
    read(reader);
    reader.finish();
}

void read_limit(TableReader& reader, const units::Dimension& dimension, Limit& limit, Problems& problems,
                bool has_wet) {
    const units::Limits positive{.least = 1e-12};
    limit.watch = reader.required(reader.quantity("watch", dimension, positive), "watch").value_or(0.0);
    if (has_wet)
        limit.wet = reader.required(reader.quantity("wet", dimension, positive), "wet").value_or(0.0);
    if (has_wet && limit.wet <= limit.watch && usable(problems))
        reader.complain("wet", Code::conflict, "wet does not lie above watch");
    limit.source = reader.required(reader.text("source"), "source").value_or("");
    limit.why = reader.required(reader.text("why"), "why").value_or("");
    const auto evidence = [&](std::string_view key) {
        const auto word = reader.required(
            reader.word(key, {"seen", "quoted", "memory", "computed", "practice", "none"}), key);
        return evidence_of(word.value_or(""));
    };
    limit.watch_evidence = evidence("evidence_watch");
    if (has_wet) limit.wet_evidence = evidence("evidence_wet");
}

double required_quantity(TableReader& reader, std::string_view key, const units::Dimension& dimension) {
    return reader.required(reader.quantity(key, dimension, {.least = 1e-12}), key).value_or(0.0);
}

}  // namespace

Result<Thresholds> read_thresholds(std::string_view name, std::string_view text) {
    const auto parsed = units::parse_toml(name, text);
    if (!parsed) return fail(parsed.error());
    Thresholds out;
    Problems problems;
    TableReader file(*parsed, std::string(name), problems);
    criterion(file, "mould_index", problems, [&](TableReader& r) {
        read_limit(r, units::number, out.mould_index, problems, true);
        out.mould_decline =
            r.required(r.quantity("decline", units::fraction, {0.0, 1.0}), "decline").value_or(0.0);
        const auto frozen = r.required(r.word("below_freezing", {"hold", "decline"}), "below_freezing");
        out.below_freezing = frozen == "decline" ? BelowFreezing::decline : BelowFreezing::hold;
    });
    criterion(file, "wood_moisture", problems, [&](TableReader& r) {
        read_limit(r, units::fraction, out.wood_moisture, problems, true);
        out.wood_average = required_quantity(r, "average", units::duration);
    });
    criterion(file, "decay", problems,
              [&](TableReader& r) { read_limit(r, units::number, out.decay, problems, true); });
    criterion(file, "condensate", problems, [&](TableReader& r) {
        read_limit(r, units::duration, out.condensate, problems, false);
        out.condensate_level = required_quantity(r, "level", units::fraction);
    });
    criterion(file, "condensed_water", problems, [&](TableReader& r) {
        read_limit(r, units::surface_mass, out.condensed_water, problems, true);
        out.clings = required_quantity(r, "clings", units::surface_mass);
    });
    criterion(file, "freeze_thaw", problems, [&](TableReader& r) {
        read_limit(r, units::number, out.freeze_thaw, problems, false);
        out.frost = required_quantity(r, "frost", units::temperature);
        out.hard_frost = required_quantity(r, "hard_frost", units::temperature);
        out.thaw = required_quantity(r, "thaw", units::temperature);
        out.critical_saturation = required_quantity(r, "critical", units::fraction);
        out.critical_saturation_concrete = required_quantity(r, "critical_concrete", units::fraction);
        out.full_saturation = required_quantity(r, "full", units::fraction);
    });
    criterion(file, "surface_humidity", problems, [&](TableReader& r) {
        read_limit(r, units::fraction, out.surface_humidity, problems, false);
        out.humidity_average = required_quantity(r, "average", units::duration);
        out.coldest = required_quantity(r, "coldest", units::temperature);
        out.warmest = required_quantity(r, "warmest", units::temperature);
    });
    criterion(file, "settled", problems, [&](TableReader& r) {
        out.settled_rise = required_quantity(r, "rise", units::fraction);
        out.settled_years = static_cast<int>(std::lround(required_quantity(r, "years", units::number)));
        out.stressed_must_settle = r.required(r.word("runs", {"all", "ordinary"}), "runs") != "ordinary";
        for (const auto key : {"source", "evidence", "why"}) (void)r.required(r.text(key), key);
    });
    file.finish();
    for (const auto& problem : problems)
        if (problem.severity == Severity::error) return fail(problem);
    return out;
}

const Result<Thresholds>& built_in_thresholds() {
    static const Result<Thresholds> parsed = [] {
        constexpr std::string_view path = "data/moisture/thresholds.toml";
        const auto text = embedded::find(path);
        if (!text)
            return Result<Thresholds>(fail(Code::missing, "data/moisture/thresholds.toml is not embedded"));
        return read_thresholds(path, *text);
    }();
    return parsed;
}

}  // namespace warmside::moisture
