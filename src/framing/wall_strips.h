// Furring inside, battens outside, boxes in openings and stops between two frames. Inner part of frame_walls.
#pragma once

#include "framing/wall_frame.h"

namespace warmside::framing {

/// Furring or battens of one layer. Strips frame each opening first; those of the layout are cut where they
/// meet an opening or another strip. Upright ones stand on the bearing frame's module, lying ones on their
/// own from the floor up.
void build_strips(const Bench& bench, const FramedLayer& layer, const FramePlan& bearing);

/// Plywood boxes in the openings of a wall of several frames, within the rough opening, from the innermost to
/// the outermost frame.
void build_bucks(const Bench& bench);

/// Upright panels between two frames every 10 ft where what fills the gap does not stop a fire by itself (IRC
/// R302.11, seen: batts held in place and tested cellulose do).
void stop_gaps(const Bench& bench);

/// Centres of a layer's layout along a frame's run (wall_frame.cpp).
[[nodiscard]] std::vector<Exact> marks_of(const Bench& bench, const assembly::Framing& framing,
                                          const Interval& run);

}  // namespace warmside::framing
