// Members within a layer.
#pragma once

#include <optional>

#include "assembly/members.h"
#include "project/draft.h"

namespace warmside::project {

/// Reads `framing = { ... }` of the layer called `title`, `thickness` thick (zero: not known, nothing is
/// inferred from it). Nothing on a problem, which is reported.
std::optional<assembly::Framing> read_framing(Draft& draft, const toml::table& table,
                                              const std::string& title, assembly::Part part,
                                              units::Exact thickness);

/// The member that `key` names, or a problem with the nearest ones; nothing too where the key is absent.
std::optional<std::string> read_member_name(Draft& draft, Section& r, std::string_view key);

}  // namespace warmside::project
