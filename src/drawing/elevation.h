// The framing elevation of a wall, the plan of a floor or ceiling, a roof plane: every member with its mark.
#pragma once

#include <vector>

#include "assembly/assembly.h"
#include "drawing/display.h"
#include "drawing/plot.h"
#include "framing/frame.h"

namespace warmside::drawing {

/// Which members of a panel one drawing shows.
enum class Shown {
    frame,    ///< what carries, with what opens it: all but furring, battens and bucks
    furring,  ///< inside, in front of the membrane
    battens,  ///< outside, behind the cladding
};

struct ElevationFrame {
    double picture = 860.0;  ///< width of the panel itself, at least; more where its marks need it
    double highest = 560.0;  ///< most height of the panel itself
    bool inch_pound_first = true;
    bool listed = true;  ///< the cut list stands beside the picture
    Shown shown = Shown::frame;
};

/// Members of `panel` that a drawing of `shown` holds, from inside to outside.
[[nodiscard]] std::vector<const framing::Member*> members_shown(const framing::Panel& panel, Shown shown);

/// A wall stands as seen from outside; a floor and a ceiling are seen from above, north up; a roof plane
/// square to itself, its eave below. Members to one scale, the outer over the inner; what stands behind
/// another is dashed. Upright members have their marks in a row above or below with a line to each, lying
/// ones in or beside themselves; ticks on the plates at the layout. Rough openings with name, size and sill
/// height (of `face`; null: none). Electrical boxes with their marks, also where their layer is not drawn.
/// Dimension strings from near to far: layout, openings, overall; to the frame, to the edges of rough
/// openings. Beside it the cut list.
///
/// Source: US framing drawings, common practice, no source
[[nodiscard]] Sheet elevation(const framing::Panel& panel, const assembly::Face* face,
                              const ElevationFrame& frame, const Caption& caption);

}  // namespace warmside::drawing
