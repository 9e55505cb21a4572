// Dressed sizes of dry lumber: nominal inches to actual. PS 20 (seen). Inner part of framing.
#pragma once

#include <algorithm>
#include <array>
#include <optional>
#include <span>

#include "units/quantity.h"

namespace warmside::framing {

struct Dressed {
    int nominal;  ///< in
    units::Exact actual;
};
inline constexpr std::array dressed_thicknesses{Dressed{1, units::Exact::sixty_fourths_of_inch(48)},
                                                Dressed{2, units::Exact::sixty_fourths_of_inch(96)},
                                                Dressed{4, units::Exact::sixty_fourths_of_inch(224)}};
inline constexpr std::array dressed_widths{Dressed{2, units::Exact::sixty_fourths_of_inch(96)},
                                           Dressed{3, units::Exact::sixty_fourths_of_inch(160)},
                                           Dressed{4, units::Exact::sixty_fourths_of_inch(224)},
                                           Dressed{6, units::Exact::sixty_fourths_of_inch(352)},
                                           Dressed{8, units::Exact::sixty_fourths_of_inch(464)},
                                           Dressed{10, units::Exact::sixty_fourths_of_inch(592)},
                                           Dressed{12, units::Exact::sixty_fourths_of_inch(720)}};

[[nodiscard]] inline std::optional<int> nominal_of(std::span<const Dressed> sizes, units::Exact actual) {
    const auto found =
        std::find_if(sizes.begin(), sizes.end(), [&](const Dressed& size) { return size.actual == actual; });
    return found == sizes.end() ? std::nullopt : std::optional(found->nominal);
}

}  // namespace warmside::framing
