// Parts of a panel that are no rectangles: what a sheet, a roll or a strip of them covers. Inner part of
// frame_roofs.
#pragma once

#include <optional>
#include <vector>

#include "assembly/roof_shape.h"
#include "framing/flat.h"

namespace warmside::framing {

/// A part of a panel: strips along u, each between two straight lines on v; m.
using Patch = std::vector<assembly::RoofStrip>;

/// A rectangle.
[[nodiscard]] Patch patch_of(const Field& field);
/// What of it lies within u and v, m.
[[nodiscard]] Patch clipped(const Patch& patch, const assembly::RoofStrip& rectangle);
/// The rectangle around it; nothing for an empty one.
[[nodiscard]] std::optional<Field> around(const Patch& patch);
/// Its outline, counter-clockwise, where it is in one piece.
[[nodiscard]] std::vector<Spot> outline_of(const Patch& patch);

/// Stretches on u where the patch covers something of the heights v (`whole`: all of them).
[[nodiscard]] std::vector<Interval> widths(const Patch& patch, const Interval& v, bool whole);
/// Stretches on v that lie in the patch over all of u; `longest`: over any of it, as long as a stick is whose
/// ends are cut to the slopes.
[[nodiscard]] std::vector<Interval> heights(const Patch& patch, const Interval& u, bool longest);

/// What one sheet that covers `field` has of a patch.
void cut_sheets(Panel& panel, int layer, const Patch& patch, const Field& field, const Interval& w,
                bool upright);
/// Sheets over a patch, their long side along u, or up (`upright`), each second row moved on by half a sheet,
/// cut to its outline.
void lay_sheets(const assembly::House& house, Panel& panel, int layer, const Patch& patch, const Interval& w,
                bool upright = false);
/// Runs of a membrane along u, each lapped over the one below and as long as the widest place it covers.
void lay_runs(const assembly::House& house, Panel& panel, int layer, const Patch& patch, const Interval& w);

}  // namespace warmside::framing
