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

namespace invented {

using assembly::Layer;
using units::Exact;

Layer board(const char* material, double millimetres) {
    Layer layer;
    layer.material = material::built_in().material(material);
    layer.thickness = Exact::nearest(1e-3 * millimetres);
    return layer;
}

Layer sheet(const char* membrane) {
    Layer layer;
    layer.kind = Layer::Kind::membrane;
    layer.membrane = material::built_in().membrane(membrane);
    return layer;
}

Layer framed(Layer layer, double depth) {
    assembly::Framing framing;
    framing.material = material::built_in().material("spruce-pine-fir lumber");
    framing.depth = Exact::nearest(1e-3 * depth);
    layer.framing = framing;
    return layer;
}

Layer cavity(double millimetres) {
    Layer layer;
    layer.kind = Layer::Kind::air;
    layer.air = assembly::AirKind::ventilated;
    layer.thickness = Exact::nearest(1e-3 * millimetres);
    return layer;
}

namespace {

Layer painted_board() {
    Layer lining = board("gypsum board", 12.7);
    lining.finish = material::built_in().membrane("latex paint");
    return lining;
}

Layer wrap() {
    Layer layer = sheet("housewrap");
    layer.water = true;
    return layer;
}

}  // namespace

assembly::Assembly wall() {
    assembly::Assembly a;
    a.name = "w";
    a.layers = {painted_board(),
                sheet("variable retarder, medium"),
                framed(board("stone wool batt", 140), 140),
                board("osb", 11.1),
                wrap(),
                cavity(19),
                board("spruce siding", 19)};
    return a;
}

assembly::Assembly deep_wall(bool outer_board) {
    assembly::Assembly a;
    a.name = "deep wall";
    a.layers = {painted_board(),
                board("stone wool batt", 38),
                sheet("variable retarder, medium"),
                framed(board("stone wool batt", 184), 184),
                board("osb", 11.1),
                wrap()};
    if (outer_board) a.layers.push_back(board("stone wool board", 51));
    a.layers.push_back(cavity(19));
    a.layers.push_back(board("spruce siding", 19));
    return a;
}

}  // namespace invented

}  // namespace warmside::moisture
