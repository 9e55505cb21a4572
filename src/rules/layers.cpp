#include "rules/layers.h"

#include "assembly/duty.h"
#include "thermal/layering.h"

namespace warmside::rules {

namespace {

using assembly::Assembly;
using assembly::Duty;
using assembly::Layer;
using As = LayerShare::As;

// Insulated depths of the stud columns, with a margin for how sizes are written.
constexpr double margin = 1.6e-3;     // m
constexpr double depth_2x4 = 0.0889;  // m, 3 1/2 in
constexpr double depth_2x6 = 0.1397;  // m, 5 1/2 in

struct Frames {
    std::optional<std::size_t> first, last;
};

Frames frames_of(const std::vector<Duty>& duties) {
    Frames out;
    for (std::size_t i = 0; i < duties.size(); ++i) {
        if (duties[i] != Duty::bearing && duties[i] != Duty::second) continue;
        if (!out.first) out.first = i;
        out.last = i;
    }
    return out;
}

/// The concrete, block or brick of a wall without a frame.
std::optional<std::size_t> masonry_of(const Assembly& assembly) {
    for (std::size_t i = 0; i < assembly.layers.size(); ++i) {
        const Layer& layer = assembly.layers[i];
        if (layer.kind != Layer::Kind::material) continue;
        if (layer.material->family == "masonry" || layer.material->family == "concrete") return i;
    }
    return std::nullopt;
}

LayerShare share_of(std::size_t i, const Layer& layer, const std::vector<Duty>& duties, const Frames& frames,
                    const std::optional<std::size_t>& masonry) {
    LayerShare out;
    out.r = thermal::label_of(layer);
    if (out.r <= 0.0) return out;
    if (layer.framing) {
        out.as = As::cavity;
        if (duties[i] == Duty::furring || duties[i] == Duty::batten)
            out.why = "crossed by furring, so not continuous";
        return out;
    }
    if (!frames.first) {
        out.as = masonry && i < *masonry ? As::continuous_inside : As::continuous_outside;
    } else if (i > *frames.last) {
        out.as = As::continuous_outside;
    } else if (i < *frames.first) {
        out.as = As::continuous_inside;
    } else {
        out.as = As::cavity;
        out.why = "between two frames, counted as cavity (our reading)";
    }
    return out;
}

Core core_of(const Insulation& in, const std::vector<Duty>& duties) {
    std::size_t frames = 0;
    for (const Duty duty : duties) frames += duty == Duty::bearing || duty == Duty::second ? 1 : 0;
    if (frames == 0) return Core::none;
    if (frames > 1 || in.insulated_depth > depth_2x6 + margin) return Core::deeper;
    return in.insulated_depth > depth_2x4 + margin ? Core::two_by_six : Core::two_by_four;
}

/// Members may stand deeper than their insulation: the deeper of both decides.
double depth_of(const Layer& layer) {
    const double members = layer.framing ? layer.framing->depth.metres() : 0.0;
    return std::max(layer.thickness.metres(), members);
}

}  // namespace

bool is_foam(const Layer& layer) {
    return layer.kind == Layer::Kind::material && layer.material->family == "foam";
}

std::size_t first_ventilated(const Assembly& assembly) {
    std::size_t i = 0;
    while (i < assembly.layers.size() && !assembly.layers[i].ventilated()) ++i;
    return i;
}

Insulation insulation_of(const Assembly& assembly) {
    Insulation out;
    const auto duties = assembly::duties_of(assembly);
    const Frames frames = frames_of(duties);
    out.bearing = assembly::bearing_layer(assembly);
    out.layers.resize(assembly.layers.size());
    const std::size_t end = first_ventilated(assembly);
    const auto masonry = masonry_of(assembly);
    for (std::size_t i = 0; i < end; ++i) {
        const Layer& layer = assembly.layers[i];
        LayerShare& share = out.layers[i] = share_of(i, layer, duties, frames, masonry);
        if (share.as == As::cavity) {
            out.cavity += share.r;
            out.insulated_depth += depth_of(layer);
        }
        if (share.as == As::continuous_inside || share.as == As::continuous_outside)
            out.continuous += share.r;
        if (share.as == As::continuous_outside) {
            if (!out.first_outside) out.first_outside = i;
            out.continuous_outside += share.r;
            if (is_foam(layer)) out.foam_outside += share.r;
        }
    }
    out.core = core_of(out, duties);
    return out;
}

bool Insulation::existing(const Assembly& assembly) const {
    for (std::size_t i = 0; i < layers.size(); ++i) {
        if (layers[i].as != As::nothing && assembly.layers[i].existing) return true;
    }
    return false;
}

const char* name_of(Core core) {
    switch (core) {
        case Core::none: return "no studs";
        case Core::two_by_four: return "2x4";
        case Core::two_by_six: return "2x6";
        case Core::deeper: return "deeper than 2x6";
    }
    return "";
}

std::string sheathing_of(const Assembly& assembly, const Insulation& insulation) {
    const std::size_t from = insulation.bearing ? *insulation.bearing + 1 : 0;
    for (std::size_t i = from; i < first_ventilated(assembly); ++i) {
        const Layer& layer = assembly.layers[i];
        if (layer.kind != Layer::Kind::material || layer.framing) continue;
        const auto& m = *layer.material;
        if (m.name.find("fibreboard") != std::string::npos) return "fibreboard";
        if (m.family == "gypsum") return "gypsum";
        if (m.family == "panel" || m.is_wood) return "wood panel";
        return "other";
    }
    return "other";
}

}  // namespace warmside::rules
