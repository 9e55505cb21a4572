#include "report/mark.h"

#include "climate/year.h"

namespace warmside::report {
namespace {

constexpr int weeks_in_year = 52;

}  // namespace

int years_of(const moisture::Carpet& carpet) {
    return carpet.columns % weeks_in_year == 0 ? carpet.columns / weeks_in_year : 0;
}

std::optional<drawing::Mark> mark_of(const assembly::Assembly& assembly, const moisture::Finding& f,
                                     const std::string& run, int hours) {
    const auto& layers = assembly.layers;
    if (f.run != run || f.layer >= layers.size() || hours <= 0) return std::nullopt;
    double depth = 0.0;
    for (std::size_t i = 0; i < f.layer; ++i) depth += layers[i].thickness.metres();
    const double own = layers[f.layer].thickness.metres();
    if (f.place.starts_with("outer"))
        depth += own;
    else if (!f.place.starts_with("inner"))
        depth += own / 2.0;
    return drawing::Mark{.time = (f.hour + 0.5) / hours, .depth = depth, .words = f.place + ", " + f.month};
}

std::optional<drawing::Mark> mark_of(const assembly::Assembly& assembly, const answer::RungAnswer& rung) {
    if (!rung.verdict) return std::nullopt;
    return mark_of(assembly, rung.verdict->deciding, rung.carpet_run,
                   years_of(rung.carpet) * climate::hours_in_year);
}

}  // namespace warmside::report
