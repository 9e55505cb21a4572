// Which runs of the moisture solver a rung gets, and what its verdict then rests on.
#pragma once

#include <string>
#include <vector>

#include "answer/places.h"
#include "moisture/simulate.h"
#include "moisture/verdict.h"

namespace warmside::answer {

[[nodiscard]] bool is_wall_like(const assembly::Assembly& a);

/// Why the transient model does not answer for an assembly; empty when it does.
[[nodiscard]] std::string outside_the_model(const assembly::House& house, const assembly::Assembly& a);

/// Adds the runs of one assembly: every face and weather, by bay and by framing. They point into `house`,
/// `a`, `faces` and `around`.
void add_runs(const assembly::House& house, const assembly::Assembly& a, const std::vector<FaceCase>& faces,
              const Surroundings& around, std::vector<moisture::Run>& runs);

[[nodiscard]] moisture::Basis basis_of(const assembly::House& house, const assembly::Assembly& a,
                                       const Surroundings& around);

}  // namespace warmside::answer
