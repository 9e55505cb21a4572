#include "house/glass.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <functional>
#include <numbers>

namespace warmside::house {

namespace {

constexpr double stefan_boltzmann = 5.670374419e-8;  // W/(m2 K4)
constexpr double gravity = 9.81;
constexpr double degree = std::numbers::pi / 180.0;

// Of one pane in one polarisation.
struct Sheet {
    double transmittance, reflectance;
};

// cosine a of incidence, in air; `across`: the electric field across the plane of incidence (s).
Sheet sheet_of(const Pane& pane, double cosine, bool across) {
    const double n = pane.refractive_index;
    const double inside = std::sqrt(1.0 - (1.0 - cosine * cosine) / (n * n));  // cos b
    // The same as the ratios of sines and tangents, and good at normal incidence.
    const double amplitude = across ? (cosine - n * inside) / (cosine + n * inside)
                                    : (n * cosine - inside) / (n * cosine + inside);
    const double r = amplitude * amplitude;
    const double t = std::exp(-pane.extinction * pane.thickness / inside);
    const double through = t * (1.0 - r) * (1.0 - r) / (1.0 - r * r * t * t);
    return {through, r * (1.0 + t * through)};
}

// One polarisation through the stack: reflectances of all that lies behind, then fluxes from outside inward.
Optics stack(const Glazing& glazing, double cosine, bool across) {
    const std::size_t n = glazing.panes.size();
    std::vector<Sheet> sheets;
    for (const Pane& pane : glazing.panes) sheets.push_back(sheet_of(pane, cosine, across));
    std::vector<double> behind(n + 1, 0.0);  // reflectance of panes i to n seen from outside
    for (std::size_t i = n; i-- > 0;) {
        const auto [t, r] = sheets[i];
        behind[i] = r + t * t * behind[i + 1] / (1.0 - r * behind[i + 1]);
    }
    Optics out{.reflectance = behind[0]};
    double inward = 1.0;
    for (std::size_t i = 0; i < n; ++i) {
        const auto [t, r] = sheets[i];
        const double passed = t * inward / (1.0 - r * behind[i + 1]);
        const double back = passed * behind[i + 1];
        out.absorptance.push_back((1.0 - t - r) * (inward + back));
        inward = passed;
    }
    out.transmittance = inward;
    return out;
}

void add(Optics& sum, const Optics& part, double weight) {
    sum.transmittance += weight * part.transmittance;
    sum.reflectance += weight * part.reflectance;
    sum.absorptance.resize(part.absorptance.size());
    for (std::size_t i = 0; i < part.absorptance.size(); ++i)
        sum.absorptance[i] += weight * part.absorptance[i];
}

// W/(m2 K) between faces of a gap at temperatures a and b.
double radiation_between(double a, double b, double emissivity_a, double emissivity_b) {
    return stefan_boltzmann * (a * a + b * b) * (a + b) / (1.0 / emissivity_a + 1.0 / emissivity_b - 1.0);
}

double rayleigh(const GasProperties& gas, double thickness, double mean, double difference) {
    return gas.density * gas.density * std::pow(thickness, 3) * gravity * gas.specific_heat * difference /
           (mean * gas.viscosity * gas.conductivity);
}

double gap_conductance(const Gap& gap, double outer, double inner, double emissivity_outer,
                       double emissivity_inner, double height) {
    const double mean = 0.5 * (outer + inner);
    const GasProperties gas = properties_of(gap.gas, mean);
    const double Ra = rayleigh(gas, gap.thickness, mean, std::abs(outer - inner));
    return nusselt(Ra, height / gap.thickness) * gas.conductivity / gap.thickness +
           radiation_between(outer, inner, emissivity_outer, emissivity_inner);
}

// Natural convection at an upright inner pane. Source: iso-15099, 8.3.2.2 (memory), 90 degrees: below the
// critical Rayleigh number 2.5e5 (e^(0.72 x 90))^(1/5) Nu = 0.56 Ra^(1/4).
double natural_inside(double pane, double air, double height) {
    const double mean = air + 0.25 * (pane - air);
    const GasProperties gas = properties_of(Gas::air, mean);
    const double Ra = rayleigh(gas, height, mean, std::max(1e-6, std::abs(pane - air)));
    static const double critical = 2.5e5 * std::pow(std::exp(0.72 * 90.0), 0.2);
    const double Nu = Ra <= critical
                          ? 0.56 * std::pow(Ra, 0.25)
                          : 0.13 * (std::cbrt(Ra) - std::cbrt(critical)) + 0.56 * std::pow(critical, 0.25);
    return Nu * gas.conductivity / height;
}

// Norton's sources at the two faces for heat set free in the panes.
struct FaceShares {
    double inner = 0.0, outer = 0.0;
};
FaceShares to_faces(const std::vector<double>& absorptance, const GlazingHeat& heat) {
    FaceShares out;
    const double first = 1.0 / heat.outside;
    const double whole = 1.0 / heat.conductance;
    for (std::size_t i = 0; i < absorptance.size(); ++i) {
        const double inward = std::clamp((heat.resistance_outward[i] - first) / whole, 0.0, 1.0);
        out.inner += absorptance[i] * inward;
        out.outer += absorptance[i] * (1.0 - inward);
    }
    return out;
}

double gain_of(const Optics& optics, const GlazingHeat& heat) {
    double gain = optics.transmittance;
    for (std::size_t i = 0; i < optics.absorptance.size(); ++i)
        gain += optics.absorptance[i] * heat.u * heat.resistance_outward[i];
    return gain;
}

// 2 integral f(mu) mu dmu by midpoints of the angle.
double half_space(const std::function<double(double)>& f) {
    constexpr int steps = 180;
    constexpr double step = 0.5 * std::numbers::pi / steps;
    double sum = 0.0, weights = 0.0;
    for (int i = 0; i < steps; ++i) {
        const double angle = (i + 0.5) * step;
        const double weight = std::sin(2.0 * angle);
        sum += weight * f(std::cos(angle));
        weights += weight;
    }
    return sum / weights;
}

}  // namespace

Result<void> check(const Glazing& glazing) {
    if (glazing.panes.empty()) return fail(Code::incomplete, "a glazing needs a pane");
    if (glazing.gaps.size() + 1 != glazing.panes.size())
        return fail(Code::incomplete, fmt::format("{} panes need {} gaps, not {}", glazing.panes.size(),
                                                  glazing.panes.size() - 1, glazing.gaps.size()));
    const auto share = [](double e) { return e > 0.0 && e <= 1.0; };
    for (std::size_t i = 0; i < glazing.panes.size(); ++i) {
        const Pane& p = glazing.panes[i];
        // Asked this way round so that NaN is refused too.
        if (!(p.thickness > 0.0 && p.refractive_index > 1.0 && p.extinction >= 0.0 && p.conductivity > 0.0 &&
              share(p.emissivity_outer) && share(p.emissivity_inner)))
            return fail(Code::out_of_range, fmt::format("pane {} from outside cannot be glass", i + 1));
    }
    for (std::size_t i = 0; i < glazing.gaps.size(); ++i) {
        if (!(glazing.gaps[i].thickness > 0.0))
            return fail(Code::out_of_range, fmt::format("gap {} from outside has no thickness", i + 1));
    }
    return {};
}

Optics optics(const Glazing& glazing, double cosine) {
    const double mu = std::clamp(cosine, 0.0, 1.0);
    Optics out;
    if (mu < 1e-9) {  // grazing: nothing enters
        out.reflectance = 1.0;
        out.absorptance.assign(glazing.panes.size(), 0.0);
        return out;
    }
    add(out, stack(glazing, mu, true), 0.5);
    add(out, stack(glazing, mu, false), 0.5);
    return out;
}

Optics diffuse_optics(const Glazing& glazing) {
    Optics out;
    out.transmittance = half_space([&](double mu) { return optics(glazing, mu).transmittance; });
    out.reflectance = half_space([&](double mu) { return optics(glazing, mu).reflectance; });
    for (std::size_t i = 0; i < glazing.panes.size(); ++i)
        out.absorptance.push_back(half_space([&](double mu) { return optics(glazing, mu).absorptance[i]; }));
    return out;
}

GasProperties properties_of(Gas gas, double temperature) {
    constexpr double universal = 8314.46;  // J/(kmol K)
    constexpr double pressure = 101325.0;
    const double T = temperature;
    const double density_per_mass = pressure / (universal * T);
    if (gas == Gas::air)
        return {2.873e-3 + 7.760e-5 * T, 3.723e-6 + 4.940e-8 * T, 1002.737 + 1.2324e-2 * T,
                28.97 * density_per_mass};
    return {2.285e-3 + 5.149e-5 * T, 3.379e-6 + 6.451e-8 * T, 521.9285, 39.948 * density_per_mass};
}

double nusselt(double rayleigh, double slenderness) {
    const double Ra = rayleigh;
    const double first = Ra > 5e4   ? 0.0673838 * std::cbrt(Ra)
                         : Ra > 1e4 ? 0.028154 * std::pow(Ra, 0.4134)
                                    : 1.0 + 1.7596678e-10 * std::pow(Ra, 2.2984755);
    return std::max(first, 0.242 * std::pow(Ra / slenderness, 0.272));
}

Result<GlazingHeat> heat_through(const Glazing& glazing, const Sides& sides) {
    if (auto good = check(glazing); !good) return fail(good.error());
    const std::size_t n = glazing.panes.size();
    // Nodes: the middle of each pane, whose half thickness belongs to the resistance on either side.
    std::vector<double> temperature(n);
    for (std::size_t i = 0; i < n; ++i)
        temperature[i] = sides.outdoors + (sides.indoors - sides.outdoors) * (static_cast<double>(i) + 0.5) /
                                              static_cast<double>(n);
    std::vector<double> sun(n, 0.0);
    if (sides.sun > 0.0) {
        sun = optics(glazing, 1.0).absorptance;
        for (double& each : sun) each *= sides.sun;
    }
    const auto half = [&](std::size_t i) {
        return 0.5 * glazing.panes[i].thickness / glazing.panes[i].conductivity;
    };
    GlazingHeat out;
    for (int pass = 0; pass < 200; ++pass) {
        const Pane &first = glazing.panes.front(), &last = glazing.panes.back();
        const double inner_film = sides.convection_inside >= 0.0
                                      ? sides.convection_inside
                                      : natural_inside(temperature.back(), sides.indoors, sides.height);
        out.outside = sides.convection_outside +
                      radiation_between(sides.outdoors, temperature.front(), 1.0, first.emissivity_outer);
        out.inside =
            inner_film + radiation_between(sides.indoors, temperature.back(), 1.0, last.emissivity_inner);
        out.gaps.clear();
        out.resistance_outward.assign(1, 1.0 / out.outside + half(0));
        for (std::size_t i = 0; i + 1 < n; ++i) {
            out.gaps.push_back(gap_conductance(glazing.gaps[i], temperature[i], temperature[i + 1],
                                               glazing.panes[i].emissivity_inner,
                                               glazing.panes[i + 1].emissivity_outer, sides.height));
            out.resistance_outward.push_back(out.resistance_outward.back() + half(i) + 1.0 / out.gaps[i] +
                                             half(i + 1));
        }
        const double whole = out.resistance_outward.back() + half(n - 1) + 1.0 / out.inside;
        out.u = 1.0 / whole;
        out.conductance = 1.0 / (whole - 1.0 / out.outside - 1.0 / out.inside);
        // Linear for these conductances: the difference's share, and each pane's sun by reciprocity.
        double moved = 0.0;
        for (std::size_t i = 0; i < n; ++i) {
            const double from_outside = out.resistance_outward[i];
            double t = sides.outdoors + (sides.indoors - sides.outdoors) * from_outside / whole;
            for (std::size_t k = 0; k < n; ++k) {
                const double near = std::min(from_outside, out.resistance_outward[k]);
                const double far = std::max(from_outside, out.resistance_outward[k]);
                t += sun[k] * near * (whole - far) / whole;
            }
            moved = std::max(moved, std::abs(t - temperature[i]));
            temperature[i] += 0.7 * (t - temperature[i]);
        }
        if (moved < 1e-7) return out;
    }
    return fail(Code::not_converged, "the temperatures of the panes did not settle");
}

double SolarBehaviour::at(const std::array<double, 91>& table, double cosine) {
    if (!(cosine > 0.0)) return 0.0;
    const double angle = std::acos(std::min(1.0, cosine)) / degree;
    const auto below = std::min<std::size_t>(89, static_cast<std::size_t>(angle));
    const double rest = angle - static_cast<double>(below);
    return table[below] + rest * (table[below + 1] - table[below]);
}

Result<SolarBehaviour> behaviour(const Glazing& glazing, const Sides& sides) {
    const auto heat = heat_through(glazing, sides);
    if (!heat) return fail(heat.error());
    SolarBehaviour out{.u = heat->u, .conductance = heat->conductance};
    for (std::size_t angle = 0; angle <= 90; ++angle) {
        const Optics at = optics(glazing, std::cos(static_cast<double>(angle) * degree));
        const FaceShares faces = to_faces(at.absorptance, *heat);
        out.transmitted[angle] = at.transmittance;
        out.inner[angle] = faces.inner;
        out.outer[angle] = faces.outer;
        if (angle == 0) out.gain = gain_of(at, *heat);
    }
    const Optics diffuse = diffuse_optics(glazing);
    const FaceShares faces = to_faces(diffuse.absorptance, *heat);
    out.transmitted_diffuse = diffuse.transmittance;
    out.inner_diffuse = faces.inner;
    out.outer_diffuse = faces.outer;
    return out;
}

Result<SolarBehaviour> behaviour(double u, double gain, int panes, double q) {
    const double films = 1.0 / rated_inside + 1.0 / rated_outside;
    if (!(u > 0.0 && u * films < 1.0))
        return fail(
            Code::out_of_range,
            fmt::format("a window's U of {} W/(m2 K) is not above 0 and below {:.2f}", u, 1.0 / films));
    if (!(gain >= 0.0 && gain <= 1.0))
        return fail(Code::out_of_range,
                    fmt::format("a solar heat gain coefficient of {} is not 0 to 1", gain));
    if (!(panes >= 0 && panes <= 4 && q >= 1.0 && q <= 10.0))
        return fail(Code::out_of_range, "the angle's formula takes 1 to 4 panes and categories 1 to 10");
    const double p = panes > 0 ? panes : u > 4.5 ? 1 : u > 1.5 ? 2 : 3;
    // karlsson-roos-2000
    const double a = 8.0, b = 0.25 / q, c = 1.0 - a - b;
    const double A = 5.2 + 0.7 * q, C = 5.26 + 0.06 * p + (0.73 + 0.04 * p) * q;
    const auto share = [&](double angle) {
        const double z = angle / 90.0;
        return std::max(0.0, 1.0 - a * std::pow(z, A) - b * z * z - c * std::pow(z, C));
    };
    SolarBehaviour out{.u = u, .conductance = 1.0 / (1.0 / u - films), .gain = gain};
    // Heat set free at the inner face of which 1 - U/h_i comes in.
    const double inner = (1.0 - transmitted_share) * gain / (1.0 - u / rated_inside);
    for (std::size_t angle = 0; angle <= 90; ++angle) {
        const double s = share(static_cast<double>(angle));
        out.transmitted[angle] = transmitted_share * gain * s;
        out.inner[angle] = inner * s;
    }
    const double diffuse = half_space([&](double mu) { return share(std::acos(mu) / degree); });
    out.transmitted_diffuse = transmitted_share * gain * diffuse;
    out.inner_diffuse = inner * diffuse;
    return out;
}

}  // namespace warmside::house
