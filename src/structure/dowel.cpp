#include "structure/dowel.h"

#include <algorithm>
#include <cmath>

#include "units/quantity.h"

namespace warmside::structure {

namespace {

double psi() {
    static const double one = *units::parse("1 psi", units::pressure);
    return one;
}
double inch() {
    static const double one = *units::parse("1 in", units::length);
    return one;
}

double positive_root(double a, double b, double c) {
    return (-b + std::sqrt(b * b - 4 * a * c)) / (2 * a);
}

}  // namespace

std::array<double, 6> lateral_modes(const Dowel& d) {
    const double q = 16600 * std::pow(d.gravity, 1.84) * psi() * d.diameter;
    const double moment = d.yield * std::pow(d.diameter, 3) / 6;
    const double ls = d.side, lm = d.main, g = d.gap;
    std::array<double, 6> p{
        q * lm,
        q * ls,
        positive_root(1 / (2 * q), ls / 2 + g + lm / 2, -q * ls * ls / 4 - q * lm * lm / 4),
        positive_root(3 / (4 * q), g + lm / 2, -moment - q * lm * lm / 4),
        positive_root(3 / (4 * q), ls / 2 + g, -q * ls * ls / 4 - moment),
        positive_root(1 / q, g, -2 * moment)};
    const double inches = d.diameter / inch();
    const double reduction = inches <= 0.17 ? 2.2 : 10 * inches + 0.5;
    for (double& each : p) each /= reduction;
    return p;
}

double lateral(const Dowel& dowel) {
    const auto modes = lateral_modes(dowel);
    return *std::min_element(modes.begin(), modes.end());
}

double withdrawal(double gravity, double diameter) {
    return 1380 * std::pow(gravity, 2.5) * psi() * diameter;
}

}  // namespace warmside::structure
