#include "moisture/decay.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

namespace warmside::moisture {

namespace {

constexpr double hour = 3600.0;
constexpr double humid = 0.95;        // viitanen-2010-decay: favourable above
constexpr double recovery = 17520.0;  // h, viitanen-2010-decay: activation falls from 1 to 0
constexpr double warmest_fit = 30.0;  // degC

bool favourable(double temperature, double relative_humidity) {
    return temperature > 273.15 && relative_humidity > humid;
}

}  // namespace

double decay_start_time(double temperature, double relative_humidity) {
    constexpr double never = std::numeric_limits<double>::infinity();
    if (!favourable(temperature, relative_humidity)) return never;
    const double t = std::min(temperature - 273.15, warmest_fit),
                 r = 100.0 * std::min(1.0, relative_humidity);
    // viitanen-2010-decay
    const double above = 2.3 * t + 0.035 * r - 0.024 * t * r, below = -42.9 + 0.14 * t + 0.45 * r;
    return below > 0.0 && above > 0.0 ? above / below * 720.0 * hour : never;
}

double decay_loss_rate(double temperature, double relative_humidity) {
    if (!favourable(temperature, relative_humidity)) return 0.0;
    const double t = std::min(temperature - 273.15, warmest_fit),
                 r = 100.0 * std::min(1.0, relative_humidity);
    return std::max(0.0, -5.96e-2 + 1.96e-4 * t + 6.25e-4 * r) / 100.0 / hour;  // viitanen-2010-decay
}

std::size_t DecaySurface::march(std::span<const float> temperature, std::span<const float> relative_humidity,
                                double hours) {
    assert(temperature.size() == relative_humidity.size() && hours > 0.0);
    std::size_t worst = 0;
    peak_ = -1.0;
    for (std::size_t i = 0; i < temperature.size(); ++i) {
        const double T = static_cast<double>(temperature[i]), r = static_cast<double>(relative_humidity[i]);
        bool lost = false;
        if (favourable(T, r)) {
            if (activation_ >= 1.0) {
                loss_ += decay_loss_rate(T, r) * hours * hour;
                lost = true;
            }
            activation_ = std::min(1.0, activation_ + hours * hour / decay_start_time(T, r));
        } else {
            activation_ = std::max(0.0, activation_ - hours / recovery);
        }
        if (activation_ > peak_ || lost) {
            peak_ = std::max(peak_, activation_);
            worst = i;
        }
    }
    peak_ = std::max(0.0, peak_);
    return worst;
}

}  // namespace warmside::moisture
