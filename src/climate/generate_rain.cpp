#include <algorithm>
#include <cmath>
#include <numeric>

#include "climate/generate_parts.h"

namespace warmside::climate::generated {
namespace {

constexpr double freezing = 273.15;      // K; the files have no liquid rain below
constexpr double smallest_rain = 0.254;  // kg/m2 in an hour, the step of the gauges (0.01 in)
constexpr double largest_rain = 50.0;    // kg/m2 in an hour, the cap of the files

/// The likeliest hours for rain, n of them, in order of time.
std::vector<std::size_t> wet_hours(const Series& score, int from, int to, int n) {
    std::vector<std::size_t> hours(static_cast<std::size_t>(to - from));
    std::iota(hours.begin(), hours.end(), static_cast<std::size_t>(from));
    const auto likelier = [&](std::size_t a, std::size_t b) {
        return score[a] != score[b] ? score[a] > score[b] : a < b;
    };
    const auto count = std::min(static_cast<std::ptrdiff_t>(n), static_cast<std::ptrdiff_t>(hours.size()));
    std::partial_sort(hours.begin(), hours.begin() + count, hours.end(), likelier);
    hours.resize(static_cast<std::size_t>(count));
    std::ranges::sort(hours);
    return hours;
}

/// Amounts of the wet hours of a month that sum to `total`.
Series amounts(std::size_t n, double total, double cv, Draws& draws) {
    const double mean = total / static_cast<double>(n);
    const double base = std::min(smallest_rain, 0.5 * mean);
    // Gamma above the smallest amount; its shape keeps the coefficient of variation of the whole.
    const double shape = std::clamp(std::pow((mean - base) / (cv * mean), 2), 0.08, 20.0);
    Series extra(n);
    for (double& value : extra) value = draws.gamma(shape) + 1e-9;
    // An hour beyond the cap gives the rest to the others.
    const double wanted = total - base * static_cast<double>(n);
    for (int pass = 0; pass < 8; ++pass) {
        const double sum = std::accumulate(extra.begin(), extra.end(), 0.0);
        for (double& value : extra) value = std::min(value * wanted / sum, largest_rain - base);
    }
    for (double& value : extra) value += base;
    return extra;
}

}  // namespace

Series rain_of(const PlaceRow& place, const Statistics& statistics, const Radiation& radiation,
               const Series& temperature, const Series& rough_dew, Draws& draws) {
    constexpr double persistence = 0.8;      // wet spells of two to three hours, as at the stations
    constexpr double weight_of_sky = 5.0;    // for a sky from clear to black
    constexpr double weight_of_damp = 0.22;  // for each K of dew-point depression
    constexpr double typical_cv = 1.8;       // of the stations' wet hours
    const Series chance = persistent(draws, hours_in_year, [](int) { return persistence; });
    Series score(hours_in_year), out(hours_in_year, 0.0);
    for (std::size_t h = 0; h < score.size(); ++h) {
        const double depression = std::max(0.0, temperature[h] - rough_dew[h]);
        const double frost = std::max(0.0, freezing + 0.3 - temperature[h]);
        score[h] = chance[h] + weight_of_sky * radiation.dullness[h] - weight_of_damp * depression -
                   (frost > 0.0 ? 100.0 + 10.0 * frost : 0.0);
    }
    for (std::size_t m = 0; m < 12; ++m) {
        const double total = place.months[m].rain;
        if (total <= 0.0) continue;
        const int least = static_cast<int>(std::ceil(total / (0.8 * largest_rain)));
        const int n = std::max({1, least, static_cast<int>(std::lround(statistics.months[m].wet_hours))});
        const auto hours = wet_hours(score, 24 * month_starts[m], 24 * month_starts[m + 1], n);
        const double cv = statistics.months[m].rain_cv > 0.3 ? statistics.months[m].rain_cv : typical_cv;
        const Series amount = amounts(hours.size(), total, cv, draws);
        for (std::size_t i = 0; i < hours.size(); ++i) out[hours[i]] = amount[i];
    }
    return out;
}

Series cloud_of(const Statistics& statistics, const Radiation& radiation, const Series& rain) {
    constexpr double share_missing = 0.75,
                     exponent = 3.4;   // kasten-czeplak-1980: G = G_clear (1 - 0.75 N^3.4)
    constexpr double wet_cover = 0.9;  // the files have 0.9 to 1 in hours with rain
    // The logarithm of the cover, stretched by a power p of the cover so that the month has its mean.
    Series out(hours_in_year);
    for (std::size_t h = 0; h < out.size(); ++h) {
        const double missing = std::max(1e-4, radiation.dullness[h] / share_missing);
        out[h] = std::min(0.0, std::log(missing) / exponent);
        if (rain[h] > 0.0) out[h] = std::max(out[h], std::log(wet_cover));
    }
    for (std::size_t m = 0; m < 12; ++m) {
        const auto from = out.begin() + 24 * month_starts[m], to = out.begin() + 24 * month_starts[m + 1];
        const double hours = static_cast<double>(to - from);
        double p = 0.05;
        // Newton from the cloudy side: the mean cover is convex in p, so it never overshoots.
        for (int pass = 0; pass < 12; ++pass) {
            double mean = 0.0, slope = 0.0;
            for (auto cover = from; cover != to; ++cover) {
                const double value = std::exp(p * *cover) / hours;
                mean += value;
                slope += *cover * value;
            }
            const double step = (mean - statistics.months[m].cloud) / slope;
            p = std::max(0.0, p - step);
            if (std::abs(step) < 1e-3) break;
        }
        for (auto cover = from; cover != to; ++cover) *cover = std::exp(p * *cover);
    }
    return out;
}

}  // namespace warmside::climate::generated
