// What a dwelling has to be ventilated with by the codes, what its fans give, and what exhaust fans do to
// appliances that burn in the room.
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "leakage/envelope.h"
#include "leakage/house_leakage.h"
#include "leakage/ventilation_rules.h"

namespace warmside::leakage {

/// Who and how large, for the rates.
struct Dwelling {
    double floor_area = 0.0;  ///< m2, heated storeys
    int bedrooms = 3;
    double height = 0.0;  ///< m, lowest to highest point of the airtight layer
};

/// Continuous rate of IRC M1505.4.3 by equation 15-1, m3/s.  a A + b (bedrooms + 1); 30 % less with `credit`.
/// Source  IRC 2021 (seen); check: proof/leakage/ventilation.toml
[[nodiscard]] double irc_rate(const VentilationRules& rules, const Dwelling& dwelling, bool credit);
/// The same by its table.
[[nodiscard]] double irc_table_rate(const VentilationRules& rules, const Dwelling& dwelling, bool credit);
/// What the rate is multiplied by for a fan that runs a share of each four hours; straight between the
/// table's rows. Nothing below its first row: the code has no factor there.
[[nodiscard]] std::optional<double> intermittent_factor(const VentilationRules& rules, double run);

/// ASHRAE 62.2, m3/s.
///
///   Q_tot = a A + b (bedrooms + 1);  Q_inf = 0.052 Q_50 w (H/2.5)^0.4, at most 2/3 Q_tot
///   Q_fan = Q_tot - phi Q_inf;  phi = 1 balanced, Q_inf/Q_tot otherwise (detached house)
///
/// at_50_pa  m3/s, of the blower-door test; 0 gives no credit
/// weather   weather and shielding factor w
/// Source    ASHRAE 62.2 (equations quoted); check: proof/leakage/ventilation.toml
struct TotalRate {
    double total = 0.0, infiltration = 0.0, fan = 0.0;  ///< m3/s
};
[[nodiscard]] TotalRate total_rate(const VentilationRules& rules, const Dwelling& dwelling, double at_50_pa,
                                   double weather, bool balanced);

/// What the fans move, mean over time.
struct Fans {
    double supply = 0.0, exhaust = 0.0;  ///< m3/s
    double power = 0.0;                  ///< W, mean
    double running = 0.0;                ///< m3/s of one side while they run
    bool stated = false;                 ///< the house file says what kind of ventilation there is
    bool rate_assumed = false;           ///< the flow is the rate that the code asks for
    [[nodiscard]] double imbalance() const { return supply - exhaust; }
};
/// A flow that the file does not state is the IRC's rate, credit and intermittent factor included.
/// Where it does not say what kind of ventilation there is, as much comes in through openings made for it as
/// is drawn out. Range hood and dryer are left out: they run for minutes.
/// Problem  the rules cannot be read
[[nodiscard]] Result<Fans> fans_of(const assembly::House& house);

/// A sentence for the owner, and what it rests on.
struct Reminder {
    std::string words;
    Origin origin;
    bool pressing = false;  ///< something has to be done or tested before the house is lived in
};

/// What the house gives against what is asked.
struct VentilationCheck {
    Dwelling dwelling;
    bool credit = false;            ///< the IRC's for balanced and ducted
    double irc = 0.0;               ///< m3/s while the fans run: equation x intermittent factor
    double irc_table = 0.0;         ///< the same by the table
    std::optional<double> factor;   ///< nothing: a run too short for the code
    TotalRate total;                ///< ASHRAE 62.2, mean over time
    Fans fans;                      ///< what the house has
    std::optional<double> make_up;  ///< m3/s of make-up air that M1503.6 asks for
    double largest_exhaust = 0.0;   ///< m3/s, all exhaust fans running, less what is blown in
    double depressurised = 0.0;     ///< Pa that they draw the house below outdoors, still air
    std::vector<Reminder> reminders;
    [[nodiscard]] bool meets_irc() const { return factor && fans.running >= irc * (1.0 - 1e-9); }
    [[nodiscard]] bool meets_total() const {
        return std::max(fans.supply, fans.exhaust) >= total.fan * (1.0 - 1e-9);
    }
};
/// leakage  of the whole house: credit, and its pressure under the fans.  50 (Q/Q_50)^(1/n)
/// Problem  the rules cannot be read
[[nodiscard]] Result<VentilationCheck> check_ventilation(const assembly::House& house,
                                                         const Envelope& envelope,
                                                         const HouseLeakage& leakage);

}  // namespace warmside::leakage
