#include "leakage/year_columns.h"

#include <fmt/format.h>
#include <utility>
#include <vector>

namespace warmside::leakage {

Result<void> check_columns(std::string_view whose, const climate::Year& year, const climate::Indoor& indoor) {
    constexpr std::size_t hours = climate::hours_in_year;
    for (const auto& [column, name] : {std::pair{&year.temperature, "outdoor temperature"},
                                       {&year.vapour_pressure, "outdoor vapour pressure"},
                                       {&year.pressure, "station pressure"},
                                       {&year.wind_speed, "wind speed"},
                                       {&year.wind_direction, "wind direction"},
                                       {&indoor.temperature, "indoor temperature"},
                                       {&indoor.vapour_pressure, "indoor vapour pressure"}}) {
        if (column->size() != hours)
            return fail(Code::incomplete,
                        fmt::format("{}: {} has {} hours, not {}", whose, name, column->size(), hours));
    }
    return {};
}

}  // namespace warmside::leakage
