#include "house/cooling_day.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <numbers>
#include <numeric>

#include "air/saturation.h"
#include "climate/sun.h"

namespace warmside::house {

namespace {

constexpr std::array days_in_month{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
constexpr double sea_level = 101325.0;
constexpr int july = 181, day_21 = 20;  // days before it

double mean(const std::vector<double>& values) {
    return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

// Mean vapour pressure of the month with the warmest mean.
double vapour_of_warmest_month(const climate::Year& year) {
    double warmest = 0.0, vapour = 0.0;
    std::ptrdiff_t from = 0;
    for (const int days : days_in_month) {
        const std::ptrdiff_t to = from + 24 * days;
        const auto average = [&](const std::vector<double>& column) {
            return std::accumulate(column.begin() + from, column.begin() + to, 0.0) / (24.0 * days);
        };
        if (const double here = average(year.temperature); here > warmest) {
            warmest = here;
            vapour = average(year.vapour_pressure);
        }
        from = to;
    }
    return vapour;
}

void add_sun(climate::Year& out, const LoadData& data) {
    const climate::Site site{.latitude = out.latitude,
                             .longitude = out.longitude,
                             .elevation = out.elevation,
                             .pressure = out.pressure.front()};
    const climate::SunYear sun(site, out.utc_offset);
    std::size_t hour = 0;
    for (std::size_t month = 0; month < days_in_month.size(); ++month) {
        const std::size_t end = hour + 24U * static_cast<std::size_t>(days_in_month[month]);
        for (; hour < end; ++hour) {
            const climate::HourSun now = sun.hour(static_cast<int>(hour));
            if (now.share <= 0.0) continue;
            const double altitude = 0.5 * std::numbers::pi - now.position.zenith;
            const ClearSky sky = clear_sky(altitude, static_cast<int>(month), out.pressure.front(), data);
            out.direct[hour] = now.share * sky.direct;
            out.diffuse[hour] = now.share * sky.diffuse;
            out.global[hour] = out.direct[hour] * std::sin(std::max(0.0, altitude)) + out.diffuse[hour];
        }
    }
}

}  // namespace

ClearSky clear_sky(double altitude, int month, double pressure, const LoadData& data) {
    const double sine = std::sin(altitude);
    if (!(sine > 0.0)) return {};
    const auto m = static_cast<std::size_t>(month);
    ClearSky out;
    out.direct = data.sky_a[m] * std::exp(-pressure / sea_level * data.sky_b[m] / sine);
    out.diffuse = data.sky_c[m] * out.direct;
    return out;
}

int cooling_day(const climate::Year& year) {
    return 24 * (year.latitude >= 0.0 ? july + day_21 : day_21);
}

Result<climate::Year> cooling_design_year(const climate::Year& year, double outdoor, double range) {
    const auto& data = load_data();
    if (!data) return fail(data.error());
    constexpr std::size_t hours = climate::hours_in_year;
    if (!(range >= 0.0 && range <= 40.0) || !(outdoor > 250.0 && outdoor < 330.0))
        return fail(Code::out_of_range,
                    fmt::format("a cooling design day of {:g} K with a range of {:g} K", outdoor, range));
    if (year.temperature.size() != hours || year.vapour_pressure.size() != hours ||
        year.pressure.size() != hours)
        return fail(Code::incomplete, "the year of the cooling design day is not 8760 hours long");
    climate::Year out;
    out.name = year.name + ", cooling design day";
    out.latitude = year.latitude;
    out.longitude = year.longitude;
    out.elevation = year.elevation;
    out.utc_offset = year.utc_offset;
    out.origin = {Origin::Kind::computed, {}, data->day.source, data->day.evidence};
    out.notes.push_back("a design day repeated, not weather");
    out.temperature.resize(hours);
    for (std::size_t hour = 0; hour < hours; ++hour)
        out.temperature[hour] = outdoor - data->below[hour % 24] * range;
    const double coolest = *std::min_element(out.temperature.begin(), out.temperature.end());
    out.vapour_pressure.assign(hours,
                               std::min(vapour_of_warmest_month(year), air::over_stable_phase(coolest)));
    out.pressure.assign(hours, mean(year.pressure));
    out.wind_speed.assign(hours, data->wind);
    for (auto* column : {&out.wind_direction, &out.global, &out.direct, &out.diffuse, &out.cloud, &out.rain})
        column->assign(hours, 0.0);
    add_sun(out, *data);
    if (auto good = climate::check(out); !good) return fail(good.error());
    return out;
}

Result<CoolingPeak> cooling_peak(const Run& run, std::size_t zone) {
    if (zone >= run.cooling.size() || run.cooling[zone].empty())
        return fail(Code::out_of_range, fmt::format("the run has no zone {}", zone));
    const auto& cooling = run.cooling[zone];
    const auto top = std::max_element(cooling.begin(), cooling.end());
    return CoolingPeak{*top, static_cast<int>(top - cooling.begin())};
}

}  // namespace warmside::house
