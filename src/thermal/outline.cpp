#include "thermal/outline.h"

#include <algorithm>
#include <cmath>

namespace warmside::thermal {

std::vector<Edge> edges_of(const assembly::Storey& storey) {
    std::vector<Edge> out;
    const auto& corners = storey.outline;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const auto& a = corners[i];
        const auto& b = corners[(i + 1) % corners.size()];
        const double dx = (b.x - a.x).metres(), dy = (b.y - a.y).metres(), length = std::hypot(dx, dy);
        if (length > 0.0) out.push_back({a.x.metres(), a.y.metres(), dx / length, dy / length, length});
    }
    return out;
}

double shared(const Edge& a, const Edge& b) {
    constexpr double near = 1e-3;  // m, and rad
    if (std::abs(a.dx * b.dy - a.dy * b.dx) > near || a.dx * b.dx + a.dy * b.dy < 0.0) return 0.0;
    const double rx = b.x - a.x, ry = b.y - a.y;
    if (std::abs(a.dx * ry - a.dy * rx) > near) return 0.0;
    const double from = rx * a.dx + ry * a.dy;
    return std::max(0.0, std::min(a.length, from + b.length) - std::max(0.0, from));
}

double shared(const Edge& a, const std::vector<Edge>& others) {
    double length = 0.0;
    for (const Edge& b : others) length += shared(a, b);
    return std::min(length, a.length);
}

Turns turns_of(const std::vector<Edge>& outline) {
    constexpr double straight = 0.087, square = 0.996;  // sines of 5 and 85 degrees
    Turns out;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Edge& a = outline[i];
        const Edge& b = outline[(i + 1) % outline.size()];
        const double sine = a.dx * b.dy - a.dy * b.dx;
        if (std::abs(sine) < straight) continue;
        (sine > 0.0 ? out.outer : out.inner) += 1;
        out.oblique = out.oblique || std::abs(sine) < square;
    }
    return out;
}

}  // namespace warmside::thermal
