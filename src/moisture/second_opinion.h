// ISO 13788 beside the transient answer: monthly means of a run's own weather, one line through its assembly.
#pragma once

#include <array>
#include <span>
#include <string>
#include <vector>

#include "moisture/monthly.h"
#include "moisture/verdict.h"

namespace warmside::moisture {

/// Means of the twelve months; vapour pressure at most saturation at the month's mean temperature.
[[nodiscard]] std::array<MonthlyAir, 12> monthly_means(const climate::FaceWeather& outside,
                                                       const climate::Indoor& inside);

/// Films, layers and membranes of a run's path from the inside, with the name of each. Vapour resistance at
/// 50 % relative humidity, conductivity as tested, still air s_d 10 mm; the line ends at the first ventilated
/// cavity, as ISO 6946 and ISO 13788 ask (memory). Sun, rain, built-in water and capillary flow have no place
/// in it.
struct SteadyPath {
    std::vector<SteadyLayer> layers;
    std::vector<std::string> names;
};
[[nodiscard]] Result<SteadyPath> steady_path(const Run& run);

/// Problem  what monthly_condensation refuses, what has no resistance
/// Source   iso-13788-2012, clause 6 (procedure from memory)
[[nodiscard]] Result<MonthlyOpinion> monthly_opinion(const Run& run);

/// Verdict::monthly from the run that decides, or a note that says why there is none.
void add_second_opinion(std::span<const Run> runs, Verdict& verdict);

}  // namespace warmside::moisture
