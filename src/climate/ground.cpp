#include "climate/ground.h"

#include <cmath>
#include <numbers>

namespace warmside::climate {

namespace {

constexpr double turn = 2.0 * std::numbers::pi;
constexpr double year_length = 3600.0 * hours_in_year;

}  // namespace

AnnualWave annual_wave(const Year& year) {
    double sum = 0.0, cosine = 0.0, sine = 0.0;
    for (std::size_t i = 0; i < year.temperature.size(); ++i) {
        const double angle = turn * (static_cast<double>(i) + 0.5) / hours_in_year;
        sum += year.temperature[i];
        cosine += year.temperature[i] * std::cos(angle);
        sine += year.temperature[i] * std::sin(angle);
    }
    const double n = static_cast<double>(year.temperature.size());
    cosine *= 2.0 / n;
    sine *= 2.0 / n;
    // mean - a cos(x - x0) = mean - a cos x0 cos x - a sin x0 sin x
    double coldest = std::atan2(-sine, -cosine) / turn;
    if (coldest < 0.0) coldest += 1.0;
    return {sum / n, std::hypot(cosine, sine), coldest * hours_in_year};
}

double penetration_depth(const Soil& soil) {
    return std::sqrt(soil.conductivity * year_length / (std::numbers::pi * soil.heat_capacity));
}

double ground_temperature(const AnnualWave& wave, const Soil& soil, double depth, double hour) {
    const double z = depth / penetration_depth(soil);
    return wave.mean -
           wave.amplitude * std::exp(-z) * std::cos(turn * (hour - wave.coldest) / hours_in_year - z);
}

std::vector<double> ground_temperature(const AnnualWave& wave, const Soil& soil, double depth) {
    std::vector<double> out(hours_in_year);
    for (std::size_t i = 0; i < out.size(); ++i)
        out[i] = ground_temperature(wave, soil, depth, static_cast<double>(i) + 0.5);
    return out;
}

}  // namespace warmside::climate
