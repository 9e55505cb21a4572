// A house file read and answered, for the commands that print what they like of it.
#pragma once

#include "answer/answer.h"
#include "app/commands.h"
#include "app/house.h"
#include "base/stop.h"

namespace warmside::app {

/// A house file answered, or the exit code that says why not.
struct Answered {
    LoadedHouse loaded;
    answer::Answer answer;
    int exit = done;
};

/// Reads options.file with its weather and prices (options.prices over those), and answers `ask` for
/// options.rung. Remarks and problems go to standard error.
[[nodiscard]] Answered answer_file(const Options& options, answer::Ask ask, StopSource& stop);

}  // namespace warmside::app
