// Reads catalogue rows; the same reader serves data/ and the house file.
#pragma once

#include "material/material.h"
#include "units/toml.h"

namespace warmside::material {

/// One [material.NAME] table. Every problem goes to `problems`; nothing is returned when one is an error.
/// `based_on = "stone wool batt"` starts from a catalogue row, so that a user states only what differs.
[[nodiscard]] std::optional<Material> read_material(const std::string& name, const toml::table& table,
                                                    const Catalogue& known, Origin::Kind kind,
                                                    Problems& problems);
/// One [membrane.NAME] table.
[[nodiscard]] std::optional<Membrane> read_membrane(const std::string& name, const toml::table& table,
                                                    const Catalogue& known, Origin::Kind kind,
                                                    Problems& problems);

/// One text of the form of data/materials/*.toml: [material.NAME], [membrane.NAME] and [[lumber]] tables,
/// added to `catalogue` in the order of the text.
void read_catalogue(std::string_view name, std::string_view text, Origin::Kind kind, Catalogue& catalogue,
                    Problems& problems);

}  // namespace warmside::material
