// How a wall is built through its thickness, and how far each of its layers runs at the corners. Inner part
// of frame_walls.
#pragma once

#include <string>
#include <vector>

#include "assembly/duty.h"
#include "framing/frame.h"

namespace warmside::framing {

/// From low to high, on any axis.
struct Interval {
    Exact low, high;
    [[nodiscard]] Exact size() const { return high - low; }
    [[nodiscard]] bool overlaps(const Interval& b) const { return low < b.high && b.low < high; }
    [[nodiscard]] bool touches(const Interval& b) const { return low <= b.high && b.low <= high; }
};

using assembly::Duty;

struct FramedLayer {
    int layer = 0;
    Duty duty = Duty::bearing;
    Interval depth;  ///< of the members, on w
    const assembly::Framing* framing = nullptr;
};

/// An assembly as frame_walls sees it.
struct Build {
    const assembly::Assembly* assembly = nullptr;
    std::vector<Interval> layers;  ///< on w, from the inside face of the finish
    std::vector<FramedLayer> framed;
    std::size_t bearing = 0;  ///< index into `framed`
    [[nodiscard]] const FramedLayer& bearer() const { return framed[bearing]; }
    [[nodiscard]] bool several_frames() const;
};

/// Duties as assembly::duties_of gives them.
/// Problem  unsupported: no layer of upright members
[[nodiscard]] Result<Build> build_of(const assembly::Assembly& assembly);

/// One end of a face.
struct WallEnd {
    enum class Kind {
        open,      ///< no wall meets it
        straight,  ///< the wall goes on in line
        outer,     ///< corner of 90 degrees, seen from outside
        inner,     ///< re-entrant corner of 90 degrees
        mitre      ///< any other angle
    };
    Kind kind = Kind::open;
    double turn = 0.0;             ///< rad, to the left positive: an outer corner
    const Build* other = nullptr;  ///< the wall that meets it; null: not framed, or none
    bool level = true;             ///< both walls are equally high
};

/// The rim of the floor above a wall, as a header in it needs it.
struct RimOver {
    Exact thickness, depth;
    std::string lumber;
    std::vector<Interval> runs;  ///< u where it stands flush with the outer face of the wall's frame
    std::string lacking;         ///< why there is none; empty: there is one
};

struct Wall {
    const assembly::Face* face = nullptr;
    std::size_t index = 0;
    const Build* build = nullptr;
    Exact length;  ///< of the inside face
    WallEnd left, right;
    RimOver rim;  ///< filled in where headers lie in the rim
};

/// Half of the angle by which the walls turn at a mitred corner, rad, positive at an outer one; 0 elsewhere,
/// and where the walls meet so sharply (60 degrees and less) that no mitre is cut.
[[nodiscard]] double mitre_of(const WallEnd& end);

/// What a mitre adds to a layer's length at an end: from the short to the long point.
[[nodiscard]] Exact mitre_reach(const WallEnd& end, const Interval& depth);

/// extent_of with its mitred ends to their long points: sheets, membranes, plates.
[[nodiscard]] Interval long_extent_of(const Wall& wall, int layer, const Interval& depth,
                                      bool reversed = false);

/// How far a layer (members or sheet) with `depth` runs along u. At its right end a wall passes the next one,
/// at its left end it butts; `reversed` the other way round, as the upper of two top plates laps the corner.
[[nodiscard]] Interval extent_of(const Wall& wall, int layer, const Interval& depth, bool reversed = false);

}  // namespace warmside::framing
