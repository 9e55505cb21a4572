// Least squares of ln Q on ln |dp|, with its limits and outliers.
#pragma once

#include <span>
#include <vector>

#include "base/result.h"

namespace warmside::leakage {

/// A figure with its 95 % limits; without limits all three are the same.
struct Estimate {
    double value = 0.0, low = 0.0, high = 0.0;
};

struct PowerFit {
    Estimate coefficient;             ///< m3/(s Pa^n)
    Estimate exponent;                ///< n
    double correlation = 1.0;         ///< r2 of the logarithms
    std::vector<double> studentised;  ///< [n] residual over its own standard error, the point itself left out
    std::vector<bool> outlier;        ///< [n]
    double t = 0.0;                   ///< Student's t of the limits
    double spread = 0.0;              ///< standard error of the exponent
    double middle = 0.0, width = 0.0;  ///< mean and variance (over n) of ln |dp|
    /// m3/s at a pressure, with limits: x = ln dp, s(x) = spread sqrt(width + (x - middle)^2).
    [[nodiscard]] Estimate flow_at(double pressure) const;
};

/// Unweighted.
///
///   n = S_xy / S_xx,  ln C = mean y - n mean x
///   s_n^2 = (S_yy - n S_xy) / ((N - 2) S_xx),  s_lnC = s_n sqrt(sum x^2 / N),  limits with t(0.975, N - 2)
///
/// An outlier has an externally studentised residual beyond t(1 - 0.025/N, N - 3): 5 % over all points
/// together (Bonferroni). Below four points, or where the points lie on the line to rounding, none is told.
///
/// pressure, flow  [n] Pa and m3/s, all above zero; three or more, not all at one pressure
/// Problem         incomplete: fewer points, or one pressure
/// Source          iso-9972 annex C, astm-e779 annex A1 (memory); check: proof/leakage/blower-door.toml
[[nodiscard]] Result<PowerFit> fit_power_law(std::span<const double> pressure, std::span<const double> flow);

}  // namespace warmside::leakage
