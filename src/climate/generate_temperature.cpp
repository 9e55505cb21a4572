#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "climate/generate_parts.h"

namespace warmside::climate::generated {
namespace {

constexpr double daily_tolerance = 1e-3;        // K, of daily means: far below every gate
constexpr double clearness_persistence = 0.29;  // that of the daily clearness sequence

/// Means, variances and covariance of two stretches of series.
struct Moments {
    double mean_x = 0.0, mean_y = 0.0, xx = 0.0, yy = 0.0, xy = 0.0;
};
Moments moments(const Series& x, const Series& y, int from, int to) {
    Moments out;
    const double share = 1.0 / (to - from);
    for (int i = from; i < to; ++i) {
        out.mean_x += share * x[static_cast<std::size_t>(i)];
        out.mean_y += share * y[static_cast<std::size_t>(i)];
    }
    for (int i = from; i < to; ++i) {
        const double dx = x[static_cast<std::size_t>(i)] - out.mean_x,
                     dy = y[static_cast<std::size_t>(i)] - out.mean_y;
        out.xx += share * dx * dx;
        out.yy += share * dy * dy;
        out.xy += share * dx * dy;
    }
    return out;
}

/// Positive factor a that gives x + a y the variance `wanted`; 0 if x alone has more.
double factor_for(const Moments& m, double wanted) {
    if (m.xx >= wanted || m.yy <= 0.0) return 0.0;
    return (-m.xy + std::sqrt(m.xy * m.xy + m.yy * (wanted - m.xx))) / m.yy;
}

/// Daily scores, tied to clearness by the month's correlation, with the month's persistence.
Series daily_scores(const Statistics& statistics, const Radiation& radiation, Draws& draws) {
    const auto of_day = [&](int day) -> const MonthStatistics& {
        return statistics.months[month_of_day(day)];
    };
    const auto tie = [](const MonthStatistics& month) {
        return std::clamp(month.clearness_correlation, -0.8, 0.8);
    };
    const Series rest = persistent(draws, 365, [&](int day) {
        const double r = tie(of_day(day)), r2 = r * r;
        return std::clamp((of_day(day).daily_lag - r2 * clearness_persistence) / (1.0 - r2), 0.0, 0.95);
    });
    Series out(365);
    for (int day = 0; day < 365; ++day) {
        const auto d = static_cast<std::size_t>(day);
        const double r = tie(of_day(day));
        out[d] = r * radiation.score[d] + std::sqrt(1.0 - r * r) * rest[d];
    }
    return out;
}

/// Seasonal curve plus scores, each month with exactly its mean and standard deviation. Where the seasonal
/// change inside the month alone would spread the days too much (typical months come from different years),
/// it is flattened.
void daily_temperature(const PlaceRow& place, const Statistics& statistics, const Series& scores,
                       Temperature& out) {
    std::array<double, 12> means{};
    for (std::size_t m = 0; m < 12; ++m) means[m] = place.months[m].temperature;
    Series season = through_means(means, days_in_month);
    out.daily.resize(365);
    out.score.resize(365);
    for (std::size_t m = 0; m < 12; ++m) {
        const int from = month_starts[m], to = month_starts[m + 1];
        const double wanted = std::pow(statistics.months[m].daily_sd, 2);
        const double slope = moments(season, scores, from, to).xx;
        const double keep = slope > 0.6 * wanted ? std::sqrt(0.6 * wanted / slope) : 1.0;
        for (int d = from; d < to; ++d) {
            double& value = season[static_cast<std::size_t>(d)];
            value = means[m] + keep * (value - means[m]);
        }
        const Moments both = moments(season, scores, from, to);
        const double factor = factor_for(both, wanted);
        for (int day = from; day < to; ++day) {
            const auto d = static_cast<std::size_t>(day);
            const double departure = season[d] - both.mean_x + factor * (scores[d] - both.mean_y);
            out.daily[d] = means[m] + departure;
            out.score[d] = departure / statistics.months[m].daily_sd;
        }
    }
}

/// erbs-1983: shape of the mean day, peak to peak about 1. hour: 0 to 24, local.
double diurnal_shape(double hour) {
    const double t = 2.0 * std::numbers::pi * (hour - 1.0) / 24.0;
    return 0.4632 * std::cos(t - 3.805) + 0.0984 * std::cos(2.0 * t - 0.360) +
           0.0168 * std::cos(3.0 * t - 0.822) + 0.0138 * std::cos(4.0 * t - 3.513);
}

/// Range of each day, K: the month's, spread over its days as erbs-1983 ties range to clearness (25.8 K
/// - 5.21).
Series daily_range(const Statistics& statistics, const Radiation& radiation) {
    Series out(365);
    for (std::size_t m = 0; m < 12; ++m) {
        double mean = 0.0;
        for (int day = month_starts[m]; day < month_starts[m + 1]; ++day) {
            const auto d = static_cast<std::size_t>(day);
            out[d] = std::max(1.5, 25.8 * radiation.clearness[d] - 5.21);
            mean += out[d] / days_in_month[m];
        }
        for (int day = month_starts[m]; day < month_starts[m + 1]; ++day) {
            out[static_cast<std::size_t>(day)] *= statistics.months[m].profile_range / mean;
        }
    }
    return out;
}

/// Takes its own mean from each day by a continuous curve, so that no leap comes at midnight.
void level_days(Series& hourly) {
    const std::size_t days = hourly.size() / 24;
    Series means(days);
    for (std::size_t h = 0; h < hourly.size(); ++h) means[h / 24] += hourly[h] / 24.0;
    const std::vector<int> lengths(days, 24);
    const Series curve = through_means(means, lengths, daily_tolerance);
    for (std::size_t h = 0; h < hourly.size(); ++h) hourly[h] -= curve[h];
}

/// The hours of one month about the means of its days: the regular course and a persistent rest, so much of
/// it that the hourly standard deviation is the month's. Real days have short cold dips (clear, still nights)
/// or short warm peaks, so that (highest + lowest) / 2, which degree days use, is not the mean: the rest is
/// skewed to match.
class MonthHours {
public:
    MonthHours(const MonthStatistics& month, const Series& course, const Series& rest, const Series& daily,
               int from, int to)
        : wanted_(std::max(0.0, month.hourly_sd * month.hourly_sd - month.daily_sd * month.daily_sd)),
          first_(24 * static_cast<std::size_t>(from)),
          course_(course.begin() + 24 * from, course.begin() + 24 * to),
          rest_(rest.begin() + 24 * from, rest.begin() + 24 * to),
          daily_(daily.begin() + from, daily.begin() + to) {}

