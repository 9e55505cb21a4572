#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "climate/generate_parts.h"
#include "climate/sun.h"

namespace warmside::climate::generated {
namespace {

using std::numbers::pi;

constexpr double solar_constant = 1361.0;  // W/m2, kopp-lean-2011

/// haurwitz-1945: 1098 cos z exp(-0.059 / cos z). Clearer with height, as snowy mountain stations show (our
/// choice).
double clear_global(double outside, double sine, double elevation) {
    const double constant = 1098.0 / solar_constant + 2.5e-5 * elevation;
    return outside * constant * std::exp(-0.059 / sine);
}

/// kasten-young-1989, elevation of the sun in degrees.
double air_mass(double sine, double degrees) {
    return 1.0 / (sine + 0.50572 * std::pow(degrees + 6.07995, -1.6364));
}

/// meinel-1976, with height as in laue-1970.
double clear_direct(double beam_outside, double sine, double sun_elevation, double elevation) {
    const double km = 0.14e-3 * elevation;
    const double transmitted = std::pow(0.7, std::pow(air_mass(sine, sun_elevation * 180.0 / pi), 0.678));
    return beam_outside * ((1.0 - km) * transmitted + km);
}

/// bendt-1981: days of clearness between `low` and `high` are distributed with a density that grows as exp(g
/// k).
struct ClearnessDistribution {
    double low = 0.05, high = 0.0, g = 0.0;

