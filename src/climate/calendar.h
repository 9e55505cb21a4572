// Days and months of a year without a leap day.
#pragma once

#include <array>
#include <cstddef>

namespace warmside::climate {

inline constexpr std::array days_in_month{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
inline constexpr std::array month_names{"January",   "February", "March",    "April",
                                        "May",       "June",     "July",     "August",
                                        "September", "October",  "November", "December"};

/// Days before each month (0 to 12).
inline constexpr std::array<int, 13> month_starts = [] {
    std::array<int, 13> starts{};
    for (std::size_t m = 0; m < 12; ++m) starts[m + 1] = starts[m] + days_in_month[m];
    return starts;
}();

/// First hour of a month (0 to 12; 12 gives the end of the year).
[[nodiscard]] constexpr int first_hour_of(int month) {
    int days = 0;
    for (int m = 0; m < month; ++m) days += days_in_month[static_cast<std::size_t>(m)];
    return 24 * days;
}

/// Month (0 to 11) of an hour of the year (0 to 8759).
[[nodiscard]] constexpr int month_of(int hour) {
    int month = 0;
    while (month < 11 && hour >= first_hour_of(month + 1)) ++month;
    return month;
}

}  // namespace warmside::climate
