// What the bought energy costs and emits in a year, and what a step is worth over its years.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "house/outcome.h"
#include "house/systems.h"
#include "house/tariff.h"

namespace warmside::house {

struct Yearly {
    std::vector<EnergyUse> uses;       ///< fuels in the order of their streams
    double money = 0.0, carbon = 0.0;  ///< a year, all fuels; carbon at the place where it is burnt or made
    bool demo = false;                 ///< a price is not of the house file
    std::vector<std::string> notes;    ///< of the tariffs
};

/// One bill a fuel, over heating, cooling and fans together.
///
/// Problem  those of price_of and bill
[[nodiscard]] Result<Yearly> yearly(const Supply& supply, const assembly::Services& services,
                                    const climate::PlaceRow* place);

/// Present worth of 1 a year at the ends of years 1 to n, each 1 + rise times the one before:
///
///   sum_{t=1..n} ((1 + rise)/(1 + discount))^t;  n where rise = discount
///
/// discount, rise  1/year, real, above -1
/// years           0 or more
/// Source  nist-135, uniform present value factors (UPV; UPV* with rise); check:
/// proof/house/present-value.toml
[[nodiscard]] double present_worth(double discount, double rise, int years);

/// A step from the rung below, both with the same systems and prices.
///
/// below, above  of the two rungs
/// cost          money of the step, knock-on costs included; absent: not known
/// Problem       those of price_of; out_of_range: rates or years that are not in reach
[[nodiscard]] Result<StepWorth> step_worth(const std::vector<EnergyUse>& below,
                                           const std::vector<EnergyUse>& above, std::optional<double> cost,
                                           const assembly::Services& services,
                                           const climate::PlaceRow* place);

}  // namespace warmside::house
