// Means of what a history keeps.
#pragma once

#include <span>
#include <vector>

#include "moisture/simulate.h"

namespace warmside::moisture {

/// Mean of each stretch of `each` values (at least 1), any unit; the last stretch may be shorter.
[[nodiscard]] std::vector<float> means_of_each(std::span<const float> values, std::size_t each);

/// Moisture of each layer as means over `columns` equal parts of the run, the borders as in its carpet.
/// Empty for no columns.
[[nodiscard]] std::vector<LayerMoisture> layer_means(const History& history, int columns);

}  // namespace warmside::moisture
