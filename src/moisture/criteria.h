// Running means and spells of an hourly history.
#pragma once

#include <cstddef>
#include <span>

namespace warmside::moisture {

/// A worst value and the sample that ends it.
struct Worst {
    double value = 0.0;
    std::size_t sample = 0;
    bool found = false;
};

/// Largest mean over `window` samples among the full windows that end in [begin, end).
[[nodiscard]] Worst worst_running_mean(std::span<const float> series, std::size_t window, std::size_t begin,
                                       std::size_t end);

/// Same of the relative humidity, only over windows whose mean temperature is within [coldest, warmest] K.
///
/// Source  ashrae-160-2009 (quoted): 30-day mean below 80 % while the 30-day mean temperature is 5 to 40
/// degC;
///         check: proof/moisture/ashrae160.toml
[[nodiscard]] Worst worst_surface_humidity(std::span<const float> temperature,
                                           std::span<const float> humidity, std::size_t window,
                                           std::size_t begin, std::size_t end, double coldest,
                                           double warmest);

/// Longest unbroken run of samples at or above `level` within [begin, end); `value` counts samples.
[[nodiscard]] Worst longest_spell(std::span<const float> series, float level, std::size_t begin,
                                  std::size_t end);

}  // namespace warmside::moisture
