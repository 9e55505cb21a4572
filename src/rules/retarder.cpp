#include "rules/retarder.h"

namespace warmside::rules {

namespace {

using assembly::Assembly;
using assembly::Layer;

// Mean humidities of the cups: data/materials/membranes.toml.
constexpr double dry_cup = 0.25, wet_cup = 0.75;

Retarder of(const material::Membrane& m, std::size_t layer) {
    return {.name = m.name,
            .dry = material::permeance(m, dry_cup),
            .wet = material::permeance(m, wet_cup),
            .origin = m.origin,
            .layer = layer};
}

std::optional<Retarder> of(const Layer& layer, std::size_t i) {
    if (layer.kind == Layer::Kind::membrane) return of(*layer.membrane, i);
    if (layer.kind != Layer::Kind::material || layer.framing) return std::nullopt;
    const double thickness = layer.thickness.metres();
    if (thickness <= 0.0) return std::nullopt;
    const auto& m = *layer.material;
    return Retarder{.name = m.name,
                    .dry = material::vapour_permeability(m, dry_cup) / thickness,
                    .wet = material::vapour_permeability(m, wet_cup) / thickness,
                    .origin = material::origin_of(m, "permeability"),
                    .layer = i};
}

void keep_tighter(std::optional<Retarder>& best, std::optional<Retarder> next) {
    if (next && (!best || next->dry < best->dry)) best = std::move(next);
}

std::optional<Retarder> tightest(const Assembly& assembly, std::size_t from, std::size_t to) {
    std::optional<Retarder> best;
    for (std::size_t i = from; i < to; ++i) {
        keep_tighter(best, of(assembly.layers[i], i));
        if (assembly.layers[i].finish) keep_tighter(best, of(*assembly.layers[i].finish, i));
    }
    return best;
}

std::size_t frame_of(const Assembly& assembly, const Insulation& insulation) {
    if (insulation.bearing) return *insulation.bearing;
    std::size_t i = 0;
    while (i < insulation.layers.size() && insulation.layers[i].as == LayerShare::As::nothing) ++i;
    return std::min(i, assembly.layers.size());
}

}  // namespace

std::string class_of(double dry, const Tables& tables, Zone zone) {
    // Limits are whole figures of perm: a permeance that was written as one must not miss it by rounding.
    constexpr double rounding = 1.0 + 1e-9;
    for (const char* name : {"I", "II", "III"}) {
        const Cell* most = tables.find("class", name, zone);
        if (most && dry <= most->value * rounding) return name;
    }
    return "none";
}

std::optional<Retarder> inner_retarder(const Assembly& assembly, const Insulation& insulation,
                                       const Tables& tables, Zone zone) {
    auto best = tightest(assembly, 0, frame_of(assembly, insulation));
    if (best) best->vapour_class = class_of(best->dry, tables, zone);
    return best;
}

std::optional<Retarder> outer_retarder(const Assembly& assembly, const Insulation& insulation,
                                       const Tables& tables, Zone zone) {
    const std::size_t frame = frame_of(assembly, insulation);
    const std::size_t from = insulation.bearing ? frame + 1 : frame;
    auto best = tightest(assembly, from, std::max(from, first_ventilated(assembly)));
    if (best) best->vapour_class = class_of(best->dry, tables, zone);
    return best;
}

}  // namespace warmside::rules
