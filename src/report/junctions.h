// A rung's junctions in words and rows, for terminal and page.
#pragma once

#include <string>
#include <vector>

#include "answer/answer.h"

namespace warmside::report {

/// Heads of `junction_rows`; psi in W/(m K) in either system, as its tables are.
[[nodiscard]] std::vector<std::string> junction_heads();
/// kind, length, psi internal, psi external, W/K, lowest factor, indoor humidity.
[[nodiscard]] std::vector<std::vector<std::string>> junction_rows(const answer::RungAnswer& rung,
                                                                  bool inch_pound_first);
/// "21.4 W/K over 118 m, most by window jambs (6.1 W/K); coldest place at the eave, f 0.79: up to 46 %
/// indoors".
[[nodiscard]] std::string junction_words(const answer::RungAnswer& rung, bool inch_pound_first);

/// What stands in place of built R: "built R-18.2", or why there is none.
[[nodiscard]] std::string built_or_why(const answer::RungAnswer& rung, bool inch_pound_first);

}  // namespace warmside::report
