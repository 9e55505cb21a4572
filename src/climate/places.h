// Reading of the comma-separated tables under data/climate. `places` and `find_place` are in year.h.
#pragma once

#include <string_view>
#include <vector>

namespace warmside::climate {

/// One line that is neither empty nor a comment (#), split at commas; our own tables have no quoted fields.
struct TableLine {
    int line = 0;  ///< from 1
    std::vector<std::string_view> fields;
};

/// The lines below the header line of an embedded table. Empty if the file is not embedded.
[[nodiscard]] std::vector<TableLine> embedded_table(std::string_view path);

/// A field as a number; an empty field is 0.
[[nodiscard]] double number_of(std::string_view field);

}  // namespace warmside::climate
