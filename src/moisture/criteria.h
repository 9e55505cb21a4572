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

struct FrostLimits {
    double frost = 271.15, hard_frost = 268.15, thaw = 273.15;  ///< K
    double critical = 0.8;                                      ///< degree of saturation
};

/// Freeze-thaw cycles of one year; carries a frost over the turn of the year.
struct FrostCount {
    int all = 0;           ///< under `frost` and back over `thaw`
    int wet = 0;           ///< with the saturation above critical while under `frost`
    int hard_and_wet = 0;  ///< with the saturation above critical while under `hard_frost`
    double fullest = 0.0;  ///< highest saturation while under `frost`
    std::size_t fullest_sample = 0;
    bool frozen = false, is_wet = false, is_hard = false;  ///< of the cycle that is open
};

/// Counts cycles that end within [begin, end); `count` keeps the open one of the samples before.
///
/// Source  walls-in-the-field, ft-cycle (practice; no standard was found)
void count_cycles(std::span<const float> temperature, std::span<const float> saturation,
                  const FrostLimits& limits, std::size_t begin, std::size_t end, FrostCount& count);

}  // namespace warmside::moisture
