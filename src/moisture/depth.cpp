#include "moisture/depth.h"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace warmside::moisture {
namespace {

constexpr double same_place = 1e-6;  // m

struct Slab {
    std::size_t layer = 0;
    double begin = 0.0, end = 0.0;
};

// The layer that holds a depth: the outer one where two meet.
Slab slab_at(const assembly::Assembly& a, double depth) {
    Slab slab;
    double at = 0.0;
    for (std::size_t i = 0; i < a.layers.size(); ++i) {
        const double thickness = a.layers[i].thickness.metres();
        if (thickness > 0.0 && at <= depth + same_place) slab = {i, at, at + thickness};
        at += thickness;
    }
    return slab;
}

DepthPlace between(const std::vector<Node>& nodes, std::size_t first, std::size_t last, double depth) {
    DepthPlace place{.from = first, .to = first};
    while (place.from < last && nodes[place.from + 1].position <= depth + same_place) ++place.from;
    place.to = std::min(place.from + 1, last);
    const double gap = nodes[place.to].position - nodes[place.from].position;
    if (gap > 0.0) place.share = std::clamp((depth - nodes[place.from].position) / gap, 0.0, 1.0);
    return place;
}

// No node of its own material: the node in the middle of a cavity, or the faces on both sides of still air.
DepthPlace in_air(const std::vector<Node>& nodes, const Slab& slab, double depth) {
    const double middle = 0.5 * (slab.begin + slab.end);
    std::size_t from = 0;
    for (std::size_t j = 0; j < nodes.size(); ++j) {
        if (std::abs(nodes[j].position - middle) < same_place) return {.from = j, .to = j};
        if (nodes[j].position <= slab.begin + same_place) from = j;
    }
    const std::size_t to = std::min(from + 1, nodes.size() - 1);
    const double share = (depth - slab.begin) / (slab.end - slab.begin);
    return {.from = from, .to = to, .share = from == to ? 0.0 : std::clamp(share, 0.0, 1.0)};
}

}  // namespace

Result<DepthPlace> place_at(const Built& built, const assembly::Assembly& assembly, double depth) {
    const double thickness = assembly.thickness().metres();
    // Asked this way round so that NaN is refused too.
    if (!(depth >= -same_place && depth <= thickness + same_place)) {
        return fail(Code::out_of_range,
                    fmt::format("a depth of {:.1f} mm is outside {}, which is {:.1f} mm thick", 1e3 * depth,
                                assembly.name, 1e3 * thickness));
    }
    const auto& nodes = built.column.nodes;
    const Slab slab = slab_at(assembly, depth);
    const auto span = std::find_if(built.spans.begin(), built.spans.end(),
                                   [&](const Span& s) { return s.layer == slab.layer; });
    const bool solid = span != built.spans.end();
    DepthPlace place = solid ? between(nodes, span->first, span->last, depth) : in_air(nodes, slab, depth);
    place.depth = std::clamp(depth, 0.0, thickness);
    place.layer = slab.layer;
    place.holds_water = solid;
    return place;
}

}  // namespace warmside::moisture
