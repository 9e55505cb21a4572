// The R stair: from label R, tread by tread, to the last value that is counted.
#pragma once

#include "drawing/display.h"
#include "thermal/worth.h"

namespace warmside::drawing {

struct StairFrame {
    double width = 104.0, height = 84.0;
    double highest =
        0.0;  ///< m2 K/W at the top of the tallest bar; one for all rungs that stand side by side
};

/// The highest value that the stair of `worth` reaches, m2 K/W.
[[nodiscard]] double highest(const thermal::Worth& worth);

/// Label bar pale with its R above, treads up outlined, treads down in accent, the last bar in ink. Treads
/// that are not computed or change nothing are left out. R in inch-pound or SI.
[[nodiscard]] Sheet stair(const thermal::Worth& worth, const StairFrame& frame, bool inch_pound_first);

}  // namespace warmside::drawing
