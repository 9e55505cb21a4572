#include "leakage/power_fit.h"

#include <cassert>
#include <cmath>

#include "leakage/student.h"

namespace warmside::leakage {

namespace {

constexpr double two_sided = 0.975, outliers_share = 0.025;
// ln Q of points on an exact power law scatters by rounding alone: relative to it nothing is an outlier.
constexpr double rounding = 1e-12;

struct Sums {
    double n = 0.0, x = 0.0, y = 0.0, xx = 0.0, xy = 0.0, yy = 0.0;  ///< means, then sums about them
};

Sums sums_of(const std::vector<double>& x, const std::vector<double>& y) {
    Sums s{.n = static_cast<double>(x.size())};
    for (std::size_t i = 0; i < x.size(); ++i) {
        s.x += x[i] / s.n;
        s.y += y[i] / s.n;
    }
    for (std::size_t i = 0; i < x.size(); ++i) {
        s.xx += (x[i] - s.x) * (x[i] - s.x);
        s.xy += (x[i] - s.x) * (y[i] - s.y);
        s.yy += (y[i] - s.y) * (y[i] - s.y);
    }
    return s;
}

// r_i / (s_(i) sqrt(1 - h_i)), s_(i) the standard error without point i.
void studentise(PowerFit& fit, const Sums& s, const std::vector<double>& x, const std::vector<double>& y,
                double residual_square) {
    const auto count = x.size();
    fit.studentised.assign(count, 0.0);
    fit.outlier.assign(count, false);
    if (count < 4 || residual_square < rounding * rounding * s.n) return;
    const double limit = student_quantile(1.0 - outliers_share / s.n, static_cast<int>(count) - 3);
    for (std::size_t i = 0; i < count; ++i) {
        const double residual = y[i] - s.y - fit.exponent.value * (x[i] - s.x);
        const double left = 1.0 - 1.0 / s.n - (x[i] - s.x) * (x[i] - s.x) / s.xx;
        // A point far from all others pulls the line through itself: it cannot be told from it.
        if (left < 1e-9) continue;
        const double others = (residual_square - residual * residual / left) / (s.n - 3.0);
        fit.studentised[i] = residual / std::sqrt(std::max(others, rounding * rounding) * left);
        fit.outlier[i] = std::abs(fit.studentised[i]) > limit;
    }
}

}  // namespace

Estimate PowerFit::flow_at(double pressure) const {
    const double x = std::log(pressure);
    const double value = coefficient.value * std::pow(pressure, exponent.value);
    const double factor = std::exp(t * spread * std::sqrt(width + (x - middle) * (x - middle)));
    return {value, value / factor, value * factor};
}

Result<PowerFit> fit_power_law(std::span<const double> pressure, std::span<const double> flow) {
    assert(pressure.size() == flow.size());
    const std::size_t count = pressure.size();
    if (count < 3) return fail(Code::incomplete, "a fit needs three points or more");
    std::vector<double> x(count), y(count);
    double x_square = 0.0;
    for (std::size_t i = 0; i < count; ++i) {
        x[i] = std::log(pressure[i]);
        y[i] = std::log(flow[i]);
        x_square += x[i] * x[i];
    }
    const Sums s = sums_of(x, y);
    if (!(s.xx > 1e-6)) return fail(Code::incomplete, "all points lie at one pressure: no exponent follows");
    PowerFit out;
    const double n = s.xy / s.xx, c = s.y - n * s.x;
    const double residual_square = std::max(0.0, s.yy - n * s.xy);
    out.t = student_quantile(two_sided, static_cast<int>(count) - 2);
    out.spread = std::sqrt(residual_square / ((s.n - 2.0) * s.xx));
    out.middle = s.x;
    out.width = s.xx / s.n;
    out.exponent = {n, n - out.t * out.spread, n + out.t * out.spread};
    const double factor = std::exp(out.t * out.spread * std::sqrt(x_square / s.n));
    out.coefficient = {std::exp(c), std::exp(c) / factor, std::exp(c) * factor};
    out.correlation = s.yy > 0.0 ? s.xy * s.xy / (s.xx * s.yy) : 1.0;
    studentise(out, s, x, y, residual_square);
    return out;
}

}  // namespace warmside::leakage
