#include "framing/wall_build.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace warmside::framing {

namespace {

using assembly::Layer;

// From the innermost to the outermost frame.
Interval all_frames(const Build& build) {
    Interval out = build.bearer().depth;
    for (const FramedLayer& f : build.framed) {
        if (f.duty != Duty::second) continue;
        out = {std::min(out.low, f.depth.low), std::max(out.high, f.depth.high)};
    }
    return out;
}

// Where the same part of the other wall lies: in a like wall the same layer. Unlike walls meet with all their
// frames as one block; furring and battens meet their like, else the block.
Interval counterpart(const Build& own, const Build& other, int layer, const Interval& depth) {
    if (own.assembly == other.assembly) return depth;
    const Interval frames = all_frames(other);
    for (const FramedLayer& mine : own.framed) {
        if (mine.layer != layer) continue;
        if (mine.duty == Duty::bearing || mine.duty == Duty::second) return frames;
        for (const FramedLayer& theirs : other.framed) {
            if (theirs.duty == mine.duty) return theirs.depth;
        }
    }
    if (layer == 0) return other.layers.front();
    const bool inside = depth.high <= own.bearer().depth.low;
    return inside ? Interval{frames.low, frames.low} : Interval{frames.high, frames.high};
}

Exact scaled(Exact length, double factor) {
    return Exact::nearest(length.metres() * factor);
}

}  // namespace

bool Build::several_frames() const {
    return std::count_if(framed.begin(), framed.end(), [](const FramedLayer& f) {
               return f.duty == Duty::bearing || f.duty == Duty::second;
           }) > 1;
}

Result<Build> build_of(const assembly::Assembly& wall) {
    Build build{.assembly = &wall};
    const std::vector<Duty> duties = assembly::duties_of(wall);
    Exact at;
    for (std::size_t i = 0; i < wall.layers.size(); ++i) {
        const Layer& layer = wall.layers[i];
        build.layers.push_back({at, at + layer.thickness});
        if (layer.framing) {
            build.framed.push_back(
                {static_cast<int>(i), duties[i], {at, at + layer.framing->depth}, &*layer.framing});
        }
        at += layer.thickness;
    }
    const auto bearing = assembly::bearing_layer(wall);
    if (!bearing || !assembly::is_frame(wall.layers[*bearing])) {
        return fail(
            {.code = Code::unsupported,
             .what = fmt::format("assembly {} has no layer of upright studs, so it is not framed", wall.name),
             .expected = "a layer with framing = { member = \"2x6\", spacing = \"24 in\" }",
             .where = wall.origin.where});
    }
    for (std::size_t i = 0; i < build.framed.size(); ++i) {
        if (build.framed[i].duty == Duty::bearing) build.bearing = i;
    }
    return build;
}

Interval extent_of(const Wall& wall, int layer, const Interval& depth, bool reversed) {
    const auto there = [&](const WallEnd& end) {
        return end.other ? counterpart(*wall.build, *end.other, layer, depth) : depth;
    };
    Interval out{Exact{}, wall.length};
    const auto corner = [&](const WallEnd& end, bool passes, Exact& place, bool right) {
        // Outwards from the inside corner, along the wall.
        Exact beyond;
        if (end.kind == WallEnd::Kind::outer) {
            beyond = passes ? there(end).high : there(end).low;
        } else if (end.kind == WallEnd::Kind::inner) {
            beyond = Exact{} - (passes ? there(end).low : there(end).high);
        } else if (end.kind == WallEnd::Kind::mitre) {
            // Where the inner faces meet at an outer corner, the outer faces at a re-entrant one: square ends
            // then stay clear of each other.
            beyond = scaled(end.turn > 0 ? depth.low : depth.high, std::tan(end.turn / 2));
        }
        place = right ? place + beyond : place - beyond;
    };
    // Unlike walls lap nowhere: their plates lie at other heights or depths.
    const auto laps = [&](const WallEnd& end) {
        return reversed && end.level && end.other && end.other->assembly == wall.build->assembly;
    };
    corner(wall.right, !laps(wall.right), out.high, true);
    corner(wall.left, laps(wall.left), out.low, false);
    return out;
}

double mitre_of(const WallEnd& end) {
    if (end.kind != WallEnd::Kind::mitre || std::abs(end.turn) > 2.0 * std::numbers::pi / 3.0 - 1e-6)
        return 0.0;
    return end.turn / 2.0;
}

Exact mitre_reach(const WallEnd& end, const Interval& depth) {
    const double half_turn = mitre_of(end);
    if (half_turn == 0.0) return {};
    const Exact inner = scaled(depth.low, std::tan(half_turn)),
                outer = scaled(depth.high, std::tan(half_turn));
    return half_turn > 0.0 ? outer - inner : inner - outer;
}

Interval long_extent_of(const Wall& wall, int layer, const Interval& depth, bool reversed) {
    const Interval square = extent_of(wall, layer, depth, reversed);
    return {square.low - mitre_reach(wall.left, depth), square.high + mitre_reach(wall.right, depth)};
}

}  // namespace warmside::framing
