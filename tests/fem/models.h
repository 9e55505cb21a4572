// Invented details, written out by hand: what is compared with finite elements.
#pragma once

#include "conduction/model.h"

namespace warmside::fem {

[[nodiscard]] conduction::Model stud_wall();

}  // namespace warmside::fem
