#include "climate/rain.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "climate/calendar.h"
#include "climate/sun.h"

namespace warmside::climate {

double liquid_share(double temperature) {
    return std::clamp((temperature - 273.15) / 2.0, 0.0, 1.0);
}

std::vector<double> rain_from_months(const Year& year, std::span<const double> total_cloud,
                                     const MonthlyPrecipitation& precipitation) {
    std::vector<double> rain(hours_in_year, 0.0);
    for (int month = 0; month < 12; ++month) {
        const auto begin = static_cast<std::size_t>(first_hour_of(month));
        const auto end = static_cast<std::size_t>(first_hour_of(month + 1));
        double sum = 0.0;
        for (std::size_t i = begin; i < end; ++i) {
            rain[i] = std::max(0.0, (10.0 * total_cloud[i] - 7.0) / 3.0) *
                      std::max(0.0, (100.0 * relative_humidity(year, i) - 75.0) / 25.0);
            sum += rain[i];
        }
        const double water = precipitation[static_cast<std::size_t>(month)];
        for (std::size_t i = begin; i < end; ++i) {
            const double share = sum > 0.0 ? rain[i] / sum : 1.0 / static_cast<double>(end - begin);
            rain[i] = water * share * liquid_share(year.temperature[i]) / 3600.0;
        }
    }
    return rain;
}

double cloud_cover(double clearness) {
    return std::min(1.0, std::pow(std::clamp((1.0 - clearness) / 0.75, 0.0, 1.0), 1.0 / 3.4));
}

std::vector<double> cloud_from_clearness(const Year& year, std::span<const double> clear) {
    constexpr double low = 10.0 * std::numbers::pi / 180.0;
    const SunYear sun({.latitude = year.latitude, .longitude = year.longitude, .elevation = year.elevation},
                      year.utc_offset);
    std::vector<double> cover(hours_in_year, 0.0);
    std::vector<std::size_t> known;
    for (std::size_t i = 0; i < cover.size(); ++i) {
        const double height = sun.hour(static_cast<int>(i)).position.elevation_airless;
        if (height < low) continue;
        const double most = clear.empty() ? 910.0 * std::sin(height) - 30.0 : clear[i];
        if (most <= 0.0) continue;
        cover[i] = cloud_cover(year.global[i] / most);
        known.push_back(i);
    }
    if (known.empty()) return std::vector<double>(hours_in_year, 0.5);
    for (std::size_t k = 0; k < known.size(); ++k) {
        const std::size_t from = known[k], count = cover.size();
        const std::size_t gap = (known[(k + 1) % known.size()] + count - from) % count;
        const double a = cover[from], b = cover[(from + gap) % count];
        for (std::size_t step = 1; step < gap; ++step) {
            cover[(from + step) % count] = a + (b - a) * static_cast<double>(step) / static_cast<double>(gap);
        }
    }
    return cover;
}

}  // namespace warmside::climate
