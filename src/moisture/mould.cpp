#include "moisture/mould.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

namespace warmside::moisture {

namespace {

constexpr double freezing = 273.15;
constexpr double steepness = 2.3;  // hukka-viitanen-1999, k2
constexpr double hottest = 50.0;   // degC, hukka-viitanen-1999: growth between 0 and 50 degC
constexpr double never = 1e9;      // %, critical humidity where nothing grows
constexpr double hours_in_week = 168.0;

// ojanen-2010: very sensitive, sensitive, medium resistant, resistant
constexpr std::array<MouldGrowth, 4> classes{{
    {.k1_below = 1.0, .k1_above = 2.0, .a = 1.0, .b = 7.0, .c = 2.0, .least_humidity = 0.80},
    {.k1_below = 0.578, .k1_above = 0.386, .a = 0.3, .b = 6.0, .c = 1.0, .least_humidity = 0.80},
    {.k1_below = 0.072, .k1_above = 0.097, .a = 0.0, .b = 5.0, .c = 1.5, .least_humidity = 0.85},
    {.k1_below = 0.033, .k1_above = 0.014, .a = 0.0, .b = 3.0, .c = 1.0, .least_humidity = 0.85},
}};

// hukka-viitanen-1999, critical humidity in %
double critical_percent(double t, double least) {
    if (t > 20.0) return least;
    return std::max(least, ((-0.00267 * t + 0.160) * t - 3.13) * t + 100.0);
}

/// Values of a function at equal steps, read by straight lines.
class Table {
public:
    template <class Function>
    Table(double first, double last, std::size_t steps, Function f)
        : first_(first), per_unit_(static_cast<double>(steps) / (last - first)), values_(steps + 2) {
        for (std::size_t i = 0; i < values_.size(); ++i)
            values_[i] = f(first + static_cast<double>(i) / per_unit_);
    }
    /// x within [first, last].
    double operator()(double x) const {
        const double place = (x - first_) * per_unit_;
        const auto i = static_cast<std::size_t>(place);
        const double part = place - static_cast<double>(i);
        return values_[i] + part * (values_[i + 1] - values_[i]);
    }

private:
    double first_, per_unit_;
    std::vector<double> values_;
};

constexpr double least_peak = -1.0, most_peak = 7.0;  // of the largest index, outside any class

struct Tables {
    // Per hour at index 0, without k1: 1/(168 t_m), split into its two factors.
    Table warmth{0.0, hottest, 2500, [](double t) { return std::pow(t, 0.68); }};
    Table damp{79.0, 100.0, 1050,
               [](double r) { return std::exp(13.9 * std::log(r) - 66.02) / hours_in_week; }};
    Table ceiling{least_peak, most_peak, 1600, [](double m) { return std::exp(-steepness * m); }};
};

const Tables& tables() {
    static const Tables built;
    return built;
}

// exp(-z) for 0 <= z < 0.1, where the next term is below 1e-7.
double short_decay(double z) {
    return 1.0 - z * (1.0 - z * (0.5 - z * (1.0 / 6.0 - z / 24.0)));
}
double decay_of(double z) {
    return z < 0.1 ? short_decay(z) : std::exp(-z);
}

const double y_of_index_1 = std::exp(-steepness);

}  // namespace

const MouldGrowth& mould_growth(material::MouldClass sensitivity) {
    return classes[static_cast<std::size_t>(sensitivity)];
}

const char* name_of(material::MouldClass sensitivity) {
    switch (sensitivity) {
        case material::MouldClass::very_sensitive: return "very sensitive";
        case material::MouldClass::sensitive: return "sensitive";
        case material::MouldClass::medium_resistant: return "medium resistant";
        case material::MouldClass::resistant: return "resistant";
    }
    return "";
}

double mould_critical_humidity(double temperature, double least) {
    return critical_percent(temperature - freezing, 100.0 * least) / 100.0;
}

MouldTimes mould_times(double temperature, double relative_humidity, int wood, int surface) {
    const double ln_t = std::log(temperature - freezing), ln_r = std::log(100.0 * relative_humidity);
    const double week = hours_in_week * 3600.0;
    // hukka-viitanen-1999
    return {.to_index_1 = week * std::exp(-0.68 * ln_t - 13.9 * ln_r + 0.14 * wood - 0.33 * surface + 66.02),
            .to_index_3 = week * std::exp(-0.74 * ln_t - 12.72 * ln_r + 0.06 * wood + 61.50)};
}

MouldSurface::MouldSurface(const MouldModel& model)
    : growth_(mould_growth(model.sensitivity)),
      form_(model.form),
      decline_fast_(model.decline * 0.032 / 24.0),  // hukka-viitanen-1999, per hour
      decline_slow_(model.decline * 0.016 / 24.0),
      hold_when_frozen_(model.below_freezing == BelowFreezing::hold) {}

MouldModel original_mould_model(BelowFreezing below_freezing) {
    return {.sensitivity = material::MouldClass::very_sensitive,
            .decline = 1.0,
            .below_freezing = below_freezing,
            .form = MouldForm::original};
}

double MouldSurface::speed_above(double t, double r) const {
    if (form_ == MouldForm::improved) return growth_.k1_above;
    // hukka-viitanen-1999: t_v/t_m, pine, sawn; above 1.5 wherever anything grows.
    const double ratio = std::exp(-0.06 * std::log(t) + 1.18 * std::log(r) - 4.52);
    return 2.0 / (ratio - 1.0);
}

void MouldSurface::decline(double hours, double steady_factor) {
    const double from = idle_hours_, to = from + hours;
    idle_hours_ = to;
    if (y_ >= 1.0) return;
    if (from >= 24.0) {
        y_ = std::min(1.0, y_ * steady_factor);
        return;
    }
    const double fast = std::max(0.0, std::min(to, 6.0) - from);
    const double slow = std::max(0.0, to - 24.0);
    const double fall = steepness * (fast * decline_fast_ + slow * decline_slow_);
    if (fall > 0.0) y_ = std::min(1.0, y_ / decay_of(fall));
}

void MouldSurface::grow(double t, double r, double critical, double hours) {
    idle_hours_ = 0.0;
    const Tables& table = tables();
    const double x = critical < 100.0 ? (critical - r) / (critical - 100.0) : 1.0;
    const double most = growth_.a + x * (growth_.b - x * growth_.c);
    const double y_end = table.ceiling(std::clamp(most, least_peak, most_peak));
    if (y_ <= y_end) return;
    const double speed = steepness * table.warmth(t) * table.damp(r) * hours;
    const double before = y_;
    const double k1 = before > y_of_index_1 ? growth_.k1_below : speed_above(t, r);
    y_ = y_end + (before - y_end) * decay_of(speed * k1);
    if (before > y_of_index_1 && y_ < y_of_index_1) {
        // Index 1 is passed within the sample: the rest of it runs at the other speed.
        const double used = std::log((before - y_end) / (y_of_index_1 - y_end)) / growth_.k1_below;
        const double rest = std::max(0.0, speed - used);
        y_ = y_end + (y_of_index_1 - y_end) * decay_of(rest * speed_above(t, r));
    }
}

std::size_t MouldSurface::march(std::span<const float> temperature, std::span<const float> relative_humidity,
                                double hours) {
    assert(temperature.size() == relative_humidity.size() && hours > 0.0);
    MouldSurface at = *this;  // a local copy stays in registers
    const double least = 100.0 * growth_.least_humidity;
    const double steady_factor = std::exp(steepness * decline_slow_ * hours);
    at.least_y_ = 2.0;
    std::size_t worst = 0;
    for (std::size_t i = 0; i < temperature.size(); ++i) {
        const double t = static_cast<double>(temperature[i]) - freezing;
        const double r = std::min(100.0, 100.0 * static_cast<double>(relative_humidity[i]));
        const bool frozen = t <= 0.0;
        const double critical = frozen || r < least || t >= hottest ? never : critical_percent(t, least);
        if (frozen && hold_when_frozen_) {
            // Time stands still for the index.
        } else if (r < critical) {
            at.decline(hours, steady_factor);
        } else {
            at.grow(t, r, critical, hours);
        }
        if (at.y_ < at.least_y_) {
            at.least_y_ = at.y_;
            worst = i;
        }
    }
    *this = at;
    return worst;
}

// max: of a bare surface the logarithm gives a negative zero.
double MouldSurface::index() const {
    return std::max(0.0, -std::log(y_) / steepness);
}
double MouldSurface::peak() const {
    return std::max(0.0, -std::log(std::min(1.0, least_y_)) / steepness);
}

}  // namespace warmside::moisture
