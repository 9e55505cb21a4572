// Insulation: batts by the placed bays, boards by volume, blown fill by weight.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <map>

#include "assembly/duty.h"
#include "takeoff/batts.h"
#include "takeoff/order_work.h"

namespace warmside::takeoff {

namespace {

using assembly::Framing;
using assembly::Layer;
using framing::Panel;

/// One line of insulation: the same material, thickness and clear width of its regular bays.
struct FillKey {
    std::string material;
    Exact thickness, bay;
    friend auto operator<=>(const FillKey&, const FillKey&) = default;
};
struct Fill {
    const material::Material* material = nullptr;
    const Package* package = nullptr;
    std::vector<Bay> bays;
    double placed = 0.0;            ///< m3 in bays
    double loose = 0.0;             ///< m3 where no members are placed
    std::set<std::string> loosely;  ///< panels of those
};
using Fills = std::map<FillKey, Fill>;

bool by_volume(Form form) {
    return form == Form::batt || form == Form::board || form == Form::blown;
}

/// Clear between two members at their spacing, of I-joists and trusses between webs.
Exact regular_bay(const Layer& layer) {
    if (!layer.framing) return {};
    const Framing& f = *layer.framing;
    return f.spacing - (f.kind == Framing::Kind::solid ? f.width : f.web_thickness);
}

Fill& fill_of(Fills& fills, const Layer& layer, const Package& package) {
    Fill& fill = fills[{layer.material->name, layer.thickness, regular_bay(layer)}];
    fill.material = layer.material;
    fill.package = &package;
    return fill;
}

void add_layer(const OrderWork& work, const Panel& panel, const Layer& layer, std::size_t index,
               Fills& fills) {
    const Package* package = package_of(work.rules, *layer.material);
    if (!package || !by_volume(package->form)) return;
    Fill& fill = fill_of(fills, layer, *package);
    const Bays bays = bays_of(work.house, panel, layer, index);
    if (!bays.placed) {
        fill.loose += loose_volume(work.house, panel, layer, index);
        fill.loosely.insert(panel.name);
        return;
    }
    fill.placed += bays.volume();
    fill.bays.insert(fill.bays.end(), bays.bays.begin(), bays.bays.end());
}

/// Inside of the rim boards, over the depth of the framing: the outer wall's own fill.
void add_rim(const OrderWork& work, const Panel& panel, const assembly::Assembly& wall, Fills& fills) {
    const auto structure = assembly::bearing_layer(wall);
    if (!structure || !work.house.details.rim_insulated.value) return;
    const Layer& layer = wall.layers[*structure];
    const Package* package = layer.material ? package_of(work.rules, *layer.material) : nullptr;
    if (!package || !by_volume(package->form)) return;
    const auto bays = rim_bays(panel, layer.thickness);
    if (bays.empty()) return;
    Fill& fill = fill_of(fills, layer, *package);
    for (const Bay& bay : bays) fill.placed += bay.volume();
    fill.bays.insert(fill.bays.end(), bays.begin(), bays.end());
}

Item item_of(const FillKey& key, const Fill& fill) {
    return {.kind = "insulation",
            .name = fmt::format("{}, {}", key.material, size_text(key.thickness)),
            .price_key = key.material,
            .net = fill.placed + fill.loose,
            .waste = fill.package->waste.value,
            .waste_source = fill.package->waste.origin.source,
            .unit = "m3",
            .origin = fill.package->size_origin};
}

std::string how_cut(const BattPlan& plan) {
    return fmt::format("{} bays: {} batts whole, {} pieces cut from {} more (all batts by area: {:.0f})",
                       plan.bays, plan.whole, plan.cut, plan.cut_from, plan.bound);
}

/// Batts by the bay; where no members are placed, by volume, and a note says so.
void order_batts(OrderWork& work, const FillKey& key, const Fill& fill) {
    const Package& package = *fill.package;
    const BattRule& rule = work.rules.batts;
    Item item = item_of(key, fill);
    const PackageSize* size = key.bay > Exact{} ? batt_for(package.sizes, key.bay) : &package.sizes.back();
    item.name += fmt::format(" x {}", size_text(size->width));
    if (key.bay > size->width)
        work.out.notes.push_back(fmt::format("no batt of {} is as wide as its bay of {}: pieced",
                                             key.material, size_text(key.bay)));
    const BattPlan plan = fill_with_batts(fill.bays, *size, rule);
    const double one = size->width.metres() * size->length.metres() * key.thickness.metres();
    double batts = std::ceil(static_cast<double>(plan.batts()) * (1.0 + package.waste.value) - 1e-9);
    std::vector<std::string> why;
    if (plan.bays > 0)
        why.push_back(fmt::format("{}; {:g} % added, {}", how_cut(plan), 100.0 * package.waste.value,
                                  package.waste.origin.source));
    if (fill.loose > 0.0) {
        batts += std::ceil(fill.loose * (1.0 + package.waste_by_volume.value) / one - 1e-9);
        why.push_back(fmt::format("{:.2f} m3 by volume, {:g} % added, {}", fill.loose,
                                  100.0 * package.waste_by_volume.value,
                                  package.waste_by_volume.origin.source));
        work.out.notes.push_back(fmt::format("{}: no members are placed in {}; there it is counted by volume",
                                             item.name, fmt::join(fill.loosely, ", ")));
    }
    const double a_bag = std::max(1.0, std::floor(rule.bag_depth.value / key.thickness.metres() + 1e-9));
    item.gross = batts * one;
    item.waste = item.net > 0.0 ? std::max(0.0, item.gross / item.net - 1.0) : 0.0;
    item.waste_source = fmt::format("{}", fmt::join(why, "; "));
    item.count = std::ceil(batts / a_bag - 1e-9);
    item.package =
        fmt::format("bag of {:.0f}, {} long ({:.0f} batts)", a_bag, size_text(size->length), batts);
    if (item.net > 0.0) work.out.items.push_back(std::move(item));
}

void order_one(OrderWork& work, const FillKey& key, const Fill& fill) {
    const Package& package = *fill.package;
    if (package.form == Form::batt && !package.sizes.empty()) return order_batts(work, key, fill);
    Item item = item_of(key, fill);
    if (package.form == Form::blown) {
        item.net *= fill.material->density;
        item.unit = "kg";
        item.package = fmt::format("bag of {:g} kg", package.bag);
        return add_item(work, std::move(item), package.bag);
    }
    if (package.sizes.empty()) return add_item(work, std::move(item), 0.0);
    const PackageSize& size = package.sizes.back();
    item.package = fmt::format("board {} x {}", size_text(size.width), size_text(size.length));
    add_item(work, std::move(item), size.width.metres() * size.length.metres() * key.thickness.metres());
}

}  // namespace

void order_fill(OrderWork& work) {
    Fills fills;
    for (const Panel& panel : work.frame.panels) {
        if (const auto* wall = work.house.find(work.frame.assembly)) add_rim(work, panel, *wall, fills);
        const assembly::Assembly* assembly = assembly_of(work, panel);
        for (std::size_t i = 0; assembly && i < assembly->layers.size(); ++i) {
            const Layer& layer = assembly->layers[i];
            if (!layer.existing && layer.kind == Layer::Kind::material)
                add_layer(work, panel, layer, i, fills);
        }
    }
    for (const auto& [key, fill] : fills) order_one(work, key, fill);
}

}  // namespace warmside::takeoff
