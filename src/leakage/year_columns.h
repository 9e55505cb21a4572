// Proves that the columns of weather and room that a balance reads are a year long.
#pragma once

#include <string_view>

#include "base/result.h"
#include "climate/year.h"

namespace warmside::leakage {

/// whose    begins the message: "air pressures"
/// Problem  incomplete: the first column that is not 8760 long
[[nodiscard]] Result<void> check_columns(std::string_view whose, const climate::Year& year,
                                         const climate::Indoor& indoor);

}  // namespace warmside::leakage
