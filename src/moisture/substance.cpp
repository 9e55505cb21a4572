#include "moisture/substance.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "moisture/potential.h"

namespace warmside::moisture {
namespace {

using numerics::Tables;

// Three-point Gauss rule on [0, 1].
constexpr double gauss_at[] = {0.1127016653792583, 0.5, 0.8872983346207417};
constexpr double gauss_weight[] = {5.0 / 18.0, 8.0 / 18.0, 5.0 / 18.0};

struct Grid {
    std::vector<double> u, theta, slope;  // slope: d theta/d u
};

const Grid& grid() {
    static const Grid made = [] {
        Grid g;
        const double first = lowest_potential();
        const double spacing = (highest_potential() - first) / table_intervals;
        for (int i = 0; i <= table_intervals; ++i) {
            g.u.push_back(first + spacing * i);
            g.theta.push_back(theta_of(g.u.back()));
            g.slope.push_back(theta_slope(g.theta.back()));
        }
        return g;
    }();
    return made;
}

// Beyond free saturation the pores fill up to `most` within 0.5 of u, and go on (straight, past the table's
// end too) so that the solver never meets an end: what is too much shows as over-full pores and runs off at
// outer faces. At least 200 kg/m3 over 1 of u: dew on metal and glass needs a place.
double water_at(const Functions& f, double u, double theta) {
    const double over = u - full_potential();
    if (over <= 1e-12) return f.water(theta);
    return f.water(wettest_theta) + over * std::max(f.most - f.saturation, 100.0) / 0.5;
}

std::vector<double> matric_potential(const Functions& f, const std::vector<double>& w,
                                     std::vector<double>& slope) {
    const Grid& g = grid();
    std::vector<double> sum(g.u.size(), 0.0);
    slope.assign(g.u.size(), 0.0);
    const std::vector<double> w_slope = numerics::monotone_slopes(g.u, w);
    for (std::size_t i = 0; i < g.u.size(); ++i) {
        const bool over = g.u[i] > full_potential() + 1e-12;
        if (over) {
            sum[i] = sum[i - 1];
            continue;
        }
        slope[i] = f.diffusivity ? f.diffusivity(w[i]) * w_slope[i]
                                 : -f.liquid_conductivity(w[i]) * suction_scale * g.slope[i];
        if (i == 0) continue;
        double piece = 0.0;
        for (int k = 0; k < 3; ++k) {
            if (f.diffusivity) {
                piece += gauss_weight[k] * f.diffusivity(w[i - 1] + gauss_at[k] * (w[i] - w[i - 1])) *
                         (w[i] - w[i - 1]);
            } else {
                const double u = g.u[i - 1] + gauss_at[k] * (g.u[i] - g.u[i - 1]);
                const double theta = theta_of(u);
                piece -= gauss_weight[k] * f.liquid_conductivity(f.water(theta)) * suction_scale *
                         theta_slope(theta) * (g.u[i] - g.u[i - 1]);
            }
        }
        sum[i] = sum[i - 1] + piece;
    }
    return sum;
}

}  // namespace

Substance tabulate(const Functions& f) {
    const Grid& g = grid();
    const std::size_t n = g.u.size();
    std::vector<double> w(n), vapour(n), conductivity(n), freezable(n), humidity(n), humidity_slope(n);
    // Water held tighter than at 95 % relative humidity does not freeze in the range of building climates:
    // freezing point depression by the Kelvin relation is above 5 K there.
    const double bound = f.water(-std::log(0.95));
    for (std::size_t i = 0; i < n; ++i) {
        humidity[i] = std::exp(-g.theta[i]);
        humidity_slope[i] = -humidity[i] * g.slope[i];
        w[i] = water_at(f, g.u[i], g.theta[i]);
        vapour[i] = f.vapour(std::max(g.theta[i], wettest_theta));
        conductivity[i] = f.conductivity(std::min(w[i], f.most > 0.0 ? f.most : w[i]));
        freezable[i] = f.freezes ? std::max(0.0, w[i] - bound) : 0.0;
    }
    Substance s;
    s.name = f.name;
    s.saturation = f.saturation;
    s.heat_capacity = f.heat_capacity;
    s.conductivity_factor = f.conductivity_factor;
    s.vapour_by_temperature = f.vapour_by_temperature;
    s.capillary = f.diffusivity || f.liquid_conductivity;
    s.tables = Tables(lowest_potential(), highest_potential(), table_intervals);
    s.tables.set_bent(Substance::water, w, full_interval);
    s.tables.set(Substance::vapour, vapour);
    s.tables.set(Substance::conductivity, conductivity);
    s.tables.set(Substance::theta, g.theta, g.slope);
    s.tables.set(Substance::humidity, humidity, humidity_slope);
    s.tables.set_bent(Substance::freezable, freezable, full_interval);
    if (s.capillary) {
        std::vector<double> slope;
        const std::vector<double> sum = matric_potential(f, w, slope);
        s.tables.set(Substance::liquid, sum, slope);
    }
    return s;
}

Substance tabulate(const material::Material& m) {
    Functions f;
    f.name = m.name;
    // The vapour in the pores' air is the least that any material stores (saturation at 20 degC, 0.0173
    // kg/m3).
    const double pore_vapour = 0.0173 * std::max(m.porosity, 0.1);
    f.water = [&m, pore_vapour](double theta) {
        const double humidity = std::exp(-theta);
        return material::moisture_content(m, humidity) + pore_vapour * humidity;
    };
    f.saturation = f.water(wettest_theta);
    f.most = std::max(1000.0 * m.porosity, 1.02 * f.saturation);
    f.vapour = [&m](double theta) { return material::vapour_permeability(m, std::exp(-theta)); };
    if (m.absorption > 0.0) f.diffusivity = [&m](double w) { return material::liquid_diffusivity(m, w); };
    f.conductivity = [&m](double w) { return material::conductivity(m, conductivity_temperature, w); };
    f.conductivity_factor = m.temperature_factor;
    f.heat_capacity = m.density * m.specific_heat;
    f.freezes = m.absorption > 0.0 || m.free_saturation > 0.0;
    return tabulate(f);
}

Tables resistance_of(std::span<const material::Membrane* const> membranes, double fixed) {
    constexpr int intervals = 400;
    std::vector<double> resistance(intervals + 1, fixed);
    for (int i = 0; i <= intervals; ++i) {
        for (const material::Membrane* m : membranes)
            resistance[static_cast<std::size_t>(i)] += 1.0 / material::permeance(*m, double(i) / intervals);
    }
    Tables tables(0.0, 1.0, intervals);
    tables.set(0, resistance);
    return tables;
}

Substance cavity_air() {
    Functions f;
    f.name = "cavity air";
    f.water = [](double theta) { return 0.1 * std::exp(-theta); };
    f.saturation = 0.1;
    f.most = 1.0;
    f.vapour = [](double) { return 1.9e-10; };
    f.conductivity = [](double) { return 0.025; };
    f.heat_capacity = 1.2 * air_heat;
    f.freezes = false;
    return tabulate(f);
}

Substance clinging_film() {
    Functions f;
    f.name = "water film";
    // Filled evenly over the last decades of suction; the trace below keeps the balance solvable when dry.
    f.water = [](double theta) {
        const double full =
            std::log(0.02 / std::clamp(theta, wettest_theta, 0.02)) / std::log(0.02 / wettest_theta);
        return 100.0 * full + 0.5 * std::exp(-theta);
    };
    f.saturation = 100.5;
    f.most = 120.0;
    f.vapour = [](double) { return 1.9e-10; };
    f.conductivity = [](double) { return 0.6; };
    f.heat_capacity = 5.0e5;
    Substance film = tabulate(f);
    film.capillary = true;
    return film;
}

}  // namespace warmside::moisture
