// What stands free between the members of a framed layer: the bays that batts are cut to.
#pragma once

#include <vector>

#include "assembly/assembly.h"
#include "framing/frame.h"

namespace warmside::takeoff {

using units::Exact;

/// A rectangle that members, the edges of its field or an opening bound. Under a slope it is the rectangle
/// that the piece is cut from, and `area` is less than across x along.
struct Bay {
    Exact across;       ///< clear, from member to member
    Exact along;        ///< in the direction of the members
    Exact depth;        ///< through the layer; less than its thickness behind a header
    double area = 0.0;  ///< m2
    [[nodiscard]] double volume() const { return area * depth.metres(); }
};

struct Bays {
    bool placed = false;    ///< the framing placed members in this layer; else nothing is known
    std::vector<Bay> bays;  ///< by place: across, then along
    double flanges = 0.0;   ///< m3 within the bays that flanges and chords take: bays reach from web to web
    [[nodiscard]] double volume() const;  ///< m3 to be filled
};

/// The bays of a framed layer in one panel.
///
/// Field: of a wall what its studs (or lying strips) of this layer enclose, openings out; of a floor, ceiling
/// or slope what the nearest sheets towards the inside cover (a rafter's tail is no bay), without any what
/// the members enclose; of a gable wall what stands between its studs, under the slope of their ends. A field
/// that members cut is parted into strips that run with the members (elementary geometry).
[[nodiscard]] Bays bays_of(const assembly::House& house, const framing::Panel& panel,
                           const assembly::Layer& layer, std::size_t index);

/// m3 of a layer in which no members are placed, less the share that repeating members would take.
[[nodiscard]] double loose_volume(const assembly::House& house, const framing::Panel& panel,
                                  const assembly::Layer& layer, std::size_t index);

/// What is filled inside of the rim boards of a floor, `fill` deep from a board's inner face: between the
/// ends of the joists, and beside them. `depth` of a bay is measured from the rim board inwards.
[[nodiscard]] std::vector<Bay> rim_bays(const framing::Panel& panel, Exact fill);

}  // namespace warmside::takeoff