    /// Skewness that gives days the mean offset of the midrange from the mean, K; as near as it can be had.
    [[nodiscard]] double skewness_for(double offset) const {
        constexpr double limit = 0.5;
        double a = 0.0, at_a = offset_at(a);
        double b = at_a > offset ? -0.2 : 0.2;
        for (int pass = 0; pass < 5; ++pass) {
            const double at_b = offset_at(b);
            if (std::abs(at_b - offset) < 0.01 || at_b == at_a) break;
            const double next = std::clamp(b + (offset - at_b) * (b - a) / (at_b - at_a), -limit, limit);
            a = b, at_a = at_b, b = next;
        }
        return b;
    }
    void write(double skewness, Series& hourly) const {
        const Series about = departures(skewness);
        for (std::size_t i = 0; i < about.size(); ++i) hourly[first_ + i] = daily_[i / 24] + about[i];
    }

private:
    [[nodiscard]] Series departures(double skewness) const {
        Series rest(rest_);
        for (double& value : rest) value += skewness * (value * value - 1.0);
        level_days(rest);
        const Moments both = moments(course_, rest, 0, static_cast<int>(rest.size()));
        const double factor = factor_for(both, wanted_), damped = std::min(1.0, std::sqrt(wanted_ / both.xx));
        for (std::size_t i = 0; i < rest.size(); ++i) rest[i] = damped * course_[i] + factor * rest[i];
        return rest;
    }
    [[nodiscard]] double offset_at(double skewness) const {
        const Series about = departures(skewness);
        double sum = 0.0;
        for (auto day = about.begin(); day != about.end(); day += 24) {
            const auto [low, high] = std::minmax_element(day, day + 24);
            sum += 0.5 * (*low + *high);
        }
        return 24.0 * sum / static_cast<double>(about.size());
    }

