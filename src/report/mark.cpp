#include "report/mark.h"

#include <algorithm>

#include "climate/year.h"

namespace warmside::report {
namespace {

constexpr int weeks_in_year = 52;

/// m from the inside; the middle where no row of the carpet lies between the two depths.
double most_humid(const moisture::Carpet& carpet, double time, double from, double to) {
    const auto rows = carpet.depth.size();
    const auto column =
        static_cast<std::size_t>(std::clamp(time, 0.0, 1.0 - 1e-9) * std::max(carpet.columns, 0));
    double depth = 0.5 * (from + to), most = -1.0;
    for (std::size_t row = 0; row < rows; ++row) {
        const auto at = static_cast<double>(carpet.depth[row]);
        const std::size_t cell = column * rows + row;
        if (at < from || at > to || cell >= carpet.relative_humidity.size()) continue;
        const auto humidity = static_cast<double>(carpet.relative_humidity[cell]);
        if (humidity > most) {
            most = humidity;
            depth = at;
        }
    }
    return depth;
}

}  // namespace

int years_of(const moisture::Carpet& carpet) {
    return carpet.columns % weeks_in_year == 0 ? carpet.columns / weeks_in_year : 0;
}

std::optional<drawing::Mark> mark_of(const assembly::Assembly& assembly, const moisture::Carpet& carpet,
                                     const moisture::Finding& f, const std::string& run, int hours) {
    const auto& layers = assembly.layers;
    if (f.run != run || f.layer >= layers.size() || hours <= 0) return std::nullopt;
    double depth = 0.0;
    for (std::size_t i = 0; i < f.layer; ++i) depth += layers[i].thickness.metres();
    const double own = layers[f.layer].thickness.metres();
    if (f.place.starts_with("outer"))
        depth += own;
    else if (!f.place.starts_with("inner"))
        depth = most_humid(carpet, (f.hour + 0.5) / hours, depth, depth + own);
    return drawing::Mark{.time = (f.hour + 0.5) / hours, .depth = depth, .words = f.place + ", " + f.month};
}

std::optional<drawing::Mark> mark_of(const assembly::Assembly& assembly, const answer::RungAnswer& rung) {
    if (!rung.verdict) return std::nullopt;
    return mark_of(assembly, rung.carpet, rung.verdict->deciding, rung.carpet_run,
                   years_of(rung.carpet) * climate::hours_in_year);
}

}  // namespace warmside::report
