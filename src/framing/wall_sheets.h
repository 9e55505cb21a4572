// Sheets nailed on, membranes and what is taped. Inner part of frame_walls.
#pragma once

#include "framing/wall_frame.h"

namespace warmside::framing {

/// Panels and gypsum boards of a wall that are no cladding: stood up, from the left end of their layer, each
/// joint on a member of the frame that they are nailed to, as far along as the sheet reaches. Sheets butt;
/// the gap of 1/8 in at their edges is not drawn.
void lay_sheets(const Bench& bench);

/// Runs of the membranes, from the bottom up, and the seams of the airtight and the water layer.
void lay_membranes(const Bench& bench);

}  // namespace warmside::framing
