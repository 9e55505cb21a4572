// From the readings of a file to a Year.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

#include "air/moist_air.h"
#include "climate/radiation_clock.h"
#include "climate/rain.h"
#include "climate/readings.h"
#include "climate/sun.h"

namespace warmside::climate {

namespace {

constexpr double zero = air::zero_celsius;
constexpr int longest_gap = 6;      // h that a straight line may bridge in smooth columns
constexpr int most_rain_gaps = 24;  // h; more, and the file counts as one without rain

std::size_t count_missing(const Column& column) {
    return static_cast<std::size_t>(
        std::count_if(column.value.begin(), column.value.end(), [](double v) { return std::isnan(v); }));
}

bool empty(const Column& column) {
    return !column.there() || count_missing(column) == column.value.size();
}

class Finisher {
public:
    Finisher(Readings& readings, Complaints& complaints)
        : r_(readings), year_(readings.year), complaints_(complaints) {}

    void fill_gaps() {
        bridge(r_.temperature);
        humidity_to_dew_point();
        bridge(r_.dew_point);
        cap_dew_point();
        bridge(r_.wind_speed);
        bridge_direction();
        if (empty(r_.pressure)) {
            r_.pressure.value.assign(r_.line.size(), air::standard_pressure(year_.elevation) / 100.0);
            complaints_.warn("the file has no pressure: the standard atmosphere at its elevation stands in");
        }
        bridge(r_.pressure);
        for (Column* column : {&r_.global, &r_.direct, &r_.diffuse}) darken(*column);
    }

    void to_hours() {
        year_.temperature = hours(r_.temperature, r_.instant, 1.0, zero);
        const auto dew_point = hours(r_.dew_point, r_.instant, 1.0, zero);
        for (const double T : dew_point) year_.vapour_pressure.push_back(air::over_water(T));
        year_.pressure = hours(r_.pressure, r_.instant, 100.0);
        year_.wind_speed = hours(r_.wind_speed, r_.instant);
        year_.wind_direction = hours_of_direction();
        year_.global = hours(r_.global, r_.radiation);
        year_.direct = hours(r_.direct, r_.radiation);
        year_.diffuse = hours(r_.diffuse, r_.radiation);
        if (auto note = radiation_clock_note(year_); !note.empty()) year_.notes.push_back(std::move(note));
    }

    void add_cloud() {
        Column& column = empty(r_.opaque_cloud) ? r_.total_cloud : r_.opaque_cloud;
        if (!empty(column)) {
            if (&column == &r_.total_cloud) {
                complaints_.warn(
                    "the file has no opaque cloud cover: the total cover stands in for the sky's "
                    "temperature");
            }
            bridge(column);
            if (complaints_.any()) return;
            year_.cloud = hours(column, r_.instant, 0.1);
            return;
        }
        const auto clear =
            empty(r_.clear_global) ? std::vector<double>{} : hours(r_.clear_global, r_.radiation);
        year_.cloud = cloud_from_clearness(year_, clear);
        year_.notes.push_back(
            fmt::format("The file has no cloud cover. It is derived from global radiation over {} by G/G0 = "
                        "1 - 0.75 N^3.4 (Kasten and "
                        "Czeplak 1980), in a straight line over the night.",
                        clear.empty() ? "910 sin h - 30 W/m2" : "the file's cloudless radiation"));
    }