    double wanted_;
    std::size_t first_;
    Series course_, rest_, daily_;
};

const std::vector<int>& day_lengths() {
    static const std::vector<int> lengths(365, 24);
    return lengths;
}

}  // namespace

Temperature temperature_of(const PlaceRow& place, const Statistics& statistics, const Radiation& radiation,
                           Draws& draws) {
    Temperature out;
    daily_temperature(place, statistics, daily_scores(statistics, radiation, draws), out);
    const Series course = through_means(out.daily, day_lengths(), daily_tolerance);
    const Series range = through_means(daily_range(statistics, radiation), day_lengths(), daily_tolerance);
    Series within(hours_in_year);
    for (std::size_t h = 0; h < within.size(); ++h) {
        within[h] = course[h] - out.daily[h / 24] +
                    std::max(0.0, range[h]) * diurnal_shape(static_cast<double>(h % 24) + 0.5);
    }
    level_days(within);
    constexpr double rest_persistence = 0.97;  // our choice: passing fronts and clouds inside a day
    const Series rest = persistent(draws, hours_in_year, [](int) { return rest_persistence; });
    out.hourly.resize(hours_in_year);
    for (std::size_t m = 0; m < 12; ++m) {
        MonthHours hours(statistics.months[m], within, rest, out.daily, month_starts[m], month_starts[m + 1]);
        hours.write(hours.skewness_for(statistics.months[m].midrange_offset), out.hourly);
    }
    return out;
}

Series rough_dew_point(const PlaceRow& place, const Statistics& statistics, const Radiation& radiation,
                       const Temperature& temperature, Draws& draws) {
    constexpr double persistence = 0.5;  // our choice
    constexpr double dry_when_clear =
        0.6;  // our choice; the stations have 0.5 to 0.9 between clearness and T - T_dew
    const Series rest = persistent(draws, 365, [](int) { return persistence; });
    Series daily(365);
    for (std::size_t d = 0; d < 365; ++d) {
        const std::size_t m = month_of_day(static_cast<int>(d));
        const MonthStatistics& month = statistics.months[m];
        const double r = std::clamp(month.dew_correlation, -0.95, 0.99);
        const double own =
            -dry_when_clear * radiation.score[d] + std::sqrt(1.0 - dry_when_clear * dry_when_clear) * rest[d];
        daily[d] = place.months[m].dew_point +
                   month.dew_sd * (r * temperature.score[d] + std::sqrt(1.0 - r * r) * own);
    }
    return through_means(daily, day_lengths(), daily_tolerance);
}

Series dew_point_of(const PlaceRow& place, const Series& temperature, const Series& rough,
                    const Series& rain) {
    constexpr double bend = 0.7;        // K: how softly the dew point meets the temperature
    constexpr double wet_share = 0.85;  // rain falls through damper air: part of the depression that is left
    Series out(temperature.size());
    for (std::size_t m = 0; m < 12; ++m) {
        const int from = 24 * month_starts[m], to = 24 * month_starts[m + 1];
        double shift = 0.0;
        // Newton on the shift; the mean is monotone and almost linear in it.
        for (int pass = 0; pass < 12; ++pass) {
            double mean = 0.0, slope = 0.0;
            for (int i = from; i < to; ++i) {
                const auto h = static_cast<std::size_t>(i);
                const double bare = (temperature[h] - rough[h] - shift) / bend,
                             share = rain[h] > 0.0 ? wet_share : 1.0;
                const double grown = std::exp(-std::abs(bare));
                const double depression = share * bend * (std::max(bare, 0.0) + std::log1p(grown));
                out[h] = temperature[h] - depression;
                mean += out[h] / (to - from);
                slope += share * (bare > 0.0 ? 1.0 : grown) / (1.0 + grown) / (to - from);
            }
            const double residual = place.months[m].dew_point - mean;
            if (std::abs(residual) < 1e-4) break;
            shift += residual / std::max(slope, 0.05);
        }
    }
    return out;
}

}  // namespace warmside::climate::generated
