// What one lane does by itself: membranes, exchanges with the surroundings, the stabilisation of air flow.
#include <algorithm>
#include <cmath>

#include "moisture/lanes.h"
#include "moisture/potential.h"

namespace warmside::moisture {

template <int L>
void Lanes<L>::membranes(int lane, const Column& c) {
    for (const int j : c.membrane_links) {
        const Link& link = c.links[static_cast<std::size_t>(j)];
        const std::size_t i = static_cast<std::size_t>(j) * L + static_cast<std::size_t>(lane), next = i + L;
        const auto [resistance, slope] = link.membrane->at(0, 0.5 * (humidity_[i] + humidity_[next]));
        // Air past a tight membrane: upwind, the limit of the exponential profile.
        const double upwind =
            link.carries_air ? 0.5 * carried_vapour * std::abs(air_[static_cast<std::size_t>(lane)]) : 0.0;
        const double conductance = std::max(link.area / resistance, upwind);
        const double by_mean = conductance > upwind ? -conductance * conductance * slope / link.area : 0.0;
        vapour_[i] = conductance;
        vapour_left_[i] = 0.5 * by_mean * humidity_u_[i];
        vapour_right_[i] = 0.5 * by_mean * humidity_u_[next];
    }
}

template <int L>
void Lanes<L>::exchange(int lane, const Column& c, const Hour& hour) {
    const auto l = static_cast<std::size_t>(lane);
    const double latent = latent_[l];
    if (c.source) supply(lane, c);
    for (std::size_t e = 0; !c.source && e < c.exchanges.size(); ++e) {
        const std::size_t i = static_cast<std::size_t>(c.exchanges[e].node) * L + l;
        source_e_[i] = source_et_[i] = source_eu_[i] = source_w_[i] = source_wt_[i] = source_wu_[i] = 0.0;
    }
    for (std::size_t e = 0; e < c.exchanges.size(); ++e) {
        const Exchange& x = c.exchanges[e];
        const Ambient& a = hour.ambient[e];
        const std::size_t i = static_cast<std::size_t>(x.node) * L + l;
        const double T = temperature[i], t = T - freezing;
        Flow f;
        // Vapour by film and by air: air that comes in brings the room's vapour, air that leaves the node's.
        const double entering = x.kind == Exchange::Kind::inside ? hour.air : -hour.air;
        const double air = x.takes_air ? entering : 0.0;
        const double in = std::max(air, 0.0), out = std::max(-air, 0.0);
        const bool drawn = x.draught.openings > 0.0;
        double heat_film = a.heat_film, vapour_film = a.vapour_film;
        double flow_t = 0.0, flow_u = 0.0, through = 1.0;  // of a draught, by T and u of its node
        if (drawn) {
            const Draw q = draw(x.draught, a.temperature, a.vapour_pressure, T, pressure[i], a.wind_square);
            // Beyond the arm of a space's star the flow and a loss lead outdoors.
            const double beyond = q.flow * cavity_air_density * air_heat + a.loss;
            through = 1.0 / (1.0 + a.arm * beyond);
            heat_film = beyond * through;
            vapour_film = q.flow / (vapour_constant * a.temperature);
            flow_t = q.by_temperature + q.by_vapour * pressure_t_[i];
            flow_u = q.by_vapour * pressure_u_[i];
        }
        const double leave = vapour_film + out * carried_vapour;
        f.water =
            vapour_film * a.vapour_pressure + in * carried_vapour * a.vapour_pressure - leave * pressure[i];
        f.water_t = -leave * pressure_t_[i];
        f.water_u = -leave * pressure_u_[i];
        if (drawn) {
            const double by_flow = (a.vapour_pressure - pressure[i]) / (vapour_constant * a.temperature);
            f.water_t += flow_t * by_flow;
            f.water_u += flow_u * by_flow;
        }
        // It brings the heat content of where it comes from.
        const bool arrives = f.water > 0.0;
        const double enthalpy = latent + vapour_heat_[l] * (arrives ? a.temperature - freezing : t);
        f.energy = f.water * enthalpy;
        f.energy_t = f.water_t * enthalpy + (arrives ? 0.0 : f.water * vapour_heat_[l]);
        f.energy_u = f.water_u * enthalpy;
        f.energy +=
            heat_film * (a.temperature - T) + air_heat * (in * (a.temperature - freezing) - out * t) + a.sun;
        f.energy_t -= heat_film + air_heat * out;
        if (drawn) {
            const double by_flow = cavity_air_density * air_heat * through * through * (a.temperature - T);
            f.energy_t += flow_t * by_flow;
            f.energy_u += flow_u * by_flow;
        }
        if (a.emission > 0.0) {
            const double T2 = T * T, r2 = a.radiant * a.radiant;
            f.energy += a.emission * (r2 * r2 - T2 * T2);
            f.energy_t -= 4.0 * a.emission * T2 * T;
        }
        const Substance& substance = *c.nodes[static_cast<std::size_t>(x.node)].substance;
        if (a.rain > 0.0 && substance.capillary) {
            // Taken whole until suction falls below some 40 kPa, then less and less: the rest runs off.
            const double room = (full_potential() - potential[i]) / 0.1;
            const double share = std::min(std::max(room, 0.0), 1.0);
            f.rain = a.rain * share;
            f.rain_u = room > 0.0 && room < 1.0 ? -a.rain / 0.1 : 0.0;
            const double heat = water_heat_[l] * (a.temperature - freezing);
            f.water += f.rain;
            f.water_u += f.rain_u;
            f.energy += heat * f.rain;
            f.energy_u += heat * f.rain_u;
        }
        if (a.hold > 0.0) {
            const double water_in = a.hold * (a.held - potential[i]);
            f.water += water_in;
            f.water_u -= a.hold;
            f.energy += water_heat_[l] * t * water_in;
            f.energy_t += water_heat_[l] * water_in;
            f.energy_u -= water_heat_[l] * t * a.hold;
        }
        if (x.drains) {
            const double surplus = water[i] - volume_[i] * substance.saturation;
            if (surplus > 0.0) {
                f.drain = surplus / 600.0;
                f.drain_u = water_u_[i] / 600.0;
                f.water -= f.drain;
                f.water_u -= f.drain_u;
                f.energy -= f.drain * water_heat_[l] * t;
                f.energy_t -= f.drain * water_heat_[l];
                f.energy_u -= f.drain_u * water_heat_[l] * t;
            }
        }
        flows[l][e] = f;
        source_e_[i] += f.energy;
        source_et_[i] += f.energy_t;
        source_eu_[i] += f.energy_u;
        source_w_[i] += f.water;
        source_wt_[i] += f.water_t;
        source_wu_[i] += f.water_u;
    }
}

template <int L>
void Lanes<L>::settle_air(int lane, const Column& c, double air) {
    const auto l = static_cast<std::size_t>(lane);
    if (air == 0.0 && air_[l] == 0.0) return;
    air_[l] = air;
    // With Pe the cell's Peclet number, D (Pe/2) coth(Pe/2) makes the central scheme exact for constant
    // coefficients.
    const auto stabilise = [](double peclet) {
        const double h = 0.5 * std::abs(peclet);
        if (h < 1e-4) return 1.0;
        return h > 300.0 ? h : h / std::tanh(h);
    };
    for (std::size_t j = 0; j < c.links.size(); ++j) {
        const std::size_t i = j * L + l, next = i + L;
        const Link& link = c.links[j];
        if (!link.carries_air) continue;
        air_link_[i] = air;
        if (link.inverse_spacing == 0.0) {
            if (!link.membrane) vapour_[i] = link.vapour * stabilise(air * carried_vapour / link.vapour);
            heat_[i] = link.heat * stabilise(air * air_heat / link.heat);
            continue;
        }
        const double d = 0.5 * (delta_[i] + delta_[next]) * link.inverse_spacing;
        const double k = 0.5 * (lambda_[i] + lambda_[next]) * link.inverse_spacing;
        air_vapour_[i] = stabilise(air * carried_vapour / d);
        air_heat_[i] = stabilise(air * air_heat / k);
    }
}

template void Lanes<8>::membranes(int, const Column&);
template void Lanes<1>::membranes(int, const Column&);
template void Lanes<8>::exchange(int, const Column&, const Hour&);
template void Lanes<1>::exchange(int, const Column&, const Hour&);
template void Lanes<8>::settle_air(int, const Column&, double);
template void Lanes<1>::settle_air(int, const Column&, double);

}  // namespace warmside::moisture
