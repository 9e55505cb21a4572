#include "climate/year.h"

#include <fmt/format.h>
#include <numbers>

#include "air/saturation.h"

namespace warmside::climate {

namespace {

struct Bounds {
    const char* name;
    std::vector<double> Year::* column;
    double least, most;
};

// Wider than anything measured on earth, so that only a slip is caught.
constexpr std::array<Bounds, 10> bounds{
    {{"temperature", &Year::temperature, 183.15, 333.15},
     {"vapour_pressure", &Year::vapour_pressure, 1e-3, 20000.0},
     {"pressure", &Year::pressure, 40000.0, 115000.0},
     {"wind_speed", &Year::wind_speed, 0.0, 120.0},
     {"wind_direction", &Year::wind_direction, 0.0, 2.0 * std::numbers::pi},
     {"global", &Year::global, 0.0, 2000.0},
     {"direct", &Year::direct, 0.0, 1500.0},
     {"diffuse", &Year::diffuse, 0.0, 1500.0},
     {"cloud", &Year::cloud, 0.0, 1.0},
     {"rain", &Year::rain, 0.0, 0.12}}};

}  // namespace

Result<void> check(const Year& year) {
    constexpr double half_turn = std::numbers::pi;
    if (!(std::abs(year.latitude) <= half_turn / 2.0)) {
        return fail(Code::out_of_range,
                    fmt::format("latitude is {} rad, outside -pi/2 to pi/2", year.latitude));
    }
    if (!(std::abs(year.longitude) <= half_turn)) {
        return fail(Code::out_of_range,
                    fmt::format("longitude is {} rad, outside -pi to pi", year.longitude));
    }
    for (const auto& [name, column, least, most] : bounds) {
        const auto& values = year.*column;
        if (values.size() != hours_in_year) {
            return fail(Code::incomplete,
                        fmt::format("{} has {} hours, a year has {}", name, values.size(), hours_in_year));
        }
        for (std::size_t i = 0; i < values.size(); ++i) {
            // Asked this way round so that NaN is refused too.
            const bool possible = values[i] >= least && values[i] <= most;
            if (!possible) {
                return fail(Code::out_of_range, fmt::format("{} of hour {} is {}, outside {} to {}", name, i,
                                                            values[i], least, most));
            }
        }
    }
    for (std::size_t i = 0; i < year.temperature.size(); ++i) {
        const double saturation = air::over_water(year.temperature[i]);
        if (year.vapour_pressure[i] > saturation * (1.0 + 1e-9)) {
            return fail(Code::out_of_range,
                        fmt::format("vapour_pressure of hour {} is {} Pa, above saturation ({} Pa)", i,
                                    year.vapour_pressure[i], saturation));
        }
    }
    return {};
}

double relative_humidity(const Year& year, std::size_t hour) {
    return year.vapour_pressure[hour] / air::over_water(year.temperature[hour]);
}

}  // namespace warmside::climate
