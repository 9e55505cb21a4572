// Dry, watch or wet: criteria over the histories of one assembly, with the reason.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "moisture/simulate.h"

namespace warmside::moisture {

enum class Dryness { dry, watch, wet };
[[nodiscard]] const char* name_of(Dryness dryness);

/// One criterion at one place in one year, of the run where it is worst. Value, limits and rise are numbers
/// in `unit`: "-" for an index, "%" for moisture content and humidity, "h" for a spell, "kg/m2" for water,
/// "cycles" for those of one year.
struct Finding {
    std::string criterion;  ///< "mould index", "wood moisture content", "decay", "condensate", "condensed
                            ///< water", "freeze-thaw", "surface humidity", "mould index, original model"
    std::string source;     ///< of the limits
    Dryness dryness = Dryness::dry;
    std::string run;    ///< name of the history
    std::string place;  ///< "inner face of osb", "wettest 10 mm of osb"
    std::size_t layer = 0;
    double value = 0.0;
    double watch_limit = 0.0, wet_limit = 0.0;  ///< wet_limit 0: the criterion raises a watch at most
    double margin = 0.0;  ///< (limit - value)/limit to the limit that decides the class: dry has it to
                          ///< watch_limit (positive), watch beyond watch_limit and wet beyond wet_limit
                          ///< (0 or negative)
    std::string unit;
    int hour = 0;             ///< hours from the start of the run at which the value is worst
    int week = 0;             ///< of the calendar year, 1 to 52
    std::string month;        ///< "April"
    bool first_year = false;  ///< worst within the first year (built-in water), else in the settled year
    bool judged = true;       ///< false: reported only (cladding side of a wall's cavity, outermost face)
    double rise = 0.0;        ///< settled year: worst value minus that of the year before, in `unit`
    std::string detail;       ///< what else people ask of this criterion, or empty
};

/// What wets an assembly. Each is judged by a run with it taken away (causes.h).
enum class Driver { indoor_vapour, rain, sun, built_in_water, air_leakage };
[[nodiscard]] const char* name_of(Driver driver);

/// The deciding finding with one driver taken away.
struct DriverShare {
    Driver driver = Driver::indoor_vapour;
    double value_without = 0.0;  ///< of the deciding criterion at its place, in its unit
    Dryness dryness_without = Dryness::wet;
};

/// How much rain leak an assembly survives, over the year of the run that decides, by bisection on the leak.
struct WettingAllowance {
    double dry = 0.0;      ///< kg/(m2 a) up to which the verdict stays dry; 0: not dry even without a leak
    double not_wet = 0.0;  ///< kg/(m2 a) up to which it is not wet
    double assumed = 0.0;  ///< kg/(m2 a) that the verdict assumes
    bool dry_bounded = true, not_wet_bounded = true;  ///< false: no leak tried reaches the limit (most_tried)
    double most_tried = 0.0;                          ///< kg/(m2 a)
};

/// One thing that the builder could change, tried by a run.
struct Change {
    std::string what;       ///< "a variable vapour retarder behind the gypsum board"
    bool all_runs = false;  ///< tried in all runs of the assembly; false: in the one that decides
    double value = 0.0;     ///< of the worst finding afterwards, in `unit`
    std::string criterion, place, unit;
    Dryness dryness = Dryness::wet;
};

/// What the monthly method says of one run's weather and path: a second opinion, never the verdict.
struct MonthlyOpinion {
    std::string run;        ///< whose weather and path
    double peak = 0.0;      ///< kg/m2, all planes together
    int first_month = 0;    ///< 1 to 12, in which condensation starts; 0: none
    int peak_month = 0;     ///< 1 to 12; 0: none
    int dry_month = 0;      ///< at whose end no water is left; 0: none or never
    bool dries_out = true;  ///< within the year
    std::string place;      ///< of the wettest plane, "between stone wool batt and osb"; empty: none
    std::string words;      ///< one sentence
};

struct Verdict {
    Dryness dryness = Dryness::wet;
    Finding deciding;               ///< the worst finding
    std::vector<Finding> findings;  ///< all, judged ones first, worst first
    std::string reason;  ///< "mould index 1.3 at the inner face of osb, week 16 in April of the settled year,
                         ///< north, framing path (dry ends at 1 and wet begins at 3)"
    std::vector<DriverShare> drivers;       ///< strongest first; empty: not asked for
    std::optional<double> without_drivers;  ///< value of the deciding criterion with all of them taken away,
                                            ///< the sun only where that helps
    std::string driver_words;  ///< "mostly vapour from inside: without it the mould index would be 0.2"
    std::optional<WettingAllowance> allowance;
    std::vector<Change> changes;            ///< best first; empty: not asked for, or none helps
    std::optional<MonthlyOpinion> monthly;  ///< nothing where the method does not fit (a note says why)
    std::vector<std::string>
        assumes;  ///< what it rests on: leak, rain, indoor humidity, start moisture, air leakage
    std::vector<std::string> notes;
};

/// What was run, for `assumes` and for the rule that a typical year alone never earns `dry`.
struct Basis {
    bool stressed_year_run = false;
    bool air_leakage_run = false;
    double rain_leak = 0.0;
    std::string weather, indoor, start, rain, air, beyond;  ///< one phrase each
    bool rain_known = true;  ///< false: the weather has no rain, and a wall may not be called dry
    bool design_weather =
        false;  ///< the weather is one that ASHRAE 160 allows, so its criterion may be named
};

/// Judges first year and settled year (the last of the run) apart; the worse counts, over all runs and
/// probes. Rules, limits and their sources: docs/methods/verdict.md, data/moisture/thresholds.toml.
///
/// histories  of this assembly: whole years, at least two. History::name is words: assembly, face, the path
/// as
///            "bay" or "framing", "typical" or "stressed" and whatever else tells the runs apart
/// Problem    incomplete: no history, a short or ragged or not finite one, nothing to judge;
///            out_of_range: a layer that the assembly does not have
[[nodiscard]] Result<Verdict> try_judge(const assembly::Assembly& assembly,
                                        std::span<const History> histories, const Basis& basis);

/// As try_judge; what cannot be judged comes back as `wet` with no findings and the reason "not judged: ...".
[[nodiscard]] Verdict judge(const assembly::Assembly& assembly, std::span<const History> histories,
                            const Basis& basis);

}  // namespace warmside::moisture
