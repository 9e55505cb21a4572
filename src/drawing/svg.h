// Display list to SVG text.
#pragma once

#include <string>
#include <string_view>

#include "drawing/display.h"

namespace warmside::drawing {

struct SvgOptions {
    bool standalone =
        true;  ///< own file: namespace, colours for light and dark; false: inside a page that has them
    std::string id = "d";  ///< prefix of ids; unique in a page
    std::string fonts;     ///< rules for the style of a standalone file (type.h); empty: the reader's own
};

/// Real text stays text; colours are classes over CSS variables (paper, ink, quiet, hairline, accent, wood,
/// wool, pale).
[[nodiscard]] std::string svg(const Sheet& sheet, const SvgOptions& options = {});

/// The rules for the classes that `svg` writes, for a page's style sheet.
[[nodiscard]] std::string_view svg_classes();

/// `& < > " '` as entities; control characters that XML 1.0 does not allow are left out.
[[nodiscard]] std::string escape(std::string_view text);

/// RFC 4648.
[[nodiscard]] std::string base64(std::string_view bytes);

}  // namespace warmside::drawing
