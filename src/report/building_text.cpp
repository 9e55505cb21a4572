// The tables of `warmside frame` and `warmside takeoff`, and their documents.
#include <algorithm>
#include <fmt/format.h>
#include <functional>
#include <map>

#include "assembly/boxes.h"
#include "report/building.h"
#include "report/terminal_parts.h"
#include "report/words.h"
#include "units/quantity.h"

namespace warmside::report {

using structure::Outcome;

namespace {

std::string size_of(double metres, bool first) {
    return first ? units::inches(metres) : units::millimetres(metres);
}

Json box_json(const framing::Box& box) {
    Json out;
    const auto corner = [](const std::array<units::Exact, 3>& at) {
        Json c = Json::array();
        for (const auto& v : at) c.push_back(v.metres());
        return c;
    };
    out["low"] = corner(box.low);
    out["high"] = corner(box.high);
    return out;
}

Json panel_json(const framing::Panel& panel) {
    Json out;
    out["panel"] = panel.name;
    out["assembly"] = panel.assembly;
    out["storey"] = panel.storey;
    out["length"] = panel.length.metres();
    out["height"] = panel.height.metres();
    out["corner"] = panel.origin;
    out["u"] = panel.u;
    out["v"] = panel.v;
    out["w"] = panel.w;
    out["members"] = Json::array();
    for (const auto& m : panel.members) {
        Json row;
        row["mark"] = m.mark;
        row["role"] = framing::name_of(m.role);
        row["section"] = m.section.name;
        row["lumber"] = m.lumber;
        row["length"] = m.length.metres();
        row["box"] = box_json(m.box);
        out["members"].push_back(std::move(row));
    }
    out["boxes"] = Json::array();
    for (const auto& b : panel.boxes) {
        Json row;
        row["mark"] = b.mark;
        row["name"] = b.name;
        row["kind"] = assembly::name_of(b.kind);
        row["body"] = b.title;
        row["volume"] = b.volume;
        row["box"] = box_json(b.box);
        row["held_by"] = b.holder < panel.members.size() ? Json(panel.members[b.holder].mark) : Json(nullptr);
        row["own_block"] = b.own_block;
        row["by_rule"] = b.by_rule;
        row["inner_cavity"] = b.inner_cavity;
        row["pierces_airtight"] = b.pierces_airtight;
        row["origin"] = json_of(b.origin);
        out["boxes"].push_back(std::move(row));
    }
    return out;
}

Json item_json(const takeoff::Item& item) {
    Json out;
    out["kind"] = item.kind;
    out["name"] = item.name;
    out["net"] = item.net;
    out["waste"] = item.waste;
    out["gross"] = item.gross;
    out["unit"] = item.unit;
    out["count"] = item.count;
    out["package"] = item.package;
    out["origin"] = json_of(item.origin);
    return out;
}

Json cut_json(const takeoff::CutPlan& plan) {
    Json out;
    out["lumber"] = plan.name;
    out["kerf"] = plan.kerf.metres();
    out["cost"] = plan.cost;
    out["bound"] = plan.bound;
    out["proven"] = plan.proven;
    out["sticks"] = Json::array();
    for (const auto& pattern : plan.patterns) {
        Json row;
        row["stock"] = plan.stock[pattern.stock].length.metres();
        row["times"] = pattern.times;
        row["rest"] = pattern.rest.metres();
        row["cuts"] = Json::array();
        for (std::size_t i = 0; i < pattern.cut.size(); ++i) {
            if (pattern.cut[i] == 0) continue;
            Json cut;
            cut["length"] = plan.pieces[i].length.metres();
            cut["count"] = pattern.cut[i];
            row["cuts"].push_back(std::move(cut));
        }
        out["sticks"].push_back(std::move(row));
    }
    return out;
}

Json document(const answer::Answer& a, std::string_view only,
              const std::function<void(Json&, const answer::RungAnswer&)>& fill) {
    Json out;
    out["schema"] = schema;
    out["house"] = a.house;
    out["rungs"] = Json::array();
    each_wall_rung(a, only, [&](const auto& rung) {
        Json row;
        row["name"] = rung.name;
        row["title"] = rung.title;
        fill(row, rung);
        out["rungs"].push_back(std::move(row));
    });
    return out;
}

std::string head_of(const answer::RungAnswer& rung, const Style& style) {
    return "\n" + paint(rung.name, Ansi::bold, style) + "  " + rung.title + "\n";
}

// One row a panel: how long, how many members of what kind, how much wood.
std::string panel_table(const answer::RungAnswer& rung, bool first, const Style& style) {
    using framing::Role;
    const auto& frame = rung.framed->frame;
    Table table({1, 2, 3, 4, 5, 6});
    table.row({"panel", "length", "studs", "king/jack", "headers", "all", "wood"});
    for (const auto& panel : frame.panels) {
        std::map<Role, int> count;
        for (const auto& m : panel.members) ++count[m.role];
        const auto of = [&](std::initializer_list<Role> roles) {
            int n = 0;
            for (const Role role : roles) n += count[role];
            return n > 0 ? std::to_string(n) : std::string();
        };
        const auto factor = std::find_if(frame.factor.by_panel.begin(), frame.factor.by_panel.end(),
                                         [&](const auto& each) { return each.first == panel.name; });
        table.row(
            {panel.name,
             first ? units::feet_inches(panel.length.metres()) : units::millimetres(panel.length.metres()),
             of({Role::stud, Role::corner}), of({Role::king, Role::jack}), of({Role::header}),
             std::to_string(panel.members.size()),
             factor == frame.factor.by_panel.end() ? "" : fmt::format("{:.1f} %", 100.0 * factor->second)});
    }
    return table.text(4, 1, style);
}

// "header bath" as "header" and "bath": findings of openings are told together, opening by opening.
std::pair<std::string, std::string> kind_of(const std::string& subject) {
    for (const std::string_view kind : {"header", "jacks", "kings"}) {
        if (subject.size() > kind.size() && subject.starts_with(kind) && subject[kind.size()] == ' ')
            return {std::string(kind), subject.substr(kind.size() + 1)};
    }
    return {subject, {}};
}

std::string joined(const std::vector<std::string>& parts) {
    std::string out;
    for (const auto& part : parts) out += (out.empty() ? "" : "; ") + part;
    return out;
}

// Findings of one outcome; those that differ only in their place are one entry.
std::string outcome_lines(const structure::Structure& s, Outcome outcome, const Style& style) {
    struct Told {
        std::string kind, words;
        std::vector<std::string> places;
    };
    std::vector<Told> told;
    for (const auto& f : s.findings) {
        if (f.outcome != outcome) continue;
        auto [kind, opening] = kind_of(f.subject);
        std::string words = finding_words(f) + (f.citation.empty() ? "" : " [" + f.citation + "]");
        std::string place = opening + (opening.empty() || f.where.empty() ? "" : ", ") + f.where;
        const auto at = std::find_if(told.begin(), told.end(), [&](const Told& each) {
            return each.kind == kind && each.words == words;
        });
        if (at != told.end())
            at->places.push_back(std::move(place));
        else
            told.push_back({std::move(kind), std::move(words), {std::move(place)}});
    }
    std::string out;
    for (const Told& each : told) {
        const std::string places = joined(each.places);
        const std::string text = each.kind + (places.empty() ? "" : " (" + places + ")") + ": " + each.words;
        out += entry(structure::name_of(outcome), pretty(text), style, 4, 18, outcome == Outcome::fails);
    }
    return out;
}

// What passes: each kind with its count, openings by name.
std::string passing_lines(const structure::Structure& s, const Style& style) {
    std::map<std::string, std::pair<int, std::vector<std::string>>> kinds;
    for (const auto& f : s.findings) {
        if (f.outcome != Outcome::passes) continue;
        auto [kind, opening] = kind_of(f.subject);
        auto& [count, openings] = kinds[kind];
        ++count;
        if (!opening.empty()) openings.push_back(std::move(opening));
    }
    std::string out;
    for (const auto& [kind, each] : kinds) {
        const auto& [count, openings] = each;
        std::string text = fmt::format("{}, {} check{}", kind, count, count == 1 ? "" : "s");
        if (!openings.empty()) text += ": " + joined(openings);
        out += entry(structure::name_of(Outcome::passes), text, style, 4, 18);
    }
    return out;
}

std::string finding_lines(const structure::Structure& s, const Style& style) {
    std::string out;
    for (const Outcome outcome : outcomes) {
        if (outcome != Outcome::passes) out += outcome_lines(s, outcome, style);
    }
    return out + passing_lines(s, style);
}

// Cautions of all rungs, each once.
std::string caution_lines(const std::vector<std::string>& cautions, const Style& style) {
    std::string out;
    for (const auto& each : cautions) out += entry("caution", pretty(each), style, 4, 18);
    return out.empty() ? out : "\n" + out;
}

std::string net_of(const takeoff::Item& item, bool first) {
    if (item.unit == "piece") return {};
    if (item.unit == "m")
        return first ? fmt::format("{:.0f} ft", item.net / 0.3048) : fmt::format("{:.1f} m", item.net);
    if (item.unit == "m2") return area(item.net, first).first;
    if (item.unit == "m3") return first ? volume(item.net, true).first : fmt::format("{:.2f} m³", item.net);
    if (item.unit == "kg") return weight(item.net, first).first;
    return quantity(item.net, item.unit, first);
}

std::string order_table(const takeoff::Order& order, bool first, const Style& style) {
    Table table({1, 2, 3});
    table.row({"to buy", "net", "waste", "number", "each"});
    std::string kind;
    for (const auto& item : order.items) {
        if (item.kind != kind) table.row({kind = item.kind, "", "", "", ""});
        // Lumber has its stock length in its name, a truss its span.
        const bool named = item.package.starts_with("piece of ");
        table.row({"  " + item.name, net_of(item, first),
                   item.waste > 0.0 ? fmt::format("{:.0f} %", 100.0 * item.waste) : "",
                   item.count > 0.0 ? fmt::format("{:.0f}", item.count) : "",
                   named ? (item.kind == "lumber" ? "stick" : item.kind) : pretty(item.package)});
    }
    return table.text(2, 1, style);
}

std::string cut_table(const takeoff::CutPlan& plan, bool first, const Style& style) {
    std::string out =
        entry("cuts",
              fmt::format("{}: {}", plan.name,
                          plan.proven ? "proven cheapest"
                                      : fmt::format("within {:.2f} % of the cheapest", 100.0 * plan.gap())),
              style);
    Table table({0, 1, 2});
    table.row({"sticks", "of", "left", "cut into"});
    for (const auto& pattern : plan.patterns) {
        std::string cuts;
        for (std::size_t i = 0; i < pattern.cut.size(); ++i) {
            if (pattern.cut[i] == 0) continue;
            if (!cuts.empty()) cuts += ", ";
            if (pattern.cut[i] > 1) cuts += fmt::format("{} x ", pattern.cut[i]);
            cuts += size_of(plan.pieces[i].length.metres(), first);
        }
        table.row({std::to_string(pattern.times), size_of(plan.stock[pattern.stock].length.metres(), first),
                   size_of(pattern.rest.metres(), first), cuts});
    }
    return out + table.text(6, 1, style);
}

std::string cost_table(const takeoff::Cost& cost, const Style& style) {
    Table table({1});
    table.row({"cost", cost.currency});
    for (const auto& [group, value] : cost_groups(cost)) table.row({group, money(value, cost.currency)});
    table.row({"total", money(cost.total, cost.currency)});
    std::string out = table.text(4, 1, style);
    for (const auto& note : cost.notes) out += entry("note", note, style);
    return out;
}

}  // namespace

Json frame_json(const answer::Answer& a, std::string_view only) {
    return document(a, only, [](Json& row, const answer::RungAnswer& rung) {
        add_frame(row, rung, true);
        row["panels"] = Json::array();
        if (!rung.framed) return;
        for (const auto& panel : rung.framed->frame.panels) row["panels"].push_back(panel_json(panel));
        row["notes"] = Json::array();
        for (const auto& note : rung.framed->frame.notes) row["notes"].push_back(json_of(note));
    });
}

Json takeoff_json(const answer::Answer& a, std::string_view only) {
    return document(a, only, [](Json& row, const answer::RungAnswer& rung) {
        add_cost(row, rung);
        row["items"] = Json::array();
        row["cuts"] = Json::array();
        if (!rung.priced) return;
        for (const auto& item : rung.priced->order.items) row["items"].push_back(item_json(item));
        for (const auto& plan : rung.priced->order.lumber) row["cuts"].push_back(cut_json(plan));
        row["notes"] = rung.priced->order.notes;
    });
}

std::string frame_text(const answer::Answer& a, const Style& style, std::string_view only) {
    std::string out = paint(a.house, Ansi::bold, style) + "\n";
    std::vector<std::string> cautions;
    each_wall_rung(a, only, [&](const auto& rung) {
        out += head_of(rung, style);
        out += entry("framing", framing_words(rung), style);
        if (!rung.framed) return;
        if (const auto boxes = box_words(rung); !boxes.empty()) out += entry("boxes", boxes, style);
        for (const auto& caution : rung.framed->structure.cautions) {
            if (std::find(cautions.begin(), cautions.end(), caution) == cautions.end())
                cautions.push_back(caution);
        }
        out += "\n" + panel_table(rung, a.inch_pound_first, style) + "\n";
        out += finding_lines(rung.framed->structure, style);
        for (const auto& note : rung.framed->frame.notes) out += entry("note", note.what, style, 4, 18);
    });
    return out + caution_lines(cautions, style);
}

std::string takeoff_text(const answer::Answer& a, const Style& style, std::string_view only) {
    std::string out = paint(a.house, Ansi::bold, style) + "\n";
    each_wall_rung(a, only, [&](const auto& rung) {
        out += head_of(rung, style);
        out += entry("cost", cost_words(rung, a.inch_pound_first), style);
        if (const auto step = step_words(rung); !step.empty()) out += entry("step", step, style);
        if (!rung.priced) return;
        out += "\n" + order_table(rung.priced->order, a.inch_pound_first, style) + "\n";
        for (const auto& plan : rung.priced->order.lumber) out += cut_table(plan, a.inch_pound_first, style);
        out += "\n" + cost_table(rung.priced->cost, style);
        for (const auto& note : rung.priced->order.notes) out += entry("note", note, style);
    });
    // The calm line that every sheet has; what else the answer warns of is not about buying and cutting.
    return out + (a.cautions.empty() ? "" : caution_lines({a.cautions.front()}, style));
}

}  // namespace warmside::report