    [[nodiscard]] double mean() const {
        const double width = high - low;
        if (std::abs(g * width) < 1e-4) return 0.5 * (low + high) + g * width * width / 12.0;
        return high - 1.0 / g + width / std::expm1(g * width);
    }
    [[nodiscard]] double quantile(double share) const {
        const double width = high - low;
        if (std::abs(g * width) < 1e-4) return low + share * width;
        return low + std::log1p(share * std::expm1(g * width)) / g;
    }
};

ClearnessDistribution distribution_of(double monthly) {
    ClearnessDistribution out;
    out.high = 0.6313 + 0.267 * monthly - 11.9 * std::pow(monthly - 0.75, 8);  // hollands-huget-1983
    double least = -200.0, most = 200.0;
    for (int i = 0; i < 60; ++i) {
        out.g = 0.5 * (least + most);
        (out.mean() < monthly ? least : most) = out.g;
    }
    return out;
}

/// 0, 1, 2 ... by size.
std::vector<std::size_t> ranks(std::span<const double> values) {
    std::vector<std::size_t> order(values.size()), out(values.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::ranges::sort(order, {}, [&](std::size_t i) { return values[i]; });
    for (std::size_t i = 0; i < order.size(); ++i) out[order[i]] = i;
    return out;
}

double sum_of(const Series& x, int from, int to) {
    double sum = 0.0;
    for (int i = from; i < to; ++i) sum += x[static_cast<std::size_t>(i)];
    return sum;
}

/// Daily clearness of each month: ranks of a Gaussian sequence read off the month's distribution, so that
/// even one month has the whole distribution; then scaled to the month's radiation.
Result<void> daily_clearness(const PlaceRow& place, const Sun& sun, Draws& draws, Radiation& out) {
    constexpr double persistence = 0.29;  // graham-hollands-1988
    const Series chance = persistent(draws, 365, [](int) { return persistence; });
    out.clearness.resize(365);
    out.score.resize(365);
    for (std::size_t m = 0; m < 12; ++m) {
        const int first = month_starts[m], days = days_in_month[m];
        const double outside = sum_of(sun.outside, 24 * first, 24 * (first + days));
        const double wanted = place.months[m].global * 24.0 * days;
        const double monthly = outside > 0.0 ? wanted / outside : 0.0;
        if (const bool possible = monthly > 0.06 && monthly < 0.75; !possible) {
            return fail(Code::out_of_range,
                        fmt::format("month {} of {} has a clearness index of {:.2f}, outside 0.06 to 0.75",
                                    m + 1, place.name, monthly));
        }
        const ClearnessDistribution distribution = distribution_of(monthly);
        const auto rank =
            ranks(std::span(chance).subspan(static_cast<std::size_t>(first), static_cast<std::size_t>(days)));
        double reached = 0.0, mean = 0.0;
        for (int d = 0; d < days; ++d) {
            const auto day = static_cast<std::size_t>(first) + static_cast<std::size_t>(d);
            out.clearness[day] =
                distribution.quantile((static_cast<double>(rank[static_cast<std::size_t>(d)]) + 0.5) / days);
            reached += out.clearness[day] * sum_of(sun.outside, 24 * (first + d), 24 * (first + d + 1));
            mean += out.clearness[day] / days;
        }
        double square = 0.0;
        for (int d = first; d < first + days; ++d)
            square += std::pow(out.clearness[static_cast<std::size_t>(d)] - mean, 2) / days;
        for (int d = first; d < first + days; ++d) {
            double& k = out.clearness[static_cast<std::size_t>(d)];
            out.score[static_cast<std::size_t>(d)] = (k - mean) / std::sqrt(square);
            k *= wanted / reached;
        }
    }
    return {};
}

/// Hourly global of one day. The mean course is that of collares-pereira-rabl-1979: clearness a + b cos(hour
/// angle) of the daily one; about it a persistent Gaussian scatter (graham-hollands-1990), cut at the clear
/// sky.
void hours_of_day(const Sun& sun, double clearness, std::span<const double> scatter, std::size_t first,
                  Series& global) {
    double outside = 0.0, sunset = 0.0;
    for (std::size_t h = first; h < first + 24; ++h) {
        outside += sun.outside[h];
        if (sun.outside[h] > 0.0) sunset = std::max(sunset, std::abs(sun.hour_angle[h]));
    }
    const double a = 0.409 + 0.5016 * std::sin(sunset - pi / 3.0),
                 b = 0.6609 - 0.4767 * std::sin(sunset - pi / 3.0);
    const double deviation = 0.16 * std::sin(pi * std::min(clearness, 0.9) / 0.9);
    for (std::size_t h = first; h < first + 24; ++h) {
        const double k = clearness * (a + b * std::cos(sun.hour_angle[h])) + deviation * scatter[h];
        global[h] = sun.outside[h] * std::max(k, 0.25 * clearness);
    }
    // Back to the day's sum without passing the clear sky; a few passes move the excess to the other hours.
    for (int pass = 0; pass < 6; ++pass) {
        double sum = 0.0;
        for (std::size_t h = first; h < first + 24; ++h) sum += global[h];
        if (sum <= 0.0) return;
        const double factor = clearness * outside / sum;
        for (std::size_t h = first; h < first + 24; ++h)
            global[h] = std::min(global[h] * factor, 1.05 * sun.clear[h]);
    }
}

/// ridley-boland-lauret-2010: logistic in hourly and daily clearness, solar time, elevation and persistence.
double diffuse_share(double hourly, double daily, double solar_hour, double degrees, double neighbours) {
    return 1.0 / (1.0 + std::exp(-5.38 + 6.63 * hourly + 0.006 * solar_hour - 0.007 * degrees + 1.75 * daily +
                                 1.31 * neighbours));
}

void split(const Sun& sun, Radiation& out) {
    const auto hourly = [&](std::size_t h) {
        return h < out.global.size() && sun.outside[h] > 0.0 ? out.global[h] / sun.outside[h] : 0.0;
    };
    for (std::size_t h = 0; h < out.global.size(); ++h) {
        if (out.global[h] <= 0.0) continue;
        const double before = h > 0 ? hourly(h - 1) : 0.0, after = hourly(h + 1);
        const double neighbours = before > 0.0 && after > 0.0 ? 0.5 * (before + after) : before + after;
        const double share =
            diffuse_share(hourly(h), out.clearness[h / 24], 12.0 + sun.hour_angle[h] * 12.0 / pi,
                          sun.elevation[h] * 180.0 / pi, neighbours);
        const double beam = (1.0 - share) * out.global[h] / sun.sine[h];
        out.direct[h] = std::min(beam, 1.05 * sun.clear_beam[h]);
        out.diffuse[h] = out.global[h] - out.direct[h] * sun.sine[h];
    }
}

/// Share of the clear-sky radiation that is missing; at night, and when the sun is too low to tell, between
/// the last hour that tells and the next.
void sky_state(const Sun& sun, Radiation& out) {
    constexpr double low_sun = 0.1;
    std::vector<std::size_t> tells;
    for (std::size_t day = 0; day < 365; ++day) {
        double best = 0.0;
        std::size_t noon = 24 * day + 12;
        for (std::size_t h = 24 * day; h < 24 * day + 24; ++h) {
            if (sun.sine[h] > low_sun) tells.push_back(h);
            if (sun.sine[h] > best) best = sun.sine[h], noon = h;
        }
        if (best <= low_sun) tells.push_back(noon);
    }
    const auto missing = [&](std::size_t h) {
        return sun.clear[h] > 0.0 ? std::clamp(1.0 - out.global[h] / sun.clear[h], 0.0, 1.0) : 0.5;
    };
    std::size_t next = 0;
    for (std::size_t h = 0; h < out.dullness.size(); ++h) {
        while (next + 1 < tells.size() && tells[next] < h) ++next;
        const std::size_t to = tells[next], from = next > 0 ? tells[next - 1] : to;
        const double along =
            to > from && h > from
                ? std::min(1.0, static_cast<double>(h - from) / static_cast<double>(to - from))
                : 0.0;
        out.dullness[h] = (1.0 - along) * missing(from) + along * missing(to);
    }
}

}  // namespace

Sun sun_of(const PlaceRow& place) {
    const SunYear year(
        {.latitude = place.latitude, .longitude = place.longitude, .elevation = place.elevation},
        place.utc_offset);
    Sun out;
    for (Series* series : {&out.sine, &out.elevation, &out.hour_angle, &out.outside, &out.beam_outside,
                           &out.clear, &out.clear_beam}) {
        series->assign(hours_in_year, 0.0);
    }
    for (int i = 0; i < hours_in_year; ++i) {
        const auto h = static_cast<std::size_t>(i);
        const HourSun sun = year.hour(i);
        out.hour_angle[h] = sun.position.hour_angle;
        const double sine = std::sin(sun.position.elevation_airless);
        if (sun.share <= 0.0 || sine <= 1e-4) continue;
        const double distance = year.distance(3600.0 * (i + 0.5));
        out.sine[h] = sine;
        out.elevation[h] = sun.position.elevation_airless;
        out.beam_outside[h] = sun.share * solar_constant / (distance * distance);
        out.outside[h] = out.beam_outside[h] * sine;
        out.clear[h] = clear_global(out.outside[h], sine, place.elevation);
        out.clear_beam[h] = clear_direct(out.beam_outside[h], sine, out.elevation[h], place.elevation);
    }
    return out;
}

Result<Radiation> radiation_of(const PlaceRow& place, const Sun& sun, Draws& draws) {
    constexpr double persistence = 0.54;  // graham-hollands-1990
    Radiation out;
    if (auto done = daily_clearness(place, sun, draws, out); !done) return fail(done.error());
    const Series scatter = persistent(draws, hours_in_year, [](int) { return persistence; });
    for (Series* series : {&out.global, &out.direct, &out.diffuse, &out.dullness})
        series->assign(hours_in_year, 0.0);
    for (std::size_t day = 0; day < 365; ++day)
        hours_of_day(sun, out.clearness[day], scatter, 24 * day, out.global);
    // What the clear sky cut off goes to the month in proportion: a per cent at most.
    for (std::size_t m = 0; m < 12; ++m) {
        const int from = 24 * month_starts[m], to = 24 * month_starts[m + 1];
        const double factor = place.months[m].global * (to - from) / sum_of(out.global, from, to);
        for (int h = from; h < to; ++h) out.global[static_cast<std::size_t>(h)] *= factor;
    }
    split(sun, out);
    sky_state(sun, out);
    return out;
}

}  // namespace warmside::climate::generated
