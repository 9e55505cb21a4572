// What is wrong with a TOML text, for a person who does not know TOML.
#pragma once

#include <string_view>

#include "base/result.h"

namespace warmside::project {

/// The parser's complaint about `text`, which it could not parse, put into plain words with what to write
/// instead. Lines count from the beginning of `text`.
[[nodiscard]] Problem in_our_words(const Problem& parsers, std::string_view text);

}  // namespace warmside::project
