#include "moisture/ventilation.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace warmside::moisture {

namespace {

using assembly::AirKind;
using assembly::Layer;

constexpr double siding_slot = 0.010;    // m, our choice: the first case of the reference's table
constexpr double weeps = 0.00065 / 0.6;  // m: 10 x 65 mm each 600 mm (reference id cavities, computed)
constexpr double storey_length = 2.4, slope_length = 5.0;  // m
constexpr double vented_roof_share =
    1.0 / 300.0;  // IRC R806.2 (quoted): openings over area, half below, half above
constexpr double slight_opening =
    0.0005;  // m: 1000 mm2/m in all, the middle of ISO 6946's 500 to 1500 (memory)
// Between bottom and top of a storey 0.05 to 0.2 (practice); between weeps at one height the lower end.
constexpr double both_ends = 0.1, one_end = 0.05;
constexpr double mortar = 0.8;  // gamma of brick, 0.6 to 0.9 (memory)

// Battens across the way of the air leave gaps at their joints only.
bool is_barred(const Layer& layer) {
    return layer.framing && layer.framing->run == assembly::Run::horizontal &&
           layer.framing->depth.metres() > 0.9 * layer.thickness.metres();
}

}  // namespace

bool is_masonry(const Layer* cladding) {
    return cladding && cladding->material && cladding->material->density > 1200.0 &&
           cladding->thickness.metres() > 0.015;
}

Ventilation ventilation_of(const assembly::Assembly& a, std::size_t index) {
    const Layer& layer = a.layers[index];
    const Layer* cladding = index + 1 < a.layers.size() ? &a.layers[index + 1] : nullptr;
    const bool sloped = a.part == assembly::Part::roof || a.part == assembly::Part::ceiling;
    const bool masonry = !sloped && is_masonry(cladding);
    const double length = layer.length ? layer.length->metres() : sloped ? slope_length : storey_length;
    const bool slight = layer.air == AirKind::slightly_ventilated || (!layer.opening && is_barred(layer));
    const double usual = slight    ? slight_opening
                         : masonry ? weeps
                         : sloped  ? 0.5 * vented_roof_share * length
                                   : siding_slot;
    const double bottom = layer.opening ? layer.opening->metres() : usual;
    const double top = layer.opening_top ? layer.opening_top->metres() : masonry && !slight ? 0.0 : bottom;
    const bool through = top > 0.0;
    CavityShape shape{.length = length,
                      .gap = layer.thickness.metres(),
                      .opening_in = through ? bottom : 0.5 * bottom,
                      .opening_out = through ? top : 0.5 * bottom,
                      .clear = masonry ? mortar : 1.0,
                      .rise = through ? length * std::sin(std::min(a.tilt, std::numbers::pi - a.tilt)) : 0.0};
    Ventilation out{
        .draught = draught(shape), .wind_coefficient = through ? both_ends : one_end, .words = {}};
    const auto mm = [](double metres) { return fmt::format("{:.2g} mm", 1e3 * metres); };
    out.words =
        through ? fmt::format("slots of {} below and {} above, {:.2g} m apart", mm(bottom), mm(top), length)
                : fmt::format("openings of {} below alone", mm(bottom));
    if (!layer.opening && is_barred(layer)) out.words += ", battens across the way of the air";
    return out;
}

}  // namespace warmside::moisture
