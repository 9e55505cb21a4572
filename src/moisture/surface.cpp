#include "moisture/surface.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace warmside::moisture {

namespace {

struct Branch {
    double slope, base;
};
// iso-13788-2012, Annex E
constexpr double at_freezing = 610.5;  // Pa
constexpr Branch over_water{17.269, 237.3}, over_ice{21.875, 265.5};

// iso-13788-2012, Annex A, upper limits at 0 degC outside, Pa
constexpr std::array<double, 5> class_limits{270.0, 540.0, 810.0, 1080.0, 1360.0};

}  // namespace

double saturation_iso13788(double temperature) {
    const double t = temperature - 273.15;
    const Branch& b = t >= 0.0 ? over_water : over_ice;
    return at_freezing * std::exp(b.slope * t / (b.base + t));
}

double dew_point_iso13788(double vapour_pressure) {
    const double ratio = std::log(vapour_pressure / at_freezing);
    const Branch& b = ratio >= 0.0 ? over_water : over_ice;
    return 273.15 + b.base * ratio / (b.slope - ratio);
}

double humidity_class_excess(int humidity_class, double outdoor_temperature) {
    const auto row = static_cast<std::size_t>(std::clamp(humidity_class, 1, 5) - 1);
    const double t = outdoor_temperature - 273.15;
    return class_limits[row] * std::clamp(1.0 - t / 20.0, 0.0, 1.0);
}

SurfaceNeed surface_need(double indoor_temperature, double indoor_vapour_pressure, double outdoor_temperature,
                         double limit) {
    const double least = dew_point_iso13788(indoor_vapour_pressure / limit);
    return {.temperature = least,
            .factor = (least - outdoor_temperature) / (indoor_temperature - outdoor_temperature)};
}

}  // namespace warmside::moisture
