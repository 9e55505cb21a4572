// Dry, watch or wet: criteria over the histories of one assembly, with the reason.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "moisture/simulate.h"

namespace warmside::moisture {

enum class Dryness { dry, watch, wet };
[[nodiscard]] const char* name_of(Dryness dryness);

/// One criterion at one place in one run. Values in SI; `unit` is "-" or "%".
struct Finding {
    std::string
        criterion;       ///< "mould index", "wood moisture content", "ASHRAE 160 ...", "decay", "condensate"
    std::string source;  ///< of the limits
    Dryness dryness = Dryness::dry;
    std::string run;    ///< name of the history
    std::string place;  ///< "inner face of the osb"
    std::size_t layer = 0;
    double value = 0.0;
    double watch_limit = 0.0, wet_limit = 0.0;
    double margin = 0.0;  ///< to the limit that decides the class: (limit - value)/limit
    std::string unit;
    int hour = 0;             ///< hours from the start of the run at which the value is worst
    int week = 0;             ///< of the calendar year, 1 to 52
    std::string month;        ///< "April"
    bool first_year = false;  ///< worst within the first year (built-in water), else in the settled year
};

struct Verdict {
    Dryness dryness = Dryness::wet;
    Finding deciding;               ///< the worst finding
    std::vector<Finding> findings;  ///< all, worst first
    std::string reason;  ///< "mould index 1.3 at the inner face of the osb, April of the settled year, north,
                         ///< framing path"
    std::vector<std::string>
        assumes;  ///< what it rests on: leak, rain, indoor humidity, start moisture, air leakage
    std::vector<std::string> notes;
};

/// What was run, for `assumes` and for the rule that a typical year alone never earns `dry`.
struct Basis {
    bool stressed_year_run = false;
    bool air_leakage_run = false;
    double rain_leak = 0.0;
    std::string weather, indoor, start, rain, air;  ///< one phrase each
};

/// Judges first year and settled year (the last) apart; the worse counts, over all runs and probes.
[[nodiscard]] Verdict judge(const assembly::Assembly& assembly, std::span<const History> histories,
                            const Basis& basis);

}  // namespace warmside::moisture
