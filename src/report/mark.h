// Where in a carpet the deciding finding sits.
#pragma once

#include <optional>

#include "answer/answer.h"
#include "drawing/carpet.h"

namespace warmside::report {

/// Whole years of a weekly carpet; 0 for another one.
[[nodiscard]] int years_of(const moisture::Carpet& carpet);

/// In the carpet of `run`, which lasts `hours`; nothing when the finding is of another run. The wettest part
/// of a layer is marked where the carpet is most humid within the layer at that time.
[[nodiscard]] std::optional<drawing::Mark> mark_of(const assembly::Assembly& assembly,
                                                   const moisture::Carpet& carpet,
                                                   const moisture::Finding& finding, const std::string& run,
                                                   int hours);
/// Of the rung's own carpet.
[[nodiscard]] std::optional<drawing::Mark> mark_of(const assembly::Assembly& assembly,
                                                   const answer::RungAnswer& rung);

}  // namespace warmside::report
