// Span tables that a layout and a check share: headers, studs, joists, rafters. Data:
// data/framing/spans/*.toml.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/origin.h"
#include "units/quantity.h"

namespace warmside::framing {

/// What a header of an outer bearing wall carries.
enum class Carries { roof, roof_and_floor };

struct HeaderChoice {
    int plies = 2;
    std::string member;     ///< "2x10"
    int jacks = 1;          ///< each side
    double span = 0.0;      ///< m, the longest it may span there
    bool unbraced = false;  ///< 0.70 taken: cripples stand on it
    Origin origin;
};

/// The smallest header of IRC Table R602.7(1) for a clear span.
///
/// span, width   m; width of the building across the ridge
/// ground_snow   Pa
/// braced        the header's top is held by the plates; else 0.70 for 2x8 and deeper
/// Nothing outside the table (snow above 70 psf, wider than its columns, longer than its rows): an engineer
/// decides.
[[nodiscard]] std::optional<HeaderChoice> header_for(double span, double width, double ground_snow,
                                                     Carries carries, bool braced);

}  // namespace warmside::framing
