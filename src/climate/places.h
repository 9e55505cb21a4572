// Reading of the comma-separated tables under data/climate. `places` and `find_place` are in year.h.
#pragma once

#include <string_view>
#include <vector>

#include "climate/csv.h"

namespace warmside::climate {

/// The lines of an embedded table below its comments (#) and its header. Empty if the file is not embedded.
[[nodiscard]] std::vector<CsvLine> embedded_table(std::string_view path);

/// A field as a number; an empty field is 0.
[[nodiscard]] double number_of(const CsvField& field);

}  // namespace warmside::climate
