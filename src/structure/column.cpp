#include "structure/column.h"

#include <cmath>
#include <fmt/format.h>

namespace warmside::structure {

Result<ColumnResult> column(const ColumnCase& each) {
    constexpr double c = 0.8;  // sawn lumber
    const double slenderness = each.length / each.size.depth;
    if (!(slenderness <= 50))
        return fail(Code::out_of_range, fmt::format("slenderness {:.1f} is above 50", slenderness));
    ColumnResult r;
    r.euler = 0.822 * each.lumber.stability / (slenderness * slenderness);
    r.unbuckled = each.lumber.compression * each.duration * each.lumber.size_compression;
    const double a = r.euler / r.unbuckled, t = (1 + a) / (2 * c);
    r.stability = t - std::sqrt(t * t - a / c);
    r.compression = r.unbuckled * r.stability;
    r.bending = each.lumber.bending * each.duration * each.lumber.size_bending * each.repetitive;
    r.axial_stress = each.axial / each.size.area();
    r.bending_stress = each.across * each.length * each.length / 8 / each.size.modulus();
    const double pressed = r.axial_stress / r.compression;
    if (each.across <= 0.0) {
        r.ratio = pressed;
        return r;
    }
    if (!(r.axial_stress < r.euler))
        return fail(Code::unsupported, "the load along it reaches the buckling load");
    r.ratio = pressed * pressed + r.bending_stress / (r.bending * (1 - r.axial_stress / r.euler));
    return r;
}

double deflection(const Size& size, double modulus, double length, double load) {
    return 5 * load * std::pow(length, 4) / (384 * modulus * size.inertia());
}

}  // namespace warmside::structure
