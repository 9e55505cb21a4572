// Houses thrown together: outlines with right angles, openings, practice, rungs of the example files.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "assembly/assembly.h"

namespace warmside::tests {

/// One draw from 0 to below `below`; rapidcheck's or a plain generator's.
using Draw = int (*)(int below);

struct RandomHouse {
    std::unique_ptr<assembly::House> house;
    const assembly::Assembly* wall = nullptr;
    std::string text;  ///< the draws that matter, for a failure's message
};

/// Reads the rungs from the example files under `source` (the repository).
[[nodiscard]] RandomHouse random_house(const std::string& source, Draw draw);

}  // namespace warmside::tests
