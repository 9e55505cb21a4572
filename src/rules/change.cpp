#include "rules/change.h"

#include <fmt/format.h>

#include <cmath>

#include "rules/finding.h"
#include "rules/layers.h"
#include "thermal/layering.h"
#include "units/quantity.h"

namespace warmside::rules {

namespace {

constexpr int bisections = 60;  // halves an interval to the last bits of a double

/// x in [low, high] where `above` turns from true to false.
template <class Above>
double turn(double low, double high, Above above) {
    for (int i = 0; i < bisections; ++i) {
        const double middle = 0.5 * (low + high);
        (above(middle) ? low : high) = middle;
    }
    return high;
}

double u_of(const thermal::Cell& cell) {
    const auto both = thermal::limits(cell);
    return both ? 1.0 / both->upper : std::nan("");
}

/// The handbook cell whose plates give the surface its code U.
std::optional<thermal::Cell> cell_of(const Surface& surface) {
    if (!surface.assembly || thermal::on_ground(*surface.assembly)) return std::nullopt;
    const auto states = thermal::handbook_states(*surface.assembly);
    if (!states) return std::nullopt;
    thermal::Cell cell = thermal::cell_of(*surface.assembly, *states);
    const auto with = [&](double plates) {
        cell.plates = plates;
        return u_of(cell);
    };
    constexpr double most_plates = 0.9, same = 1e-6;
    const double target = *surface.code_u;
    // Wood may conduct better or worse than what it displaces: rising is the usual case.
    const bool between = with(0.0) <= target * (1.0 + same) && with(most_plates) >= target;
    if (!between) return std::nullopt;
    cell.plates = turn(0.0, most_plates, [&](double p) { return with(p) < target; });
    return cell;
}

/// Where more can be laid: the outermost continuous layer, else the part of a layer above its members.
std::optional<std::size_t> open_layer(const assembly::Assembly& assembly) {
    const Insulation in = insulation_of(assembly);
    for (std::size_t i = in.layers.size(); i-- > 0;) {
        using As = LayerShare::As;
        const assembly::Layer& layer = assembly.layers[i];
        const As as = in.layers[i].as;
        const bool above = layer.framing && layer.framing->kind == assembly::Framing::Kind::solid &&
                           layer.framing->depth < layer.thickness;
        if (as == As::continuous_inside || as == As::continuous_outside || (as == As::cavity && above))
            return i;
    }
    return std::nullopt;
}

/// Up to the next tenth of an R, as one would order it.
std::string rounded_up(double r) {
    const double ip = std::ceil(units::ip_r(r) * 10.0 - 1e-6) / 10.0;
    return fmt::format("R-{:.1f} (RSI {:.2f})", ip, r);
}

std::string thickness_up(double metres) {
    constexpr double sixteenth = 0.0254 / 16.0;
    const double up = std::ceil(metres / sixteenth - 1e-6) * sixteenth;
    return fmt::format("{} ({})", units::inches(up), units::millimetres(up));
}

}  // namespace

Result<double> least_added(const Surface& surface, double u) {
    if (!surface.code_u || !(*surface.code_u > 0.0) || !(u > 0.0))
        return fail(Code::out_of_range, fmt::format("{} has no code U to lower", surface.part));
    if (*surface.code_u <= u) return 0.0;
    const double enough = 1.0 / u - 1.0 / *surface.code_u;
    auto cell = cell_of(surface);
    if (!cell) return enough;
    cell->plies.push_back({});
    const auto with = [&](double r) {
        cell->plies.back().fill = r;
        return u_of(*cell);
    };
    return turn(0.0, enough * (1.0 + 1e-9), [&](double r) { return with(r) > u; });
}

std::string words_of_added(const assembly::Assembly* assembly, double r) {
    const std::string more = rounded_up(r) + " more continuous insulation";
    const auto at = assembly ? open_layer(*assembly) : std::nullopt;
    if (!at) return more;
    const assembly::Layer& layer = assembly->layers[*at];
    const double now = layer.thickness.metres();
    const double per_r = now / thermal::label_of(layer);
    return fmt::format("{}: {} {} instead of {}", more, layer.title(), thickness_up(now + r * per_r),
                       thickness_up(now));
}

}  // namespace warmside::rules
