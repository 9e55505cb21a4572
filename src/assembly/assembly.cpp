#include "assembly/assembly.h"

#include <algorithm>

namespace warmside::assembly {

const char* name_of(Part part) {
    switch (part) {
        case Part::wall: return "wall";
        case Part::roof: return "roof";
        case Part::ceiling: return "ceiling";
        case Part::floor: return "floor";
        case Part::slab: return "slab";
        case Part::basement_wall: return "basement wall";
    }
    return "wall";
}

std::string Layer::title() const {
    switch (kind) {
        case Kind::material: return material ? material->name : "material";
        case Kind::membrane: return membrane ? membrane->name : "membrane";
        case Kind::air: break;
    }
    switch (air) {
        case AirKind::still: return "still air";
        case AirKind::slightly_ventilated: return "slightly ventilated air";
        case AirKind::ventilated: return "ventilated air";
    }
    return "air";
}

Exact Assembly::thickness() const {
    Exact sum;
    for (const Layer& layer : layers) sum += layer.thickness;
    return sum;
}

namespace {

// Boards nailed to the framing: what a crew calls sheathing, whatever it is made of.
bool is_sheathing(const Layer& layer) {
    if (layer.kind != Layer::Kind::material || !layer.material || layer.framing) return false;
    return layer.material->hatch == "sheathing" || layer.material->hatch == "gypsum";
}

bool is_outer_cavity(const Layer& layer) {
    return layer.kind == Layer::Kind::air && layer.air == AirKind::ventilated;
}

}  // namespace

std::size_t Assembly::datum() const {
    if (layers.empty()) return 0;
    std::optional<std::size_t> framed;
    std::optional<std::size_t> sheathing;
    for (std::size_t i = 0; i < layers.size(); ++i) {
        if (is_outer_cavity(layers[i])) break;
        if (layers[i].framing) framed = i;
        // The lining inside of the first framing is no sheathing.
        if (framed && is_sheathing(layers[i])) sheathing = i;
    }
    if (sheathing) return *sheathing;
    return framed.value_or(layers.size() - 1);
}

std::optional<std::size_t> Assembly::airtight_layer() const {
    const auto found = std::find_if(layers.begin(), layers.end(), [](const Layer& l) { return l.airtight; });
    if (found == layers.end()) return std::nullopt;
    return static_cast<std::size_t>(found - layers.begin());
}

const Assembly* House::find(std::string_view assembly) const {
    const auto found = std::find_if(assemblies.begin(), assemblies.end(),
                                    [&](const Assembly& a) { return a.name == assembly; });
    return found == assemblies.end() ? nullptr : &*found;
}

const Storey* House::storey(std::string_view name_wanted) const {
    const auto found =
        std::find_if(storeys.begin(), storeys.end(), [&](const Storey& s) { return s.name == name_wanted; });
    return found == storeys.end() ? nullptr : &*found;
}

const Assembly* built_as(const House& house, const Roof& roof) {
    if (!roof.assembly.empty()) return house.find(roof.assembly);
    const Part part = roof.over_attic ? Part::ceiling : Part::roof;
    for (const Ladder& ladder : house.ladders) {
        if (ladder.part == part && !ladder.rungs.empty()) return &house.assemblies[ladder.rungs.front()];
    }
    return nullptr;
}

const Storey* storey_under(const House& house, const Roof& roof) {
    if (!roof.storey.empty()) return house.storey(roof.storey);
    const auto found = std::max_element(
        house.storeys.begin(), house.storeys.end(),
        [](const Storey& a, const Storey& b) { return a.floor + a.height < b.floor + b.height; });
    return found == house.storeys.end() ? nullptr : &*found;
}

std::vector<Slice> slices(const Layer& layer) {
    const double whole = layer.thickness.metres();
    if (!layer.framing) return {{.thickness = whole}};
    const Framing& framing = *layer.framing;
    const double spacing = framing.spacing.metres();
    const auto slice = [&](double thickness, double width, const material::Material* member) {
        return Slice{.thickness = thickness,
                     .share = spacing > 0.0 ? std::min(1.0, width / spacing) : 0.0,
                     .width = width,
                     .member = member};
    };
    std::vector<Slice> out;
    const double depth = std::min(framing.depth.metres(), whole);
    const double width = framing.width.metres();
    if (framing.kind == Framing::Kind::solid) {
        out.push_back(slice(depth, width, framing.material));
    } else {
        const double flange = std::min(framing.flange_depth.metres(), depth / 2);
        const double web = framing.web_thickness.metres() * framing.web_share;
        const auto* web_of = framing.web_material ? framing.web_material : framing.material;
        out.push_back(slice(flange, width, framing.material));
        if (depth > 2 * flange) out.push_back(slice(depth - 2 * flange, web, web_of));
        out.push_back(slice(flange, width, framing.material));
    }
    if (whole > depth) out.push_back({.thickness = whole - depth});
    return out;
}

}  // namespace warmside::assembly
