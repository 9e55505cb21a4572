#include "house/outdoors.h"

#include <cmath>

#include "climate/sky.h"

namespace warmside::house {

namespace {

constexpr double stefan_boltzmann = 5.670374419e-8;  // W/(m2 K4), CODATA 2018

}  // namespace

Boundary boundary_of(const Outer& outer, const climate::Year& year, std::optional<double> design) {
    Boundary out{.name = "outdoors", .conductance = {1.0 / outer.film, {}}, .temperature = {}};
    if (design) {
        out.temperature.constant = *design;
        return out;
    }
    if (outer.kind == Outer::Kind::sheltered) {
        out.temperature.hourly = year.temperature;
        return out;
    }
    const auto hours = static_cast<std::size_t>(hours_in_year);
    out.conductance.hourly.resize(hours);
    out.temperature.hourly.resize(hours);
    if (outer.kind == Outer::Kind::shaded) {
        out.temperature.hourly = year.temperature;
        for (std::size_t h = 0; h < hours; ++h) {
            const double t = year.temperature[h];
            out.conductance.hourly[h] = climate::convective_film(year.wind_speed[h]) +
                                        4.0 * outer.emissivity * stefan_boltzmann * t * t * t;
        }
        return out;
    }
    const climate::FaceWeather face = climate::weather_on(year, outer.plane);
    for (std::size_t h = 0; h < hours; ++h) {
        const double air = face.temperature[h], sky = face.radiant[h];
        const double radiation = 4.0 * outer.emissivity * stefan_boltzmann * std::pow(0.5 * (air + sky), 3);
        const double whole = face.convection[h] + radiation;
        out.conductance.hourly[h] = whole;
        out.temperature.hourly[h] =
            (face.convection[h] * air + radiation * sky + outer.absorptance * face.solar[h]) / whole;
    }
    return out;
}

}  // namespace warmside::house
