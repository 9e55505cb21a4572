#include <numbers>

#include "climate/irradiance.h"
#include "climate/sky.h"
#include "climate/year.h"

namespace warmside::climate {

FaceWeather weather_on(const Year& year, const Plane& plane, const RainExposure& rain,
                       double ground_reflectance) {
    FaceWeather face{.temperature = year.temperature,
                     .vapour_pressure = year.vapour_pressure,
                     .solar = solar_on(year, plane, ground_reflectance),
                     .radiant = sky_temperature(year),
                     .convection = std::vector<double>(hours_in_year),
                     .driving_rain = std::vector<double>(hours_in_year),
                     .wind_speed = year.wind_speed};
    for (std::size_t i = 0; i < face.radiant.size(); ++i) {
        face.radiant[i] = radiant_temperature(plane.tilt, face.radiant[i], year.temperature[i]);
        face.convection[i] = convective_film(year.wind_speed[i]);
        face.driving_rain[i] = rain_on(plane, year.rain[i], year.wind_speed[i], year.wind_direction[i], rain);
    }
    return face;
}

std::array<double, 8> driving_rain_rose(const Year& year, const RainExposure& rain) {
    std::array<double, 8> rose{};
    for (std::size_t face = 0; face < rose.size(); ++face) {
        const Plane wall{.azimuth = static_cast<double>(face) * std::numbers::pi / 4.0};
        for (std::size_t i = 0; i < year.rain.size(); ++i) {
            if (year.rain[i] <= 0.0) continue;
            rose[face] +=
                3600.0 * rain_on(wall, year.rain[i], year.wind_speed[i], year.wind_direction[i], rain);
        }
    }
    return rose;
}

}  // namespace warmside::climate
