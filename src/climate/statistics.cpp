#include "climate/statistics.h"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>
#include <numbers>

#include "air/saturation.h"
#include "climate/calendar.h"
#include "climate/places.h"
#include "units/quantity.h"

namespace warmside::climate {
namespace {

struct StationRow {
    const PlaceRow* place = nullptr;
    std::array<MonthStatistics, 12> months{};
    std::map<std::string, Rose, std::less<>> roses;
};

MonthStatistics month_of(const std::vector<CsvField>& field) {
    assert(field.size() == 16);
    return {.daily_sd = number_of(field[2]),
            .daily_lag = number_of(field[3]),
            .hourly_sd = number_of(field[4]),
            .profile_range = number_of(field[5]),
            .midrange_offset = number_of(field[6]),
            .dew_sd = number_of(field[7]),
            .dew_correlation = number_of(field[8]),
            .clearness_correlation = number_of(field[9]),
            .cloud = number_of(field[10]),
            .wind_cv = number_of(field[11]),
            .wind_lag = number_of(field[12]),
            .wind_swing = number_of(field[13]),
            .wet_hours = number_of(field[14]),
            .rain_cv = number_of(field[15])};
}

std::vector<StationRow> read_stations() {
    std::vector<StationRow> rows;
    const auto row_of = [&](std::string_view station) -> StationRow& {
        const auto same = [&](const StationRow& row) { return row.place->station == station; };
        const auto found = std::ranges::find_if(rows, same);
        if (found != rows.end()) return *found;
        const auto place = std::ranges::find(places(), station, &PlaceRow::station);
        assert(place != places().end());
        rows.push_back({.place = &*place, .months = {}, .roses = {}});
        return rows.back();
    };
    for (const CsvLine& line : embedded_table("data/climate/stations.csv")) {
        const auto month = static_cast<std::size_t>(number_of(line.fields[1]));
        row_of(line.fields[0].text).months.at(month - 1) = month_of(line.fields);
    }
    for (const CsvLine& line : embedded_table("data/climate/roses.csv")) {
        Rose rose{.lead = number_of(line.fields.at(2)), .share = {}};
        for (std::size_t s = 0; s < 16; ++s) rose.share[s] = number_of(line.fields.at(3 + s));
        row_of(line.fields[0].text).roses.emplace(std::string(line.fields[1].text), rose);
    }
    return rows;
}

const std::vector<StationRow>& stations() {
    static const std::vector<StationRow> rows = read_stations();
    return rows;
}

/// m along the great circle, and 300 m for each metre of height: mountain climates lend to mountain places
/// first.
double separation(const PlaceRow& a, const PlaceRow& b) {
    constexpr double earth_radius = 6.371e6;
    const double cosine = std::sin(a.latitude) * std::sin(b.latitude) +
                          std::cos(a.latitude) * std::cos(b.latitude) * std::cos(a.longitude - b.longitude);
    return earth_radius * std::acos(std::clamp(cosine, -1.0, 1.0)) +
           300.0 * std::abs(a.elevation - b.elevation);
}

void take_roses(const StationRow& row, Statistics& out) {
    constexpr std::array names{"winter", "spring", "summer", "autumn"};
    for (std::size_t s = 0; s < 4; ++s) out.seasons[s] = row.roses.find(names[s])->second;
    out.driving_rain = row.roses.find("driving_rain")->second;
}

constexpr std::array averaged{
    &MonthStatistics::daily_sd,        &MonthStatistics::daily_lag,
    &MonthStatistics::hourly_sd,       &MonthStatistics::profile_range,
    &MonthStatistics::midrange_offset, &MonthStatistics::dew_sd,
    &MonthStatistics::dew_correlation, &MonthStatistics::clearness_correlation,
    &MonthStatistics::cloud,           &MonthStatistics::wind_cv,
    &MonthStatistics::wind_lag,        &MonthStatistics::wind_swing,
};

/// shepard-1968: weights of the inverse square of the distance.
Statistics borrowed(const PlaceRow& place) {
    Statistics out;
    double weights = 0.0, nearest_distance = 1e30;
    std::array<double, 12> lent_rain{}, lent_hours{};
    Rose driving_rain;
    for (const StationRow& row : stations()) {
        if (row.place->station == place.station) continue;
        const double distance = std::max(5e4, separation(place, *row.place));
        const double weight = 1.0 / (distance * distance);
        weights += weight;
        for (std::size_t m = 0; m < 12; ++m) {
            for (const auto member : averaged) out.months[m].*member += weight * row.months[m].*member;
            // Intensity over three months: a single one of a dry place has too few wet hours.
            for (const std::size_t near : {m, (m + 1) % 12, (m + 11) % 12}) {
                lent_rain[m] += weight * row.place->months[near].rain;
                lent_hours[m] += weight * row.months[near].wet_hours;
            }
        }
        const Rose& driving = row.roses.find("driving_rain")->second;
        driving_rain.lead += weight * driving.lead;
        for (std::size_t s = 0; s < 16; ++s) driving_rain.share[s] += weight * driving.share[s];
        if (distance < nearest_distance) {
            nearest_distance = distance;
            take_roses(row, out);
            out.from = fmt::format(
                "no hourly file of this place; mean of the stations around by inverse square of distance, "
                "directions of the "
                "dry wind from {}, {}",
                row.place->name, row.place->state);
        }
    }
    driving_rain.lead /= weights;
    for (double& share : driving_rain.share) share /= weights;
    out.driving_rain = driving_rain;
    for (std::size_t m = 0; m < 12; ++m) {
        for (const auto member : averaged) out.months[m].*member /= weights;
        out.months[m].wet_hours =
            lent_rain[m] > 0.0 ? std::round(place.months[m].rain * lent_hours[m] / lent_rain[m]) : 0.0;
    }
    return out;
}

double mean(const std::vector<double>& x, int from, int to) {
    double sum = 0.0;
    for (int i = from; i < to; ++i) sum += x[static_cast<std::size_t>(i)];
    return sum / (to - from);
}

/// Sum of squared distances from the mean.
double scatter(const std::vector<double>& x, int from, int to) {
    const double middle = mean(x, from, to);
    double sum = 0.0;
    for (int i = from; i < to; ++i) sum += std::pow(x[static_cast<std::size_t>(i)] - middle, 2);
    return sum;
}

double spread_in_month(const std::vector<double>& x, int per_day) {
    double sum = 0.0;
    for (std::size_t m = 0; m < 12; ++m)
        sum += scatter(x, per_day * month_starts[m], per_day * month_starts[m + 1]);
    return std::sqrt(sum / static_cast<double>(x.size()));
}

double spread(const std::vector<double>& x) {
    const int n = static_cast<int>(x.size());
    return std::sqrt(scatter(x, 0, n) / n);
}

double degree_days(const std::vector<double>& temperature) {
    const double base = units::parse("65 degF", units::temperature).value_or(0.0);
    double sum = 0.0;
    for (auto day = temperature.begin(); day != temperature.end(); day += 24) {
        const auto [low, high] = std::minmax_element(day, day + 24);
        sum += std::max(0.0, base - 0.5 * (*low + *high));
    }
    return sum;
}

double driving_on_wettest(const Year& year) {
    double most = 0.0;
    for (int face = 0; face < 8; ++face) {
        double sum = 0.0;
        for (std::size_t i = 0; i < year.rain.size(); ++i) {
            const double along = std::cos(year.wind_direction[i] - face * std::numbers::pi / 4.0);
            sum += std::max(0.0, along) * year.wind_speed[i] * year.rain[i] * 3600.0;
        }
        most = std::max(most, sum);
    }
    return most;
}

void wet_figures(const Year& year, YearFigures& out) {
    for (std::size_t i = 0; i < year.rain.size(); ++i) {
        const double amount = year.rain[i] * 3600.0;
        out.rain_sum += amount;
        if (amount <= 0.0) continue;
        ++out.wet_hours;
        out.wet_humidity += year.vapour_pressure[i] / air::over_water(year.temperature[i]);
        out.wet_cloud += year.cloud[i];
        out.largest_rain = std::max(out.largest_rain, amount);
    }
    out.wet_humidity /= std::max(1, out.wet_hours);
    out.wet_cloud /= std::max(1, out.wet_hours);
}

}  // namespace

Statistics statistics_of(const PlaceRow& place, bool use_own) {
    const auto same = [&](const StationRow& row) { return row.place->station == place.station; };
    const auto found = std::ranges::find_if(stations(), same);
    if (!use_own || found == stations().end()) return borrowed(place);
    Statistics out;
    out.months = found->months;
    take_roses(*found, out);
    out.own = true;
    out.from = fmt::format("station {}", place.station);
    return out;
}

YearFigures figures_of(const Year& year) {
    YearFigures out;
    std::vector<double> dew(year.temperature.size()), humidity(year.temperature.size()), daily(365);
    for (std::size_t i = 0; i < dew.size(); ++i) {
        dew[i] = air::dew_point(year.vapour_pressure[i]);
        humidity[i] = year.vapour_pressure[i] / air::over_water(year.temperature[i]);
    }
    for (std::size_t d = 0; d < 365; ++d) {
        const int first = 24 * static_cast<int>(d);
        daily[d] = mean(year.temperature, first, first + 24);
    }
    for (std::size_t m = 0; m < 12; ++m) {
        const int from = 24 * month_starts[m], to = 24 * month_starts[m + 1];
        out.temperature[m] = mean(year.temperature, from, to);
        out.dew_point[m] = mean(dew, from, to);
        out.relative_humidity[m] = mean(humidity, from, to);
        out.wind_speed[m] = mean(year.wind_speed, from, to);
        out.global[m] = mean(year.global, from, to);
        out.rain[m] = mean(year.rain, from, to) * 3600.0 * (to - from);
    }
    out.mean_temperature = mean(year.temperature, 0, hours_in_year);
    out.mean_global = mean(year.global, 0, hours_in_year);
    out.mean_diffuse = mean(year.diffuse, 0, hours_in_year);
    out.mean_cloud = mean(year.cloud, 0, hours_in_year);
    out.heating_degree_days = degree_days(year.temperature);
    out.daily_spread = spread(daily);
    out.hourly_spread = spread(year.temperature);
    out.daily_spread_in_month = spread_in_month(daily, 1);
    out.hourly_spread_in_month = spread_in_month(year.temperature, 24);
    out.dew_spread = spread(dew);
    out.driving = driving_on_wettest(year);
    wet_figures(year, out);
    return out;
}

}  // namespace warmside::climate
