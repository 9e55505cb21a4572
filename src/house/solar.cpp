#include "house/solar.h"

#include <cmath>
#include <fmt/format.h>

#include "climate/sky.h"

namespace warmside::house {

namespace {

constexpr double stefan_boltzmann = 5.670374419e-8;  // W/(m2 K4)

Boundary boundary(const climate::Year& year, const climate::Plane& plane, double emissivity,
                  std::span<const double> absorbed, std::span<const double> convection) {
    Boundary out{.name = "outdoors"};
    out.conductance.hourly.resize(hours_in_year);
    out.temperature.hourly.resize(hours_in_year);
    const std::vector<double> sky = climate::sky_temperature(year);
    for (std::size_t i = 0; i < sky.size(); ++i) {
        const double air = year.temperature[i];
        const double radiant = climate::radiant_temperature(plane.tilt, sky[i], air);
        const double film = convection.empty() ? climate::convective_film(year.wind_speed[i]) : convection[i];
        const double exchange =
            emissivity * stefan_boltzmann * (air * air + radiant * radiant) * (air + radiant);
        const double whole = film + exchange;
        out.conductance.hourly[i] = whole;
        out.temperature.hourly[i] = (film * air + exchange * radiant + absorbed[i]) / whole;
    }
    return out;
}

}  // namespace

WindowSun window_sun(const climate::PlaneSun& sun, double wall_azimuth, const SolarBehaviour& glass,
                     const Frontage& window, std::span<const Screen> screens) {
    const SeenShares share = seen(window, screens);
    const std::size_t n = sun.beam.size();
    WindowSun out{std::vector<double>(n, 0.0), std::vector<double>(n, 0.0), std::vector<double>(n, 0.0)};
    for (std::size_t i = 0; i < n; ++i) {
        const double diffuse = (sun.sky[i] - sun.circumsolar[i]) * share.sky + sun.ground[i] * share.ground;
        out.transmitted[i] = diffuse * glass.transmitted_diffuse;
        out.inner[i] = diffuse * glass.inner_diffuse;
        out.outer[i] = diffuse * glass.outer_diffuse;
        const double cosine = sun.cosine[i];
        if (!(cosine > 0.0)) continue;
        double beam = sun.beam[i] + sun.circumsolar[i];
        if (!screens.empty() && beam > 0.0)
            beam *= sunlit(window, screens, toward(sun.azimuth[i], sun.elevation[i], wall_azimuth));
        out.transmitted[i] += beam * glass.transmitted_at(cosine);
        out.inner[i] += beam * glass.inner_at(cosine);
        out.outer[i] += beam * glass.outer_at(cosine);
    }
    return out;
}

Boundary outdoors(const climate::Year& year, const climate::Plane& plane, double absorptance,
                  double emissivity, double ground_reflectance, std::span<const double> convection) {
    std::vector<double> absorbed = climate::solar_on(year, plane, ground_reflectance);
    for (double& each : absorbed) each *= absorptance;
    return boundary(year, plane, emissivity, absorbed, convection);
}

Boundary outdoors(const climate::Year& year, const climate::Plane& plane, const WindowSun& sun,
                  double emissivity, std::span<const double> convection) {
    return boundary(year, plane, emissivity, sun.outer, convection);
}

std::vector<double> wind_film(const climate::Year& year, const climate::Plane& plane, double height,
                              double roughness) {
    const double free = 1.31 * std::cbrt(5.0);
    const double profile = std::pow(height / 10.0, 0.14);
    std::vector<double> out(hours_in_year);
    for (std::size_t i = 0; i < out.size(); ++i) {
        const double wind = year.wind_speed[i] * profile;
        // A flat roof has no lee.
        const bool windward = plane.tilt < 0.1 || std::cos(year.wind_direction[i] - plane.azimuth) > 0.0;
        const double forced = windward ? 3.26 * std::pow(wind, 0.89) : 3.55 * std::pow(wind, 0.617);
        const double smooth = std::sqrt(free * free + forced * forced);
        out[i] = free + roughness * (smooth - free);
    }
    return out;
}

Result<std::vector<double>> sun_shares(std::span<const LitSurface> surfaces) {
    if (surfaces.size() < 2) return fail(Code::incomplete, "light needs at least two surfaces to fall on");
    double area = 0.0, first = 0.0, absorbs = 0.0;
    for (const LitSurface& s : surfaces) {
        if (!(s.area > 0.0 && s.absorptance >= 0.0 && s.absorptance <= 1.0 && s.first >= 0.0))
            return fail(Code::out_of_range, "a surface for light has an area, and shares from 0 to 1");
        area += s.area;
        first += s.first;
        absorbs += s.absorptance;
    }
    if (std::abs(first - 1.0) > 1e-9)
        return fail(Code::out_of_range, fmt::format("the light's first shares sum to {}, not 1", first));
    if (!(absorbs > 0.0)) return fail(Code::out_of_range, "no surface takes up light");
    // Follow the light from one reflection to the next until next to nothing is left.
    const std::size_t n = surfaces.size();
    std::vector<double> falling(n), out(n, 0.0), next(n);
    for (std::size_t i = 0; i < n; ++i) falling[i] = surfaces[i].first;
    constexpr int most = 100000;
    for (int bounce = 0; bounce < most; ++bounce) {
        std::fill(next.begin(), next.end(), 0.0);
        double left = 0.0;
        for (std::size_t i = 0; i < n; ++i) {
            const LitSurface& s = surfaces[i];
            out[i] += s.absorptance * falling[i];
            const double back = (1.0 - s.absorptance) * falling[i];
            left += back;
            for (std::size_t k = 0; k < n; ++k)
                if (k != i) next[k] += back * surfaces[k].area / (area - s.area);
        }
        if (left < 1e-13) return out;
        falling.swap(next);
    }
    return fail(Code::not_converged, "the light in a room did not die away");
}

}  // namespace warmside::house
