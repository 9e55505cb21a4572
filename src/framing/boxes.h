// Electrical boxes of a wall: where receptacles have to be, and the wood that holds each box. Inner part of
// frame_walls.
#pragma once

#include <optional>
#include <vector>

#include "assembly/boxes.h"
#include "framing/wall_parts.h"

namespace warmside::framing {

/// A stretch of an outer wall along the floor line between doors, inner walls and corners that needs
/// receptacles.
struct WallSpace {
    Interval u;
    /// Floor line that goes on round the corner at its ends, too short for a receptacle of its own. It has to
    /// be reached from here.
    Exact before, after;
};

/// The wall spaces of a face, from left to right. A doorway breaks one; a window does not, down to the floor
/// neither (a fixed panel is wall space; what slides is a door). Corners and inner walls break one too, so
/// that each is served by itself: stricter than NEC 210.52(A), which measures round corners and counts what
/// stands on inner walls. A stretch narrower than BoxRules::least_space is left to its neighbour round the
/// corner, if there is one and they are that wide together; between a door and an inner wall it is left out.
/// The inner walls that [details] only counts have no place and break nothing.
///
/// Source  NEC 210.52(A), memory
[[nodiscard]] std::vector<WallSpace> wall_spaces(const assembly::House& house, const assembly::Face& face);

/// Places the boxes of the file and then, in heated storeys, receptacles until every wall space is reached.
/// Each box goes to the nearest place where it is clear of members, openings with their casing, inner walls
/// and other boxes and where wood holds it: the side of a stud, a strip above or below, or, between lying
/// rows, an upright block of its own from row to row. Notes tell where none was found.
void place_boxes(const Bench& bench);

/// What place_boxes asks for: a place near (u, v), the box's middle.
struct BoxWish {
    Interval centre;   ///< where on u its middle may be
    Exact u, v;        ///< where it should be
    Interval heights;  ///< where on v the whole box may be
};
struct BoxSpot {
    Interval u, v;
    std::size_t holder = 0;  ///< index into the panel's members; past its end: the block
    std::optional<Interval> block_u, block_v;
};
/// The best place for a box of `seat`, or none. Cost: the way along the wall, twice the way up or down, 6 in
/// more for a block of its own.
[[nodiscard]] std::optional<BoxSpot> box_spot(const Bench& bench, const assembly::BoxSeat& seat,
                                              const BoxWish& wish);

/// Where inner walls meet a face, on u.
[[nodiscard]] std::vector<Interval> inner_walls(const assembly::House& house, const assembly::Face& face);

}  // namespace warmside::framing
