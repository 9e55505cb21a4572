#include "house/ground_contact.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace warmside::house {

namespace {

constexpr double most_soil = 0.5;               // m
constexpr double month = hours_in_year / 12.0;  // h
constexpr double turn = 2.0 * std::numbers::pi / hours_in_year;

}  // namespace

Result<GroundContact> ground_contact(const Chain& layers, const Soil& soil, double u, double swing,
                                     bool steady, double fineness) {
    GroundContact out{
        .chain = layers, .boundary = {.name = "ground", .conductance = {}, .temperature = {}}, .u = u};
    const double path = 1.0 / u - layers.inside_film - layers.resistance();
    if (!(path > 0.0))
        return fail(Code::out_of_range,
                    fmt::format("a floor or wall of {:.3f} W/(m2 K) leaves no resistance to the ground", u));
    const double thickness = std::min(most_soil, 0.5 * path * soil.soil.conductivity);
    extend(out.chain, {soil.soil.conductivity, soil.soil.heat_capacity, thickness}, fineness);
    out.chain.outside_film = path - thickness / soil.soil.conductivity;
    out.boundary.conductance.constant = 1.0 / out.chain.outside_film;
    const double amplitude = soil.air.amplitude * std::min(1.0, swing / u);
    if (steady) {
        out.boundary.temperature.constant = soil.air.mean - amplitude;
        return out;
    }
    for (int h = 0; h < hours_in_year; ++h)
        out.boundary.temperature.hourly.push_back(
            soil.air.mean - amplitude * std::cos(turn * (h + 0.5 - soil.air.coldest - month)));
    return out;
}

}  // namespace warmside::house
