// Sizes of members by their names.
#pragma once

#include <optional>
#include <string>

#include "material/material.h"
#include "units/quantity.h"

namespace warmside::assembly {

using units::Exact;

/// The narrow and the wide side of a member: a name of the catalogue ("2x6", "45x195") or two sizes
/// ("1 1/2 in x 11 7/8 in", "45 x 220 mm"). Two bare numbers of 18 and more are millimetres. Nothing for any
/// other text.
struct MemberSize {
    Exact narrow, wide;
};
[[nodiscard]] std::optional<MemberSize> member_size(const material::Catalogue& catalogue,
                                                    const std::string& text);

}  // namespace warmside::assembly
