#include "assembly/duty.h"

#include <tuple>

namespace warmside::assembly {

namespace {

bool structural_panel(const Layer& layer) {
    return layer.kind == Layer::Kind::material && layer.material && layer.material->family == "panel" &&
           (layer.material->name.starts_with("osb") || layer.material->name.starts_with("plywood"));
}

bool nailed_to_a_panel(const Assembly& assembly, std::size_t layer) {
    for (std::size_t i = layer + 1; i < assembly.layers.size(); ++i) {
        if (assembly.layers[i].kind != Layer::Kind::membrane) return structural_panel(assembly.layers[i]);
    }
    return false;
}

// Layers inside of the first ventilated one.
std::size_t inner_layers(const Assembly& assembly) {
    std::size_t n = 0;
    while (n < assembly.layers.size() && !assembly.layers[n].ventilated()) ++n;
    return n;
}

// Order of preference for the bearing frame: larger is better.
auto merit(const Assembly& assembly, std::size_t layer) {
    const Layer& own = assembly.layers[layer];
    const bool solid = assembly.part == Part::wall && own.framing->kind == Framing::Kind::solid;
    return std::tuple{is_frame(own),      own.framing->run == Run::vertical,  solid,
                      own.framing->depth, nailed_to_a_panel(assembly, layer), layer};
}

}  // namespace

bool is_frame(const Layer& layer) {
    return layer.framing && layer.framing->run == Run::vertical && layer.framing->depth >= least_frame_depth;
}

std::optional<std::size_t> bearing_layer(const Assembly& assembly) {
    std::optional<std::size_t> best;
    for (std::size_t i = 0; i < inner_layers(assembly); ++i) {
        if (!assembly.layers[i].framing) continue;
        if (!best || merit(assembly, i) > merit(assembly, *best)) best = i;
    }
    return best;
}

const Framing* main_framing(const Assembly& assembly) {
    const auto layer = bearing_layer(assembly);
    if (!layer || assembly.layers[*layer].framing->run != Run::vertical) return nullptr;
    return &*assembly.layers[*layer].framing;
}

std::vector<Duty> duties_of(const Assembly& assembly) {
    std::vector<Duty> out(assembly.layers.size(), Duty::none);
    const auto bearing = bearing_layer(assembly);
    const std::size_t inner = inner_layers(assembly);
    for (std::size_t i = 0; i < out.size(); ++i) {
        const Layer& layer = assembly.layers[i];
        if (!layer.framing) continue;
        if (i == bearing)
            out[i] = Duty::bearing;
        else if (i < inner && (is_frame(layer) || layer.framing->kind != Framing::Kind::solid))
            out[i] = Duty::second;
        else
            out[i] = bearing && i < *bearing ? Duty::furring : Duty::batten;
    }
    return out;
}

}  // namespace warmside::assembly
