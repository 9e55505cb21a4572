#include "material/curve.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace warmside::material {

double middle_slope(Point before, Point at, Point after) {
    const double left = at.x - before.x;
    const double right = after.x - at.x;
    const double left_chord = (at.y - before.y) / left;
    const double right_chord = (after.y - at.y) / right;
    const double w1 = 2.0 * right + left;
    const double w2 = right + 2.0 * left;
    const double mean = (w1 + w2) / (w1 / left_chord + w2 / right_chord);
    // Beyond twice the lesser chord a piece can have a level point inside, and the capacity a zero.
    return std::min(mean, 2.0 * std::min(left_chord, right_chord));
}

Slope evaluate(const Piece& piece, double x) {
    const double width = piece.to.x - piece.from.x;
    const double rise = piece.to.y - piece.from.y;
    const double t = (x - piece.from.x) / width;
    const double a = piece.slope_from * width;
    const double b = piece.slope_to * width;
    // Hermite form, as a polynomial in t.
    const double c2 = 3.0 * rise - 2.0 * a - b;
    const double c3 = a + b - 2.0 * rise;
    return {piece.from.y + t * (a + t * (c2 + t * c3)), (a + t * (2.0 * c2 + t * 3.0 * c3)) / width};
}

double invert(const Piece& piece, double y) {
    double low = piece.from.x;
    double high = piece.to.x;
    if (y <= piece.from.y) return low;
    if (y >= piece.to.y) return high;
    double x = low + (high - low) * (y - piece.from.y) / (piece.to.y - piece.from.y);
    for (int step = 0; step < 100; ++step) {
        const Slope here = evaluate(piece, x);
        const double miss = here.value - y;
        if (miss == 0.0) return x;
        (miss > 0.0 ? high : low) = x;
        double next = here.derivative > 0.0 ? x - miss / here.derivative : low;
        if (next <= low || next >= high) next = 0.5 * (low + high);
        if (std::abs(next - x) <= 1e-15 * std::max(1.0, std::abs(x))) return next;
        x = next;
    }
    return x;
}

double log_interpolate(std::span<const double> x, std::span<const double> y, double at) {
    assert(!x.empty() && x.size() == y.size());
    if (at <= x.front()) return y.front();
    if (at >= x.back()) return y.back();
    const auto i = static_cast<std::size_t>(std::upper_bound(x.begin(), x.end(), at) - x.begin());
    const double share = (at - x[i - 1]) / (x[i] - x[i - 1]);
    return y[i - 1] * std::pow(y[i] / y[i - 1], share);
}

}  // namespace warmside::material
