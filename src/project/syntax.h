// TOML text to tables, going on after a syntax error.
#pragma once

#include <set>
#include <string>
#include <string_view>

#include "base/result.h"
#include "units/toml.h"

namespace warmside::project {

struct Tables {
    toml::table root;
    Problems problems;
    /// Headings whose table does not parse and is left out: "assembly.w2". A "*" when nothing could be read.
    std::set<std::string, std::less<>> lost;
};

/// A text with a syntax error is cut at its `[headings]`, each piece parsed by itself, and the faulty pieces
/// left out, so that one missing quote does not hide what is wrong elsewhere. Messages are in the words of
/// this program.
[[nodiscard]] Tables parse_tables(const std::string& file, std::string_view text);

}  // namespace warmside::project
