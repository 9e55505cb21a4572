// Below the ladder: each rung in full, weather, areas, sources.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "drawing/svg.h"
#include "report/dry_files.h"
#include "report/html_parts.h"
#include "report/junctions.h"
#include "report/words.h"
#include "units/quantity.h"

namespace warmside::report {
namespace {

/// Text of people or of other rooms, units as people write them.
std::string escape(std::string_view text) {
    return drawing::escape(pretty(text));
}

using answer::RungAnswer;

constexpr std::size_t findings_shown = 12;
constexpr double moisture_width = 640.0;  // of the plot of each layer

/// A phrase that may end with a full stop, without it: the sentence around it has its own.
std::string_view without_stop(std::string_view text) {
    if (text.ends_with('.')) text.remove_suffix(1);
    return text;
}

std::string list(const std::vector<std::string>& lines) {
    if (lines.empty()) return {};
    std::string out = "<ul>";
    for (const auto& line : lines) out += "<li>" + escape(line) + "</li>";
    return out + "</ul>";
}

std::string layers(const Context& c, const thermal::Worth& w) {
    if (w.layers.empty()) return {};
    const bool first = c.answer.inch_pound_first;
    const auto r = [&](double value) {
        return value > 0.0 ? fmt::format("{:.2f}", first ? units::ip_r(value) : value) : std::string();
    };
    std::string out = fmt::format(
        "<table class=\"data\"><caption>Layers from inside, {0}</caption><tr><th scope=\"col\">layer</th><th "
        "scope=\"col\" class=\"n\">thickness</th>"
        "<th scope=\"col\" class=\"n\">{0}, bay</th><th scope=\"col\" class=\"n\">{0}, framing</th><th "
        "scope=\"col\" class=\"n\">label</th>"
        "<th scope=\"col\" class=\"n\">W/(m K)</th><th scope=\"col\">from</th></tr>",
        first ? "R" : "RSI");
    for (const auto& l : w.layers) {
        std::string from = describe(l.origin);
        if (!l.note.empty()) from.insert(0, l.note + "; ");
        out += fmt::format(
            "<tr><td>{}</td><td class=\"n\">{}</td><td class=\"n\">{}</td><td class=\"n\">{}</td><td "
            "class=\"n\">{}</td><td class=\"n\">{}</td><td class=\"quiet\">{}</td></tr>",
            escape(l.title), l.thickness > 0.0 ? escape(both(thickness(l.thickness, first))) : "",
            r(l.resistance),
            l.framing_resistance
                ? fmt::format("{} on {:.0f} %", r(*l.framing_resistance), 100.0 * l.framing_share)
                : "",
            r(l.label), l.conductivity > 0.0 ? fmt::format("{:.4f}", l.conductivity) : "", escape(from));
    }
    return out + "</table>";
}

std::string junctions(const RungAnswer& rung, bool first) {
    if (rung.junctions.empty()) return {};
    std::string out = fmt::format("<table class=\"data\"><caption>Where it meets the rest: {}</caption><tr>",
                                  escape(junction_words(rung, first)));
    const auto heads = junction_heads();
    for (std::size_t i = 0; i < heads.size(); ++i)
        out += fmt::format("<th scope=\"col\"{}>{}</th>", i > 0 ? " class=\"n\"" : "", escape(heads[i]));
    out += "</tr>";
    for (const auto& row : junction_rows(rung, first)) {
        out += "<tr>";
        for (std::size_t i = 0; i < row.size(); ++i)
            out += fmt::format("<td{}>{}</td>", i > 0 ? " class=\"n\"" : "", escape(row[i]));
        out += "</tr>";
    }
    return out +
           "</table><p class=\"quiet\">psi in W/(m K), by two-dimensional conduction (ISO 10211). f: lowest "
           "surface "
           "temperature factor with Rsi 0.25, of frame and pane 0.13; the glass edge is colder. Indoor "
           "humidity at "
           "20 °C that keeps the surface at or below 80 % in the coldest month.</p>";
}

std::string findings(const moisture::Verdict& v) {
    if (v.findings.empty()) return {};
    std::string out =
        "<table class=\"data\"><caption>What was judged, worst first</caption><tr><th "
        "scope=\"col\">criterion</th><th scope=\"col\"></th><th scope=\"col\" class=\"n\">value</th>"
        "<th scope=\"col\" class=\"n\">watch from</th><th scope=\"col\" class=\"n\">wet from</th><th "
        "scope=\"col\">where and when</th></tr>";
    for (std::size_t i = 0; i < v.findings.size() && i < findings_shown; ++i) {
        const auto& f = v.findings[i];
        out += fmt::format(
            "<tr><td>{}</td><td{}>{}</td><td class=\"n\">{}</td><td class=\"n\">{}</td><td "
            "class=\"n\">{}</td><td class=\"quiet\">{}, week {}{}; {}</td></tr>",
            escape(f.criterion), f.dryness == moisture::Dryness::wet ? " class=\"accent\"" : "",
            moisture::name_of(f.dryness), escape(value_of(f)), limit(f.watch_limit), limit(f.wet_limit),
            escape(f.place), f.week, f.first_year ? ", first year" : "", escape(f.run));
    }
    out += "</table>";
    if (v.findings.size() > findings_shown) {
        out += fmt::format("<p class=\"quiet\">{} more, none worse; <code>--json</code> lists all.</p>",
                           v.findings.size() - findings_shown);
    }
    return out;
}

std::string reasons_of(const moisture::Verdict& v, bool first) {
    const auto lines = reasons(v, first);
    if (lines.empty()) return {};
    const bool asked = !v.driver_words.empty() || v.allowance || !v.changes.empty();
    std::string out = fmt::format("<table class=\"data\"><caption>{}</caption>",
                                  asked ? "Why, and what would change it" : "A second opinion");
    for (const auto& [label, words] : lines)
        out += fmt::format("<tr><th scope=\"row\">{}</th><td>{}</td></tr>", escape(label), escape(words));
    return out + "</table>";
}

std::string rung_details(const Context& c, const answer::LadderAnswer& ladder, const RungAnswer& rung) {
    const bool first = c.answer.inch_pound_first;
    const auto& w = rung.worth;
    std::string out = fmt::format(
        "<details class=\"rung\" id=\"more-{}\"><summary>{} <code>{}</code> <span "
        "class=\"quiet\">{}</span></summary>",
        id_of(ladder.part, rung.name), escape(rung.title), drawing::escape(rung.name),
        escape(both(thickness(rung.thickness, first))));
    out += "<div class=\"halves\">";
    if (w.clear_r > 0.0) {
        out += fmt::format("<div><h3>What it is worth</h3><p>{}.</p>",
                           escape(fmt::format("{}", fmt::join(stair_words(w, first), ", "))));
        out += fmt::format("<p class=\"quiet\">Clear-field {}: {}.", escape(both(r_value(w.clear_r, first))),
                           escape(w.clear_method));
        if (!w.iso_words.empty()) out += fmt::format(" {}.", escape(w.iso_words));
        if (!w.handbook_words.empty()) out += fmt::format(" Handbook: {}.", escape(w.handbook_words));
        if (w.face_r > 0.0) {
            out +=
                fmt::format(" Whole face {}, {:.1f} % framing ({}).", escape(both(r_value(w.face_r, first))),
                            100.0 * w.framing_fraction, escape(describe(w.framing_origin)));
        }
        if (w.code_u > 0.0)
            out += fmt::format(" Code {}{}{}.", escape(both(u_value(w.code_u, first))),
                               w.code_note.empty() ? "" : ": ", escape(without_stop(w.code_note)));
        out += "</p>" + layers(c, w) + junctions(rung, first) +
               heat_pictures_of(c, rung, id_of(ladder.part, rung.name)) + list(w.notes) + "</div>";
    }
    if (rung.verdict) {
        const auto& v = *rung.verdict;
        out += fmt::format("<div><h3>Does it stay dry?</h3><p>{}: {}.</p>", moisture::name_of(v.dryness),
                           escape(v.reason));
        out += reasons_of(v, first);
        if (!v.assumes.empty() && !common_assumptions(ladder))
            out += "<p class=\"quiet\">It rests on:</p>" + list(v.assumes);
        out += findings(v);
        if (const auto sheet = layer_sheet(c.house.assemblies.at(rung.assembly), rung, moisture_width, first))
            out += "<div class=\"layers\">" +
                   drawing::svg(*sheet, {.standalone = false, .id = "m-" + id_of(ladder.part, rung.name)}) +
                   "</div>";
        const auto& b = rung.balance;
        out += fmt::format(
            "<p class=\"quiet\">{} runs. The worst closes its water balance to {:.1e} and its energy balance "
            "to {:.1e}.</p>",
            rung.runs, b.water_error, b.energy_error);
        out += "</div>";
    }
    return out + "</div>" + building_details(c, ladder, rung) + list(all_notes(rung)) + "</details>\n";
}

std::string weather(const Context& c) {
    const auto& w = c.answer.weather;
    const bool first = c.answer.inch_pound_first;
    if (w.place.empty() && w.kind.empty()) return {};
    std::string out = "<section><h2>Weather</h2><p>" + escape(w.place);
    if (!w.kind.empty()) out += ": " + escape(w.kind);
    out += ".</p>";
    if (w.mean_temperature > 0.0) {
        out += fmt::format(
            "<p>Mean of the year {}, of the coldest month {}; heating degree days below 65 °F {}.",
            escape(both(temperature(w.mean_temperature, first))), escape(both(temperature(w.january, first))),
            escape(both(degree_days(w.heating_degree_days, first))));
        if (!w.wettest_face.empty())
            out += fmt::format(" Most driving rain falls on the {} face.", escape(w.wettest_face));
        out += "</p>";
    }
    return out + list(w.notes) + "</section>\n";
}

std::string areas(const Context& c) {
    if (!c.answer.areas) return {};
    const bool first = c.answer.inch_pound_first;
    const auto& a = *c.answer.areas;
    std::string out = "<section><h2>Areas</h2><table class=\"data\">";
    const auto line = [&](const char* name, const Pair& pair) {
        out += fmt::format(
            "<tr><th scope=\"row\">{}</th><td class=\"n\">{}</td><td class=\"n quiet\">{}</td></tr>", name,
            pair.first, pair.second);
    };
    const auto each = [&](const char* name, double value) {
        if (value > 0.0) line(name, area(value, first));
    };
    each("floor", a.floor);
    each("walls, gross", a.wall_gross);
    each("walls, net", a.wall_net);
    each("windows", a.window);
    each("doors", a.door);
    each("roof", a.roof);
    each("ceiling", a.ceiling);
    if (a.volume > 0.0) line("volume", volume(a.volume, first));
    return out + "</table><p class=\"quiet\">Inside dimensions.</p></section>\n";
}

std::string sources(const Context& c) {
    std::vector<std::string> all;
    const auto add = [&](const std::string& text) {
        if (!text.empty() && std::find(all.begin(), all.end(), text) == all.end()) all.push_back(text);
    };
    for (const auto& ladder : c.answer.ladders) {
        for (const auto& rung : ladder.rungs) {
            for (const auto& l : rung.worth.layers) {
                if (!l.origin.source.empty()) add(fmt::format("{}: {}", l.title, l.origin.source));
            }
            if (!rung.worth.framing_origin.source.empty())
                add("framing fraction: " + rung.worth.framing_origin.source);
            if (!rung.verdict) continue;
            for (const auto& f : rung.verdict->findings) {
                if (!f.source.empty()) add(fmt::format("{}: {}", f.criterion, f.source));
            }
        }
    }
    return all.empty() ? std::string() : "<section><h2>Sources</h2>" + list(all) + "</section>\n";
}

}  // namespace

std::string notes_of(const Context& c) {
    std::string rungs;
    for (const auto& ladder : c.answer.ladders) {
        for (const auto& rung : ladder.rungs) {
            if (rung.worth.clear_r > 0.0 || rung.verdict || rung.framed)
                rungs += rung_details(c, ladder, rung);
        }
    }
    std::string out;
    if (!rungs.empty()) out += "<section><h2>Rung by rung</h2>" + rungs + "</section>\n";
    return out + "<div class=\"notes\">" + weather(c) + areas(c) + sources(c) + "</div>\n";
}

}  // namespace warmside::report
