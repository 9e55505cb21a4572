// The depth-time carpet as a picture that stands alone: layers with their names, months, a colour bar.
#pragma once

#include <optional>

#include "drawing/carpet.h"
#include "drawing/plot.h"

namespace warmside::drawing {

enum class Field { relative_humidity, temperature };

struct FigureFrame {
    double width = 960.0;
    double picture = 330.0;  ///< height of the carpet alone
    bool inch_pound_first = true;
};

/// Depth up from the inside, time across. At the left the names of all layers at their place and the strip of
/// the assembly to the same scale, at the right depths and the colour bar. Humidity in viridis from
/// carpet_least to carpet_most; temperature in inferno over its own range, held to whole 5 K. A ring at
/// `mark` and its words above it. Problem as carpet_pixels, and those of png.
[[nodiscard]] Result<Sheet> carpet_figure(const moisture::Carpet& carpet, const assembly::Assembly& assembly,
                                          moisture::Path path, Field field, int start_hour, int hours,
                                          const FigureFrame& frame, const std::optional<Mark>& mark,
                                          const Caption& caption);

}  // namespace warmside::drawing
