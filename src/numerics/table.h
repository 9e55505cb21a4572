// Functions kept as cubic pieces on a uniform grid, several functions side by side in one row.
#pragma once

#include <array>
#include <cstddef>
#include <functional>
#include <span>
#include <vector>

namespace warmside::numerics {

/// Slopes at the points of a piecewise cubic that is monotone wherever the values are.
///
/// x, y     [n] points, x strictly increasing, n >= 2
/// returns  [n] slopes
/// Source   Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300 (memory): weighted harmonic mean of
///          the neighbouring secants, zero at an extremum
[[nodiscard]] std::vector<double> monotone_slopes(std::span<const double> x, std::span<const double> y);

/// A monotone cubic through points; held flat outside them.
class MonotoneCurve {
public:
    MonotoneCurve() = default;
    MonotoneCurve(std::vector<double> x, std::vector<double> y);
    [[nodiscard]] double operator()(double x) const;
    [[nodiscard]] bool empty() const { return x_.empty(); }

private:
    std::vector<double> x_, y_, slope_;
};

/// Up to eight functions of one variable, tabulated on the same uniform grid. A row holds the coefficients
/// c0..c3 of all eight functions over one interval, so that a kernel loads four short vectors a lookup:
/// f_k(x) = c0[k] + s (c1[k] + s (c2[k] + s c3[k])), s = (x - first)/spacing - row in [0, 1].
/// Outside the grid the end pieces are continued.
class Tables {
public:
    static constexpr int functions = 8;
    static constexpr int row_size = 4 * functions;

    Tables() = default;
    /// Grid of `intervals` pieces from `first` to `last`; all functions zero.
    Tables(double first, double last, int intervals);

    /// Sets function k from its values at the grid points. Slopes are monotone ones unless given.
    void set(int k, std::span<const double> values, std::span<const double> slopes = {});

    /// As set, for a function with one sharp bend at grid point `bend`: slopes are taken from each side
    /// alone.
    void set_bent(int k, std::span<const double> values, int bend);

    struct Values {
        double value, slope;
    };
    [[nodiscard]] Values at(int k, double x) const;
    [[nodiscard]] double first() const { return first_; }
    [[nodiscard]] double spacing() const { return spacing_; }
    [[nodiscard]] int intervals() const { return intervals_; }
    [[nodiscard]] const double* rows() const { return rows_.data()->c; }

private:
    void set_piece(int k, std::size_t i, double from, double to, double slope_from, double slope_to);
    double first_ = 0.0, spacing_ = 1.0;
    int intervals_ = 0;
    // A row starts on a cache line: eight functions are loaded in one go.
    struct alignas(64) Line {
        double c[functions];
    };
    double* row(std::size_t i) { return rows_[4 * i].c; }
    std::vector<Line> rows_;
};

}  // namespace warmside::numerics
