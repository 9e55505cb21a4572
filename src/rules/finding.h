// One finding: what a rule asks of one part of the envelope, what is there, and what change would pass.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/origin.h"

namespace warmside::rules {

enum class Outcome {
    passes,
    fails,
    unconfirmed,  ///< the requirement, or the zone it was read for, is known from memory only
    not_covered,  ///< no row, or something that the rule needs is not given
    information   ///< stated, not decided: reminders, practice, other countries
};
[[nodiscard]] const char* name_of(Outcome outcome);  ///< "passes", "not covered"

enum class Subject {
    zone,          ///< which climate zone, and by which map
    r_row,         ///< cavity and continuous R against the R table
    u_row,         ///< code U against the U table
    total,         ///< total UA or total conductance of the whole envelope
    fenestration,  ///< U and SHGC of windows, doors and skylights
    air,           ///< air leakage
    vapour,        ///< vapour retarder
    sheet,         ///< share of R inside the sheet: practice
    roof,          ///< unvented roofs, attic vents
    credit,        ///< what the envelope earns towards additional efficiency
    ventilation,   ///< heat recovery where it is mandatory
    reminder,      ///< what else the code asks
    comparison     ///< other countries
};
[[nodiscard]] const char* name_of(Subject subject);  ///< "R table", "total UA"

/// A figure: SI, and as the trade writes it.
struct Amount {
    double value = 0.0;
    std::string unit;    ///< SI text; "-" without
    std::string text;    ///< "U-0.045", "R-20 + R-5 ci", "3.0 ACH50"
    std::string metric;  ///< "U 0.256 W/(m2 K)"; as `text` where there is no difference
};

struct Finding {
    Subject subject = Subject::reminder;
    std::string part;      ///< "wall/w3", "windows", "house"
    std::string rule;      ///< one phrase: "U of the frame wall"
    std::string citation;  ///< "IECC 2021 Table R402.1.2"
    Outcome outcome = Outcome::information;
    std::optional<Amount> required, provided;
    std::string words;   ///< one sentence with the figures
    std::string change;  ///< what would pass; empty where nothing is to change or nothing can be said
    std::vector<std::string> notes;
    Evidence evidence = Evidence::none;  ///< of the requirement
    Origin origin;                       ///< where the requirement stands
};

[[nodiscard]] Amount u_amount(double u);                  ///< W/(m2 K)
[[nodiscard]] Amount r_amount(double r);                  ///< m2 K/W
[[nodiscard]] Amount f_amount(double f);                  ///< W/(m K)
[[nodiscard]] Amount ua_amount(double ua);                ///< W/K
[[nodiscard]] Amount ach_amount(double rate);             ///< 1/s at 50 Pa
[[nodiscard]] Amount share_amount(double share);          ///< 0..1, in per cent
[[nodiscard]] Amount gain_amount(double shgc);            ///< SHGC
[[nodiscard]] Amount permeance_amount(double permeance);  ///< kg/(s m2 Pa)
[[nodiscard]] Amount leakage_amount(double leakage);      ///< m3/(s m2) at 50 Pa
[[nodiscard]] Amount layers_amount(double cavity, double continuous);

}  // namespace warmside::rules
