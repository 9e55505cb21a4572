#include "climate/irradiance.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <numeric>

namespace warmside::climate {

namespace {

constexpr double degree = std::numbers::pi / 180.0;

// perez-1990, table 6, all sites: F11 F12 F13 F21 F22 F23 for the bins of clearness 1 to 8
constexpr std::array<std::array<double, 6>, 8> perez{{{-0.008, 0.588, -0.062, -0.060, 0.072, -0.022},
                                                      {0.130, 0.683, -0.151, -0.019, 0.066, -0.029},
                                                      {0.330, 0.487, -0.221, 0.055, -0.064, -0.026},
                                                      {0.568, 0.187, -0.295, 0.109, -0.152, -0.014},
                                                      {0.873, -0.392, -0.362, 0.226, -0.462, 0.001},
                                                      {1.132, -1.237, -0.412, 0.288, -0.823, 0.056},
                                                      {1.060, -1.600, -0.359, 0.264, -1.127, 0.131},
                                                      {0.678, -0.327, -0.250, 0.156, -1.377, 0.251}}};
// perez-1990, table 1: upper limits of clearness of the bins 1 to 7
constexpr std::array bin_limits{1.065, 1.23, 1.5, 1.95, 2.8, 4.5, 6.2};
constexpr double kappa = 1.041;  // rad^-3

double mean(const std::vector<double>& values) {
    return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

}  // namespace

double cosine_of_incidence(const Plane& plane, double zenith, double azimuth) {
    return std::cos(zenith) * std::cos(plane.tilt) +
           std::sin(zenith) * std::sin(plane.tilt) * std::cos(azimuth - plane.azimuth);
}

double air_mass(double zenith) {
    const double z = std::clamp(zenith / degree, 0.0, 90.0);
    return 1.0 / (std::cos(z * degree) + 0.50572 * std::pow(96.07995 - z, -1.6364));
}

double uniform_diffuse(const Plane& plane, double diffuse) {
    return diffuse * 0.5 * (1.0 + std::cos(plane.tilt));
}

SkyDiffuse perez_diffuse(const Plane& plane, double diffuse, double direct, double extraterrestrial,
                         double zenith, double azimuth) {
    SkyDiffuse sky;
    if (diffuse <= 0.0) return sky;
    if (zenith >= std::numbers::pi / 2.0) {
        sky.on_plane = uniform_diffuse(plane, diffuse);
        return sky;
    }
    const double cube = kappa * zenith * zenith * zenith;
    sky.clearness = ((diffuse + direct) / diffuse + cube) / (1.0 + cube);
    const auto bin = static_cast<std::size_t>(
        std::upper_bound(bin_limits.begin(), bin_limits.end(), sky.clearness) - bin_limits.begin());
    sky.bin = static_cast<int>(bin) + 1;
    sky.brightness = diffuse * air_mass(zenith) / extraterrestrial;
    const auto& F = perez[bin];
    sky.circumsolar = std::max(0.0, F[0] + F[1] * sky.brightness + F[2] * zenith);
    sky.horizon = F[3] + F[4] * sky.brightness + F[5] * zenith;
    const double a = std::max(0.0, cosine_of_incidence(plane, zenith, azimuth));
    const double c = std::max(std::cos(85.0 * degree), std::cos(zenith));
    const double share = (1.0 - sky.circumsolar) * 0.5 * (1.0 + std::cos(plane.tilt)) +
                         sky.circumsolar * a / c + sky.horizon * std::sin(plane.tilt);
    // An overcast sky has a dark horizon: the fit may ask for less than nothing on a plane that looks down.
    sky.on_plane = diffuse * std::max(0.0, share);
    sky.from_sun = std::min(sky.on_plane, diffuse * sky.circumsolar * a / c);
    return sky;
}

PlaneSun sun_on(const Year& year, const Plane& plane, double ground_reflectance) {
    const SunYear sun({.latitude = year.latitude,
                       .longitude = year.longitude,
                       .elevation = year.elevation,
                       .pressure = mean(year.pressure),
                       .temperature = mean(year.temperature)},
                      year.utc_offset);
    const double ground_view = 0.5 * (1.0 - std::cos(plane.tilt));
    PlaneSun out;
    for (auto* each :
         {&out.beam, &out.sky, &out.ground, &out.circumsolar, &out.cosine, &out.elevation, &out.azimuth})
        each->assign(hours_in_year, 0.0);
    for (int hour = 0; hour < hours_in_year; ++hour) {
        const auto i = static_cast<std::size_t>(hour);
        if (year.global[i] <= 0.0 && year.diffuse[i] <= 0.0 && year.direct[i] <= 0.0) continue;
        const auto found = sun.hour(hour);
        const double zenith = found.position.zenith, azimuth = found.position.azimuth;
        const double au = sun.distance((hour + 0.5) * 3600.0);
        const SkyDiffuse sky = perez_diffuse(plane, year.diffuse[i], year.direct[i],
                                             solar_constant / (au * au), zenith, azimuth);
        out.ground[i] = ground_reflectance * ground_view * year.global[i];
        out.sky[i] = sky.on_plane;
        out.circumsolar[i] = sky.from_sun;
        out.elevation[i] = 0.5 * std::numbers::pi - zenith;
        out.azimuth[i] = azimuth;
        if (found.share <= 0.0) continue;
        out.cosine[i] = std::max(0.0, cosine_of_incidence(plane, zenith, azimuth));
        out.beam[i] = year.direct[i] * out.cosine[i];
    }
    return out;
}

std::vector<double> solar_on(const Year& year, const Plane& plane, double ground_reflectance) {
    PlaneSun sun = sun_on(year, plane, ground_reflectance);
    for (std::size_t i = 0; i < sun.ground.size(); ++i)
        sun.ground[i] = sun.ground[i] + sun.sky[i] + sun.beam[i];
    return std::move(sun.ground);
}

}  // namespace warmside::climate
