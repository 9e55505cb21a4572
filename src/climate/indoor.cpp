#include "climate/indoor.h"

#include <algorithm>
#include <cassert>
#include <fmt/format.h>

#include "air/saturation.h"

namespace warmside::climate {

namespace {

constexpr double zero = air::zero_celsius;

// Straight between two points, flat outside.
double ramp(double x, double x0, double y0, double x1, double y1) {
    return y0 + (y1 - y0) * std::clamp((x - x0) / (x1 - x0), 0.0, 1.0);
}

// Means over `length` hours of a year that repeats itself; the window ends `ahead` hours after the hour.
std::vector<double> running_mean(const std::vector<double>& values, std::size_t length, std::size_t ahead) {
    const std::size_t count = values.size();
    const auto at = [&](std::size_t i) { return values[(i + ahead) % count]; };
    double sum = 0.0;
    for (std::size_t back = 0; back < length; ++back) sum += at(count - back);
    std::vector<double> mean(count);
    for (std::size_t i = 0; i < count; ++i) {
        mean[i] = sum / static_cast<double>(length);
        sum += at(i + 1) - at(i + 1 + count - length);
    }
    return mean;
}

// Temperature and relative humidity indoors, each as a function of the mean of the last 24 h outdoors.
template <class Temperature, class Humidity>
Indoor by_day(const Year& year, Temperature temperature, Humidity humidity) {
    const auto outdoor = running_mean(year.temperature, 24, 0);
    Indoor indoor;
    for (const double mean : outdoor) {
        indoor.temperature.push_back(temperature(mean));
        indoor.vapour_pressure.push_back(humidity(mean) * air::over_water(indoor.temperature.back()));
    }
    return indoor;
}

// The standard works with calendar months; a mean over the 30 days around the hour gives the same without
// steps.
Indoor by_class(const Year& year, const IndoorChoice& choice) {
    const auto temperature = running_mean(year.temperature, 720, 360);
    const auto vapour = running_mean(year.vapour_pressure, 720, 360);
    const double most = air::over_water(choice.temperature);
    Indoor indoor{.temperature = std::vector<double>(temperature.size(), choice.temperature),
                  .vapour_pressure = std::vector<double>(temperature.size())};
    for (std::size_t i = 0; i < temperature.size(); ++i) {
        indoor.vapour_pressure[i] =
            std::min(most, vapour[i] + iso13788_excess(choice.humidity_class, temperature[i]));
    }
    return indoor;
}

std::string degrees(double temperature) {
    return fmt::format("{:.4g} degC", temperature - zero);
}

// A cooled house while the mean of the last 24 hours outdoors is above its balance point.
void cool(const IndoorChoice& choice, const Year& year, Indoor& indoor) {
    constexpr double balance_point = zero + 18.0;  // our choice
    const auto outdoor = running_mean(year.temperature, 24, 0);
    for (std::size_t i = 0; i < outdoor.size(); ++i) {
        if (outdoor[i] <= balance_point) continue;
        indoor.temperature[i] = std::min(indoor.temperature[i], choice.cooling);
        indoor.vapour_pressure[i] = std::min(indoor.vapour_pressure[i],
                                             choice.cooled_humidity * air::over_water(indoor.temperature[i]));
    }
    indoor.assumes += fmt::format(", cooled to {} and {:.3g} % in summer", degrees(choice.cooling),
                                  100.0 * choice.cooled_humidity);
}

}  // namespace

double en15026_temperature(double outdoor) {
    return ramp(outdoor, zero + 10.0, zero + 20.0, zero + 20.0, zero + 25.0);
}

double en15026_humidity(double outdoor, bool high) {
    return ramp(outdoor, zero - 10.0, high ? 0.4 : 0.3, zero + 20.0, high ? 0.7 : 0.6);
}

double ashrae160_humidity(double outdoor) {
    return ramp(outdoor, zero - 10.0, 0.4, zero + 20.0, 0.7);
}

double iso13788_excess(int humidity_class, double outdoor) {
    constexpr std::array limits{270.0, 540.0, 810.0, 1080.0, 1360.0};
    assert(humidity_class >= 1 && humidity_class <= 5);
    return ramp(outdoor, zero, limits[static_cast<std::size_t>(humidity_class - 1)], zero + 20.0, 0.0);
}

Result<Indoor> indoor_air(const IndoorChoice& choice, const Year& year) {
    Indoor indoor;
    switch (choice.model) {
        case IndoorModel::fixed:
            indoor.temperature.assign(hours_in_year, choice.temperature);
            indoor.vapour_pressure.assign(hours_in_year,
                                          choice.relative_humidity * air::over_water(choice.temperature));
            indoor.assumes = fmt::format("indoor {}, {:.3g} %", degrees(choice.temperature),
                                         100.0 * choice.relative_humidity);
            break;
        case IndoorModel::en15026_normal:
            indoor =
                by_day(year, en15026_temperature, [](double mean) { return en15026_humidity(mean, false); });
            indoor.assumes = "indoor 20 to 25 degC, 30 to 60 %, EN 15026 normal load";
            break;
        case IndoorModel::en15026_high:
            indoor =
                by_day(year, en15026_temperature, [](double mean) { return en15026_humidity(mean, true); });
            indoor.assumes = "indoor 20 to 25 degC, 40 to 70 %, EN 15026 high load";
            break;
        case IndoorModel::iso13788_class:
            indoor = by_class(year, choice);
            indoor.assumes = fmt::format("indoor {}, ISO 13788 humidity class {}",
                                         degrees(choice.temperature), choice.humidity_class);
            break;
        case IndoorModel::ashrae160_simplified:
            indoor = by_day(year, [&](double) { return choice.temperature; }, ashrae160_humidity);
            indoor.assumes =
                fmt::format("indoor {}, 40 to 70 %, ASHRAE 160 simplified", degrees(choice.temperature));
            break;
        case IndoorModel::house: {
            Problem problem;
            problem.code = Code::unsupported;
            problem.what = "indoor air \"from the house\" cannot be computed from the weather alone";
            problem.suggestion = "model = \"normal load\" in [indoor]";
            return fail(std::move(problem));
        }
    }
    if (choice.cooling > 0.0) cool(choice, year, indoor);
    return indoor;
}

}  // namespace warmside::climate
