// Which header, jacks and kings an opening gets. Inner part of frame_walls.
#pragma once

#include "framing/wall_frame.h"

namespace warmside::framing {

struct HeaderWish {
    Exact height;
    Exact ply;           ///< thickness of one
    std::string lumber;  ///< what it is cut from
    int plies = 2;
    int jacks = 1, kings = 1;  ///< each side
    bool dropped = false;      ///< it lies at the opening's head, cripples stand on it
    bool at_rim = false;       ///< it lies over the plates, in the rim of the floor above
    Problems notes;            ///< what was taken otherwise, or is for an engineer
};

/// As [details] says, or by the span table where Practice::sized_headers is on and the ground snow is given.
/// What the table does not hold is taken as [details] says, with a note that an engineer decides.
///
/// In the rim (Details::header_place) its height is that of the rim board, and full-height studs carry it in
/// place of jacks: at each end as many as half its span displaces, counted up at the wall's own spacing, and
/// no fewer than the table of kings asks. Where no rim stands over the opening it lies in the wall, with a
/// note that says why.
/// Source   IRC R602.7.2 (memory), Tables R602.7(1), R602.7.5
[[nodiscard]] HeaderWish header_wish(const Bench& bench, const FramePlan& plan, const Bay& bay);

}  // namespace warmside::framing