    void add_rain(const std::optional<MonthlyPrecipitation>& precipitation) {
        const std::size_t missing = r_.rain.there() ? count_missing(r_.rain) : r_.line.size();
        if (missing <= most_rain_gaps) {
            for (double& value : r_.rain.value) value = std::isnan(value) ? 0.0 : value;
            if (missing > 0)
                complaints_.warn(fmt::format("rain is missing in {} hours, which count as dry", missing));
            // Millimetres in an hour to kg/(m2 s).
            year_.rain = hours(r_.rain, {}, 1.0 / 3600.0);
            return;
        }
        const std::string lack =
            r_.rain.there() ? fmt::format("rain is missing in {} of {} hours", missing, r_.line.size())
                            : std::string("the file has no rain");
        if (!precipitation) {
            year_.rain.assign(hours_in_year, 0.0);
            complaints_.warn(lack + ": the year counts as dry and driving rain is not considered");
            year_.notes.push_back(
                "Rain is missing in the file and counts as none: driving rain is not considered.");
            return;
        }
        year_.rain = rain_from_months(year_, total_cloud(), *precipitation);
        complaints_.warn(lack + ": it is constructed from monthly precipitation");
        year_.notes.push_back(
            "Rain is a construction, not a measurement: monthly precipitation spread over the cloudy and "
            "damp hours of the "
            "month, less what falls as snow (none liquid at 0 degC, all at 2 degC).");
    }

private:
    void bridged(const Column& column, std::size_t count) {
        if (count == 0) return;
        year_.notes.push_back(
            fmt::format("{} of {} readings of \"{}\" are missing and bridged by a straight line.", count,
                        column.value.size(), column.name));
    }

    // Calls each(first, length) for every run of missing values; the year is a ring.
    template <class Each>
    void runs(const Column& column, Each each) const {
        const auto& v = column.value;
        const std::size_t n = v.size();
        for (std::size_t i = 0; i < n; ++i) {
            if (!std::isnan(v[i]) || std::isnan(v[(i + n - 1) % n])) continue;
            std::size_t length = 1;
            while (length < n && std::isnan(v[(i + length) % n])) ++length;
            each(i, length);
        }
    }

    [[nodiscard]] bool too_long(const Column& column, std::size_t first, std::size_t length) {
        if (length <= static_cast<std::size_t>(longest_gap) * static_cast<std::size_t>(r_.lines_per_hour))
            return false;
        complaints_.error(
            Code::incomplete,
            fmt::format("\"{}\" is missing in {} readings from this line on; at most {} h can be bridged",
                        column.name, length, longest_gap),
            r_.line[first]);
        return true;
    }

    void bridge(Column& column) {
        if (count_missing(column) == column.value.size()) {
            complaints_.error(Code::incomplete,
                              fmt::format("\"{}\" has no value in the whole file", column.name),
                              r_.line.front());
            return;
        }
        bridged(column, count_missing(column));
        const std::size_t n = column.value.size();
        runs(column, [&](std::size_t first, std::size_t length) {
            if (too_long(column, first, length)) return;
            const double a = column.value[(first + n - 1) % n], b = column.value[(first + length) % n];
            for (std::size_t k = 0; k < length; ++k) {
                column.value[(first + k) % n] =
                    a + (b - a) * static_cast<double>(k + 1) / static_cast<double>(length + 1);
            }
        });
    }

    // A direction is kept through a gap: half way between north-west and north-east is not south.
    void bridge_direction() {
        Column& column = r_.wind_direction;
        if (empty(column)) return bridge(column);  // which complains
        bridged(column, count_missing(column));
        const std::size_t n = column.value.size();
        runs(column, [&](std::size_t first, std::size_t length) {
            if (too_long(column, first, length)) return;
            const double before = column.value[(first + n - 1) % n];
            for (std::size_t k = 0; k < length; ++k) column.value[(first + k) % n] = before;
        });
    }

    void humidity_to_dew_point() {
        if (!r_.dew_point.there()) {
            r_.dew_point.name = r_.relative_humidity.name;
            r_.dew_point.value.assign(r_.line.size(), std::nan(""));
        }
        if (!r_.relative_humidity.there()) return;
        for (std::size_t i = 0; i < r_.dew_point.value.size(); ++i) {
            const double share = r_.relative_humidity.value[i] / 100.0;
            if (!std::isnan(r_.dew_point.value[i]) || !(share > 0.0) || std::isnan(r_.temperature.value[i]))
                continue;
            r_.dew_point.value[i] =
                air::dew_point(share * air::over_water(r_.temperature.value[i] + zero)) - zero;
        }
    }

