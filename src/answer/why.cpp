#include <algorithm>
#include <fmt/format.h>
#include <optional>

#include "answer/answer.h"
#include "base/nearest.h"
#include "thermal/built.h"

namespace warmside::answer {

namespace {

Derivation plain(std::string path, std::string equation, std::string source, double value, std::string unit) {
    Derivation d;
    d.path = std::move(path);
    d.equation = std::move(equation);
    d.source = std::move(source);
    d.value = value;
    d.unit = std::move(unit);
    return d;
}

Derivation thickness_of(const std::string& base, const assembly::Assembly& a) {
    auto d = plain(base + "thickness", "sum of the layers' thicknesses; membranes have none", "geometry",
                   a.thickness().metres(), "m");
    for (std::size_t i = 0; i < a.layers.size(); ++i) {
        if (a.layers[i].thickness.count() == 0) continue;
        d.terms.push_back({fmt::format("layer {}: {}", i + 1, a.layers[i].title()),
                           a.layers[i].thickness.metres(), "m", a.layers[i].origin, ""});
    }
    return d;
}

Derivation verdict_of(const std::string& base, const RungAnswer& rung, const moisture::Verdict& verdict) {
    const auto& f = verdict.deciding;
    auto d = plain(
        base + "verdict",
        fmt::format(
            "{}: the worst of {} findings over {} runs decides; first year and settled year are judged apart",
            moisture::name_of(verdict.dryness), verdict.findings.size(), rung.runs),
        f.source, f.value, f.unit);
    const Origin computed{Origin::Kind::computed, {}, fmt::format("run {}", f.run), Evidence::none};
    const Origin limits{Origin::Kind::standard, {}, f.source, Evidence::none};
    d.terms.push_back(
        {fmt::format("{} at the {}, {}", f.criterion, f.place, f.month), f.value, f.unit, computed, ""});
    d.terms.push_back({"below this it is dry", f.watch_limit, f.unit, limits, ""});
    d.terms.push_back({"from this it is wet", f.wet_limit, f.unit, limits, ""});
    d.terms.push_back({"margin to the nearer limit",
                       f.margin,
                       "-",
                       {Origin::Kind::computed, {}, "(limit - value)/limit", Evidence::none},
                       ""});
    d.terms.push_back({"water balance error",
                       rung.balance.water_error,
                       "-",
                       {Origin::Kind::computed, {}, "worst of the runs", Evidence::none},
                       ""});
    const Origin again{
        Origin::Kind::computed, {}, "the run that decides, run again without it", Evidence::none};
    for (const auto& each : verdict.drivers)
        d.terms.push_back({fmt::format("without {}", moisture::name_of(each.driver)), each.value_without,
                           f.unit, again, ""});
    if (verdict.allowance && verdict.allowance->dry_bounded)
        d.terms.push_back({"rain leak up to which it stays dry",
                           verdict.allowance->dry,
                           "kg/(m2 a)",
                           {Origin::Kind::computed, {}, "bisection on the leak, to 5 %", Evidence::none},
                           ""});
    d.note = verdict.reason;
    if (!verdict.driver_words.empty()) d.note += "; " + verdict.driver_words;
    if (!verdict.changes.empty()) d.note += "; what helps most: " + verdict.changes.front().what;
    if (verdict.monthly) d.note += "; ISO 13788 (second opinion): " + verdict.monthly->words;
    for (const auto& each : verdict.assumes) d.note += "; " + each;
    return d;
}

void weather_of(const Answer& answer, std::vector<Derivation>& out) {
    const auto& w = answer.weather;
    out.push_back(plain("weather/mean_temperature", "mean of 8760 hours", w.kind, w.mean_temperature, "K"));
    out.push_back(plain("weather/coldest_month",
                        "lowest of the twelve monthly means; the winter condition of the steady figures",
                        w.kind, w.january, "K"));
    out.push_back(plain("weather/heating_degree_days",
                        "sum over days of 65 degF less the daily mean, where positive", w.kind,
                        w.heating_degree_days, "K d"));
    for (auto& each : out) {
        if (!each.path.starts_with("weather/")) continue;
        for (const auto& note : w.notes) each.note += (each.note.empty() ? "" : " ") + note;
    }
}

std::vector<Derivation> all(const assembly::House& house, const Answer& answer) {
    std::vector<Derivation> out;
    for (const auto& ladder : answer.ladders) {
        for (const auto& rung : ladder.rungs) {
            const auto& a = house.assemblies[rung.assembly];
            std::string part = assembly::name_of(ladder.part);
            std::replace(part.begin(), part.end(), ' ', '_');  // basement_wall, as in the house file
            const auto base = fmt::format("ladder/{}/{}/", part, rung.name);
            out.push_back(thickness_of(base, a));
            for (auto d : thermal::derive(a, winter_of(house, answer.weather), rung.worth)) {
                d.path = base + d.path;
                for (auto& term : d.terms) {
                    if (!term.path.empty()) term.path = base + term.path;
                }
                out.push_back(std::move(d));
            }
            for (auto d :
                 thermal::derive_built(rung.worth, rung.junctions, rung.junction_area, house.details)) {
                d.path = base + d.path;
                for (auto& term : d.terms) {
                    if (!term.path.empty()) term.path = base + term.path;
                }
                out.push_back(std::move(d));
            }
            if (rung.verdict) out.push_back(verdict_of(base, rung, *rung.verdict));
        }
    }
    weather_of(answer, out);
    return out;
}

}  // namespace

std::vector<std::string> paths(const assembly::House& house, const Answer& answer) {
    std::vector<std::string> out;
    for (const auto& d : all(house, answer)) out.push_back(d.path);
    return out;
}

Result<Derivation> why(const assembly::House& house, const Answer& answer, std::string_view path) {
    auto derivations = all(house, answer);
    for (auto& d : derivations) {
        if (d.path == path) return std::move(d);
    }
    std::vector<std::string> known;
    known.reserve(derivations.size());
    for (const auto& d : derivations) known.push_back(d.path);
    Problem problem;
    problem.code = Code::unknown_name;
    problem.what = fmt::format("there is no figure \"{}\"", path);
    problem.found = std::string(path);
    problem.suggestion = nearest(path, known);
    return fail(std::move(problem));
}

}  // namespace warmside::answer
