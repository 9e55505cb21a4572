#include "moisture/monthly.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "moisture/surface.h"

namespace warmside::moisture {

namespace {

constexpr double thickest_slice = 0.25;  // m2 K/W, iso-13788-2012 clause 6
constexpr std::array<int, 12> days{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};

std::optional<Problem> complaint(std::span<const SteadyLayer> layers, const SteadyAir& inside,
                                 const SteadyAir& outside) {
    const auto say = [](std::string what) {
        return Problem{.code = Code::out_of_range, .what = std::move(what)};
    };
    double heat = 0.0, vapour = 0.0;
    for (std::size_t i = 0; i < layers.size(); ++i) {
        // Asked this way round so that NaN is refused too.
        const bool sound = layers[i].resistance >= 0.0 && layers[i].vapour_resistance >= 0.0;
        if (!sound) return say(fmt::format("layer {} has a negative resistance", i + 1));
        heat += layers[i].resistance;
        vapour += layers[i].vapour_resistance;
    }
    if (!(heat > 0.0 && vapour > 0.0 && std::isfinite(heat) && std::isfinite(vapour)))
        return say("the layers have no resistance to heat or to vapour, or an endless one");
    for (const auto* air : {&inside, &outside}) {
        const double most = saturation_iso13788(air->temperature);
        // A relative humidity of 1 may come rounded.
        const bool possible = air->vapour_pressure >= 0.0 && air->vapour_pressure <= most * (1.0 + 1e-6);
        if (!possible)
            return say(fmt::format("{} air holds {:g} Pa of vapour, outside 0 to {:g} Pa",
                                   air == &inside ? "indoor" : "outdoor", air->vapour_pressure, most));
    }
    return std::nullopt;
}

/// Pressure between two fixed planes: the lower convex hull of saturation over the vapour resistance z.
void stretch(std::span<const double> z, std::span<const double> saturation, std::size_t first,
             std::size_t last, std::span<double> pressure) {
    const auto height = [&](std::size_t i) { return i == first || i == last ? pressure[i] : saturation[i]; };
    std::vector<std::size_t> hull{first};
    for (std::size_t i = first + 1; i <= last; ++i) {
        while (hull.size() > 1) {
            const std::size_t a = hull[hull.size() - 2], b = hull.back();
            // b stays only when it lies below the line from a to i.
            if ((height(b) - height(a)) * (z[i] - z[a]) < (height(i) - height(a)) * (z[b] - z[a])) break;
            hull.pop_back();
        }
        // Planes without vapour resistance between them are one: the lower saturation holds.
        hull.push_back(i);
    }
    for (std::size_t k = 0; k + 1 < hull.size(); ++k) {
        const std::size_t a = hull[k], b = hull[k + 1];
        const double from = height(a), to = height(b);
        for (std::size_t i = a + 1; i < b; ++i)
            pressure[i] =
                z[b] > z[a] ? from + (to - from) * (z[i] - z[a]) / (z[b] - z[a]) : std::min(from, to);
        pressure[a] = from;
        pressure[b] = to;
    }
}

/// Vapour flux through each layer, kg/(s m2) outward; a layer without resistance passes what its neighbour
/// passes.
std::vector<double> fluxes(std::span<const SteadyLayer> layers, std::span<const double> pressure) {
    std::vector<double> flux(layers.size(), 0.0);
    std::vector<bool> known(layers.size(), false);
    for (std::size_t i = 0; i < layers.size(); ++i) {
        if (layers[i].vapour_resistance <= 0.0) continue;
        flux[i] = (pressure[i] - pressure[i + 1]) / layers[i].vapour_resistance;
        known[i] = true;
    }
    for (std::size_t i = 1; i < layers.size(); ++i)
        if (!known[i] && known[i - 1]) flux[i] = flux[i - 1], known[i] = true;
    for (std::size_t i = layers.size() - 1; i-- > 0;)
        if (!known[i] && known[i + 1]) flux[i] = flux[i + 1], known[i] = true;
    return flux;
}

struct Slices {
    std::vector<SteadyLayer> layers;
    std::vector<std::size_t> boundary;  // for each plane, the layer boundary at or inside of it
};

Slices sliced(std::span<const SteadyLayer> layers) {
    Slices out;
    out.boundary.push_back(0);
    for (std::size_t i = 0; i < layers.size(); ++i) {
        const auto parts = std::max(1.0, std::ceil(layers[i].resistance / thickest_slice - 1e-9));
        for (int k = 1; k <= static_cast<int>(parts); ++k) {
            out.layers.push_back({layers[i].resistance / parts, layers[i].vapour_resistance / parts});
            out.boundary.push_back(k < static_cast<int>(parts) ? i : i + 1);
        }
    }
    return out;
}

/// Water on the planes of a wall as the months pass.
class Year {
public:
    Year(const Slices& slices, const std::array<MonthlyAir, 12>& air)
        : slices_(slices), air_(air), water_(slices.layers.size() + 1, 0.0) {}

