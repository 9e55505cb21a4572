#include "takeoff/order_work.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace warmside::takeoff {

namespace {

using assembly::Framing;
using framing::Member;
using framing::Panel;
using framing::Role;

double area(const framing::Box& box) {
    return box.size(0).metres() * box.size(1).metres();
}

double openings_area(const OrderWork& work, const Panel& panel) {
    if (panel.face >= work.house.faces.size() || panel.kind != Panel::Kind::wall) return 0.0;
    double sum = 0.0;
    for (const auto& opening : work.house.faces[panel.face].openings)
        sum += opening.width.metres() * opening.height.metres();
    return sum;
}

double largest_placed(const Panel& panel, int from_layer, int to_layer = 1000) {
    std::set<int> layers;
    for (const auto& sheet : panel.sheets)
        if (sheet.layer >= from_layer && sheet.layer < to_layer) layers.insert(sheet.layer);
    double largest = 0.0;
    for (const int layer : layers) largest = std::max(largest, placed_area(panel, layer));
    return largest;
}

/// Of the frame: within its outline, else its rectangle.
double frame_area(const Panel& panel) {
    return panel.outline.empty() ? panel.length.metres() * panel.height.metres()
                                 : framing::area_of(panel.outline);
}

/// Share of a member's box that is wood: 1 unless it has flanges and a web.
double solid_share(const assembly::Layer& layer) {
    if (!layer.framing || layer.framing->kind == Framing::Kind::solid) return 1.0;
    const Framing& f = *layer.framing;
    const double depth = f.depth.metres(), width = f.width.metres(), flange = f.flange_depth.metres();
    const double web = f.web_thickness.metres() * f.web_share;
    return (2.0 * flange * width + (depth - 2.0 * flange) * web) / (depth * width);
}

bool is_structure(Role role) {
    return role != Role::furring && role != Role::batten;
}

}  // namespace

const Package* package_of(const Packages& rules, const material::Material& material) {
    if (const auto by_name = rules.materials.find(material.name); by_name != rules.materials.end())
        return &by_name->second;
    const auto by_family = rules.families.find(material.family);
    return by_family == rules.families.end() ? nullptr : &by_family->second;
}

const assembly::Assembly* assembly_of(const OrderWork& work, const Panel& panel) {
    return panel.assembly.empty() ? nullptr : work.house.find(panel.assembly);
}

std::string size_text(Exact length) {
    constexpr std::int64_t sixty_fourth = 3175, foot = 12 * 64 * sixty_fourth;
    if (length.count() > 8 * foot && length.count() % foot == 0)
        return fmt::format("{} ft", length.count() / foot);
    if (length.count() % sixty_fourth == 0) return units::inches(length.metres(), 64);
    // A size that came through decimal text, 0.01826 m of 23/32 in, is neither whole in 64ths nor in half mm.
    constexpr std::int64_t half_mm = 4000, slack = 160;
    const std::int64_t nearest = (length.count() + sixty_fourth / 2) / sixty_fourth * sixty_fourth;
    if (length.count() % half_mm != 0 && std::abs(nearest - length.count()) <= slack)
        return units::inches(Exact::eighths_of_micrometre(nearest).metres(), 64);
    const double mm = length.metres() * 1e3;
    return fmt::format("{:g} mm", std::round(mm * 100.0) / 100.0);
}

double placed_area(const Panel& panel, int layer) {
    double sum = 0.0;
    for (const auto& sheet : panel.sheets) {
        if (sheet.layer == layer) sum += framing::area_of(sheet);
    }
    return sum;
}

double face_area(const OrderWork& work, const Panel& panel) {
    const double length = (panel.opaque_length > Exact{} ? panel.opaque_length : panel.length).metres();
    switch (panel.kind) {
        case Panel::Kind::wall:
            if (panel.face < work.house.faces.size())
                return length * work.house.faces[panel.face].height.metres() - openings_area(work, panel);
            return length * panel.height.metres();
        case Panel::Kind::gable_wall: {
            // The lining's; the outer sheets also cover the end rafters.
            const assembly::Assembly* assembly = assembly_of(work, panel);
            const auto structure = assembly ? structural_layer(*assembly) : std::nullopt;
            const double lined = structure ? largest_placed(panel, 0, static_cast<int>(*structure)) : 0.0;
            return lined > 0.0 ? lined : frame_area(panel);
        }
        case Panel::Kind::floor:
        case Panel::Kind::ceiling:
        case Panel::Kind::roof: break;
    }
    const double placed = largest_placed(panel, 0);
    return placed > 0.0 ? placed : frame_area(panel);
}

double layer_area(const OrderWork& work, const Panel& panel, std::size_t layer) {
    if (const double placed = placed_area(panel, static_cast<int>(layer)); placed > 0.0) return placed;
    const assembly::Assembly* assembly = assembly_of(work, panel);
    const auto structure = assembly ? structural_layer(*assembly) : std::nullopt;
    if (structure && layer > *structure)
        if (const double placed = largest_placed(panel, static_cast<int>(*structure) + 1); placed > 0.0)
            return placed;
    return face_area(work, panel);
}

double fill_volume(const OrderWork& work, const Panel& panel, std::size_t layer) {
    const assembly::Assembly* assembly = assembly_of(work, panel);
    const assembly::Layer& filled = assembly->layers[layer];
    double wood = 0.0;
    bool placed = false, structure = false;
    for (const Member& member : panel.members) {
        if (member.layer != static_cast<int>(layer)) continue;
        placed = true;
        structure = structure || is_structure(member.role);
        wood += area(member.box) * member.box.size(2).metres();
    }
    const bool wall = panel.kind == Panel::Kind::wall || panel.kind == Panel::Kind::gable_wall;
    const double face =
        structure && wall ? frame_area(panel) - openings_area(work, panel) : face_area(work, panel);
    const double gross = face * filled.thickness.metres();
    if (placed) return std::max(0.0, gross - wood * solid_share(filled));
    double share = 0.0;
    for (const auto& slice : assembly::slices(filled)) share += slice.thickness * slice.share;
    return std::max(0.0, gross - face * share);
}

std::optional<std::size_t> structural_layer(const assembly::Assembly& assembly) {
    std::optional<std::size_t> found;
    for (std::size_t i = 0; i < assembly.layers.size(); ++i) {
        const auto& layer = assembly.layers[i];
        if (!layer.framing || layer.ventilated()) continue;
        if (!found || layer.framing->depth > assembly.layers[*found].framing->depth) found = i;
    }
    return found;
}

void add_item(OrderWork& work, Item item, double size) {
    if (!(item.net > 0.0)) return;
    item.gross = item.net * (1.0 + item.waste);
    // Less a little, so that what fills its packages is not rounded up to one more.
    if (size > 0.0) item.count = std::ceil(item.gross / size - 1e-9);
    work.out.items.push_back(std::move(item));
}

}  // namespace warmside::takeoff
