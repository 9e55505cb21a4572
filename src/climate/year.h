// A year of hourly weather, as every reader and the generator hand it on.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/origin.h"

namespace warmside::climate {

inline constexpr int hours_in_year = 8760;

/// 8760 hours of local standard time, no leap day. Hour i covers [i, i + 1) h from 1 January 0:00;
/// radiation and rain are means over the hour, the others are values at its middle or mean.
/// Every column has hours_in_year finite values; `check` (year.cpp) proves it.
struct Year {
    std::string name;         ///< "Duluth, Minnesota"
    double latitude = 0.0;    ///< rad, north positive
    double longitude = 0.0;   ///< rad, east positive
    double elevation = 0.0;   ///< m
    double utc_offset = 0.0;  ///< s, local standard time minus UTC

    std::vector<double> temperature;      ///< K, dry bulb
    std::vector<double> vapour_pressure;  ///< Pa, never above saturation over water
    std::vector<double> pressure;         ///< Pa, station
    std::vector<double> wind_speed;       ///< m/s at 10 m, open site
    std::vector<double> wind_direction;   ///< rad from north, clockwise, where it comes from
    std::vector<double> global;           ///< W/m2 on the horizontal
    std::vector<double> direct;           ///< W/m2 normal to the beam
    std::vector<double> diffuse;          ///< W/m2 on the horizontal
    std::vector<double> cloud;            ///< 0..1, opaque cover
    std::vector<double> rain;             ///< kg/(m2 s), liquid, on the horizontal

    Origin origin;                   ///< file, or "generated from monthly means" with its source
    std::vector<std::string> notes;  ///< what was filled, constructed or stressed, one sentence each
};

/// Proves the contract of Year: lengths, finite values, possible ranges, no vapour above saturation.
/// Problem: incomplete or out_of_range, the first column that breaks it, with hour and value.
[[nodiscard]] Result<void> check(const Year& year);

/// Relative humidity over water, 0..1, of hour i.
[[nodiscard]] double relative_humidity(const Year& year, std::size_t hour);

/// Outer surface of a face: azimuth in rad from north clockwise (the way it looks), tilt in rad from
/// the horizontal (0 looks up, pi/2 is a wall).
struct Plane {
    double azimuth = 0.0;
    double tilt = 1.5707963267948966;
};

/// What the outside does to one face, hour by hour (each hours_in_year long).
struct FaceWeather {
    std::vector<double> temperature;      ///< K, air
    std::vector<double> vapour_pressure;  ///< Pa, air
    std::vector<double> solar;            ///< W/m2 on the face, before absorption
    std::vector<double>
        radiant;  ///< K, effective temperature that the face sees: sky and ground by view factor
    std::vector<double> convection;    ///< W/(m2 K), wind-dependent film without radiation
    std::vector<double> driving_rain;  ///< kg/(m2 s) reaching the face
    std::vector<double> wind_speed;    ///< m/s at 10 m
};

/// Exposure of a face to driving rain, ASHRAE 160 (factors: evidence memory).
struct RainExposure {
    double exposure = 1.0;    ///< F_E
    double deposition = 0.5;  ///< F_D
};

/// Builds a FaceWeather (weather_on.cpp). ground_reflectance 0.2 if not known.
[[nodiscard]] FaceWeather weather_on(const Year& year, const Plane& plane, const RainExposure& rain = {},
                                     double ground_reflectance = 0.2);

/// Yearly driving rain, kg/m2, on eight vertical faces N, NE, E, ... NW.
[[nodiscard]] std::array<double, 8> driving_rain_rose(const Year& year, const RainExposure& rain = {});

/// Colder and damper by stated amounts, rain x factor. The notes of the result say the amounts.
struct Stress {
    double cooling = 2.0;         ///< K off every hour
    double humidity_rise = 0.05;  ///< added to relative humidity, capped at 1
    double rain_factor = 1.5;
};
[[nodiscard]] Year stressed(const Year& year, const Stress& stress = {});

/// One built-in place: `places` in `data/climate/`. Monthly means go to `generate`.
struct PlaceRow {
    std::string name;   ///< "Duluth"
    std::string state;  ///< "MN"
    std::string county;
    std::string station;  ///< number of the TMY3 station that the monthly figures come from
    double latitude = 0.0, longitude = 0.0, elevation = 0.0;  ///< rad, rad, m
    double utc_offset = 0.0;                                  ///< s
    std::string climate_zone;                                 ///< IECC, "7"; evidence in zone_origin
    Origin zone_origin;
    struct Month {
        double temperature = 0.0;  ///< K
        double dew_point = 0.0;    ///< K
        double relative_humidity = 0.0;
        double wind_speed = 0.0;  ///< m/s
        double global = 0.0;      ///< W/m2, mean over the whole day
        double rain = 0.0;        ///< kg/m2 in the month, liquid
    };
    std::array<Month, 12> months;
    Origin origin;
};
[[nodiscard]] const std::vector<PlaceRow>& places();
/// "MN" to "Minnesota"; a code that no built-in place has stays as it is.
[[nodiscard]] std::string_view state_name(std::string_view postal_code);
/// "Duluth, Minnesota", "Duluth, MN", "duluth". Problem: unknown_name with the nearest, or two places that
/// match.
[[nodiscard]] Result<const PlaceRow*> find_place(std::string_view name);
/// Deterministic for a place and `seed`.
[[nodiscard]] Result<Year> generate(const PlaceRow& place, unsigned seed = 1);

/// Liquid precipitation, kg/m2, of each month; with snow as water.
using MonthlyPrecipitation = std::array<double, 12>;

/// TMY3 CSV (both editions) or NSRDB CSV (30 and 60 minutes), told apart by their headers.
///
/// problems       takes warnings (what the file lacks and what stands in for it), and when the file cannot be
///                used every error but the first, up to twenty
/// precipitation  normals of the place. Used only when the file has no rain: the hours are then constructed
///                from it (rain_from_months in rain.h) and the year's notes say so. Without it such a file
///                gives a dry year and a warning
/// Problem        the first error: line, column name and what is wrong
[[nodiscard]] Result<Year> read_weather(
    std::string_view file_name, std::string_view text, Problems& problems,
    const std::optional<MonthlyPrecipitation>& precipitation = std::nullopt);

/// Indoor air for each hour of `year`.
struct Indoor {
    std::vector<double> temperature;      ///< K
    std::vector<double> vapour_pressure;  ///< Pa
    std::string assumes;  ///< one phrase for the verdict: "indoor 21 degC, EN 15026 normal load"
};
/// `house`: computed from people, ventilation and leakage of the house itself.
enum class IndoorModel { fixed, en15026_normal, en15026_high, iso13788_class, ashrae160_simplified, house };
struct IndoorChoice {
    IndoorModel model = IndoorModel::en15026_normal;
    double temperature = 294.15;     ///< K; used by fixed, ISO 13788 and ASHRAE 160
    double relative_humidity = 0.4;  ///< fixed
    int humidity_class = 3;          ///< ISO 13788, 1 to 5
    double cooling = 0.0;            ///< K, kept below by cooling while it is warm outdoors; 0: no cooling
    double cooled_humidity = 0.5;    ///< relative humidity that cooling keeps below
};
/// Problem  unsupported: the model `house`, which needs more than the weather
[[nodiscard]] Result<Indoor> indoor_air(const IndoorChoice& choice, const Year& year);

}  // namespace warmside::climate
