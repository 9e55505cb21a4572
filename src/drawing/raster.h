// Display list to PNG.
#pragma once

#include <string>

#include "base/result.h"
#include "drawing/display.h"

namespace warmside::drawing {

struct RasterOptions {
    double scale = 2.0;  ///< pixels a sheet unit
    bool dark = false;
};

/// The whole sheet on paper, with the program's own typefaces and the colours of svg.h.
/// Returns the bytes of a PNG file. Problem: out_of_range (a sheet without size, or beyond 16384 pixels),
/// unsupported (a typeface or an embedded picture that does not read).
[[nodiscard]] Result<std::string> picture(const Sheet& sheet, const RasterOptions& options = {});

/// What a role of colour is, 0xRRGGBB.
[[nodiscard]] unsigned colour_of(Ink ink, bool dark);

}  // namespace warmside::drawing
