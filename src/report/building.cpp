#include "report/building.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>

#include "assembly/boxes.h"
#include "report/json_parts.h"
#include "report/words.h"
#include "units/quantity.h"

namespace warmside::report {

using structure::Outcome;

namespace {

constexpr double square_foot = 0.09290304;  // m2, exact

Json factor_json(const framing::FramingFactor& f, std::size_t members) {
    Json out;
    out["whole"] = f.whole;
    out["field"] = f.field;
    out["plates"] = f.plates;
    out["corners"] = f.corners;
    out["openings"] = f.openings;
    out["rim"] = f.rim;
    out["net_area"] = f.net_area;
    out["members"] = members;
    out["panels"] = Json::array();
    for (const auto& [panel, whole] : f.by_panel) {
        Json row;
        row["panel"] = panel;
        row["whole"] = whole;
        out["panels"].push_back(std::move(row));
    }
    return out;
}

// Of all walls: how many, by what they are for and where they stand.
struct BoxCount {
    int all = 0, receptacles = 0, inner_cavity = 0, pierce = 0;
};

BoxCount boxes_of(const framing::Frame& frame) {
    BoxCount out;
    for (const auto& panel : frame.panels) {
        for (const auto& box : panel.boxes) {
            ++out.all;
            if (box.kind == assembly::BoxKind::receptacle) ++out.receptacles;
            if (box.inner_cavity) ++out.inner_cavity;
            if (box.pierces_airtight) ++out.pierce;
        }
    }
    return out;
}

Json boxes_json(const framing::Frame& frame) {
    const BoxCount count = boxes_of(frame);
    Json out;
    out["count"] = count.all;
    out["receptacles"] = count.receptacles;
    out["inner_cavity"] = count.inner_cavity;
    out["pierce_airtight"] = count.pierce;
    out["caution"] = assembly::box_caution;
    return out;
}

Json finding_json(const structure::Finding& f, bool with_inputs) {
    Json out;
    out["subject"] = f.subject;
    out["where"] = maybe(f.where);
    out["rule"] = maybe(f.rule);
    out["citation"] = maybe(f.citation);
    out["outcome"] = structure::name_of(f.outcome);
    out["ratio"] = maybe(f.ratio);
    out["demand"] = maybe(f.demand);
    out["capacity"] = maybe(f.capacity);
    out["unit"] = maybe(f.unit);
    out["words"] = f.words;
    out["change"] = maybe(f.change);
    if (!with_inputs) return out;
    out["inputs"] = Json::array();
    for (const auto& input : f.inputs) {
        Json row;
        row["name"] = input.name;
        row["value"] = input.value;
        row["unit"] = input.unit;
        row["origin"] = json_of(input.origin);
        out["inputs"].push_back(std::move(row));
    }
    return out;
}

Json structure_json(const structure::Structure& s, bool with_inputs) {
    Json out;
    out["worst"] = structure::name_of(s.worst());
    for (const Outcome outcome :
         {Outcome::passes, Outcome::fails, Outcome::needs_engineer, Outcome::not_given, Outcome::reminder}) {
        std::string key = structure::name_of(outcome);
        std::replace(key.begin(), key.end(), ' ', '_');
        out["counts"][key] = s.count(outcome);
    }
    out["findings"] = Json::array();
    for (const auto& finding : s.findings) out["findings"].push_back(finding_json(finding, with_inputs));
    out["cautions"] = s.cautions;
    return out;
}

Json line_json(const takeoff::CostLine& l) {
    Json out;
    out["group"] = l.group;
    out["name"] = l.name;
    out["quantity"] = l.quantity;
    out["unit"] = l.unit;
    out["money"] = l.money;
    out["hours"] = l.hours;
    out["labour"] = l.labour;
    return out;
}

Json lines_json(const std::vector<takeoff::CostLine>& lines) {
    Json out = Json::array();
    for (const auto& line : lines) out.push_back(line_json(line));
    return out;
}

Json cost_json(const takeoff::Cost& c) {
    Json out;
    out["total"] = c.total;
    out["material"] = c.material;
    out["labour"] = c.labour;
    out["hours"] = c.hours;
    out["area"] = c.area;
    out["per_area"] = c.per_area();
    out["currency"] = c.currency;
    out["date"] = maybe(c.date);
    out["place"] = maybe(c.place);
    out["demo"] = c.demo;
    out["lines"] = lines_json(c.lines);
    out["notes"] = c.notes;
    return out;
}

Json step_json(const takeoff::StepCost& s) {
    Json out;
    out["total"] = s.total;
    out["material"] = s.material;
    out["labour"] = s.labour;
    out["hours"] = s.hours;
    out["knock_on"] = lines_json(s.knock_on);
    out["lines"] = lines_json(s.lines);
    out["notes"] = s.notes;
    return out;
}

std::size_t members_of(const framing::Frame& frame) {
    std::size_t sum = 0;
    for (const auto& panel : frame.panels) sum += panel.members.size();
    return sum;
}

// The first of each subject that has this outcome.
std::vector<std::string> subjects(const structure::Structure& s, Outcome outcome) {
    std::vector<std::string> out;
    for (const auto& f : s.findings) {
        if (f.outcome == outcome && std::find(out.begin(), out.end(), f.subject) == out.end())
            out.push_back(f.subject);
    }
    return out;
}

std::string thousands(long value) {
    if (value < 1000) return std::to_string(value);
    return fmt::format("{},{:03}", thousands(value / 1000), value % 1000);
}

std::string listed(const std::vector<std::string>& words) {
    constexpr std::size_t most = 4;
    std::string out;
    for (std::size_t i = 0; i < std::min(words.size(), most); ++i) {
        if (i > 0) out += ", ";
        out += words[i];
    }
    if (words.size() > most) out += fmt::format(" and {} more", words.size() - most);
    return out;
}

}  // namespace

std::vector<std::pair<std::string, double>> cost_groups(const takeoff::Cost& cost) {
    std::map<std::pair<bool, std::string>, double> sums;
    for (const auto& line : cost.lines) sums[{line.labour, line.group}] += line.money;
    std::vector<std::pair<std::string, double>> out;
    out.reserve(sums.size());
    for (const auto& [group, value] : sums)
        out.emplace_back((group.first ? "labour: " : "") + group.second, value);
    return out;
}

std::string money(double value, std::string_view currency) {
    const long whole = std::lround(value);
    const std::string_view sign = whole < 0 ? "-" : "";
    if (currency == "USD" || currency == "CAD") return fmt::format("{}${}", sign, thousands(std::abs(whole)));
    return fmt::format("{}{} {}", sign, thousands(std::abs(whole)), currency);
}

void add_frame(Json& out, const answer::RungAnswer& rung, bool with_inputs) {
    out["framed_absent"] = maybe(rung.framed_absent);
    out["framing_factor"] =
        rung.framed ? factor_json(rung.framed->frame.factor, members_of(rung.framed->frame)) : Json(nullptr);
    out["boxes"] = rung.framed ? boxes_json(rung.framed->frame) : Json(nullptr);
    out["structure"] = rung.framed ? structure_json(rung.framed->structure, with_inputs) : Json(nullptr);
}

void add_cost(Json& out, const answer::RungAnswer& rung) {
    out["cost_absent"] = maybe(rung.priced_absent);
    out["cost"] = rung.priced ? cost_json(rung.priced->cost) : Json(nullptr);
    out["cost_step"] = rung.step_cost ? step_json(*rung.step_cost) : Json(nullptr);
}

void each_wall_rung(const answer::Answer& answer, std::string_view only,
                    const std::function<void(const answer::RungAnswer&)>& task) {
    for (const auto& ladder : answer.ladders) {
        if (ladder.part != assembly::Part::wall) continue;
        for (const auto& rung : ladder.rungs) {
            if (only.empty() || rung.name == only) task(rung);
        }
    }
}

std::string framing_parts(const answer::RungAnswer& rung) {
    if (!rung.framed) return {};
    const auto& f = rung.framed->frame.factor;
    std::string out = fmt::format("field {:.1f}, plates {:.1f}, corners {:.1f}, openings {:.1f}",
                                  100.0 * f.field, 100.0 * f.plates, 100.0 * f.corners, 100.0 * f.openings);
    if (f.published)
        out += fmt::format("; published for whole walls at this spacing {:.0f} %", 100.0 * *f.published);
    return out;
}

std::string framing_words(const answer::RungAnswer& rung) {
    if (!rung.framed) return rung.framed_absent.empty() ? "" : "not framed: " + rung.framed_absent;
    return fmt::format("{:.1f} % of the walls is wood: {}; {} pieces in all panels",
                       100.0 * rung.framed->frame.factor.whole, framing_parts(rung),
                       thousands(static_cast<long>(members_of(rung.framed->frame))));
}

std::string box_words(const answer::RungAnswer& rung) {
    if (!rung.framed) return {};
    const BoxCount count = boxes_of(rung.framed->frame);
    if (count.all == 0) return {};
    return fmt::format(
        "{} electrical boxes in outer walls, {} of them receptacles; {} in an inner cavity, {} "
        "through the airtight layer",
        count.all, count.receptacles, count.inner_cavity, count.pierce);
}

std::string structure_words(const answer::RungAnswer& rung) {
    if (!rung.framed) return {};
    const auto& s = rung.framed->structure;
    const auto passing = s.count(Outcome::passes);
    std::string out = passing == 1 ? "1 check passes" : fmt::format("{} checks pass", passing);
    const auto add = [&](Outcome outcome, const char* one, const char* many) {
        if (const auto n = s.count(outcome); n > 0)
            out += fmt::format("; {} {}: {}", n, n == 1 ? one : many, listed(subjects(s, outcome)));
    };
    add(Outcome::fails, "fails", "fail");
    add(Outcome::needs_engineer, "needs an engineer", "need an engineer");
    add(Outcome::not_given, "lacks a load", "lack a load");
    return out;
}

const char* structure_word(const structure::Structure& s) {
    for (const Outcome outcome : outcomes) {
        if (outcome != Outcome::reminder && s.count(outcome) > 0) return structure::name_of(outcome);
    }
    return "not judged";
}

std::string finding_words(const structure::Finding& f) {
    if (f.change.empty()) return f.words;
    return fmt::format("{} What helps: {}{}", f.words, f.change, f.change.ends_with('.') ? "" : ".");
}

std::string cost_parts(const answer::RungAnswer& rung, bool first) {
    if (!rung.priced) return {};
    const auto& c = rung.priced->cost;
    const std::string parts =
        fmt::format("material {}, labour {} in {:.0f} h{}", money(c.material, c.currency),
                    money(c.labour, c.currency), c.hours, c.demo ? "; invented demo prices" : "");
    if (c.roofs) return parts;
    const std::string symbol = c.currency == "USD" || c.currency == "CAD" ? "$" : c.currency + " ";
    const std::string per_foot = fmt::format("{}{:.2f} a ft²", symbol, c.per_area() * square_foot),
                      per_metre = fmt::format("{}{:.0f} a m²", symbol, c.per_area());
    return fmt::format("{} ({}) of net wall; {}", first ? per_foot : per_metre, first ? per_metre : per_foot,
                       parts);
}

std::string cost_words(const answer::RungAnswer& rung, bool first) {
    if (!rung.priced) return rung.priced_absent.empty() ? "" : "no cost: " + rung.priced_absent;
    const auto& c = rung.priced->cost;
    return fmt::format("{} {}; {}", c.roofs ? "walls, floors and roofs" : "walls", money(c.total, c.currency),
                       cost_parts(rung, first));
}

std::string step_words(const answer::RungAnswer& rung) {
    if (!rung.step_cost || !rung.priced) return {};
    const auto& s = *rung.step_cost;
    const std::string& currency = rung.priced->cost.currency;
    double knock_on = 0.0;
    for (const auto& line : s.knock_on) knock_on += line.money;
    std::string out = fmt::format("{} {} than the rung below", money(std::abs(s.total), currency),
                                  s.total < 0.0 ? "less" : "more");
    if (std::lround(knock_on) != 0)
        out += fmt::format(", {} of it from the change in thickness and new work", money(knock_on, currency));
    return out;
}

}  // namespace warmside::report
