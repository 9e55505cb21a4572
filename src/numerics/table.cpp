#include "numerics/table.h"

#include <algorithm>
#include <cassert>

namespace warmside::numerics {

std::vector<double> monotone_slopes(std::span<const double> x, std::span<const double> y) {
    assert(x.size() == y.size() && x.size() >= 2);
    const std::size_t n = x.size();
    std::vector<double> width(n - 1), secant(n - 1), slope(n);
    for (std::size_t i = 0; i + 1 < n; ++i) {
        width[i] = x[i + 1] - x[i];
        secant[i] = (y[i + 1] - y[i]) / width[i];
    }
    slope.front() = secant.front();
    slope.back() = secant.back();
    for (std::size_t i = 1; i + 1 < n; ++i) {
        const double before = secant[i - 1], after = secant[i];
        if (before * after <= 0.0) continue;
        const double w1 = 2.0 * width[i] + width[i - 1], w2 = width[i] + 2.0 * width[i - 1];
        slope[i] = (w1 + w2) / (w1 / before + w2 / after);
    }
    return slope;
}

MonotoneCurve::MonotoneCurve(std::vector<double> x, std::vector<double> y)
    : x_(std::move(x)), y_(std::move(y)), slope_(monotone_slopes(x_, y_)) {}

double MonotoneCurve::operator()(double x) const {
    if (x <= x_.front()) return y_.front();
    if (x >= x_.back()) return y_.back();
    const auto above = std::upper_bound(x_.begin(), x_.end(), x);
    const auto i = static_cast<std::size_t>(above - x_.begin()) - 1;
    const double h = x_[i + 1] - x_[i], s = (x - x_[i]) / h;
    const double rise = y_[i + 1] - y_[i];
    const double c1 = h * slope_[i];
    const double c2 = 3.0 * rise - h * (2.0 * slope_[i] + slope_[i + 1]);
    const double c3 = h * (slope_[i] + slope_[i + 1]) - 2.0 * rise;
    return y_[i] + s * (c1 + s * (c2 + s * c3));
}

Tables::Tables(double first, double last, int intervals)
    : first_(first),
      spacing_((last - first) / intervals),
      intervals_(intervals),
      rows_(static_cast<std::size_t>(intervals) * 4, Line{}) {
    assert(intervals > 0 && last > first);
}

void Tables::set(int k, std::span<const double> values, std::span<const double> slopes) {
    const auto points = static_cast<std::size_t>(intervals_) + 1;
    assert(values.size() == points && (slopes.empty() || slopes.size() == points) && k < functions);
    std::vector<double> own;
    if (slopes.empty()) {
        std::vector<double> x(points);
        for (std::size_t i = 0; i < points; ++i) x[i] = first_ + spacing_ * static_cast<double>(i);
        own = monotone_slopes(x, values);
        slopes = own;
    }
    for (std::size_t i = 0; i + 1 < points; ++i)
        set_piece(k, i, values[i], values[i + 1], slopes[i], slopes[i + 1]);
}

void Tables::set_bent(int k, std::span<const double> values, int bend) {
    const auto points = static_cast<std::size_t>(intervals_) + 1;
    const auto at_bend = static_cast<std::size_t>(bend);
    assert(values.size() == points && bend > 0 && bend < intervals_);
    std::vector<double> x(points);
    for (std::size_t i = 0; i < points; ++i) x[i] = first_ + spacing_ * static_cast<double>(i);
    const std::span<const double> all(x);
    const auto before = monotone_slopes(all.first(at_bend + 1), values.first(at_bend + 1));
    const auto after = monotone_slopes(all.subspan(at_bend), values.subspan(at_bend));
    for (std::size_t i = 0; i + 1 < points; ++i) {
        const bool left = i < at_bend;
        set_piece(k, i, values[i], values[i + 1], left ? before[i] : after[i - at_bend],
                  left ? before[i + 1] : after[i + 1 - at_bend]);
    }
}

void Tables::set_piece(int k, std::size_t i, double from, double to, double slope_from, double slope_to) {
    double* c = row(i) + k;
    const double rise = to - from;
    const double left = spacing_ * slope_from, right = spacing_ * slope_to;
    c[0] = from;
    c[functions] = left;
    c[2 * functions] = 3.0 * rise - 2.0 * left - right;
    c[3 * functions] = left + right - 2.0 * rise;
}

Tables::Values Tables::at(int k, double x) const {
    const double position = (x - first_) / spacing_;
    const int row = std::clamp(static_cast<int>(position), 0, intervals_ - 1);
    const double s = position - row;
    const double* c = rows() + static_cast<std::size_t>(row) * row_size + k;
    const double c1 = c[functions], c2 = c[2 * functions], c3 = c[3 * functions];
    return {c[0] + s * (c1 + s * (c2 + s * c3)), (c1 + s * (2.0 * c2 + 3.0 * s * c3)) / spacing_};
}

}  // namespace warmside::numerics
