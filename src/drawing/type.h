// The typefaces of every drawing: IBM Plex, embedded in the program.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "drawing/display.h"

namespace warmside::drawing {

/// Advance of a line of text, in the units of `size`, without kerning. A letter that the face does not have
/// counts as its box. 0 when the face cannot be read.
[[nodiscard]] double width_of(std::string_view text, Font font, double size);

/// `text` cut at a letter, with an ellipsis, to be no wider than `room`.
[[nodiscard]] std::string fitted(std::string_view text, Font font, double size, double room);

/// One closed outline of a glyph or of several: straight pieces, y down.
using Outline = std::vector<Point>;
/// Outlines of a line of text whose baseline begins at `at`; filled by the rule of non-zero winding.
/// Problem: unsupported, the library's complaint about the face.
[[nodiscard]] Result<std::vector<Outline>> outlines_of(std::string_view text, Font font, double size,
                                                       Point at);

/// `@font-face` rules with the faces in them, for a file that stands alone.
[[nodiscard]] std::string font_rules(const std::vector<Font>& fonts);

}  // namespace warmside::drawing
