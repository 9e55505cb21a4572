// What a history says under each criterion, before anything is put into words.
#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "assembly/assembly.h"
#include "moisture/simulate.h"
#include "moisture/thresholds.h"

namespace warmside::moisture {

enum class Criterion {
    mould_index,
    wood_moisture,
    decay,
    condensate,
    condensed_water,
    freeze_thaw,
    surface_humidity,
    original_mould_index
};

/// Value, limits and rise in SI: index, kg/kg, activation, s, kg/m2, cycles in the year, relative humidity.
struct Measured {
    Criterion criterion = Criterion::mould_index;
    std::size_t run = 0;  ///< index of the history
    std::size_t layer = 0;
    std::string_view
        place;  ///< of the probe; empty for the wettest 10 mm of a layer. Points into the history
    bool judged = true, first_year = false;
    double value = 0.0, rise = 0.0;
    std::size_t hour = 0;                      ///< from the start of the run
    double mass_loss = 0.0;                    ///< decay: share of the mass, from the start of the run
    const material::Material* wood = nullptr;  ///< wood moisture: of what
    std::string detail;                        ///< what else people ask of it, or empty
    bool assumed = false;  ///< of a run whose wetting has a size of our choice: it makes a watch at most
};

[[nodiscard]] const Limit& limit_of(const Thresholds& thresholds, Criterion criterion);

/// Below 1 dry, 1 at the watch limit, 2 at the wet limit; rises with the value.
[[nodiscard]] double severity(double value, const Limit& limit);

/// Of a measured value; below 2 where it is assumed.
[[nodiscard]] double severity_of(const Measured& measured, const Thresholds& thresholds);

/// Severity of the worst judged value of a history, which may be of a single year.
[[nodiscard]] double worst_severity(const assembly::Assembly& assembly, const History& history,
                                    const Thresholds& thresholds);

/// Whether one of the space-separated words of a run's name is `word`.
[[nodiscard]] bool has_word(std::string_view run_name, std::string_view word);
/// The path that a run's name tells: framing when one of its words is "framing".
[[nodiscard]] Path path_of(std::string_view run_name);
/// The wood or wood panel that a path meets in each layer (see path_through), then in each layer `beyond` the
/// outer face; null where there is none.
[[nodiscard]] std::vector<const material::Material*> wood_on(const assembly::Assembly& assembly, Path path,
                                                             std::span<const assembly::Layer> beyond = {});
[[nodiscard]] bool holds_wood(const material::Material& material);

/// Adds the findings of one history, which is whole (see try_judge).
void measure(const assembly::Assembly& assembly, const History& history, std::size_t run,
             const Thresholds& thresholds, std::vector<Measured>& out);

}  // namespace warmside::moisture
