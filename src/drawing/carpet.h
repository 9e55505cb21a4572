// The depth-time carpet of relative humidity.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "base/result.h"
#include "drawing/display.h"
#include "moisture/simulate.h"

namespace warmside::drawing {

/// Left of the picture, sheet units: room for the ticks of the layers.
inline constexpr double carpet_edge = 4.0;

struct CarpetFrame {
    double width = 178.0;
    double picture = 58.0;  ///< height of the picture alone
    int years = 0;          ///< marks on the time axis; 0: none
};

/// Where in a carpet to look: share of its time and depth in m from the inside.
struct Mark {
    double time = 0.0;
    double depth = 0.0;
    std::string words;
};

/// Palette indices, top row first = outermost depth: [row * columns + column]. Viridis from carpet_least to
/// carpet_most (viridis.h). Problem: out_of_range where the carpet's sizes do not fit its values.
[[nodiscard]] Result<std::vector<std::uint8_t>> carpet_pixels(const moisture::Carpet& carpet);

/// Depth of the assembly up, time across; ticks on the left where layers meet, the airtight sheet in accent;
/// years below; a ring at `mark`. Problem as carpet_pixels, and those of png.
[[nodiscard]] Result<Sheet> carpet(const moisture::Carpet& carpet, const assembly::Assembly& assembly,
                                   const CarpetFrame& frame, const std::optional<Mark>& mark,
                                   const std::string& title);

/// The same without the picture: axis and ticks around an empty field, for a page that fills it while the run
/// goes on.
[[nodiscard]] Sheet empty_carpet(const assembly::Assembly& assembly, const CarpetFrame& frame,
                                 const std::string& title);

}  // namespace warmside::drawing
