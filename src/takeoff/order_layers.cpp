// Skins and paint: what is bought by area, or poured and sprayed by volume.
#include <fmt/format.h>
#include <map>

#include "takeoff/areas.h"
#include "takeoff/bays.h"
#include "takeoff/order_work.h"

namespace warmside::takeoff {

namespace {

using assembly::Layer;
using framing::Panel;

struct Skin {
    const Package* package = nullptr;
    double amount = 0.0;  ///< m2 or m3
};
struct Sums {
    std::map<std::string, Skin> skins, volumes;
    std::map<std::string, double> paints;
};

/// Not what order_fill, order_sheets and order_membranes buy.
bool is_skin(Form form) {
    switch (form) {
        case Form::siding:
        case Form::roofing:
        case Form::flooring:
        case Form::masonry:
        case Form::volume: return true;
        case Form::none:
        case Form::sheet:
        case Form::batt:
        case Form::board:
        case Form::blown:
        case Form::roll:
        case Form::paint: break;
    }
    return false;
}

void add_material(OrderWork& work, const Panel& panel, const Layer& layer, int index, Sums& sums) {
    const Package* package = package_of(work.rules, *layer.material);
    if (!package) {
        work.unknown.insert(layer.material->name);
        return;
    }
    if (!is_skin(package->form)) return;
    const bool poured = package->form == Form::volume;
    Skin& skin = (poured ? sums.volumes : sums.skins)[layer.material->name];
    skin.package = package;
    if (!poured) {
        skin.amount += layer_area(work.house, panel, index);
        return;
    }
    const auto at = static_cast<std::size_t>(index);
    const Bays bays = bays_of(work.house, panel, layer, at);
    skin.amount += bays.placed ? bays.volume() : loose_volume(work.house, panel, layer, at);
}

bool is_paint(const OrderWork& work, const material::Membrane& membrane) {
    const auto found = work.rules.membranes.find(membrane.name);
    return found != work.rules.membranes.end() && found->second.form == Form::paint;
}

void order_skin(OrderWork& work, const std::string& name, const Skin& skin, const char* unit) {
    const bool cladding = skin.package->form == Form::siding || skin.package->form == Form::roofing ||
                          skin.package->form == Form::masonry;
    Item item{.kind = cladding ? "cladding" : "finish",
              .name = name,
              .price_key = name,
              .net = skin.amount,
              .waste = skin.package->waste.value,
              .waste_source = skin.package->waste.origin.source,
              .unit = unit,
              .package = fmt::format("by the {}", unit),
              .origin = skin.package->waste.origin};
    add_item(work, std::move(item), 0.0);
}

void order_paint(OrderWork& work, const std::string& name, double area) {
    const Package& package = work.rules.membranes.find(name)->second;
    Item item{.kind = "finish",
              .name = name,
              .price_key = name,
              .net = area,
              .waste = package.waste.value,
              .waste_source = package.waste.origin.source,
              .unit = "m2",
              .package = fmt::format("can for {:g} m2, one coat", package.coverage),
              .origin = package.size_origin};
    add_item(work, std::move(item), package.coverage);
}

}  // namespace

void order_layers(OrderWork& work) {
    Sums sums;
    for (const Panel& panel : work.frame.panels) {
        const assembly::Assembly* assembly = assembly_of(work, panel);
        for (std::size_t i = 0; assembly && i < assembly->layers.size(); ++i) {
            const Layer& layer = assembly->layers[i];
            const int index = static_cast<int>(i);
            if (layer.existing) continue;
            if (layer.kind == Layer::Kind::material) add_material(work, panel, layer, index, sums);
            if (layer.kind == Layer::Kind::membrane && is_paint(work, *layer.membrane))
                sums.paints[layer.membrane->name] += layer_area(work.house, panel, index);
            if (!layer.finish) continue;
            if (is_paint(work, *layer.finish))
                sums.paints[layer.finish->name] += layer_area(work.house, panel, index);
            else
                work.unknown.insert(layer.finish->name);
        }
    }
    for (const auto& [name, skin] : sums.skins) order_skin(work, name, skin, "m2");
    for (const auto& [name, volume] : sums.volumes) order_skin(work, name, volume, "m3");
    for (const auto& [name, area] : sums.paints) order_paint(work, name, area);
}

}  // namespace warmside::takeoff
