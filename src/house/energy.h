// From the hourly run of a house to its energy, bill and carbon of a year.
#pragma once

#include <optional>
#include <span>

#include "house/money.h"
#include "house/monthly.h"
#include "house/simulate.h"

namespace warmside::house {

struct EnergyInput {
    const Run& run;                   ///< a whole year from hour 0
    std::size_t rooms = 0;            ///< zone that people live in, for overheating
    std::span<const double> outdoor;  ///< [8760] K
    Series fans{};                    ///< W, electricity of ventilation
    const assembly::Services& services;
    const climate::PlaceRow* place = nullptr;
    std::optional<MonthlyHouse> monthly{};  ///< for the second opinion
};

/// Need of all zones together, what is bought for it (supply), what that costs and emits (yearly), hours in
/// which the rooms' operative temperature (mean of air and surfaces) is above 26 degC, and the monthly method
/// beside it.
///
/// Problem  incomplete: not a whole year, or no such zone; those of supply, yearly and monthly_need
/// Source   operative temperature: ISO 7730, still air (memory); 26 degC: EN 16798, category II (memory)
[[nodiscard]] Result<Energy> energy_of(const EnergyInput& input);

}  // namespace warmside::house
