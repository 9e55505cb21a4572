// The steps of the generator, in the order in which they run. Not for use outside generate*.cpp and their
// tests.
#pragma once

#include <array>
#include <cstdint>
#include <random>
#include <span>
#include <vector>

#include "climate/calendar.h"
#include "climate/statistics.h"
#include "climate/year.h"

namespace warmside::climate::generated {

using Series = std::vector<double>;

/// Reproducible draws: mt19937_64 as the C++ standard fixes it, and our own transformations on top, because
/// std::normal_distribution may differ between libraries.
class Draws {
public:
    explicit Draws(std::uint64_t seed) : engine_(seed) {}
    [[nodiscard]] double uniform();  ///< above 0, below 1
    [[nodiscard]] double normal();   ///< mean 0, variance 1 (box-muller-1958)
    /// Mean `shape`, variance `shape` (marsaglia-tsang-2000).
    [[nodiscard]] double gamma(double shape);

private:
    std::mt19937_64 engine_;
    double spare_ = 0.0;
    bool has_spare_ = false;
};

/// Probability that a standard normal is below x.
[[nodiscard]] double normal_share(double x);

/// First-order autoregressive series of n values, mean 0 and variance 1; lag(i) is the correlation with the
/// value before.
template <class Lag>
[[nodiscard]] Series persistent(Draws& draws, int n, Lag lag) {
    Series out(static_cast<std::size_t>(n));
    double value = draws.normal();
    for (int i = 0; i < n; ++i) {
        const double r = lag(i);
        value = r * value + std::sqrt(1.0 - r * r) * draws.normal();
        out[static_cast<std::size_t>(i)] = value;
    }
    return out;
}

/// A continuous cyclic curve, linear between block centres, whose mean over each block is `means`: one value
/// for each unit of the blocks (days of months, hours of days). Found by adding the residual to the centres
/// until it is below `tolerance`.
[[nodiscard]] Series through_means(std::span<const double> means, std::span<const int> lengths,
                                   double tolerance = 1e-6);

/// Month, 0 to 11, of a day 0 to 364.
[[nodiscard]] constexpr std::size_t month_of_day(int day) {
    std::size_t month = 0;
    while (day >= month_starts[month + 1]) ++month;
    return month;
}

/// What the sun could do, hour by hour. W/m2 are means over the hour.
struct Sun {
    Series sine;          ///< of the elevation at the middle of the sunlit part; 0 at night
    Series elevation;     ///< rad, at the same time
    Series hour_angle;    ///< rad
    Series outside;       ///< W/m2, extraterrestrial on the horizontal
    Series beam_outside;  ///< W/m2, extraterrestrial normal
    Series clear;       ///< W/m2, global under a clear sky (haurwitz-1945, raised 2.5 % of the constant a km)
    Series clear_beam;  ///< W/m2, normal, under a clear sky (meinel-1976, laue-1970)
};
[[nodiscard]] Sun sun_of(const PlaceRow& place);

/// Radiation, and the state of the sky that rain, cloud, temperature and humidity follow.
struct Radiation {
    Series clearness;                ///< [365] daily clearness index
    Series score;                    ///< [365] the same as normal scores within the month
    Series global, direct, diffuse;  ///< [8760] W/m2
    Series dullness;  ///< [8760] 0..1: share of the clear-sky radiation that is missing; interpolated over
                      ///< the night
};
/// Daily clearness: first-order Gaussian sequence mapped to the distribution of clearness
/// (graham-hollands-1988, bendt-1981); hours: collares-pereira-rabl-1979 with the Gaussian scatter of
/// graham-hollands-1990; diffuse: ridley-boland-lauret-2010.
[[nodiscard]] Result<Radiation> radiation_of(const PlaceRow& place, const Sun& sun, Draws& draws);

/// Daily mean temperature: first-order autoregressive about the seasonal curve (after richardson-1981, tied
/// to clearness); hours: mean-preserving interpolation, the diurnal shape of erbs-1983 and a persistent rest.
struct Temperature {
    Series daily;   ///< [365] K
    Series score;   ///< [365] standardised within the month
    Series hourly;  ///< [8760] K
};
[[nodiscard]] Temperature temperature_of(const PlaceRow& place, const Statistics& statistics,
                                         const Radiation& radiation, Draws& draws);

/// Dew point before rain is known, K; the monthly mean is not yet right.
[[nodiscard]] Series rough_dew_point(const PlaceRow& place, const Statistics& statistics,
                                     const Radiation& radiation, const Temperature& temperature,
                                     Draws& draws);
/// Dew point with the mean of each month, damper in wet hours, never above the temperature.
[[nodiscard]] Series dew_point_of(const PlaceRow& place, const Series& temperature, const Series& rough,
                                  const Series& rain);

/// Rain, kg/m2 in each hour: wet hours are the dullest, dampest hours above freezing under a persistent
/// chance (after richardson-1981); amounts gamma-distributed (katz-1977) and scaled to the month's sum.
[[nodiscard]] Series rain_of(const PlaceRow& place, const Statistics& statistics, const Radiation& radiation,
                             const Series& temperature, const Series& rough_dew, Draws& draws);

struct Wind {
    Series speed;      ///< m/s
    Series direction;  ///< rad from north, clockwise; 0 when calm
};
/// Weibull speeds from persistent normal scores (justus-1978, mcwilliams-sprevak-1982), raised in wet hours
/// until the rain-weighted speed is right; directions by the season's rose, in wet hours by the driving-rain
/// rose.
[[nodiscard]] Wind wind_of(const PlaceRow& place, const Statistics& statistics, const Series& rain,
                           Draws& draws);

/// Opaque cover: the relation of kasten-czeplak-1980 between cover and missing radiation, stretched to the
/// month's mean.
[[nodiscard]] Series cloud_of(const Statistics& statistics, const Radiation& radiation, const Series& rain);

}  // namespace warmside::climate::generated
