#include "moisture/potential.h"

#include <algorithm>
#include <cmath>

namespace warmside::moisture {

double potential_of(double theta) {
    return std::exp(-theta) - log_share * std::log(theta);
}

double theta_slope(double theta) {
    return -1.0 / (std::exp(-theta) + log_share / theta);
}

double theta_of(double potential) {
    // Newton on y = ln theta, where u is concave or convex in long stretches; the bracket keeps it safe.
    double low = -40.0, high = 6.0, y = 0.0;
    for (int i = 0; i < 200; ++i) {
        const double theta = std::exp(y);
        const double error = potential_of(theta) - potential;
        if (std::abs(error) < 1e-15) break;
        (error > 0.0 ? low : high) = y;
        double next = y + error / (std::exp(-theta) * theta + log_share);
        if (!(next > low && next < high)) next = 0.5 * (low + high);
        if (next == y) break;
        y = next;
    }
    return std::exp(y);
}

double lowest_potential() {
    static const double value = potential_of(driest_theta);
    return value;
}
double full_potential() {
    static const double value = potential_of(wettest_theta);
    return value;
}
double highest_potential() {
    static const double value =
        lowest_potential() + (full_potential() - lowest_potential()) * table_intervals / full_interval;
    return value;
}

double potential_of_humidity(double relative_humidity, double temperature) {
    const double humidity = std::clamp(relative_humidity, 1e-12, 1.0);
    const double theta = -std::log(humidity) * temperature / reference_temperature;
    return potential_of(std::clamp(theta, wettest_theta, driest_theta));
}

double saturation_pressure(double temperature) {
    const double t = temperature - freezing;
    return t >= 0.0 ? 610.5 * std::exp(17.269 * t / (237.3 + t)) : 610.5 * std::exp(21.875 * t / (265.5 + t));
}

}  // namespace warmside::moisture
