// The list of published sources, docs/sources/*.toml.
#pragma once

#include <string>
#include <string_view>

namespace warmside::proof {

/// Title, edition and where to find it, in one line; the key itself when the list does not have it.
[[nodiscard]] std::string source_line(std::string_view key);
[[nodiscard]] bool has_source(std::string_view key);

}  // namespace warmside::proof
