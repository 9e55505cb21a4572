// The plan cut of one bay of an assembly.
#pragma once

#include <span>

#include "assembly/assembly.h"
#include "drawing/display.h"

namespace warmside::drawing {

/// What the sections of one ladder share, so that they can be read against each other: one scale, one
/// length of wall, the datum at one place.
struct Frame {
    double width = 0.0;         ///< sheet units, of each section
    double scale = 0.0;         ///< sheet units per m
    double datum = 0.0;         ///< sheet units from the left edge to the datum chain line
    double window = 0.0;        ///< m of wall shown
    double first_member = 0.0;  ///< m from the top to the centre of the first member
};

/// Frame that fits all `rungs` (not null) into sections `width` wide. An empty list gives an empty frame.
[[nodiscard]] Frame frame_of(std::span<const assembly::Assembly* const> rungs, double width);

/// Inside on the left. Layers and cut framing to scale; the airtight sheet is the heaviest line and runs past
/// the drawing, other membranes are dashed; layers under retrofit are quiet; a box and a wire stand in an
/// insulated cavity inside the airtight sheet; the datum is a chain line; below, the whole thickness. A roof,
/// ceiling or floor is drawn the same way, turned on its side, and the description says so.
[[nodiscard]] Sheet section(const assembly::Assembly& assembly, const Frame& frame, bool inch_pound_first);

}  // namespace warmside::drawing
