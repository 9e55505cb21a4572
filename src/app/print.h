// Results to standard output, problems to standard error.
#pragma once

#include <string_view>

#include "app/commands.h"
#include "base/result.h"
#include "report/json.h"
#include "report/terminal.h"

namespace warmside::app {

/// The style of standard output.
[[nodiscard]] report::Style style_of_output();

void print(std::string_view text);
/// Prints the document; a closed pipe is not an error.
void print_json(const report::Json& json);

/// Says the problem on standard error, and as a document on standard output under --json. Returns the exit
/// code: a solver that did not settle or was stopped 3, everything else 2.
[[nodiscard]] int give_up(const Problems& problems, std::string_view rendered, bool json);
[[nodiscard]] int give_up(const Problem& problem, bool json);

}  // namespace warmside::app
