// Members within a layer.
#pragma once

#include <optional>

#include "project/draft.h"

namespace warmside::project {

/// Reads `framing = { ... }` of the layer called `title`, `thickness` thick (zero: not known, nothing is
/// inferred from it). Nothing on a problem, which is reported.
std::optional<assembly::Framing> read_framing(Draft& draft, const toml::table& table,
                                              const std::string& title, assembly::Part part,
                                              units::Exact thickness);

/// The narrow and the wide side of a member: a name of the catalogue ("2x6", "45x195") or two sizes
/// ("1 1/2 in x 11 7/8 in", "45 x 220 mm"). Two bare numbers of 18 and more are millimetres.
struct Section2 {
    units::Exact narrow, wide;
};
std::optional<Section2> member_size(const material::Catalogue& catalogue, const std::string& text);
/// The member that `key` names, or a problem with the nearest ones; nothing too where the key is absent.
std::optional<std::string> read_member_name(Draft& draft, Section& r, std::string_view key);

}  // namespace warmside::project
