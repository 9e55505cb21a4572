#include "moisture/path.h"

#include <fmt/core.h>

#include <algorithm>
#include <optional>

namespace warmside::moisture {
namespace {

using assembly::AirKind;
using assembly::Framing;
using assembly::Layer;

std::optional<assembly::Run> run_of_core(const assembly::Assembly& wall) {
    const Layer* core = nullptr;
    for (const Layer& layer : wall.layers) {
        if (layer.framing && layer.kind == Layer::Kind::material &&
            (!core || layer.thickness > core->thickness))
            core = &layer;
    }
    return core ? std::optional(core->framing->run) : std::nullopt;
}

Segment fill_of(const Layer& layer, std::size_t i, double thickness) {
    Segment s{.layer = i, .thickness = thickness};
    switch (layer.kind) {
        case Layer::Kind::material:
            s.kind = Segment::Kind::material;
            s.material = layer.material;
            break;
        case Layer::Kind::membrane: s.kind = Segment::Kind::membrane; break;
        case Layer::Kind::air:
            s.kind = layer.air == AirKind::still ? Segment::Kind::still_air : Segment::Kind::cavity;
            break;
    }
    return s;
}

void add_member(const Layer& layer, std::size_t i, std::vector<Segment>& path) {
    const Framing& framing = *layer.framing;
    const double thickness = layer.thickness.metres();
    const auto wood = [&](double depth) {
        return Segment{
            .kind = Segment::Kind::material, .layer = i, .material = framing.material, .thickness = depth};
    };
    const std::size_t first = path.size();
    if (framing.kind == Framing::Kind::solid) {
        const double depth =
            framing.depth.count() > 0 ? std::min(framing.depth.metres(), thickness) : thickness;
        if (thickness - depth > 1e-4) path.push_back(fill_of(layer, i, thickness - depth));
        path.push_back(wood(depth));
    } else {
        const double flange = std::min(framing.flange_depth.metres(), 0.5 * thickness);
        if (flange > 0.0) path.push_back(wood(flange));
        if (thickness - 2.0 * flange > 1e-4) path.push_back(fill_of(layer, i, thickness - 2.0 * flange));
        if (flange > 0.0) path.push_back(wood(flange));
    }
    for (std::size_t k = first; k < path.size(); ++k) {
        path[k].first_of_layer = k == first;
        path[k].last_of_layer = k + 1 == path.size();
    }
}

}  // namespace

std::vector<Segment> path_through(const assembly::Assembly& wall, Path way, std::vector<std::string>& notes) {
    std::vector<Segment> path;
    const auto core = run_of_core(wall);
    for (std::size_t i = 0; i < wall.layers.size(); ++i) {
        const Layer& layer = wall.layers[i];
        const bool open_cavity = layer.ventilated();
        const bool member =
            way == Path::framing && layer.framing && core && layer.framing->run == *core && !open_cavity;
        if (member) {
            add_member(layer, i, path);
        } else {
            path.push_back(fill_of(layer, i, layer.thickness.metres()));
        }
    }
    if (way == Path::framing && !core) notes.push_back("no framed layer: the framing path is the bay");
    return path;
}

}  // namespace warmside::moisture
