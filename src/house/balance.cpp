#include "house/balance.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace warmside::house {

namespace {

constexpr double margin = 1e-9;  // K and W: what counts as held
constexpr int most_attempts = 60;

}  // namespace

bool eliminate(std::vector<double>& matrix, std::vector<double>& right) {
    const std::size_t n = right.size();
    const auto at = [&](std::size_t row, std::size_t column) -> double& { return matrix[row * n + column]; };
    for (std::size_t k = 0; k < n; ++k) {
        if (!(std::abs(at(k, k)) > 0.0)) return false;
        const double inverse = 1.0 / at(k, k);
        for (std::size_t i = k + 1; i < n; ++i) {
            const double factor = at(i, k) * inverse;
            if (factor == 0.0) continue;
            for (std::size_t j = k + 1; j < n; ++j) at(i, j) -= factor * at(k, j);
            right[i] -= factor * right[k];
        }
    }
    for (std::size_t k = n; k-- > 0;) {
        for (std::size_t j = k + 1; j < n; ++j) right[k] -= at(k, j) * right[j];
        right[k] /= at(k, k);
    }
    return true;
}

Balance::Balance(const std::vector<Zone>& zones)
    : zones_(zones),
      order_(2 * zones.size()),
      matrix_(order_ * order_),
      right_(order_),
      temperature_(order_),
      heat_(zones.size()),
      holds_(zones.size(), Hold::free) {}

void Balance::clear() {
    std::fill(matrix_.begin(), matrix_.end(), 0.0);
    std::fill(right_.begin(), right_.end(), 0.0);
}

// A held zone's air temperature is known and its heat is not: the two change sides.
bool Balance::attempt(int hour) {
    work_ = matrix_;
    unknown_ = right_;
    for (std::size_t z = 0; z < zones_.size(); ++z) {
        const Zone& zone = zones_[z];
        const std::size_t air = 2 * z, radiant = air + 1;
        heat_[z] = holds_[z] == Hold::heating_limit   ? zone.heating_limit
                   : holds_[z] == Hold::cooling_limit ? -zone.cooling_limit
                                                      : 0.0;
        unknown_[air] += zone.system_convective * heat_[z];
        unknown_[radiant] += (1.0 - zone.system_convective) * heat_[z];
        if (holds_[z] != Hold::heated && holds_[z] != Hold::cooled) continue;
        temperature_[air] = holds_[z] == Hold::heated ? zone.heating.at(hour) : zone.cooling.at(hour);
        for (std::size_t row = 0; row < order_; ++row) {
            unknown_[row] -= work_[row * order_ + air] * temperature_[air];
            work_[row * order_ + air] = 0.0;
        }
        work_[air * order_ + air] = -zone.system_convective;
        work_[radiant * order_ + air] = zone.system_convective - 1.0;
    }
    if (!eliminate(work_, unknown_)) return false;
    for (std::size_t z = 0; z < zones_.size(); ++z) {
        const bool held = holds_[z] == Hold::heated || holds_[z] == Hold::cooled;
        (held ? heat_[z] : temperature_[2 * z]) = unknown_[2 * z];
        temperature_[2 * z + 1] = unknown_[2 * z + 1];
    }
    return true;
}

Hold Balance::next(std::size_t zone, int hour) const {
    const Zone& z = zones_[zone];
    const double air = temperature_[2 * zone], heat = heat_[zone];
    const double low = z.heating.at(hour), high = z.cooling.at(hour);
    switch (holds_[zone]) {
        case Hold::free:
            if (air < low - margin) return Hold::heated;
            if (air > high + margin) return Hold::cooled;
            return Hold::free;
        case Hold::heated:
            if (heat < -margin) return Hold::free;
            return heat > z.heating_limit ? Hold::heating_limit : Hold::heated;
        case Hold::cooled:
            if (heat > margin) return Hold::free;
            return -heat > z.cooling_limit ? Hold::cooling_limit : Hold::cooled;
        case Hold::heating_limit: return air > low + margin ? Hold::heated : Hold::heating_limit;
        case Hold::cooling_limit: return air < high - margin ? Hold::cooled : Hold::cooling_limit;
    }
    return Hold::free;
}

Result<void> Balance::solve(int hour) {
    // After a change of set-points a limit of zero or a hold that no longer exists sorts itself out below.
    for (int n = 0; n < most_attempts; ++n) {
        if (!attempt(hour))
            return fail(Code::not_converged,
                        fmt::format("hour {}: the zones' balance has no solution", hour));
        bool settled = true;
        for (std::size_t z = 0; z < zones_.size(); ++z) {
            const Hold wanted = next(z, hour);
            if (wanted == holds_[z]) continue;
            // Late on, one zone at a time, so that two that push each other to and fro come to rest.
            if (settled || n < most_attempts / 2) holds_[z] = wanted;
            settled = false;
        }
        if (settled) return {};
    }
    return fail(Code::not_converged,
                fmt::format("hour {}: the zones' set-points could not be held together", hour));
}

}  // namespace warmside::house
