#include "leakage/air_flow.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "climate/calendar.h"
#include "leakage/defaults.h"
#include "leakage/tightness.h"
#include "material/material.h"

namespace warmside::leakage {

namespace {

using assembly::Layer;

constexpr double steepest_slope = 80.0 * std::numbers::pi / 180.0;
constexpr double ng = 1e-12;  // kg

double resistance(const Layer& layer) {
    if (layer.kind != Layer::Kind::material || layer.material->conductivity <= 0.0) return 0.0;
    return layer.thickness.metres() / layer.material->conductivity;
}

std::string words_of(const Tightness& tight, const Pressures& pressures, double fan, double concentration) {
    std::string out = fmt::format(
        "air leaks by stack and wind at {:.2f} m3/(h m2) at 50 Pa ({}), evenly and {:.2g} times as strong at "
        "the "
        "joint under the upper ceiling",
        3600.0 * tight.at_50_pa, tight.from, concentration);
    if (fan != 0.0) out += fmt::format(", with {:g} Pa from the fans", fan);
    if (pressures.imbalance != 0.0)
        out += fmt::format(", with fans that {} {:.3g} L/s more than they {}",
                           pressures.imbalance > 0.0 ? "blow in" : "draw out",
                           1000.0 * std::abs(pressures.imbalance),
                           pressures.imbalance > 0.0 ? "draw out" : "blow in");
    if (pressures.envelope.assumed) out += ", in a two-storey house";
    return out;
}

}  // namespace

double outer_permeance(const assembly::Assembly& a) {
    std::size_t core = 0;
    for (std::size_t i = 1; i < a.layers.size(); ++i)
        if (resistance(a.layers[i]) > resistance(a.layers[core])) core = i;
    double z = 0.0;
    for (std::size_t i = core + 1; i < a.layers.size(); ++i) {
        const Layer& layer = a.layers[i];
        if (layer.ventilated()) break;
        if (layer.kind == Layer::Kind::membrane) z += 1.0 / material::permeance(*layer.membrane, 0.5);
        if (layer.kind == Layer::Kind::material)
            z += layer.thickness.metres() / material::vapour_permeability(*layer.material, 0.5);
    }
    return z > 0.0 ? 1.0 / z : std::numeric_limits<double>::infinity();
}

namespace {}  // namespace

double flow_at(double pressure_difference, double at_50_pa, double exponent) {
    return std::copysign(at_50_pa * std::pow(std::abs(pressure_difference) / 50.0, exponent),
                         pressure_difference);
}

Result<Tightness> tightness_of(const assembly::House& house, const assembly::Assembly& assembly,
                               const Envelope& envelope, const HouseTightness* whole) {
    const auto& given = defaults();
    if (!given) return fail(given.error());
    Tightness out{.exponent = given->exponent, .origin = house.air.origin};
    if (house.air.leakage >= 0.0) {
        out.at_50_pa = house.air.leakage;
        out.from = "as stated";
    } else if (whole) {
        out.at_50_pa = given->through_assemblies * whole->at_50_pa / leaky_area(envelope);
        out.exponent = whole->exponent;
        out.from = "of the whole house " + whole->words;
        out.origin = whole->origin;
    } else if (house.air.blower_door >= 0.0) {
        out.at_50_pa =
            given->through_assemblies * house.air.blower_door * envelope.volume / leaky_area(envelope);
        out.from = "from the blower door";
    } else {
        const double permeance = outer_permeance(assembly);
        const auto above = std::upper_bound(given->permeance.begin(), given->permeance.end(), permeance);
        const auto row = static_cast<std::size_t>(above - given->permeance.begin());
        out.at_50_pa = given->at_75_pa[row] * std::pow(50.0 / 75.0, out.exponent);
        out.from = fmt::format("assumed: the Canadian limit where the outside passes {} {:.0f} ng/(s m2 Pa)",
                               row < given->permeance.size() ? "up to" : "over",
                               given->permeance[std::min(row, given->permeance.size() - 1)] / ng);
        out.origin = given->assembly;
    }
    return out;
}

Result<AirFlow> air_flow(const assembly::House& house, const assembly::Assembly& assembly,
                         const climate::Plane& face, const Pressures& pressures,
                         const HouseTightness* whole) {
    const Envelope& e = pressures.envelope;
    auto tight = tightness_of(house, assembly, e, whole);
    if (!tight) return fail(tight.error());
    const double concentration = defaults()->concentration();
    AirFlow out{.tightness = std::move(*tight)};
    out.assumes = words_of(out.tightness, pressures, house.air.fan, concentration);
    const bool slope = face.tilt < steepest_slope;
    const auto flow = [&](double height, double factor) {
        auto values = across(pressures, face, height);
        for (double& v : values) v = factor * flow_at(v, out.tightness.at_50_pa, out.tightness.exponent);
        return values;
    };
    out.spread = flow(slope ? e.top_height : e.upper_floor + 0.5 * e.upper_height, 1.0);
    out.concentrated = flow(slope ? e.top_height : e.upper_floor + e.upper_height, concentration);
    double sum = 0.0, count = 0.0;
    for (std::size_t i = 0; i < out.spread.size(); ++i) {
        const int hour = static_cast<int>(i);
        if (hour >= climate::first_hour_of(2) && hour < climate::first_hour_of(11)) continue;
        sum += out.spread[i];
        ++count;
    }
    out.outward_winter = sum / count;
    return out;
}

Result<AirFlow> air_flow(const assembly::House& house, const assembly::Assembly& assembly,
                         const climate::Plane& face, const climate::Year& year,
                         const climate::Indoor& indoor) {
    const auto made = pressures(house, year, indoor);
    if (!made) return fail(made.error());
    return air_flow(house, assembly, face, *made);
}

}  // namespace warmside::leakage
