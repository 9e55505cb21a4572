#include "conduction/periodic.h"

#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace warmside::conduction {

namespace {

using Complex = std::complex<double>;
constexpr double pi = std::numbers::pi;

TransferMatrix resistance_matrix(double resistance) {
    return {1.0, -resistance, 0.0, 1.0};
}

// Outside stands on the left: Z = Z_outside ... Z_inside.
TransferMatrix product(const TransferMatrix& a, const TransferMatrix& b) {
    return {a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3], a[2] * b[0] + a[3] * b[2],
            a[2] * b[1] + a[3] * b[3]};
}

bool positive(double value) {
    return std::isfinite(value) && value > 0.0;
}
bool not_negative(double value) {
    return std::isfinite(value) && value >= 0.0;
}

Result<void> check(std::span<const PlaneLayer> layers, double inside_film, double outside_film,
                   double period) {
    if (!positive(inside_film) || !positive(outside_film)) {
        return fail(Code::out_of_range, fmt::format("the films are {} and {} m2 K/W, they must be above 0",
                                                    inside_film, outside_film));
    }
    if (!positive(period))
        return fail(Code::out_of_range, fmt::format("the period is {} s, it must be above 0", period));
    for (std::size_t i = 0; i < layers.size(); ++i) {
        const PlaneLayer& layer = layers[i];
        if (!positive(layer.thickness) || !positive(layer.conductivity) || !not_negative(layer.density) ||
            !not_negative(layer.specific_heat)) {
            return fail(
                Code::out_of_range,
                fmt::format(
                    "layers[{}] has thickness {} m, conductivity {} W/(m K), density {} kg/m3, specific "
                    "heat {} J/(kg K); the first two must be above 0, no one below",
                    i, layer.thickness, layer.conductivity, layer.density, layer.specific_heat));
        }
    }
    return {};
}

}  // namespace

TransferMatrix transfer_matrix(const PlaneLayer& layer, double period) {
    const double capacity = layer.density * layer.specific_heat;
    if (capacity == 0.0) return resistance_matrix(layer.thickness / layer.conductivity);
    const double delta = std::sqrt(layer.conductivity * period / (pi * capacity));
    const double xi = layer.thickness / delta;
    const Complex z{xi, xi};
    const Complex sinh = std::sinh(z);
    const Complex cosh = std::cosh(z);
    const double conductance = layer.conductivity / layer.thickness;
    return {cosh, -sinh / (conductance * z), -conductance * z * sinh, cosh};
}

Result<Periodic> periodic(std::span<const PlaneLayer> layers, double inside_film, double outside_film,
                          double period) {
    if (auto good = check(layers, inside_film, outside_film, period); !good) return fail(good.error());
    TransferMatrix z = resistance_matrix(inside_film);
    double resistance = inside_film + outside_film;
    for (const PlaneLayer& layer : layers) {
        z = product(transfer_matrix(layer, period), z);
        resistance += layer.thickness / layer.conductivity;
    }
    z = product(resistance_matrix(outside_film), z);
    if (!std::isfinite(std::abs(z[1]))) {
        return fail(Code::out_of_range, "the layers are too thick for this period: the matrix overflows");
    }

    Periodic out;
    out.transmittance = 1.0 / resistance;
    out.inside_admittance = -z[0] / z[1];
    out.outside_admittance = -z[3] / z[1];
    out.periodic_transmittance = -1.0 / z[1];
    out.decrement = std::abs(out.periodic_transmittance) / out.transmittance;
    const double per_radian = period / (2.0 * pi);
    out.inside_lead = per_radian * std::arg(out.inside_admittance);
    // The lag grows with thickness; its angle is counted from 0 down to -2 pi.
    double angle = std::arg(out.periodic_transmittance);
    if (angle > 0.0) angle -= 2.0 * pi;
    out.time_shift = per_radian * angle;
    out.inside_capacity = per_radian * std::abs(out.inside_admittance - out.periodic_transmittance);
    out.outside_capacity = per_radian * std::abs(out.outside_admittance - out.periodic_transmittance);
    return out;
}

}  // namespace warmside::conduction
