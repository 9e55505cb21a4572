// Which header, jacks and kings an opening gets. Inner part of frame_walls.
#pragma once

#include "framing/wall_frame.h"

namespace warmside::framing {

struct HeaderWish {
    Exact height;
    int plies = 2;
    int jacks = 1, kings = 1;  ///< each side
    bool dropped = false;      ///< it lies at the opening's head, cripples stand on it
};

/// As [details] says, or by the span table where Practice::sized_headers is on and the ground snow is given.
/// What the table does not hold is taken as [details] says, with a note that an engineer decides.
[[nodiscard]] HeaderWish header_wish(const Bench& bench, const FramePlan& plan, const Rough& rough);

}  // namespace warmside::framing
