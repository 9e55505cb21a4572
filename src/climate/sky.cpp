#include "climate/sky.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "air/saturation.h"

namespace warmside::climate {

double clear_sky_emissivity(double dew_point, double pressure, double hour_of_day) {
    // berdahl-martin-1984
    const double d = (dew_point - air::zero_celsius) / 100.0;
    return 0.711 + 0.56 * d + 0.73 * d * d + 0.013 * std::cos(2.0 * std::numbers::pi * hour_of_day / 24.0) +
           0.00012 * (pressure / 100.0 - 1000.0);
}

double cloudy_sky_emissivity(double clear, double opaque) {
    constexpr double cloud_base = 2000.0, fading = 8200.0;  // m; martin-berdahl-1984
    static const double strength = std::exp(-cloud_base / fading);
    return std::min(1.0, clear + (1.0 - clear) * opaque * strength);
}

double sky_temperature(double temperature, double emissivity) {
    return temperature * std::pow(emissivity, 0.25);
}

std::vector<double> sky_temperature(const Year& year) {
    std::vector<double> sky(hours_in_year);
    for (std::size_t i = 0; i < sky.size(); ++i) {
        const double hour_of_day = static_cast<double>(i % 24) + 0.5;
        const double clear =
            clear_sky_emissivity(air::dew_point(year.vapour_pressure[i]), year.pressure[i], hour_of_day);
        sky[i] = sky_temperature(year.temperature[i], cloudy_sky_emissivity(clear, year.cloud[i]));
    }
    return sky;
}

double radiant_temperature(double tilt, double sky, double ground) {
    const double view = 0.5 * (1.0 + std::cos(tilt));
    const double s = sky * sky, g = ground * ground;
    return std::sqrt(std::sqrt(view * s * s + (1.0 - view) * g * g));
}

double convective_film(double wind_speed) {
    return 4.0 + 4.0 * wind_speed;
}

double rain_on(const Plane& plane, double rain, double wind_speed, double wind_direction,
               const RainExposure& exposure) {
    constexpr double driving = 0.2;  // s/m; ashrae-160
    const double toward = std::max(0.0, std::cos(wind_direction - plane.azimuth));
    const double driven = driving * exposure.exposure * exposure.deposition * wind_speed * toward;
    return rain * (std::max(0.0, std::cos(plane.tilt)) + driven * std::sin(plane.tilt));
}

}  // namespace warmside::climate
