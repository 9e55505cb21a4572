// How far a given header may span by the code's table. framing/spans.h picks one; this judges one.
#pragma once

#include <optional>
#include <string_view>

#include "base/origin.h"

namespace warmside::structure {

struct HeaderLimit {
    double span = 0.0;  ///< m, clear
    int jacks = 1;      ///< at each end
    Origin origin;
};

/// Longest clear span of a built-up header in an outer bearing wall.
///
/// plies, member  2 and "2x10"; width: of the building across the ridge, m; snow: ground, Pa
/// floors         carried besides the roof, 0 or 1 (with a bearing line in the middle)
/// braced         false: cripples stand on it, 0.70 of the span for 2x8 and deeper
/// species        the table holds for No. 2 of four species
/// Between widths interpolated; a snow between rows takes the heavier, and so does a width that the lighter
/// row does not have. Nothing outside: above 70 psf, wider than 36 ft, other sizes.
/// Source  IRC 2021 Table R602.7(1); check: proof/structure/headers.toml
[[nodiscard]] std::optional<HeaderLimit> header_limit(int plies, std::string_view member, double width,
                                                      double snow, int floors, bool braced);
[[nodiscard]] bool header_species(std::string_view species);

}  // namespace warmside::structure
