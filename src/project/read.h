// House file to model.
#pragma once

#include <memory>
#include <string_view>

#include "assembly/assembly.h"
#include "base/result.h"

namespace warmside::project {

struct Reading {
    std::unique_ptr<assembly::House> house;  ///< null when there is an error
    Problems problems;                       ///< errors, warnings and notes, in order of place
};

/// Reads a house file. All problems at once; never throws, never stops at the first.
[[nodiscard]] Reading read_house(std::string_view file_name, std::string_view text);

/// The commented starter house file of `warmside new`; reads without a problem.
[[nodiscard]] std::string_view starter();

}  // namespace warmside::project
