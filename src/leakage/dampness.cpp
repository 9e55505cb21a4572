#include <algorithm>
#include <cmath>

#include "air/moist_air.h"
#include "climate/calendar.h"
#include "climate/indoor.h"
#include "leakage/indoor_air.h"
#include "leakage/year_columns.h"

namespace warmside::leakage {

namespace {

constexpr int classes = 5;
constexpr double mild_month = air::zero_celsius + 15.0;  // above it the classes' limits shrink to nothing

struct Mean {
    double sum = 0.0;
    int count = 0;
    void add(double value) {
        sum += value;
        ++count;
    }
    [[nodiscard]] double value() const { return count == 0 ? 0.0 : sum / count; }
};

// ISO 13788: the lowest class that a month's excess (Pa) does not pass at its outdoor temperature.
int class_of(double excess, double outdoor) {
    for (int k = 1; k <= classes; ++k)
        if (excess <= climate::iso13788_excess(k, outdoor)) return k;
    return classes + 1;
}

}  // namespace

Result<DampnessCompared> compare(const climate::Indoor& indoor, const climate::Year& year) {
    const auto& rules = moisture_rules();
    if (!rules) return fail(rules.error());
    if (auto good = check_columns("dampness", year, indoor); !good) return fail(good.error());
    Mean cold, mild, winter;
    DampnessCompared out{.timber_cold = rules->timber_cold, .timber_mild = rules->timber_mild};
    for (int month = 0; month < 12; ++month) {
        Mean excess, outdoor;
        const auto first = static_cast<std::size_t>(climate::first_hour_of(month));
        const auto last = static_cast<std::size_t>(climate::first_hour_of(month + 1));
        for (std::size_t i = first; i < last; ++i) {
            const double in = indoor.vapour_pressure[i], outside = year.vapour_pressure[i];
            const double room = indoor.temperature[i], open = year.temperature[i];
            excess.add(in - outside);
            outdoor.add(open);
            const double density = air::vapour_density(in, room) - air::vapour_density(outside, open);
            if (open <= rules->timber_cold_at) cold.add(density);
            if (open >= rules->timber_mild_at) mild.add(density);
            if (month < 2 || month == 11) winter.add(in / air::over_water(room));
        }
        if (outdoor.value() < mild_month)
            out.humidity_class = std::max(out.humidity_class, class_of(excess.value(), outdoor.value()));
    }
    out.cold = cold.value();
    out.mild = mild.value();
    out.winter_humidity = winter.value();
    return out;
}

}  // namespace warmside::leakage
