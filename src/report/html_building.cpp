// Wood, structure and cost in the page: rows of the ladder, and each rung's findings and money in full.
#include <fmt/format.h>

#include <algorithm>

#include "drawing/svg.h"
#include "report/building.h"
#include "report/elevations.h"
#include "report/html_parts.h"
#include "report/words.h"

namespace warmside::report {
namespace {

using answer::LadderAnswer;
using answer::RungAnswer;
using structure::Finding;
using structure::Outcome;

/// Text of people or of other rooms, units as people write them.
std::string escape(std::string_view text) {
    return drawing::escape(pretty(text));
}

bool any(const LadderAnswer& ladder, bool (*test)(const RungAnswer&)) {
    return std::any_of(ladder.rungs.begin(), ladder.rungs.end(), test);
}

/// Figures of this rung are still to come.
bool awaits_frame(const Context& c, const RungAnswer& rung) {
    return c.live && !rung.framed && rung.framed_absent.empty();
}
bool awaits_price(const Context& c, const RungAnswer& rung) {
    return c.live && !rung.priced && rung.priced_absent.empty();
}

constexpr const char* computing = "<span class=\"quiet\">computing</span>";

/// One figure large, what it is made of below it.
std::string cell(std::string_view figure, std::string_view words, bool accent = false) {
    std::string out;
    if (!figure.empty())
        out = fmt::format("<span class=\"word{}\">{}</span>", accent ? " accent" : "", escape(figure));
    return out + fmt::format("<div class=\"reason condensed\">{}</div>", escape(words));
}

std::string wood_cell(const Context& c, const RungAnswer& rung) {
    if (awaits_frame(c, rung)) return computing;
    if (!rung.framed) return cell({}, "not framed: " + rung.framed_absent);
    return cell(fmt::format("{:.1f} %", 100.0 * rung.framed->frame.factor.whole), framing_parts(rung));
}

std::string carries_cell(const Context& c, const RungAnswer& rung) {
    if (awaits_frame(c, rung)) return computing;
    if (!rung.framed) return {};
    const auto& s = rung.framed->structure;
    return cell(structure_word(s), structure_words(rung), s.count(Outcome::fails) > 0);
}

std::string cost_cell(const Context& c, const RungAnswer& rung) {
    if (awaits_price(c, rung)) return computing;
    if (!rung.priced) return cell({}, "no cost: " + rung.priced_absent);
    const auto& cost = rung.priced->cost;
    std::string words = cost_parts(rung, c.answer.inch_pound_first);
    if (const auto step = step_words(rung); !step.empty()) words += "; " + step;
    return cell(money(cost.total, cost.currency), words);
}

std::string inputs_of(const Finding& f, bool first) {
    if (f.inputs.empty()) return {};
    std::string out = "<details><summary>inputs</summary><ul>";
    for (const auto& input : f.inputs)
        out += fmt::format("<li>{}: {}, {}</li>", escape(input.name),
                           escape(load(input.value, input.unit, first)), escape(describe(input.origin)));
    return out + "</ul></details>";
}

std::string finding_row(const Finding& f, bool first) {
    std::string rule = f.rule;
    if (!f.citation.empty()) rule += (rule.empty() ? "" : "; ") + f.citation;
    return fmt::format(
        "<tr><td{}>{}</td><td>{}<div class=\"quiet\">{}</div></td><td>{}{}</td><td "
        "class=\"quiet\">{}</td></tr>",
        f.outcome == Outcome::fails ? " class=\"accent\"" : "", structure::name_of(f.outcome),
        escape(f.subject), escape(f.where), escape(finding_words(f)), inputs_of(f, first), escape(rule));
}

/// What does not pass stands open; what passes is folded below it.
std::string findings(const RungAnswer& rung, std::string_view id, bool first) {
    constexpr const char* head =
        "<tr><th scope=\"col\">outcome</th><th scope=\"col\">of</th><th scope=\"col\">finding</th><th "
        "scope=\"col\">rule and source</th></tr>";
    const auto& s = rung.framed->structure;
    std::string open, folded;
    for (const Outcome outcome : outcomes) {
        for (const auto& f : s.findings) {
            if (f.outcome == outcome) (outcome == Outcome::passes ? folded : open) += finding_row(f, first);
        }
    }
    std::string out = "<h3>Do its members carry?</h3>";
    for (const auto& caution : s.cautions) out += fmt::format("<p class=\"quiet\">{}</p>", escape(caution));
    if (!open.empty()) out += fmt::format("<table class=\"data findings\">{}{}</table>", head, open);
    if (folded.empty()) return out;
    const auto passing = s.count(Outcome::passes);
    return out + fmt::format(
                     "<details class=\"passing\" id=\"passes-{}\"><summary>{}</summary><table class=\"data "
                     "findings\">{}{}</table></details>",
                     id, passing == 1 ? "1 check passes" : fmt::format("{} checks pass", passing), head,
                     folded);
}

std::string money_table(const takeoff::Cost& cost, const takeoff::StepCost* step) {
    std::string out = "<table class=\"data\"><caption>What the walls cost</caption>";
    const auto line = [&](std::string_view name, double value) {
        out += fmt::format("<tr><th scope=\"row\">{}</th><td class=\"n\">{}</td></tr>", escape(name),
                           escape(money(value, cost.currency)));
    };
    for (const auto& [name, value] : cost_groups(cost)) line(name, value);
    line("total", cost.total);
    out += "</table>";
    if (!step) return out;
    out += "<table class=\"data\"><caption>What the step adds</caption>";
    for (const auto& each : step->lines) line(each.labour ? "labour: " + each.group : each.group, each.money);
    for (const auto& each : step->knock_on) line(each.name.empty() ? each.group : each.name, each.money);
    line("total", step->total);
    return out + "</table>";
}

std::string notes(const std::vector<std::string>& lines) {
    if (lines.empty()) return {};
    std::string out = "<ul class=\"quiet\">";
    for (const auto& line : lines) out += "<li>" + escape(line) + "</li>";
    return out + "</ul>";
}

std::string cost_details(const RungAnswer& rung) {
    if (!rung.priced) return {};
    const auto& cost = rung.priced->cost;
    const auto* step = rung.step_cost ? &*rung.step_cost : nullptr;
    std::string out = "<div class=\"halves\"><div>" + money_table(cost, step) + "</div><div>";
    std::string from = cost.demo ? "Invented prices of the demo book" : "Prices";
    if (!cost.place.empty()) from += ", " + cost.place;
    if (!cost.date.empty()) from += ", " + cost.date;
    out += fmt::format("<p class=\"quiet\">{}.</p>", escape(from)) + notes(cost.notes);
    if (step) out += notes(step->notes);
    return out + notes(rung.priced->order.notes) + "</div></div>";
}

}  // namespace

std::vector<std::pair<std::string, std::string>> price_cells(const Context& c, const LadderAnswer& ladder,
                                                             const RungAnswer& rung) {
    const auto id = id_of(ladder.part, rung.name);
    return {{"cost-" + id, cost_cell(c, rung)}, {"money-" + id, cost_details(rung)}};
}

std::string building_rows(const Context& c, const LadderAnswer& ladder) {
    if (ladder.part != assembly::Part::wall) return {};
    const bool waits = std::any_of(ladder.rungs.begin(), ladder.rungs.end(),
                                   [&](const RungAnswer& r) { return awaits_frame(c, r); });
    if (!waits && !any(ladder, [](const RungAnswer& r) { return r.framed != nullptr; })) return {};
    std::string out = "<tbody class=\"building\">\n";
    out += row(
        "<th scope=\"row\"><b>How much of it is wood?</b>share of the net wall, in percent, of the members "
        "placed in this house</th>",
        ladder, [&](const RungAnswer& r) { return wood_cell(c, r); }, "wood");
    out += row(
        "<th scope=\"row\"><b>Do its members carry?</b>for the loads of the house file, first order; an "
        "engineer and the building official decide</th>",
        ladder, [&](const RungAnswer& r) { return carries_cell(c, r); }, "carries");
    const bool priced = std::any_of(ladder.rungs.begin(), ladder.rungs.end(), [&](const RungAnswer& r) {
        return r.priced || !r.priced_absent.empty() || awaits_price(c, r);
    });
    if (priced)
        out += row(
            "<th scope=\"row\"><b>What do the walls cost?</b>material and labour to build them, and what the "
            "step adds</th>",
            ladder, [&](const RungAnswer& r) { return cost_cell(c, r); }, "cost");
    return out + "</tbody>\n";
}

std::string building_details(const Context& c, const LadderAnswer& ladder, const RungAnswer& rung) {
    if (!rung.framed) return {};
    const auto id = id_of(ladder.part, rung.name);
    return findings(rung, id, c.answer.inch_pound_first) + elevations_of(c, rung, id) +
           fmt::format("<div id=\"money-{}\">{}</div>", id, cost_details(rung));
}

}  // namespace warmside::report
