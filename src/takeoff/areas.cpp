#include "takeoff/areas.h"

#include <algorithm>
#include <limits>
#include <set>

#include "assembly/duty.h"
#include "takeoff/order_work.h"

namespace warmside::takeoff {

namespace {

using framing::Panel;

double openings_area(const assembly::House& house, const Panel& panel) {
    if (panel.face >= house.faces.size() || panel.kind != Panel::Kind::wall) return 0.0;
    double sum = 0.0;
    for (const auto& opening : house.faces[panel.face].openings)
        sum += opening.width.metres() * opening.height.metres();
    return sum;
}

/// Of the layers from `from` to `to`.
double largest_placed(const Panel& panel, int from, int to = std::numeric_limits<int>::max()) {
    std::set<int> layers;
    for (const auto& sheet : panel.sheets)
        if (sheet.layer >= from && sheet.layer <= to) layers.insert(sheet.layer);
    double largest = 0.0;
    for (const int layer : layers) largest = std::max(largest, placed_area(panel, layer));
    return largest;
}

}  // namespace

double placed_area(const Panel& panel, int layer) {
    double sum = 0.0;
    for (const auto& sheet : panel.sheets) {
        if (sheet.layer == layer) sum += framing::area_of(sheet);
    }
    return sum;
}

double face_area(const assembly::House& house, const Panel& panel) {
    if (panel.kind == Panel::Kind::wall) {
        const double length = (panel.opaque_length > Exact{} ? panel.opaque_length : panel.length).metres();
        const bool named = panel.face < house.faces.size();
        const double height = (named ? house.faces[panel.face].height : panel.height).metres();
        return std::max(0.0, length * height - openings_area(house, panel));
    }
    // A gable's outer sheets also cover the end rafters: its lining counts.
    const assembly::Assembly* assembly = panel.assembly.empty() ? nullptr : house.find(panel.assembly);
    const auto structure = assembly ? assembly::bearing_layer(*assembly) : std::nullopt;
    if (panel.kind == Panel::Kind::gable_wall && structure)
        if (const double lined = largest_placed(panel, 0, static_cast<int>(*structure) - 1); lined > 0.0)
            return lined;
    if (const double placed = largest_placed(panel, 0); placed > 0.0) return placed;
    return panel.outline.empty() ? panel.length.metres() * panel.height.metres()
                                 : framing::area_of(panel.outline);
}

double layer_area(const assembly::House& house, const Panel& panel, int layer) {
    if (const double placed = placed_area(panel, layer); placed > 0.0) return placed;
    const assembly::Assembly* assembly = panel.assembly.empty() ? nullptr : house.find(panel.assembly);
    const auto found = assembly ? assembly::bearing_layer(*assembly) : std::nullopt;
    if (!found) return face_area(house, panel);
    const int structure = static_cast<int>(*found);
    double placed = 0.0;
    if (layer > structure)
        placed = largest_placed(panel, structure + 1);
    else if (panel.kind != Panel::Kind::wall)
        placed = largest_placed(panel, 0, structure);
    return placed > 0.0 ? placed : face_area(house, panel);
}

}  // namespace warmside::takeoff
