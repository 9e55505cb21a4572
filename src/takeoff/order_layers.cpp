// Insulation, skins, membranes and paint: what is bought by area, volume or weight.
#include <algorithm>
#include <fmt/format.h>
#include <map>

#include "assembly/duty.h"
#include "takeoff/order_work.h"

namespace warmside::takeoff {

namespace {

using assembly::Layer;
using framing::Panel;
using framing::Role;

/// One line of insulation: the same material, thickness and clear width of its bays.
struct FillKey {
    std::string material;
    Exact thickness, bay;
    friend auto operator<=>(const FillKey&, const FillKey&) = default;
};
struct Fill {
    const material::Material* material = nullptr;
    const Package* package = nullptr;
    double volume = 0.0;  ///< m3
};
struct Skin {
    const Package* package = nullptr;
    double amount = 0.0;  ///< m2 or m3
};
struct Sheeting {
    double area = 0.0;    ///< m2 covered
    double rolled = 0.0;  ///< m2 of placed runs, laps included
    double loose = 0.0;   ///< m2 of layers without placed runs
};
struct Sums {
    std::map<FillKey, Fill> fills;
    std::map<std::string, Skin> skins, volumes;
    std::map<std::string, Sheeting> membranes;
    std::map<std::string, double> paints;
};

bool by_volume(Form form) {
    return form == Form::batt || form == Form::board || form == Form::blown;
}

void add_material(OrderWork& work, const Panel& panel, const Layer& layer, std::size_t index, Sums& sums) {
    const Package* package = package_of(work.rules, *layer.material);
    if (!package) {
        work.unknown.insert(layer.material->name);
        return;
    }
    if (package->form == Form::none || package->form == Form::sheet) return;
    const double volume = layer.framing ? fill_volume(work, panel, index)
                                        : layer_area(work, panel, index) * layer.thickness.metres();
    if (by_volume(package->form)) {
        const Exact bay = layer.framing ? layer.framing->spacing - layer.framing->width : Exact{};
        Fill& fill = sums.fills[{layer.material->name, layer.thickness, bay}];
        fill.material = layer.material;
        fill.package = package;
        fill.volume += volume;
        return;
    }
    const bool poured = package->form == Form::volume;
    Skin& skin = (poured ? sums.volumes : sums.skins)[layer.material->name];
    skin.package = package;
    skin.amount += poured ? volume : layer_area(work, panel, index);
}

void add_membrane(const OrderWork& work, const Panel& panel, const Layer& layer, std::size_t index,
                  Sums& sums) {
    const auto found = work.rules.membranes.find(layer.membrane->name);
    if (found != work.rules.membranes.end() && found->second.form == Form::none) return;
    if (found != work.rules.membranes.end() && found->second.form == Form::paint) {
        sums.paints[layer.membrane->name] += layer_area(work, panel, index);
        return;
    }
    Sheeting& sheeting = sums.membranes[layer.membrane->name];
    const double area = layer_area(work, panel, index);
    double rolled = 0.0;
    for (const auto& run : panel.runs)
        if (run.layer == static_cast<int>(index))
            rolled += run.box.size(0).metres() * work.house.practice.roll_width.value.metres();
    sheeting.area += area;
    sheeting.rolled += rolled;
    if (rolled <= 0.0) sheeting.loose += area;
}

/// Behind the rim board, over the depth of the framing: as much of the outer wall's own fill.
void add_rim(const OrderWork& work, const Panel& panel, const assembly::Assembly& wall, Sums& sums) {
    const auto structure = assembly::bearing_layer(wall);
    if (!structure || !work.house.details.rim_insulated.value) return;
    const Layer& layer = wall.layers[*structure];
    const Package* package = layer.material ? package_of(work.rules, *layer.material) : nullptr;
    if (!package || !by_volume(package->form)) return;
    double volume = 0.0;
    for (const auto& member : panel.members) {
        if (member.role != Role::rim) continue;
        const double depth = (layer.thickness - member.section.thickness).metres();
        volume += member.length.metres() * member.section.width.metres() * std::max(0.0, depth);
    }
    if (!(volume > 0.0)) return;
    Fill& fill =
        sums.fills[{layer.material->name, layer.thickness, layer.framing->spacing - layer.framing->width}];
    fill.material = layer.material;
    fill.package = package;
    fill.volume += volume;
}

/// The narrowest batt that fills a bay; the widest where none does.
const PackageSize* batt_for(const Package& package, Exact bay) {
    const PackageSize* best = nullptr;
    const PackageSize* widest = nullptr;
    for (const PackageSize& size : package.sizes) {
        if (!widest || size.width > widest->width) widest = &size;
        if (size.width >= bay && (!best || size.width < best->width)) best = &size;
    }
    return best ? best : widest;
}

void order_fill(OrderWork& work, const FillKey& key, const Fill& fill) {
    const Package& package = *fill.package;
    Item item{.kind = "insulation",
              .name = fmt::format("{}, {}", key.material, size_text(key.thickness)),
              .price_key = key.material,
              .net = fill.volume,
              .waste = package.waste.value,
              .waste_source = package.waste.origin.source,
              .unit = "m3",
              .origin = package.size_origin};
    const double thickness = key.thickness.metres();
    if (package.form == Form::blown) {
        item.net = fill.volume * fill.material->density;
        item.unit = "kg";
        item.package = fmt::format("bag of {:g} kg", package.bag);
        add_item(work, std::move(item), package.bag);
        return;
    }
    const PackageSize* size =
        package.form == Form::batt && key.bay > Exact{} ? batt_for(package, key.bay) : nullptr;
    if (!size && !package.sizes.empty()) size = &package.sizes.back();
    if (!size) {
        add_item(work, std::move(item), 0.0);
        return;
    }
    Exact width = size->width;
    if (package.form == Form::batt && key.bay > Exact{}) {
        item.name += fmt::format(" x {}", size_text(size->width));
        // A batt is squeezed into a bay a little narrower than itself: it fills the bay, not its own width.
        if (key.bay > size->width)
            work.out.notes.push_back(fmt::format("no batt of {} is as wide as its bay of {}: pieced",
                                                 key.material, size_text(key.bay)));
        width = std::min(width, key.bay);
    }
    item.package = fmt::format("{} {} x {}", package.form == Form::batt ? "batt" : "board",
                               size_text(size->width), size_text(size->length));
    add_item(work, std::move(item), width.metres() * size->length.metres() * thickness);
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

void order_membrane(OrderWork& work, const std::string& name, const Sheeting& sheeting) {
    const auto found = work.rules.membranes.find(name);
    const Package* package = found == work.rules.membranes.end() ? nullptr : &found->second;
    const auto& practice = work.house.practice;
    const bool own_roll = package && !package->sizes.empty() && sheeting.rolled <= 0.0;
    const Exact width = own_roll ? package->sizes.front().width : practice.roll_width.value;
    const Exact length = own_roll ? package->sizes.front().length : practice.roll_length.value;
    const Sourced<double>& damage = package ? package->waste : work.rules.roll_waste;
    const double laps = sheeting.loose * work.rules.roll_laps.value;
    const double bought = (sheeting.rolled + sheeting.loose + laps) * (1.0 + damage.value);
    Item item{
        .kind = "membrane",
        .name = name,
        .price_key = name,
        .net = sheeting.area,
        .waste = sheeting.area > 0.0 ? bought / sheeting.area - 1.0 : 0.0,
        .waste_source = sheeting.rolled > 0.0
                            ? "runs of the whole roll's width with their laps, openings not taken off; " +
                                  damage.origin.source
                            : damage.origin.source,
        .unit = "m2",
        .package = fmt::format("roll {} x {}", size_text(width), size_text(length)),
        .origin = own_roll ? package->size_origin : practice.roll_width.origin};
    add_item(work, std::move(item), width.metres() * length.metres());
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
        if (const auto* wall = work.house.find(work.frame.assembly)) add_rim(work, panel, *wall, sums);
        const assembly::Assembly* assembly = assembly_of(work, panel);
        for (std::size_t i = 0; assembly && i < assembly->layers.size(); ++i) {
            const Layer& layer = assembly->layers[i];
            if (layer.existing) continue;
            if (layer.kind == Layer::Kind::material) add_material(work, panel, layer, i, sums);
            if (layer.kind == Layer::Kind::membrane) add_membrane(work, panel, layer, i, sums);
            if (!layer.finish) continue;
            const auto found = work.rules.membranes.find(layer.finish->name);
            if (found != work.rules.membranes.end() && found->second.form == Form::paint)
                sums.paints[layer.finish->name] += layer_area(work, panel, i);
            else
                work.unknown.insert(layer.finish->name);
        }
    }
    for (const auto& [key, fill] : sums.fills) order_fill(work, key, fill);
    for (const auto& [name, sheeting] : sums.membranes) order_membrane(work, name, sheeting);
    for (const auto& [name, skin] : sums.skins) order_skin(work, name, skin, "m2");
    for (const auto& [name, volume] : sums.volumes) order_skin(work, name, volume, "m3");
    for (const auto& [name, area] : sums.paints) order_paint(work, name, area);
}

}  // namespace warmside::takeoff
