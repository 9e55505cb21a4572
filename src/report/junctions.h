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
/// "psi in W/(m K), inside dimensions: outer corner 0.027, ...; 9.5 W/K over 593 ft, most by the ...": all in
/// one sentence.
[[nodiscard]] std::string junction_words(const answer::RungAnswer& rung, bool inch_pound_first);

/// "R-18.2", or "none, " and why.
[[nodiscard]] std::string built_value(const answer::RungAnswer& rung, bool inch_pound_first);

}  // namespace warmside::report
