// The figures of the ventilation codes: data/leakage/ventilation.toml.
#pragma once

#include <string_view>
#include <vector>

#include "base/origin.h"
#include "base/result.h"

namespace warmside::leakage {

struct VentilationRules {
    // IRC M1505.4.3: equation, table, intermittent running.
    double irc_area = 0.0;                   ///< m3/(s m2) of floor
    double irc_person = 0.0;                 ///< m3/s, bedrooms + 1
    double irc_credit = 0.0;                 ///< share less where balanced and ducted
    std::vector<double> table_bedrooms;      ///< up to; one column more in `table`
    std::vector<double> table_area;          ///< m2, up to; one row more in `table`
    std::vector<std::vector<double>> table;  ///< m3/s
    std::vector<double> run, factor;         ///< share of each four hours, rising; factor on the rate
    // ASHRAE 62.2: total rate and infiltration credit.
    double total_area = 0.0, total_person = 0.0;                             ///< m3/(s m2), m3/s
    double credit_factor = 0.0, credit_height = 0.0, credit_exponent = 0.0;  ///< -, m, -
    double credit_most = 0.0;                                                ///< of the total rate
    double weather = 0.0;          ///< weather and shielding factor taken everywhere
    double make_up_over = 0.0;     ///< m3/s
    double natural_draught = 0.0;  ///< Pa, limit of depressurisation
    double radon_action = 0.0;     ///< pCi/L
    Origin irc, irc_table, intermittent, total, credit, weather_origin, make_up, draught, radon;
};

/// Problem: syntax, a missing key, a value outside its limits, with place.
[[nodiscard]] Result<VentilationRules> read_ventilation_rules(std::string_view name, std::string_view text);
/// The embedded file; read once.
[[nodiscard]] const Result<VentilationRules>& ventilation_rules();

}  // namespace warmside::leakage
