// The detail texts of `heat`, `dry`, `why`, `materials` and `places`.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "report/json.h"
#include "report/junctions.h"
#include "report/terminal.h"
#include "report/terminal_parts.h"
#include "report/words.h"
#include "units/quantity.h"

namespace warmside::report {
namespace {

template <class F>
std::string each_rung(const answer::Answer& a, std::string_view only, const Style& style, F&& body) {
    std::string out;
    for (const auto& ladder : a.ladders) {
        for (const auto& rung : ladder.rungs) {
            if (!only.empty() && rung.name != only) continue;
            if (!out.empty()) out += "\n";
            out += fmt::format("{}  {}\n", paint(rung.name, Ansi::bold, style), rung.title);
            out += body(rung);
        }
    }
    return out;
}

std::string layer_table(const thermal::Worth& w, bool first, const Style& style) {
    Table table({1, 2, 3, 4});
    table.row({"layer", "thick", first ? "R" : "RSI", "in framing", first ? "label R" : "label RSI",
               "conductivity"});
    const auto r = [&](double value) {
        return value > 0.0 ? fmt::format("{:.2f}", first ? units::ip_r(value) : value) : std::string("-");
    };
    for (const auto& l : w.layers) {
        table.row({l.title, l.thickness > 0.0 ? thickness(l.thickness, first).first : "-", r(l.resistance),
                   l.framing_resistance
                       ? fmt::format("{} on {:.0f} %", r(*l.framing_resistance), 100.0 * l.framing_share)
                       : "-",
                   r(l.label), l.conductivity > 0.0 ? fmt::format("{:.4f} W/(m K)", l.conductivity) : "-"});
    }
    std::string out = table.text(2, 1, style);
    out += "\n";
    for (const auto& l : w.layers) {
        std::string text = describe(l.origin);
        if (!l.note.empty()) text.insert(0, l.note + "; ");
        out += entry(l.title, text, style, 2, 24);
    }
    return out;
}

std::string junction_table(const answer::RungAnswer& rung, bool first, const Style& style) {
    Table table({1, 2, 3, 4, 5, 6, 7});
    table.row(junction_heads());
    for (auto& row : junction_rows(rung, first)) table.row(std::move(row));
    return table.text(2, 1, style) + "\n" + entry("junctions", junction_words(rung, first), style, 2, 14) +
           entry("",
                 "psi in W/(m K), in: inside dimensions, out: outside ones; f is the lowest surface "
                 "temperature factor "
                 "with Rsi 0.25, of frame and pane 0.13; RH indoors at 20 °C that keeps the surface at or "
                 "below 80 % in "
                 "the coldest month",
                 style, 2, 14);
}

/// "reads R-46.8 (8.25 m2 K/W), 0.8 % higher: ..." behind the label "ISO 6946".
std::string iso_line(const thermal::Worth& w, bool first) {
    constexpr std::string_view lead = "ISO 6946 ";
    if (w.iso_words.starts_with(lead)) return w.iso_words.substr(lead.size());
    return fmt::format("upper {}, lower {}", both(r_value(w.upper_r, first)),
                       both(r_value(w.lower_r, first)));
}

std::string daily_words(const conduction::Periodic& swing) {
    return fmt::format(
        "over 24 h heat swings {:.3f} W/(m² K) through the bay, {:.0f} % of the steady U, {:.1f} h late; the "
        "inside "
        "stores {:.0f} kJ/(m² K) (ISO 13786)",
        std::abs(swing.periodic_transmittance), 100.0 * swing.decrement, -swing.time_shift / 3600.0,
        swing.inside_capacity / 1000.0);
}

}  // namespace

std::string heat_text(const answer::Answer& a, const Style& style, std::string_view rung) {
    const bool first = a.inch_pound_first;
    return each_rung(a, rung, style, [&](const answer::RungAnswer& it) {
        const auto& w = it.worth;
        std::string out = layer_table(w, first, style) + "\n";
        const auto line = [&](std::string_view name, const std::string& text) {
            out += entry(name, text, style, 2, 14);
        };
        line("thickness", both(thickness(it.thickness, first)));
        line("label R", both(r_value(w.label_r, first)));
        line("clear-field R", fmt::format("{}, {}; {}", both(r_value(w.clear_r, first)),
                                          both(u_value(w.clear_u, first)), w.clear_method));
        line("ISO 6946", fmt::format("{}; error of the method at most {:.0f} %", iso_line(w, first),
                                     100.0 * w.relative_error));
        if (!w.handbook_words.empty()) line("handbook", w.handbook_words);
        if (w.face_r > 0.0) {
            line("whole face", fmt::format("{}, {:.1f} % framing ({})", both(r_value(w.face_r, first)),
                                           100.0 * w.framing_fraction, describe(w.framing_origin)));
        }
        if (w.code_u > 0.0)
            line("code U", both(u_value(w.code_u, first)) + (w.code_note.empty() ? "" : "; " + w.code_note));
        line("built R", w.built_r ? both(r_value(*w.built_r, first)) : built_value(it, first));
        if (w.daily) line("daily swing", daily_words(*w.daily));
        line("R stair", fmt::format("{}", fmt::join(stair_words(w, first), ", ")));
        for (const auto& note : w.notes) line("note", note);
        if (!it.junctions.empty()) out += "\n" + junction_table(it, first, style);
        return out;
    });
}

std::string dry_text(const answer::Answer& a, const Style& style, std::string_view rung) {
    return each_rung(a, rung, style, [&](const answer::RungAnswer& it) {
        if (!it.verdict) return entry("dry?", "not judged: " + it.verdict_absent, style, 2);
        const auto& v = *it.verdict;
        std::string out =
            entry(moisture::name_of(v.dryness), v.reason, style, 2, 9, v.dryness == moisture::Dryness::wet);
        if (const auto m = margin(v.deciding); !m.empty()) out += entry("", m, style, 2);
        for (const auto& [label, words] : reasons(v, a.inch_pound_first))
            out += entry(label, words, style, 2);
        if (!v.assumes.empty())
            out += entry("dry, if", fmt::format("{}", fmt::join(v.assumes, "; ")), style, 2);
        out += "\n";
        Table table({2, 3, 4, 5});
        table.row({"criterion", "", "value", "watch", "wet", "week", "place and run"});
        // All that count for something, and a dozen at least: below a twentieth of its limit a value says
        // nothing.
        constexpr std::size_t always = 12;
        constexpr double nothing = 0.05;
        std::size_t left_out = 0;
        for (std::size_t i = 0; i < v.findings.size(); ++i) {
            const auto& f = v.findings[i];
            if (i >= always && f.value < nothing * f.watch_limit) {
                ++left_out;
                continue;
            }
            table.row({f.criterion, moisture::name_of(f.dryness), value_of(f), limit(f.watch_limit),
                       limit(f.wet_limit), fmt::format("{}", f.week),
                       fmt::format("{}{}; {}{}{}", f.place, f.first_year ? ", first year" : "", f.run,
                                   f.detail.empty() ? "" : "; ", f.detail)});
        }
        out += table.text(2, 1, style);
        if (left_out > 0)
            out +=
                fmt::format("  and {} more below a twentieth of their limits (--json has them)\n", left_out);
        out += "\n";
        std::vector<std::string> sources;
        for (const auto& f : v.findings) {
            if (!f.source.empty() &&
                std::find(sources.begin(), sources.end(), f.criterion + ": " + f.source) == sources.end()) {
                sources.push_back(f.criterion + ": " + f.source);
            }
        }
        for (const auto& s : sources) out += entry("limits", s, style, 2);
        const auto& b = it.balance;
        out += entry("balance",
                     fmt::format("{} runs; the worst closes water to {:.1e} and energy to {:.1e}; {:.2f} "
                                 "kg/m² of water in, {:.2f} out, {:.2f} stored; "
                                 "rain absorbed {:.2f}, run off {:.1f}, leaked in {:.2f} kg/m²",
                                 it.runs, b.water_error, b.energy_error, b.water_in, b.water_out,
                                 b.water_stored, b.rain_absorbed, b.rain_run_off, b.leak),
                     style, 2);
        for (const auto& note : all_notes(it)) out += entry("note", note, style, 2);
        return out;
    });
}

std::string why_text(const Derivation& d, const Style& style, bool first) {
    std::string out = paint(d.path, Ansi::bold, style) + "\n";
    out += entry("is", quantity(d.value, d.unit, first), style, 2);
    out += entry("equation", d.equation, style, 2);
    if (!d.source.empty()) out += entry("source", d.source, style, 2);
    if (!d.note.empty()) out += entry("note", d.note, style, 2);
    if (d.terms.empty()) return out;
    out += "\n";
    Table table;
    table.row({"from", "value", "where it comes from"});
    for (const auto& t : d.terms) {
        table.row({t.name, quantity(t.value, t.unit, first),
                   t.path.empty() ? describe(t.origin) : "why " + t.path});
    }
    return out + table.text(2, 1, style);
}

std::string materials_text(const material::Catalogue& catalogue, std::string_view word, const Style& style) {
    const auto wanted = [&](std::string_view name, const std::vector<std::string>& aliases,
                            std::string_view family) {
        return word.empty() || contains(name, word) || contains(family, word) ||
               std::any_of(aliases.begin(), aliases.end(), [&](const auto& a) { return contains(a, word); });
    };
    Table materials({2, 3, 4});
    materials.row({"material", "family", "kg/m³", "W/(m K)", "R an inch", "source"});
    const auto inch = units::parse("1 in", units::length);
    std::size_t count = 0;
    for (const auto& m : catalogue.materials) {
        if (!wanted(m.name, m.aliases, m.family)) continue;
        ++count;
        materials.row(
            {m.name, m.family, fmt::format("{:.0f}", m.density), fmt::format("{:.4f}", m.conductivity),
             m.conductivity > 0.0 && inch ? fmt::format("{:.2f}", units::ip_r(*inch / m.conductivity)) : "-",
             describe(m.origin)});
    }
    Table membranes({1, 2});
    membranes.row({"membrane", "perm dry", "perm damp", "class", "source"});
    std::size_t membrane_count = 0;
    for (const auto& m : catalogue.membranes) {
        if (!wanted(m.name, m.aliases, "membrane")) continue;
        ++membrane_count;
        membranes.row(
            {m.name, fmt::format("{:.3g}", units::perm(m.permeance.y.empty() ? 0.0 : m.permeance.y.front())),
             fmt::format("{:.3g}", units::perm(m.permeance.y.empty() ? 0.0 : m.permeance.y.back())),
             m.retarder_class, describe(m.origin)});
    }
    std::string out;
    if (count > 0) out += materials.text(0, 1, style);
    if (membrane_count > 0) out += (out.empty() ? "" : "\n") + membranes.text(0, 1, style);
    return out;
}

std::string places_text(const std::vector<climate::PlaceRow>& places, std::string_view word,
                        const Style& style) {
    Table table({3, 4});
    table.row({"place", "county", "zone", "year", "coldest month", "source"});
    bool any = false;
    for (const auto& p : places) {
        if (!matches(p, word)) continue;
        any = true;
        double sum = 0.0, coldest = 1e9;
        for (const auto& m : p.months) {
            sum += m.temperature / 12.0;
            coldest = std::min(coldest, m.temperature);
        }
        table.row({p.name + ", " + p.state, p.county, p.climate_zone, both(temperature(sum, true)),
                   both(temperature(coldest, true)), describe(p.origin)});
    }
    return any ? table.text(0, 1, style) : std::string();
}

}  // namespace warmside::report
