// Interpolation through points: monotone cubic for sorption, logarithmic for permeability.
#pragma once

#include <span>

namespace warmside::material {

/// Value and first derivative.
struct Slope {
    double value = 0.0;
    double derivative = 0.0;
};

/// One point of a rising curve.
struct Point {
    double x = 0.0;
    double y = 0.0;
};

/// A cubic between two points, by values and slopes at its ends.
struct Piece {
    Point from, to;
    double slope_from = 0.0, slope_to = 0.0;
};

/// Slope at the middle of three rising points: the weighted harmonic mean of the two chords, at most twice
/// the lesser. With end slopes of at most three chords every piece then rises strictly.
/// Source   Fritsch and Carlson 1980, SIAM J. Numer. Anal. 17(2); Fritsch and Butland 1984 for the mean
/// (memory)
[[nodiscard]] double middle_slope(Point before, Point at, Point after);

/// Value and derivative at x between the ends.
[[nodiscard]] Slope evaluate(const Piece& piece, double x);

/// x in the piece where it takes the value y; y between the ends. Newton's method inside a bracket.
[[nodiscard]] double invert(const Piece& piece, double y);

/// y at x, with ln y linear between points and held outside; all y > 0, at least one point.
[[nodiscard]] double log_interpolate(std::span<const double> x, std::span<const double> y, double at);

}  // namespace warmside::material
