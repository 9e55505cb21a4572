#include <algorithm>
#include <cmath>
#include <numbers>

#include "climate/generate_parts.h"

namespace warmside::climate::generated {
namespace {

constexpr double sector = std::numbers::pi / 8.0;
constexpr double largest_speed = 30.0;  // m/s

std::size_t season_of(std::size_t month) {
    return (month + 1) % 12 / 3;
}

/// Sectors in the order of the rose, beginning behind the rarest, so that the jump from the last share to the
/// first is where the wind seldom blows.
class RoseReader {
public:
    explicit RoseReader(const Rose& rose) : rose_(rose) {
        const auto rarest = std::ranges::min_element(rose.share);
        first_ = static_cast<std::size_t>(rarest - rose.share.begin()) + 1;
        for (const double share : rose.share) total_ += share;
    }
    /// Direction below which `share` of the rose lies. rad, 0 to 2 pi.
    [[nodiscard]] double direction(double share) const {
        double rest = share * total_;
        for (std::size_t i = 0; i < 16; ++i) {
            const std::size_t s = (first_ + i) % 16;
            if (rest < rose_.share[s] || i == 15) {
                const double along = rose_.share[s] > 0.0 ? std::min(1.0, rest / rose_.share[s]) : 0.5;
                const double angle = (static_cast<double>(s) - 0.5 + along) * sector;
                return angle < 0.0 ? angle + 2.0 * std::numbers::pi : angle;
            }
            rest -= rose_.share[s];
        }
        return 0.0;
    }

private:
    const Rose& rose_;
    std::size_t first_ = 0;
    double total_ = 0.0;
};

/// Weibull speeds of mean about 1 from normal scores; the daily swing comes on top.
struct SpeedLaw {
    double shape = 2.0, scale = 1.0, swing = 0.0, calm = 0.0;

    explicit SpeedLaw(const MonthStatistics& month, double calm_share)
        : swing(month.wind_swing), calm(calm_share) {
        const double from_swing = 0.5 * swing * swing;
        const double cv =
            std::sqrt(std::max(0.05, (month.wind_cv * month.wind_cv - from_swing) / (1.0 + from_swing)));
        shape = std::pow(cv, -1.086);  // justus-1978
        scale = 1.0 / std::tgamma(1.0 + 1.0 / shape);
    }
    [[nodiscard]] double speed(double score, double hour) const {
        const double above = normal_share(-score);
        if (1.0 - above < calm) return 0.0;
        const double day = 1.0 + swing * std::cos(2.0 * std::numbers::pi * (hour - 14.5) / 24.0);
        return day * scale * std::pow(-std::log(std::max(1e-12, above)), 1.0 / shape);
    }
};

/// Speeds whose scores are raised in and beside wet hours, each month at its mean.
class Speeds {
public:
    Speeds(const PlaceRow& place, const Statistics& statistics, const Series& rain, Draws& draws)
        : place_(place), rain_(rain) {
        for (std::size_t m = 0; m < 12; ++m) {
            laws_.emplace_back(statistics.months[m], statistics.seasons[season_of(m)].lead);
        }
        scores_ = persistent(draws, hours_in_year, [&](int hour) {
            return std::clamp(statistics.months[month_of_day(hour / 24)].wind_lag, 0.3, 0.97);
        });
        lift_.assign(rain.size(), 0.0);
        bare_.resize(rain.size());
        for (std::size_t h = 0; h < rain.size(); ++h) {
            // A storm swells and fades: half of the lift in the hours beside the rain.
            const bool beside = (h > 0 && rain[h - 1] > 0.0) || (h + 1 < rain.size() && rain[h + 1] > 0.0);
            lift_[h] = rain[h] > 0.0 ? 1.0 : beside ? 0.5 : 0.0;
            bare_[h] = law_speed(h, 0.0);
        }
    }

    [[nodiscard]] Series at(double lift) const {
        Series out = bare_;
        for (std::size_t m = 0; m < 12; ++m) {
            const int from = 24 * month_starts[m], to = 24 * month_starts[m + 1];
            double mean = 0.0;
            for (int i = from; i < to; ++i) {
                const auto h = static_cast<std::size_t>(i);
                if (lift_[h] > 0.0) out[h] = law_speed(h, lift);
                mean += out[h] / (to - from);
            }
            for (int i = from; i < to; ++i) {
                double& speed = out[static_cast<std::size_t>(i)];
                speed = std::min(largest_speed, speed * place_.months[m].wind_speed / mean);
            }
        }
        return out;
    }

    /// Rain-weighted speed over the yearly mean.
    [[nodiscard]] double wet_ratio(const Series& speed) const {
        double wet = 0.0, sum = 0.0, mean = 0.0;
        for (std::size_t h = 0; h < speed.size(); ++h) {
            wet += rain_[h] * speed[h];
            sum += rain_[h];
            mean += speed[h] / static_cast<double>(speed.size());
        }
        return sum > 0.0 ? wet / sum / mean : 0.0;
    }

private:
    [[nodiscard]] double law_speed(std::size_t h, double lift) const {
        const std::size_t month = month_of_day(static_cast<int>(h / 24));
        return laws_[month].speed(scores_[h] + lift * lift_[h], static_cast<double>(h % 24) + 0.5);
    }

    const PlaceRow& place_;
    const Series& rain_;
    std::vector<SpeedLaw> laws_;
    Series scores_, lift_, bare_;
};

/// Wet hours in the order of their direction scores take the driving-rain rose: the share of rain x speed of
/// each sector comes out as the rose has it.
void wet_directions(const Rose& rose, const Series& rain, const Series& scores, Wind& wind) {
    std::vector<std::size_t> wet;
    double total = 0.0;
    for (std::size_t h = 0; h < rain.size(); ++h) {
        if (rain[h] <= 0.0 || wind.speed[h] <= 0.0) continue;
        wet.push_back(h);
        total += rain[h] * wind.speed[h];
    }
    std::ranges::sort(wet, {}, [&](std::size_t h) { return scores[h]; });
    const RoseReader reader(rose);
    double below = 0.0;
    for (const std::size_t h : wet) {
        const double weight = rain[h] * wind.speed[h] / total;
        wind.direction[h] = reader.direction(below + 0.5 * weight);
        below += weight;
    }
}

}  // namespace

Wind wind_of(const PlaceRow& place, const Statistics& statistics, const Series& rain, Draws& draws) {
    const Speeds speeds(place, statistics, rain, draws);
    double least = -2.5, most = 2.5;
    for (int pass = 0; pass < 12; ++pass) {
        const double lift = 0.5 * (least + most);
        (speeds.wet_ratio(speeds.at(lift)) < statistics.driving_rain.lead ? least : most) = lift;
    }
    Wind out{.speed = speeds.at(0.5 * (least + most)), .direction = Series(hours_in_year, 0.0)};

    constexpr double persistence = 0.93;  // our choice
    const Series scores = persistent(draws, hours_in_year, [](int) { return persistence; });
    for (std::size_t m = 0; m < 12; ++m) {
        const RoseReader reader(statistics.seasons[season_of(m)]);
        for (int i = 24 * month_starts[m]; i < 24 * month_starts[m + 1]; ++i) {
            const auto h = static_cast<std::size_t>(i);
            if (out.speed[h] > 0.0) out.direction[h] = reader.direction(normal_share(scores[h]));
        }
    }
    wet_directions(statistics.driving_rain, rain, scores, out);
    return out;
}

}  // namespace warmside::climate::generated