    [[nodiscard]] Result<std::vector<double>> month(std::size_t m) {
        std::vector<std::size_t> wet;
        for (std::size_t i = 1; i + 1 < water_.size(); ++i)
            if (water_[i] > 0.0) wet.push_back(i);
        auto profile = steady_profile(slices_.layers, air_[m].inside, air_[m].outside, wet);
        if (!profile) return fail(profile.error());
        for (std::size_t i = 0; i < water_.size(); ++i) {
            profile->rate[i] *= days[m] * 86400.0;
            water_[i] = std::max(0.0, water_[i] + profile->rate[i]);
            if (water_[i] < 1e-9) water_[i] = 0.0;
        }
        return std::move(profile->rate);
    }
    [[nodiscard]] const std::vector<double>& water() const { return water_; }
    void dry() { std::fill(water_.begin(), water_.end(), 0.0); }

private:
    const Slices& slices_;
    const std::array<MonthlyAir, 12>& air_;
    std::vector<double> water_;
};

}  // namespace

Result<SteadyProfile> steady_profile(std::span<const SteadyLayer> layers, const SteadyAir& inside,
                                     const SteadyAir& outside, std::span<const std::size_t> wet) {
    if (auto problem = complaint(layers, inside, outside)) return fail(std::move(*problem));
    const std::size_t planes = layers.size() + 1;
    SteadyProfile out;
    std::vector<double> r(planes, 0.0), z(planes, 0.0);
    for (std::size_t i = 0; i < layers.size(); ++i) {
        r[i + 1] = r[i] + layers[i].resistance;
        z[i + 1] = z[i] + layers[i].vapour_resistance;
    }
    for (std::size_t i = 0; i < planes; ++i) {
        out.temperature.push_back(inside.temperature +
                                  (outside.temperature - inside.temperature) * r[i] / r.back());
        out.saturation.push_back(saturation_iso13788(out.temperature.back()));
        out.uncorrected.push_back(inside.vapour_pressure +
                                  (outside.vapour_pressure - inside.vapour_pressure) * z[i] / z.back());
    }
    out.vapour_pressure.assign(planes, inside.vapour_pressure);
    out.vapour_pressure.back() = outside.vapour_pressure;
    for (const std::size_t plane : wet) {
        if (plane == 0 || plane + 1 >= planes)
            return fail(Code::out_of_range,
                        fmt::format("plane {} cannot be wet: it is not inside the assembly", plane));
        out.vapour_pressure[plane] = out.saturation[plane];
    }
    std::size_t from = 0;
    for (const std::size_t plane : wet) {
        stretch(z, out.saturation, from, plane, out.vapour_pressure);
        from = plane;
    }
    stretch(z, out.saturation, from, planes - 1, out.vapour_pressure);

    for (std::size_t i = 0; i < layers.size(); ++i) {
        if (layers[i].vapour_resistance <= 0.0 &&
            std::abs(out.vapour_pressure[i] - out.vapour_pressure[i + 1]) > 1e-6 * inside.vapour_pressure)
            return fail(Code::unsupported,
                        fmt::format("water would gather on a face of layer {} without any vapour resistance "
                                    "before it, at a rate that this method cannot give",
                                    i + 1));
    }
    const auto flux = fluxes(layers, out.vapour_pressure);
    out.rate.assign(planes, 0.0);
    for (std::size_t i = 1; i + 1 < planes; ++i) {
        out.rate[i] = flux[i - 1] - flux[i];
        // On a straight line the difference is rounding, not water.
        if (std::abs(out.rate[i]) < 1e-12 * (std::abs(flux[i]) + std::abs(flux[i - 1]))) out.rate[i] = 0.0;
    }
    out.flux_in = flux.front();
    out.flux_out = flux.back();
    return out;
}

Result<MonthlyBalance> monthly_condensation(std::span<const SteadyLayer> layers,
                                            const std::array<MonthlyAir, 12>& air) {
    const Slices slices = sliced(layers);
    Year year(slices, air);
    std::array<bool, 12> condenses{};
    for (std::size_t m = 0; m < 12; ++m) {
        year.dry();
        const auto rate = year.month(m);
        if (!rate) return fail(rate.error());
        condenses[m] = std::any_of(rate->begin(), rate->end(), [](double g) { return g > 1e-9; });
    }
    MonthlyBalance out;
    std::optional<std::size_t> start;
    for (std::size_t m = 0; m < 12 && !start; ++m)
        if (condenses[m] && !condenses[(m + 11) % 12]) start = m;
    if (!start && condenses[0]) start = 0;
    if (!start) return out;

    out.first_month = static_cast<int>(*start) + 1;
    year.dry();
    std::vector<std::array<double, 12>> rates(slices.layers.size() + 1), waters(slices.layers.size() + 1);
    for (std::size_t k = 0; k < 12; ++k) {
        const std::size_t m = (*start + k) % 12;
        const auto rate = year.month(m);
        if (!rate) return fail(rate.error());
        double total = 0.0;
        for (std::size_t i = 0; i < rates.size(); ++i) {
            rates[i][m] = (*rate)[i];
            waters[i][m] = year.water()[i];
            total += waters[i][m];
        }
        if (total > out.peak) {
            out.peak = total;
            out.peak_month = static_cast<int>(m) + 1;
            out.dry_month = 0;
        }
        if (total <= 0.0 && out.peak > 0.0 && out.dry_month == 0) out.dry_month = static_cast<int>(m) + 1;
        out.dries_out = total <= 0.0;
    }
    double depth = 0.0;
    for (std::size_t i = 0; i < rates.size(); ++i) {
        if (i > 0) depth += slices.layers[i - 1].vapour_resistance;
        if (std::none_of(waters[i].begin(), waters[i].end(), [](double w) { return w > 0.0; })) continue;
        out.plane_depth.push_back(depth);
        out.plane.push_back(slices.boundary[i]);
        out.condensed.push_back(rates[i]);
        out.water.push_back(waters[i]);
    }
    return out;
}

}  // namespace warmside::moisture
