// The words of `--help`, one text a command.
#pragma once

#include <string_view>

namespace warmside::app {

[[nodiscard]] std::string_view overview();
/// Empty for a command that does not exist.
[[nodiscard]] std::string_view help_of(std::string_view command);

}  // namespace warmside::app
