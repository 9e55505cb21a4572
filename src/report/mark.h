// Where in a carpet the deciding finding sits.
#pragma once

#include <optional>

#include "answer/answer.h"
#include "drawing/carpet.h"

namespace warmside::report {

/// Whole years of a weekly carpet; 0 for another one.
[[nodiscard]] int years_of(const moisture::Carpet& carpet);

/// Of the carpet of `run`; nothing when the finding is of another run.
[[nodiscard]] std::optional<drawing::Mark> mark_of(const assembly::Assembly& assembly,
                                                   const moisture::Finding& finding, const std::string& run,
                                                   int hours);
/// Of the rung's own carpet.
[[nodiscard]] std::optional<drawing::Mark> mark_of(const assembly::Assembly& assembly,
                                                   const answer::RungAnswer& rung);

}  // namespace warmside::report
