// Published framing fractions: how much of a wood-framed wall's face is wood.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "base/origin.h"

namespace warmside::framing {

/// One published row; it holds from the metric to the inch module (400 mm to 16 in).
struct FractionRow {
    double spacing_from = 0.0;  ///< m
    double spacing_to = 0.0;    ///< m
    double members = 0.0;       ///< studs, plates and sills, share of the opaque face
    double headers = 0.0;       ///< share of the opaque face
    Origin origin;
};

/// Reads data/framing/fractions.toml. Problem: a row with a bad value, or rows not in order of spacing.
[[nodiscard]] Result<std::vector<FractionRow>> read_fractions(std::string_view file_name,
                                                              std::string_view text);

struct Fraction {
    double whole = 0.0;  ///< members and headers
    double headers = 0.0;
    bool interpolated = false;  ///< between two published spacings
    Origin origin;
};

/// The published fraction for studs at `spacing` (m, centre to centre). Nothing outside the published
/// spacings. Source   data/framing/fractions.toml; check: proof/thermal/framing_fractions.toml
[[nodiscard]] std::optional<Fraction> published_fraction(double spacing);

}  // namespace warmside::framing
