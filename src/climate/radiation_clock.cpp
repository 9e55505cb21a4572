#include "climate/radiation_clock.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "climate/calendar.h"
#include "climate/sun.h"

namespace warmside::climate {

namespace {

constexpr double suspicious = 0.03;

std::array<double, 12> mismatch(const Year& year, int shift) {
    const SunYear sun({.latitude = year.latitude, .longitude = year.longitude, .elevation = year.elevation},
                      year.utc_offset + 3600.0 * shift);
    std::array<double, 12> share{};
    for (int month = 0; month < 12; ++month) {
        double away = 0.0, global = 0.0;
        for (int hour = first_hour_of(month); hour < first_hour_of(month + 1); ++hour) {
            const auto i = static_cast<std::size_t>(hour);
            if (year.global[i] <= 0.0) continue;
            const auto found = sun.hour(hour);
            const double beam =
                found.share > 0.0 ? year.direct[i] * std::max(0.0, std::cos(found.position.zenith)) : 0.0;
            away += std::abs(year.diffuse[i] + beam - year.global[i]);
            global += year.global[i];
        }
        share[static_cast<std::size_t>(month)] = global > 0.0 ? away / global : 0.0;
    }
    return share;
}

std::string months_with(const std::array<int, 12>& error, int hours) {
    std::string names;
    for (std::size_t month = 0; month < 12; ++month) {
        if (error[month] == hours)
            names += fmt::format("{}{}", names.empty() ? "" : ", ", month_names[month]);
    }
    return names;
}

}  // namespace

std::array<int, 12> radiation_clock_error(const Year& year) {
    std::array<int, 12> error{};
    const auto own = mismatch(year, 0);
    if (*std::max_element(own.begin(), own.end()) <= suspicious) return error;
    for (const int shift : {-1, 1}) {
        const auto other = mismatch(year, shift);
        for (std::size_t month = 0; month < 12; ++month) {
            if (own[month] > suspicious && other[month] < 0.5 * own[month]) error[month] = shift;
        }
    }
    return error;
}

std::string radiation_clock_note(const Year& year) {
    const auto error = radiation_clock_error(year);
    const auto ahead = months_with(error, 1), behind = months_with(error, -1);
    if (ahead.empty() && behind.empty()) return {};
    std::string months;
    if (!ahead.empty()) months += " of " + ahead + " fits a clock one hour ahead of the header's";
    if (!behind.empty())
        months += (months.empty() ? " of " : ", of ") + behind + " one an hour behind the header's";
    return fmt::format(
        "The radiation{}. It is used as it stands, so the sun on east and west faces is off in these months.",
        months);
}

}  // namespace warmside::climate
