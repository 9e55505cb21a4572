#include "structure/span.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace warmside::structure {

SpanLimit longest_span(const SpanCase& each) {
    const double bending = each.lumber.bending * each.duration * each.lumber.size_bending * each.repetitive;
    const double load = each.dead + each.live;
    constexpr double endless = std::numeric_limits<double>::infinity();
    SpanLimit out{endless, endless};
    if (load > 0) out.bending = std::sqrt(8 * bending * each.plies * each.size.modulus() / load);
    if (each.live > 0)
        out.deflection = std::cbrt(384 * each.lumber.modulus * each.plies * each.size.inertia() /
                                   (5 * each.live * each.limit));
    return out;
}

double beam_ratio(const SpanCase& each, double span) {
    const SpanLimit limit = longest_span(each);
    const double bending = std::pow(span / limit.bending, 2), sag = std::pow(span / limit.deflection, 3);
    const double shear = 1.5 * (each.dead + each.live) * span / 2 / (each.plies * each.size.area()) /
                         (each.lumber.shear * each.duration);
    return std::max({bending, sag, shear});
}

}  // namespace warmside::structure
