#include "moisture/synthetic.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>

#include "moisture/potential.h"

namespace warmside::moisture {
namespace {

// Numerical Recipes' quick generator: enough for invented weather.
class Dice {
public:
    double operator()() {
        state_ = state_ * 1664525U + 1013904223U;
        return static_cast<double>(state_ >> 8U) / 16777216.0;
    }

private:
    std::uint32_t state_ = 20261125U;
};

}  // namespace

climate::FaceWeather invented_weather(double sun_share, double rain_share) {
    constexpr double turn = 2.0 * std::numbers::pi;
    climate::FaceWeather w;
    Dice dice;
    double drift = 0.0;  // K, passing weather
    double wet = 0.0;    // h left of a storm
    double strength = 0.0;
    for (int i = 0; i < climate::hours_in_year; ++i) {
        const double year = turn * (i - 28.0 * 24.0) / climate::hours_in_year;
        const double day = turn * (i % 24 - 15) / 24.0;
        drift = 0.985 * drift + 1.6 * (dice() - 0.5);
        if (wet <= 0.0 && dice() < 0.012) {
            wet = 2.0 + 14.0 * dice();
            strength = 2.5 * dice() * dice();
        }
        wet -= 1.0;
        const bool storm = wet > 0.0;
        const double cloud = storm ? 1.0 : std::clamp(0.5 - 0.08 * drift + 0.5 * (dice() - 0.5), 0.0, 1.0);
        const double temperature =
            277.15 - 14.5 * std::cos(year) + (5.0 - 3.5 * cloud) * std::cos(day) + drift;
        const double humidity = std::clamp(0.72 + 0.2 * cloud - 0.18 * std::cos(day), 0.3, 1.0);
        const double height =
            std::max(0.0, std::cos(turn * (i % 24 - 12) / 24.0) * 0.6 - 0.28 * std::cos(year));
        const double wind = 2.0 + 5.0 * dice() + (storm ? 2.0 : 0.0);
        w.temperature.push_back(temperature);
        w.vapour_pressure.push_back(humidity * saturation_pressure(temperature));
        w.solar.push_back(height * (1.0 - 0.8 * cloud) * 700.0 * sun_share + 0.15 * height * 600.0);
        w.radiant.push_back(temperature - 7.0 * (1.0 - cloud));
        w.convection.push_back(4.5 + 1.6 * wind);
        const bool rain = storm && temperature > 273.15;
        w.driving_rain.push_back(rain ? rain_share * strength * (0.5 + dice()) * 0.1 * wind / 3600.0 : 0.0);
        w.wind_speed.push_back(wind);
    }
    return w;
}

climate::Indoor invented_indoor(const climate::FaceWeather& outside) {
    climate::Indoor in;
    for (std::size_t i = 0; i < outside.temperature.size(); ++i) {
        const double cold = std::clamp((293.15 - outside.temperature[i]) / 20.0, 0.0, 1.0);
        in.temperature.push_back(294.15);
        in.vapour_pressure.push_back(
            std::min(outside.vapour_pressure[i] + 540.0 * cold, 0.7 * saturation_pressure(294.15)));
    }
    in.assumes = "invented indoor climate";
    return in;
}

assembly::Layer catalogue_layer(const char* material, double thickness) {
    assembly::Layer layer;
    layer.material = material::built_in().material(material);
    layer.thickness = units::Exact::nearest(thickness);
    return layer;
}

assembly::Layer catalogue_sheet(const char* membrane) {
    assembly::Layer layer;
    layer.kind = assembly::Layer::Kind::membrane;
    layer.membrane = material::built_in().membrane(membrane);
    return layer;
}

assembly::Assembly invented_wall(bool outer_board) {
    assembly::Assembly wall;
    wall.name = "invented wall";
    assembly::Layer lining = catalogue_layer("gypsum board", 0.0127);
    lining.finish = material::built_in().membrane("latex paint");
    assembly::Layer studs = catalogue_layer("stone wool batt", 0.184);
    assembly::Framing framing;
    framing.material = material::built_in().material("spruce-pine-fir lumber");
    framing.depth = studs.thickness;
    studs.framing = framing;
    assembly::Layer wrap = catalogue_sheet("housewrap");
    wrap.water = true;
    assembly::Layer cavity;
    cavity.kind = assembly::Layer::Kind::air;
    cavity.air = assembly::AirKind::ventilated;
    cavity.thickness = units::Exact::millimetres(19);
    wall.layers = {lining,
                   catalogue_layer("stone wool batt", 0.038),
                   catalogue_sheet("variable retarder, medium"),
                   studs,
                   catalogue_layer("osb", 0.0111),
                   wrap};
    if (outer_board) wall.layers.push_back(catalogue_layer("stone wool board", 0.051));
    wall.layers.push_back(cavity);
    wall.layers.push_back(catalogue_layer("spruce siding", 0.019));
    return wall;
}

}  // namespace warmside::moisture
