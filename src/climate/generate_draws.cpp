#include <cassert>
#include <cmath>
#include <numbers>

#include "climate/generate_parts.h"

namespace warmside::climate::generated {

double Draws::uniform() {
    // 53 bits, shifted by half a step so that neither 0 nor 1 comes out.
    return (static_cast<double>(engine_() >> 11) + 0.5) * 0x1.0p-53;
}

double Draws::normal() {
    if (has_spare_) {
        has_spare_ = false;
        return spare_;
    }
    const double radius = std::sqrt(-2.0 * std::log(uniform()));
    const double angle = 2.0 * std::numbers::pi * uniform();
    spare_ = radius * std::sin(angle);
    has_spare_ = true;
    return radius * std::cos(angle);
}

double Draws::gamma(double shape) {
    if (shape < 1.0) {
        const double boosted = gamma(shape + 1.0);
        return boosted * std::pow(uniform(), 1.0 / shape);
    }
    const double d = shape - 1.0 / 3.0, c = 1.0 / std::sqrt(9.0 * d);
    for (;;) {
        const double x = normal(), root = 1.0 + c * x;
        if (root <= 0.0) continue;
        const double v = root * root * root;
        if (std::log(uniform()) < 0.5 * x * x + d - d * v + d * std::log(v)) return d * v;
    }
}

double normal_share(double x) {
    return 0.5 * std::erfc(-x / std::numbers::sqrt2);
}

Series through_means(std::span<const double> means, std::span<const int> lengths, double tolerance) {
    assert(means.size() == lengths.size());
    const std::size_t blocks = means.size();
    std::size_t total = 0;
    for (const int length : lengths) total += static_cast<std::size_t>(length);
    Series centres(means.begin(), means.end()), curve(total);
    // The residual halves at least in each pass.
    for (int pass = 0; pass < 30; ++pass) {
        std::size_t unit = 0;
        double worst = 0.0;
        for (std::size_t b = 0; b < blocks; ++b) {
            const std::size_t before = (b + blocks - 1) % blocks, after = (b + 1) % blocks;
            const double half = 0.5 * lengths[b];
            const double rise_in = (centres[b] - centres[before]) / (half + 0.5 * lengths[before]);
            const double rise_out = (centres[after] - centres[b]) / (half + 0.5 * lengths[after]);
            for (int i = 0; i < lengths[b]; ++i, ++unit) {
                const double from_centre = i + 0.5 - half;
                curve[unit] = centres[b] + from_centre * (from_centre < 0.0 ? rise_in : rise_out);
            }
        }
        unit = 0;
        for (std::size_t b = 0; b < blocks; ++b) {
            double sum = 0.0;
            for (int i = 0; i < lengths[b]; ++i, ++unit) sum += curve[unit];
            const double residual = means[b] - sum / lengths[b];
            centres[b] += residual;
            worst = std::max(worst, std::abs(residual));
        }
        if (worst < tolerance) break;
    }
    return curve;
}

}  // namespace warmside::climate::generated
