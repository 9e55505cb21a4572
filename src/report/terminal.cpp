#include "report/terminal.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/building.h"
#include "report/junctions.h"
#include "report/terminal_parts.h"
#include "report/words.h"
#include "units/quantity.h"

namespace warmside::report {
namespace {

std::string verdict_word(const answer::RungAnswer& rung) {
    return rung.verdict ? moisture::name_of(rung.verdict->dryness) : "not judged";
}

std::string head(const answer::Answer& a, const Style& style) {
    std::string place = a.place.empty() ? a.weather.place : a.place;
    if (!a.weather.climate_zone.empty()) place += ", zone " + a.weather.climate_zone;
    return paint(a.house, Ansi::bold, style) + "\n" + paint(place, Ansi::quiet, style) + "\n";
}

std::string table(const answer::LadderAnswer& ladder, bool first, const Style& style) {
    Table out({1, 2, 3, 4, 5, 6, 7, 8});
    const auto system = [&](const char* inch_pound, const char* si) {
        return first ? std::pair{inch_pound, si} : std::pair{si, inch_pound};
    };
    const auto [t1, t2] = system("in", "mm");
    const auto [r1, r2] = system("R", "RSI");
    const auto [u1, u2] = system("U", "W/m²K");
    out.over({{1, ""}, {2, "thickness"}, {2, "label"}, {2, "clear-field"}, {2, "clear-field"}});
    out.row({"rung", t1, t2, r1, r2, r1, r2, u1, u2, "stays dry?"});
    const auto bare = [](const Pair& p) {
        const auto cut = [](const std::string& text) {
            std::string t = text.substr(0, text.find(" W/"));
            for (const std::string_view lead : {"R-", "RSI ", "U-"}) {
                if (t.starts_with(lead)) return t.substr(lead.size());
            }
            for (const std::string_view tail : {" in", " mm"}) {
                if (t.ends_with(tail)) return t.substr(0, t.size() - tail.size());
            }
            return t;
        };
        return Pair{cut(p.first), cut(p.second)};
    };
    for (const auto& rung : ladder.rungs) {
        const auto t = bare(thickness(rung.thickness, first));
        const auto l = bare(r_value(rung.worth.label_r, first));
        const auto c = bare(r_value(rung.worth.clear_r, first));
        const auto u = bare(u_value(rung.worth.clear_u, first));
        out.row({rung.name, t.first, t.second, l.first, l.second, c.first, c.second, u.first, u.second,
                 verdict_word(rung)});
    }
    return out.text(2, 1, style);
}

std::string in_words(const answer::RungAnswer& rung, bool first, bool shared, const Style& style) {
    std::string out = "  " + paint(rung.name, Ansi::bold, style) + "  " + rung.title + "\n";
    if (!rung.worth.stair.empty()) {
        out += entry("R stair",
                     fmt::format("{}{}", fmt::join(stair_words(rung.worth, first), ", "),
                                 rung.worth.built_r ? "; built " + built_value(rung, first) : ""),
                     style);
        if (!rung.junctions.empty()) out += entry("junctions", junction_words(rung, first), style);
    }
    const auto say = [&](const char* label, const std::string& words) {
        if (!words.empty()) out += entry(label, words, style);
    };
    if (rung.framed) {
        say("framing", framing_words(rung));
        say("carries", structure_words(rung));
    }
    if (rung.priced) say("cost", cost_words(rung, first));
    say("step", step_words(rung));
    if (!rung.verdict) {
        out += entry(
            "dry?", rung.verdict_absent.empty() ? "not judged" : "not judged: " + rung.verdict_absent, style);
    } else {
        const auto& v = *rung.verdict;
        std::string reason = v.reason;
        if (const auto m = margin(v.deciding); !m.empty()) reason += "; " + m;
        out += entry(moisture::name_of(v.dryness), reason, style, 4, 9, v.dryness == moisture::Dryness::wet);
        if (!shared && !v.assumes.empty())
            out += entry("rests on", fmt::format("{}", fmt::join(v.assumes, "; ")), style);
    }
    for (const auto& note : rung.notes) out += entry("note", note, style);
    return out;
}

/// What holds for all rungs of a ladder.
std::string common_words(const answer::LadderAnswer& ladder, const Style& style) {
    std::string out;
    if (const auto* all = common_assumptions(ladder))
        out += entry("all rest on", fmt::format("{}", fmt::join(*all, "; ")), style, 2, 11);
    for (const auto& rung : ladder.rungs) {
        if (rung.worth.clear_r <= 0.0) continue;
        out += entry("clear-field", clear_words(ladder), style, 2, 11);
        if (!rung.worth.built_r && ladder.part == assembly::Part::wall)
            out += entry("built R", built_value(rung, true), style, 2, 11);
        break;
    }
    return out.empty() ? out : "\n" + out;
}

std::string surroundings(const answer::Answer& a, const Style& style) {
    const bool first = a.inch_pound_first;
    std::string out;
    if (!a.weather.kind.empty() || !a.weather.place.empty()) {
        const auto& w = a.weather;
        std::string text =
            fmt::format("{}, {}; year {}, coldest month {}, {} below 65 °F", w.place, w.kind,
                        both(temperature(w.mean_temperature, first)), both(temperature(w.january, first)),
                        both(degree_days(w.heating_degree_days, first)));
        if (!w.wettest_face.empty())
            text += fmt::format("; most driving rain on the {} face", w.wettest_face);
        out += entry("weather", text, style, 2);
        for (const auto& note : w.notes) out += entry("", note, style, 2);
    }
    if (a.areas) {
        const auto& r = *a.areas;
        std::string text = fmt::format("floor {}", both(area(r.floor, first)));
        const auto more = [&](const char* name, double value) {
            if (value > 0.0) text += fmt::format(", {} {}", name, both(area(value, first)));
        };
        more("walls net", r.wall_net);
        more("windows", r.window);
        more("doors", r.door);
        more("roof", r.roof);
        more("ceiling", r.ceiling);
        out += entry("areas",
                     fmt::format("{}; volume {}; inside dimensions", text, both(volume(r.volume, first))),
                     style, 2);
    }
    if (!out.empty()) out += "\n";
    for (const auto& line : a.cautions) {
        for (const auto& piece : wrap(line, static_cast<std::size_t>(width_of(style)) - 2))
            out += "  " + paint(piece, Ansi::quiet, style) + "\n";
    }
    return out;
}

}  // namespace

std::string ladder_text(const answer::Answer& a, const Style& style) {
    std::string out = head(a, style);
    for (const auto& ladder : a.ladders) {
        out += fmt::format("\n{}\n{}\n", paint(heading(ladder.part), Ansi::bold, style),
                           table(ladder, a.inch_pound_first, style));
        const bool shared = common_assumptions(ladder) != nullptr;
        for (const auto& rung : ladder.rungs) out += in_words(rung, a.inch_pound_first, shared, style);
        out += common_words(ladder, style);
    }
    return out + "\n" + surroundings(a, style);
}

}  // namespace warmside::report
