// "Did you mean": the nearest valid word.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace warmside {

/// The word of `known` with the smallest edit distance to `word` (insert, delete, replace, swap of
/// neighbours; case ignored), empty when none is within a third of the length.
[[nodiscard]] std::string nearest(std::string_view word, std::span<const std::string> known);

}  // namespace warmside
