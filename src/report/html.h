// The report as one self-contained HTML file: opens offline, light and dark, prints on A3 or tabloid.
#pragma once

#include <string>

#include "answer/answer.h"
#include "assembly/assembly.h"

namespace warmside::report {

/// `answer` must be of `house`: its rungs index the house's assemblies. The same inputs give the same bytes.
[[nodiscard]] std::string page(const assembly::House& house, const answer::Answer& answer);

}  // namespace warmside::report
