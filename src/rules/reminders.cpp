// What else the code asks: stated where the house has what a line is about.
#include <algorithm>
#include <set>

#include "assembly/duty.h"
#include "rules/context.h"
#include "rules/layers.h"
#include "rules/practice_data.h"

namespace warmside::rules {

namespace {

using Words = std::set<std::string, std::less<>>;

void words_of_wall(const assembly::Assembly& wall, const Insulation& in, Words& words) {
    const auto duties = assembly::duties_of(wall);
    const auto has = [&](assembly::Duty duty) { return std::ranges::find(duties, duty) != duties.end(); };
    words.insert("wall");
    if (has(assembly::Duty::furring)) words.insert("service cavity");
    if (has(assembly::Duty::second)) words.insert("double stud");
    if (in.continuous_outside > 0.0) words.insert("outside insulation");
    if (in.foam_outside > 0.0) words.insert("foam outside");
    if (first_ventilated(wall) < wall.layers.size()) words.insert("ventilated gap");
}

void words_of_surface(const Surface& surface, Words& words) {
    if (surface.row == "floor") words.insert("floor");
    if (surface.row == "basement wall") words.insert("basement");
    if (surface.row == "crawl space wall") words.insert("crawl space");
    if (surface.row == "ceiling") words.insert("ceiling");
    if (!surface.assembly) return;
    const assembly::Assembly& assembly = *surface.assembly;
    const Insulation in = insulation_of(assembly);
    for (const assembly::Layer& layer : assembly.layers) {
        if (is_foam(layer)) words.insert("foam");
        if (layer.existing) words.insert("existing");
    }
    if (assembly.part == assembly::Part::wall) words_of_wall(assembly, in, words);
    if (assembly.part == assembly::Part::roof && !assembly.vented &&
        first_ventilated(assembly) == assembly.layers.size())
        words.insert("unvented roof");
}

Words words_of(const Inputs& in) {
    Words words{"always"};
    for (const Surface& each : in.surfaces) words_of_surface(each, words);
    if (in.attic) words.insert("attic");
    if (in.crawl_space) words.insert("crawl space");
    if (!in.slabs.empty()) words.insert("slab");
    if (!in.glazing.empty()) words.insert("windows");
    return words;
}

bool holds(const Reminder& r, const Context& context, const Words& words) {
    const auto any = [](const auto& list, const auto& value) {
        return list.empty() || std::ranges::find(list, value) != list.end();
    };
    return any(r.editions, context.tables().edition) &&
           any(r.zones, column_name(column_of(context.zone()))) &&
           std::ranges::all_of(r.about, [&](const std::string& word) { return words.contains(word); });
}

}  // namespace

void reminders(const Context& context, Findings& out) {
    const Words words = words_of(context.in);
    for (const Reminder& r : reminder_list()) {
        if (!holds(r, context, words)) continue;
        out.push_back({.subject = Subject::reminder,
                       .part = "house",
                       .rule = r.subject,
                       .citation = r.citation,
                       .words = r.words,
                       .evidence = r.origin.evidence,
                       .origin = r.origin});
    }
}

}  // namespace warmside::rules
