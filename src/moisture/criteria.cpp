#include "moisture/criteria.h"

#include <algorithm>
#include <cassert>

namespace warmside::moisture {

namespace {

/// Calls visit(end of window, sum) for each full window that ends in [begin, end).
template <class Visit>
void slide(std::span<const float> series, std::size_t window, std::size_t begin, std::size_t end,
           Visit visit) {
    assert(window > 0 && begin <= end && end <= series.size());
    const std::size_t first = std::max(begin, window - 1);
    if (first >= end) return;
    double sum = 0.0;
    for (std::size_t i = first + 1 - window; i < first; ++i) sum += static_cast<double>(series[i]);
    for (std::size_t i = first; i < end; ++i) {
        sum += static_cast<double>(series[i]);
        visit(i, sum);
        sum -= static_cast<double>(series[i + 1 - window]);
    }
}

}  // namespace

Worst worst_running_mean(std::span<const float> series, std::size_t window, std::size_t begin,
                         std::size_t end) {
    Worst worst;
    double most = 0.0;
    slide(series, window, begin, end, [&](std::size_t i, double sum) {
        if (worst.found && sum <= most) return;
        most = sum;
        worst.sample = i;
        worst.found = true;
    });
    worst.value = most / static_cast<double>(window);
    return worst;
}

Worst worst_surface_humidity(std::span<const float> temperature, std::span<const float> humidity,
                             std::size_t window, std::size_t begin, std::size_t end, double coldest,
                             double warmest) {
    assert(temperature.size() == humidity.size());
    Worst worst;
    const double count = static_cast<double>(window);
    const double least = coldest * count, most = warmest * count;
    double wettest = 0.0;
    const std::size_t first = std::max(begin, window - 1);
    if (first >= end) return worst;
    double warmth = 0.0;
    for (std::size_t i = first + 1 - window; i < first; ++i) warmth += static_cast<double>(temperature[i]);
    slide(humidity, window, begin, end, [&](std::size_t i, double sum) {
        warmth += static_cast<double>(temperature[i]);
        if (warmth >= least && warmth <= most && (!worst.found || sum > wettest)) {
            wettest = sum;
            worst.sample = i;
            worst.found = true;
        }
        warmth -= static_cast<double>(temperature[i + 1 - window]);
    });
    worst.value = wettest / count;
    return worst;
}

Worst longest_spell(std::span<const float> series, float level, std::size_t begin, std::size_t end) {
    assert(begin <= end && end <= series.size());
    Worst worst;
    std::size_t run = 0, longest = 0;
    for (std::size_t i = begin; i < end; ++i) {
        run = series[i] >= level ? run + 1 : 0;
        if (run > longest) {
            longest = run;
            worst.sample = i;
        }
    }
    worst.value = static_cast<double>(longest);
    worst.found = longest > 0;
    return worst;
}

void count_cycles(std::span<const float> temperature, std::span<const float> saturation,
                  const FrostLimits& limits, std::size_t begin, std::size_t end, FrostCount& count) {
    assert(begin <= end && end <= temperature.size() && temperature.size() == saturation.size());
    count.all = count.wet = count.hard_and_wet = 0;
    count.fullest = 0.0;
    count.fullest_sample = begin;
    for (std::size_t i = begin; i < end; ++i) {
        const double t = static_cast<double>(temperature[i]), s = static_cast<double>(saturation[i]);
        if (t < limits.frost) {
            count.frozen = true;
            count.is_wet = count.is_wet || s > limits.critical;
            count.is_hard = count.is_hard || (t < limits.hard_frost && s > limits.critical);
            if (s > count.fullest) {
                count.fullest = s;
                count.fullest_sample = i;
            }
        } else if (count.frozen && t > limits.thaw) {
            ++count.all;
            count.wet += count.is_wet ? 1 : 0;
            count.hard_and_wet += count.is_hard ? 1 : 0;
            count.frozen = count.is_wet = count.is_hard = false;
        }
    }
}

}  // namespace warmside::moisture
