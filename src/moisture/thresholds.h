// The limits of the verdict, from data/moisture/thresholds.toml.
#pragma once

#include <string>
#include <string_view>

#include "base/origin.h"
#include "base/result.h"
#include "moisture/mould.h"

namespace warmside::moisture {

/// From `watch` on no longer dry, from `wet` on wet. wet 0: the criterion raises a watch at most.
struct Limit {
    double watch = 0.0, wet = 0.0;  ///< SI
    std::string source, why;
    Evidence watch_evidence = Evidence::none, wet_evidence = Evidence::none;  ///< none: our choice
};

struct Thresholds {
    Limit mould_index;
    double mould_decline = 0.1;
    BelowFreezing below_freezing = BelowFreezing::hold;
    Limit wood_moisture;            ///< kg/kg
    double wood_average = 0.0;      ///< s, running mean
    Limit decay;                    ///< activation
    Limit condensate;               ///< s, longest spell
    double condensate_level = 0.0;  ///< relative humidity
    Limit condensed_water;          ///< kg/m2
    double clings = 0.0;            ///< kg/m2 that stays on an upright surface; the rest runs off
    Limit freeze_thaw;              ///< cycles a year
    double frost = 0.0, hard_frost = 0.0, thaw = 0.0;  ///< K
    double critical_saturation = 0.0;  ///< of all pores, where the material's family has none of its own
    double critical_saturation_concrete = 0.0;
    double full_saturation = 0.0;         ///< no room for the ice: an upper bound for every material
    Limit surface_humidity;               ///< relative humidity
    double humidity_average = 0.0;        ///< s
    double settled_rise = 0.0;            ///< share of the watch limit that a settled run rises by less than
    int settled_years = 10;               ///< that a mould index is followed for, the settled year repeated
    bool stressed_must_settle = true;     ///< runs of stressed weather count there too
    double coldest = 0.0, warmest = 0.0;  ///< K
};

/// Problem: the first of what is wrong with the text, with its place.
[[nodiscard]] Result<Thresholds> read_thresholds(std::string_view name, std::string_view text);

/// The embedded file, parsed once.
[[nodiscard]] const Result<Thresholds>& built_in_thresholds();

}  // namespace warmside::moisture
