// A model as lines of text, for comparing two of them.
#pragma once

#include <string>
#include <vector>

#include "assembly/assembly.h"

namespace warmside::project {

/// One line for each value of the model, `assembly.w2.layers.3.thickness = 1117600`, in a fixed order; places
/// and the built-in catalogue are left out. Two houses with the same lines are the same house.
[[nodiscard]] std::vector<std::string> model_text(const assembly::House& house);

}  // namespace warmside::project
