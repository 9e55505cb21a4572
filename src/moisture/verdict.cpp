#include "moisture/verdict.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "moisture/measure.h"
#include "moisture/wording.h"

namespace warmside::moisture {

namespace {

using assembly::Assembly;

bool whole(std::span<const float> series, std::size_t samples) {
    if (series.size() < samples) return false;
    // One bad value spoils a sum; four of them keep the adder busy.
    std::array<double, 4> sums{};
    for (std::size_t i = 0; i < samples; ++i) sums[i % 4] += static_cast<double>(series[i]);
    return std::isfinite(sums[0] + sums[1] + sums[2] + sums[3]);
}

/// Nothing, or why a history cannot be judged.
std::optional<Problem> complaint(const Assembly& assembly, const History& h) {
    const auto say = [&](Code code, std::string what) {
        return Problem{.code = code, .what = fmt::format("run \"{}\" {}", h.name, what)};
    };
    constexpr int year = climate::hours_in_year;
    if (h.hours < 2 * year || h.hours % year != 0)
        return say(Code::incomplete,
                   fmt::format("covers {} h; first and settled year need whole years of {} h, at "
                               "least two",
                               h.hours, year));
    if (h.probe_every < 1 || year % h.probe_every != 0)
        return say(Code::incomplete,
                   fmt::format("keeps a sample every {} h, which does not divide a year", h.probe_every));
    if (h.start_hour < 0 || h.start_hour >= year)
        return say(Code::out_of_range, fmt::format("starts at hour {} of the year", h.start_hour));
    const auto samples = static_cast<std::size_t>(h.hours / h.probe_every);
    const std::size_t layers = assembly.layers.size() + h.beyond.size();
    for (const Probe& p : h.probes) {
        if (p.layer >= layers)
            return say(Code::out_of_range, fmt::format("has \"{}\" in layer {}, but {} has {} layers", p.name,
                                                       p.layer, assembly.name, layers));
        if (!whole(p.temperature, samples) || !whole(p.relative_humidity, samples))
            return say(Code::incomplete, fmt::format("has gaps at \"{}\"", p.name));
    }
    for (const FrostLayer& f : h.frost) {
        if (f.layer >= layers || !whole(f.temperature, samples) || !whole(f.saturation, samples))
            return say(Code::incomplete, fmt::format("has gaps at \"{}\"", f.name));
    }
    for (const FreeWater& f : h.free_water) {
        if (f.layer >= layers || !(f.mass.empty() || whole(f.mass, samples)))
            return say(Code::incomplete, fmt::format("has gaps at \"{}\"", f.name));
    }
    const auto wood = wood_on(assembly, path_of(h.name), h.beyond);
    for (const LayerMoisture& l : h.layers) {
        if (l.layer >= layers)
            return say(Code::out_of_range, fmt::format("has moisture of layer {}, but {} has {} layers",
                                                       l.layer, assembly.name, layers));
        if (!whole(l.wettest, samples))
            return say(Code::incomplete, fmt::format("has gaps in the moisture of layer {}", l.layer));
        const auto* m = wood[l.layer];
        if (m && !(m->density > 0.0))
            return say(Code::out_of_range, fmt::format("meets {}, which has no density", m->name));
    }
    return std::nullopt;
}

/// The worst run for each criterion, place and year; judged ones first, worst first.
std::vector<Measured> worst_of_runs(const std::vector<Measured>& all, const Thresholds& limits) {
    std::vector<Measured> kept;
    const auto weight = [&](const Measured& m) { return severity_of(m, limits); };
    for (const Measured& m : all) {
        const auto same = std::find_if(kept.begin(), kept.end(), [&](const Measured& k) {
            return k.criterion == m.criterion && k.layer == m.layer && k.first_year == m.first_year &&
                   k.judged == m.judged && k.place == m.place && k.wood == m.wood;
        });
        if (same == kept.end()) {
            kept.push_back(m);
        } else if (!(weight(m) <= weight(*same))) {
            *same = m;
        }
    }
    std::stable_sort(kept.begin(), kept.end(), [&](const Measured& a, const Measured& b) {
        return a.judged != b.judged ? a.judged : weight(a) > weight(b);
    });
    return kept;
}

void add_once(std::vector<std::string>& lines, std::string line) {
    if (!line.empty() && std::find(lines.begin(), lines.end(), line) == lines.end())
        lines.push_back(std::move(line));
}

std::vector<std::string> assumptions(const Basis& basis) {
    std::vector<std::string> out;
    add_once(out, !basis.rain.empty() ? basis.rain
                  : basis.rain_leak > 0.0
                      ? fmt::format("no more than {:g} % of the driving rain gets past the cladding",
                                    100.0 * basis.rain_leak)
                      : "no rain gets past the cladding");
    for (const auto* phrase : {&basis.weather, &basis.indoor, &basis.beyond, &basis.start})
        add_once(out, *phrase);
    if (!basis.air_leakage_run)
        add_once(out, "no air leaks through the assembly: the airtight layer must be tight");
    add_once(out, basis.air);
    return out;
}

std::vector<std::string> remarks(std::span<const History> histories, const Basis& basis,
                                 const Thresholds& limits, const std::vector<Measured>& rows,
                                 const Verdict& verdict) {
    std::vector<std::string> notes;
    notes.push_back(
        limits.below_freezing == BelowFreezing::hold
            ? "mould index: frozen hours hold the index (sources do not agree; this is the safe side)"
            : "mould index: the index declines in frozen hours (sources do not agree)");
    notes.push_back(
        fmt::format("mould index: declines at {:g} of the speed measured on pine", limits.mould_decline));
    notes.push_back(fmt::format("wood moisture content: mean over {:g} days of the wettest 10 mm",
                                limits.wood_average / 86400.0));
    if (!basis.design_weather)
        notes.emplace_back(
            "the ASHRAE 160 criterion is not claimed: it asks for a moisture design year or ten years of "
            "weather");
    double lost = 0.0;
    for (const auto& row : rows)
        if (row.criterion == Criterion::decay && row.judged) lost = std::max(lost, row.mass_loss);
    if (lost > 0.0)
        notes.push_back(fmt::format("decay: {:.2g} % of the mass is lost at the worst surface over the run",
                                    100.0 * lost));
    const bool aside = std::any_of(verdict.findings.begin(), verdict.findings.end(), [](const Finding& f) {
        return !f.judged && !f.criterion.ends_with("surface humidity") &&
               f.criterion != "mould index, original model" && f.dryness != Dryness::dry;
    });
    if (aside)
        notes.emplace_back(
            "the outermost face, and in a wall with a ventilated cavity its cladding side, get damp; "
            "that is reported and not judged (field study of nine houses in Greenland; ASHRAE 160)");
    for (const auto& history : histories)
        for (const auto& note : history.notes) add_once(notes, note);
    return notes;
}

/// The judged place that rises most in the last year, when that is enough to call its run unsettled.
std::optional<Measured> still_rising(const std::vector<Measured>& all, std::span<const History> histories,
                                     const Thresholds& limits) {
    const auto stressed = [&](const History& h) { return has_word(h.name, "stressed"); };
    const bool all_count =
        limits.stressed_must_settle || std::all_of(histories.begin(), histories.end(), stressed);
    std::optional<Measured> most;
    double highest = limits.settled_rise;
    for (const Measured& m : all) {
        if (!m.judged || m.first_year || m.criterion == Criterion::condensate ||
            m.criterion == Criterion::freeze_thaw)
            continue;
        if (!all_count && stressed(histories[m.run])) continue;
        const double share = m.rise / limit_of(limits, m.criterion).watch;
        if (share < highest) continue;
        highest = share;
        most = m;
    }
    return most;
}

/// Turns `dry` into `watch` where the runs do not carry that word, and says why.
void temper(Verdict& verdict, const Basis& basis, std::span<const History> histories,
            const std::optional<Finding>& rising) {
    std::string why;
    for (const History& h : histories) {
        if (h.settled) continue;
        why = fmt::format("after {} years the water in {} still changes from year to year", h.years_marched,
                          h.name);
        verdict.notes.push_back(why);
    }
    if (rising) {
        const char* weather = has_word(rising->run, "stressed") ? " in stressed weather" : "";
        why = fmt::format("{} at the {} still rises from year to year{}, by {:.2g}{} in the last",
                          rising->criterion, rising->place, weather, rising->rise,
                          rising->unit == "-" ? "" : " " + rising->unit);
        verdict.notes.push_back(why + ": the run is too short to call it settled");
    }
    if (!basis.stressed_year_run) why = "only a typical year was run, and that alone never earns dry";
    if (!basis.rain_known) why = "the weather has no rain, and without it dry is not claimed";
    if (why.empty() || verdict.dryness != Dryness::dry) return;
    verdict.dryness = Dryness::watch;
    verdict.reason = why + "; the nearest to a limit is " + verdict.reason;
    if (rising) verdict.deciding = *rising;
}

}  // namespace

const char* name_of(Dryness dryness) {
    switch (dryness) {
        case Dryness::dry: return "dry";
        case Dryness::watch: return "watch";
        case Dryness::wet: return "wet";
    }
    return "";
}

const char* name_of(Driver driver) {
    switch (driver) {
        case Driver::indoor_vapour: return "vapour from inside";
        case Driver::rain: return "rain";
        case Driver::sun: return "sun-driven vapour";
        case Driver::built_in_water: return "built-in water";
        case Driver::air_leakage: return "air leakage";
    }
    return "";
}

Result<Verdict> try_judge(const Assembly& assembly, std::span<const History> histories, const Basis& basis) {
    const auto& limits = built_in_thresholds();
    if (!limits) return fail(limits.error());
    if (histories.empty()) return fail(Code::incomplete, fmt::format("no run of {} to judge", assembly.name));
    std::vector<Measured> all;
    for (std::size_t i = 0; i < histories.size(); ++i) {
        if (auto problem = complaint(assembly, histories[i])) return fail(std::move(*problem));
        measure(assembly, histories[i], i, *limits, all);
    }
    const auto rows = worst_of_runs(all, *limits);
    if (rows.empty() || !rows.front().judged)
        return fail(Code::incomplete,
                    fmt::format("the runs of {} keep no place that a criterion judges", assembly.name));
    Verdict out;
    for (const auto& row : rows) {
        out.findings.push_back(put_into_words(histories[row.run], row, *limits));
        if (row.criterion == Criterion::surface_humidity && basis.design_weather)
            out.findings.back().criterion = "ASHRAE 160-2009 surface humidity";
    }
    out.deciding = out.findings.front();
    out.dryness = out.deciding.dryness;
    out.reason = sentence(assembly, out.deciding);
    out.assumes = assumptions(basis);
    out.notes = remarks(histories, basis, *limits, rows, out);
    if (rows.front().assumed) {
        out.reason += "; how much leaks at a joint is our assumption, so it makes a watch at most";
        const auto other =
            std::find_if(rows.begin(), rows.end(), [](const Measured& m) { return !m.assumed; });
        if (other != rows.end() && other->judged) {
            const Finding tight = put_into_words(histories[other->run], *other, *limits);
            out.notes.insert(out.notes.begin(),
                             fmt::format("without the leaking joint: {}, {}", name_of(tight.dryness),
                                         sentence(assembly, tight)));
        }
    }
    const auto rising = still_rising(all, histories, *limits);
    temper(out, basis, histories,
           rising ? std::optional(put_into_words(histories[rising->run], *rising, *limits)) : std::nullopt);
    return out;
}

Verdict judge(const Assembly& assembly, std::span<const History> histories, const Basis& basis) {
    auto judged = try_judge(assembly, histories, basis);
    if (judged) return std::move(*judged);
    Verdict out;
    out.dryness = Dryness::wet;
    out.reason = "not judged: " + judged.error().what;
    return out;
}

}  // namespace warmside::moisture
