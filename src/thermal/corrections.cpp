#include "thermal/corrections.h"

#include <array>
#include <cmath>
#include <fmt/format.h>

namespace warmside::thermal {

namespace {

bool positive(double x) {
    return std::isfinite(x) && x > 0.0;
}

Result<double> ratio_squared(double layer, double total) {
    if (!positive(layer) || !positive(total) || layer > total) {
        return fail(Code::out_of_range,
                    fmt::format("a layer of {} m2 K/W in an element of {} m2 K/W cannot be", layer, total));
    }
    return (layer / total) * (layer / total);
}

}  // namespace

Result<double> void_correction(int level, double layer, double total) {
    constexpr std::array voids{0.0, 0.01, 0.04};  // W/(m2 K), ISO 6946 annex F
    if (level < 0 || level > 2) {
        return fail(Code::out_of_range, fmt::format("air void level {} is not 0, 1 or 2", level));
    }
    const auto ratio = ratio_squared(layer, total);
    if (!ratio) return fail(ratio.error());
    return voids[static_cast<std::size_t>(level)] * *ratio;
}

Result<double> fastener_correction(const FastenerSet& f, double layer, double total) {
    const auto ratio = ratio_squared(layer, total);
    if (!ratio) return fail(ratio.error());
    const bool sane = f.per_area >= 0.0 && f.cross_section >= 0.0 && f.conductivity >= 0.0 &&
                      std::isfinite(f.per_area * f.cross_section * f.conductivity) &&
                      positive(f.layer_thickness) && f.penetration >= 0.0 &&
                      f.penetration <= f.layer_thickness;
    if (!sane) {
        return fail(
            Code::out_of_range,
            fmt::format("fasteners of {} 1/m2, {} m2, {} W/(m K), {} m into {} m cannot be", f.per_area,
                        f.cross_section, f.conductivity, f.penetration, f.layer_thickness));
    }
    const double alpha = 0.8 * f.penetration / f.layer_thickness;
    return alpha * f.conductivity * f.per_area * f.cross_section / f.layer_thickness * *ratio;
}

double counted_correction(double correction, double u) {
    return correction < 0.03 * u ? 0.0 : correction;
}

Result<double> zone_resistance(double zone_width, double spacing, double zone, double cavity) {
    if (!positive(zone_width) || !positive(spacing) || !positive(zone) || !positive(cavity) ||
        zone_width > spacing) {
        return fail(Code::out_of_range,
                    fmt::format("a zone of {} m at {} m centres, {} and {} m2 K/W cannot be", zone_width,
                                spacing, zone, cavity));
    }
    return spacing / (zone_width / zone + (spacing - zone_width) / cavity);
}

Result<double> with_linear(double u, double psi, double length, double area) {
    if (!positive(area))
        return fail(Code::out_of_range, fmt::format("the area is {} m2, it must be above 0", area));
    return u + psi * length / area;
}

Result<double> surface_factor(double surface, double inside, double outside) {
    if (!std::isfinite(surface) || inside == outside || !std::isfinite(inside - outside)) {
        return fail(Code::out_of_range, "a temperature factor needs two different air temperatures");
    }
    return (surface - outside) / (inside - outside);
}

}  // namespace warmside::thermal
