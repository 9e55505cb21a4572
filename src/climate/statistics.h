// How the weather of a place varies inside a month: of its own station where an hourly file was at hand, else
// borrowed from the stations around it. And the figures of a year that say whether it was generated well.
#pragma once

#include <array>
#include <string>

#include "climate/year.h"

namespace warmside::climate {

/// One month of a station, computed from its TMY3 file (data/climate/stations.csv, tools/derive_climate.py).
/// Standard deviations have divisor n; correlations are of daily values.
struct MonthStatistics {
    double daily_sd = 0.0;               ///< K, of the daily mean temperature
    double daily_lag = 0.0;              ///< -, correlation of the daily mean with the day before
    double hourly_sd = 0.0;              ///< K, of the hourly temperature
    double profile_range = 0.0;          ///< K, warmest minus coldest hour of the mean day
    double midrange_offset = 0.0;        ///< K, mean over days of (highest + lowest) / 2 less the daily mean
    double dew_sd = 0.0;                 ///< K, of the daily mean dew point
    double dew_correlation = 0.0;        ///< -, dew point with temperature
    double clearness_correlation = 0.0;  ///< -, clearness index with temperature
    double cloud = 0.0;                  ///< 0..1, mean opaque cover
    double wind_cv = 0.0;                ///< -, standard deviation of the hourly wind speed over its mean
    double wind_lag = 0.0;               ///< -, correlation of the wind speed with the hour before
    double wind_swing = 0.0;  ///< -, first daily harmonic of the wind speed, peak at 14.5 h, over the mean
    double wet_hours = 0.0;   ///< h with liquid rain
    double rain_cv =
        0.0;  ///< -, standard deviation of the rain of wet hours over its mean; 0 = too few hours
};

/// Shares of 16 sectors of 22.5 degrees, the first centred on north, clockwise; they sum to 1.
struct Rose {
    double lead =
        0.0;  ///< seasons: share of calm hours; driving rain: rain-weighted speed over the yearly mean speed
    std::array<double, 16> share{};
};

struct Statistics {
    std::array<MonthStatistics, 12> months{};
    std::array<Rose, 4> seasons{};  ///< December-February, March-May, June-August, September-November
    Rose driving_rain;              ///< by rain x speed
    bool own = false;               ///< from the place's own station
    std::string from;               ///< for people: whose statistics these are
};

/// Statistics of a place. Its own station's if there is an hourly file of it and `use_own`; else the mean of
/// all other stations weighted by the inverse square of the distance (shepard-1968; a metre of height counts
/// as 300 m), the seasons' roses those of the nearest station, and the wet hours from the mean intensity of
/// the rain around. How far that carries: generate_gates_test.cpp, which treats each station as if it had no
/// file.
[[nodiscard]] Statistics statistics_of(const PlaceRow& place, bool use_own = true);

/// What a year amounts to.
struct YearFigures {
    std::array<double, 12> temperature{};        ///< K, monthly mean
    std::array<double, 12> dew_point{};          ///< K, monthly mean of hourly dew points over water
    std::array<double, 12> relative_humidity{};  ///< 0..1, monthly mean
    std::array<double, 12> wind_speed{};         ///< m/s, monthly mean
    std::array<double, 12> global{};             ///< W/m2, monthly mean
    std::array<double, 12> rain{};               ///< kg/m2 a month
    double mean_temperature = 0.0;               ///< K
    double mean_global = 0.0;                    ///< W/m2
    double mean_diffuse = 0.0;                   ///< W/m2
    double mean_cloud = 0.0;                     ///< 0..1
    double rain_sum = 0.0;                       ///< kg/m2
    int wet_hours = 0;
    double wet_humidity = 0.0;            ///< 0..1, mean over wet hours
    double wet_cloud = 0.0;               ///< 0..1, mean over wet hours
    double largest_rain = 0.0;            ///< kg/m2 in an hour
    double heating_degree_days = 0.0;     ///< K d, base 65 degF, from (highest + lowest) / 2 of each day
    double daily_spread = 0.0;            ///< K, standard deviation of daily mean temperature over the year
    double hourly_spread = 0.0;           ///< K
    double daily_spread_in_month = 0.0;   ///< K, about each month's own mean
    double hourly_spread_in_month = 0.0;  ///< K
    double dew_spread = 0.0;              ///< K, hourly dew point over the year
    double driving = 0.0;  ///< kg/m2 m/s: rain x speed x cos(angle) in front of the wettest of eight faces
};
[[nodiscard]] YearFigures figures_of(const Year& year);

}  // namespace warmside::climate
