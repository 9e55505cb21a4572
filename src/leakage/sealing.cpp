#include "leakage/sealing.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "leakage/sealing_list.h"

namespace warmside::leakage {

namespace {

// Each row errs by itself, all places of a row alike.
Workmanship independent(const std::vector<SealItem>& items) {
    std::map<std::string_view, Workmanship> rows;
    for (const SealItem& item : items) rows[item.component] += item.area;
    Workmanship out;
    double below = 0.0, above = 0.0;
    for (const auto& [row, area] : rows) {
        out.typical += area.typical;
        below += (area.typical - area.best) * (area.typical - area.best);
        above += (area.poor - area.typical) * (area.poor - area.typical);
    }
    out.best = out.typical - std::sqrt(below);
    out.poor = out.typical + std::sqrt(above);
    return out;
}

void group(SealingPlan& plan) {
    for (std::size_t i = 0; i < plan.items.size(); ++i) {
        const SealItem& item = plan.items[i];
        auto at = std::find_if(plan.groups.begin(), plan.groups.end(),
                               [&](const SealGroup& g) { return g.kind == item.kind; });
        if (at == plan.groups.end()) at = plan.groups.insert(at, {.kind = item.kind});
        at->items.push_back(i);
        at->area += item.area;
    }
    for (SealGroup& g : plan.groups)
        g.share = plan.area.alike.typical > 0.0 ? g.area.typical / plan.area.alike.typical : 0.0;
    std::stable_sort(plan.groups.begin(), plan.groups.end(),
                     [](const SealGroup& a, const SealGroup& b) { return a.area.typical > b.area.typical; });
}

SealingRange scaled(const SealingRange& r, double factor) {
    return {factor * r.alike, factor * r.independent};
}

}  // namespace

Result<SealingPlan> sealing_plan(const assembly::House& house, const assembly::Assembly& wall,
                                 const std::vector<framing::Panel>& panels,
                                 const std::optional<std::vector<BoxInWall>>& boxes) {
    const auto& table = components();
    if (!table) return fail(table.error());
    SealingPlan out{.assembly = wall.name,
                    .exponent = table->exponent,
                    .density = table->density,
                    .volume = assembly::areas(house).volume,
                    .origin = table->origin};
    SealingList list(house, wall, *table, out);
    if (!list.any_storey())
        return fail({.code = Code::missing,
                     .what = "a sealing plan needs a heated storey with faces",
                     .suggestion = "write [storey.NAME] with an outline and [face.NAME] for each wall",
                     .where = house.origin.where});
    list.walls(panels);
    list.boxes(boxes);
    list.tops();
    list.floors();
    list.penetrations();
    list.vents();
    for (const SealItem& item : out.items) out.area.alike += item.area;
    out.area.independent = independent(out.items);
    out.at_50_pa = scaled(out.area, flow_of_area(1.0, 50.0, out.exponent, out.density, table->pressure));
    if (out.volume > 0.0) out.air_change = scaled(out.at_50_pa, 1.0 / out.volume);
    std::stable_sort(out.items.begin(), out.items.end(),
                     [](const SealItem& a, const SealItem& b) { return a.area.typical > b.area.typical; });
    group(out);
    return out;
}

}  // namespace warmside::leakage