    void cap_dew_point() {
        std::size_t count = 0;
        double most = 0.0;
        for (std::size_t i = 0; i < r_.dew_point.value.size(); ++i) {
            const double excess = r_.dew_point.value[i] - r_.temperature.value[i];
            if (!(excess > 0.0)) continue;
            ++count;
            most = std::max(most, excess);
            r_.dew_point.value[i] = r_.temperature.value[i];
        }
        if (count == 0) return;
        year_.notes.push_back(
            fmt::format("In {} readings the dew point lay above the temperature, by up to {:.1f} K; the "
                        "temperature stands in for it.",
                        count, most));
    }

    // Radiation is not smooth: a gap is filled only where the sun is down.
    void darken(Column& column) {
        if (count_missing(column) == 0) return;
        const SunYear sun(
            {.latitude = year_.latitude, .longitude = year_.longitude, .elevation = year_.elevation},
            year_.utc_offset);
        std::size_t filled = 0;
        for (std::size_t i = 0; i < column.value.size(); ++i) {
            if (!std::isnan(column.value[i])) continue;
            const int hour = static_cast<int>(i) / r_.lines_per_hour;
            if (sun.hour(hour).share > 0.0) {
                complaints_.error(Code::incomplete,
                                  fmt::format("\"{}\" is missing while the sun is up", column.name),
                                  r_.line[i]);
                return;
            }
            column.value[i] = 0.0;
            ++filled;
        }
        year_.notes.push_back(
            fmt::format("{} missing readings of \"{}\" at night are zero.", filled, column.name));
    }

    [[nodiscard]] std::vector<double> hours(const Column& column, const Stencil& stencil, double factor = 1.0,
                                            double offset = 0.0) const {
        return through(column.value, stencil, factor, offset);
    }

    static std::vector<double> through(const std::vector<double>& value, const Stencil& stencil,
                                       double factor, double offset) {
        const auto n = static_cast<int>(value.size());
        std::vector<double> hour(hours_in_year, offset);
        for (int i = 0; i < hours_in_year; ++i) {
            for (std::size_t k = 0; k < stencil.weight.size(); ++k) {
                const int line = (i * stencil.lines_per_hour + stencil.first + static_cast<int>(k) + n) % n;
                hour[static_cast<std::size_t>(i)] +=
                    factor * stencil.weight[k] * value[static_cast<std::size_t>(line)];
            }
        }
        return hour;
    }

    // The direction of the mean wind vector; a calm has none and does not count.
    [[nodiscard]] std::vector<double> hours_of_direction() const {
        constexpr double degree = std::numbers::pi / 180.0;
        std::vector<double> east(r_.line.size()), north(r_.line.size());
        for (std::size_t i = 0; i < r_.line.size(); ++i) {
            east[i] = r_.wind_speed.value[i] * std::sin(r_.wind_direction.value[i] * degree);
            north[i] = r_.wind_speed.value[i] * std::cos(r_.wind_direction.value[i] * degree);
        }
        const auto x = through(east, r_.instant, 1.0, 0.0), y = through(north, r_.instant, 1.0, 0.0);
        std::vector<double> direction(hours_in_year);
        for (std::size_t i = 0; i < direction.size(); ++i) {
            const double angle = std::atan2(x[i], y[i]);
            direction[i] = angle < 0.0 ? angle + 2.0 * std::numbers::pi : angle;
        }
        return direction;
    }

    [[nodiscard]] std::vector<double> total_cloud() {
        if (empty(r_.total_cloud)) return year_.cloud;
        bridge(r_.total_cloud);
        return hours(r_.total_cloud, r_.instant, 0.1);
    }

    Readings& r_;
    Year& year_;
    Complaints& complaints_;
};

}  // namespace

Result<Year> to_year(Readings readings, const std::optional<MonthlyPrecipitation>& precipitation,
                     Complaints& complaints) {
    Finisher finisher(readings, complaints);
    finisher.fill_gaps();
    if (complaints.any()) return fail(complaints.take());
    finisher.to_hours();
    finisher.add_cloud();
    if (complaints.any()) return fail(complaints.take());
    finisher.add_rain(precipitation);
    if (complaints.any()) return fail(complaints.take());
    if (const auto checked = check(readings.year); !checked) {
        complaints.error(checked.error().code, checked.error().what, 0);
        return fail(complaints.take());
    }
    return std::move(readings.year);
}

}  // namespace warmside::climate
