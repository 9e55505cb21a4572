// Air that the fans bring in, hour by hour, past heat recovery and its frost guard.
#pragma once

#include <limits>
#include <vector>

#include "assembly/services.h"
#include "base/result.h"
#include "climate/year.h"

namespace warmside::leakage {

/// Recovery as one hour's formula sees it.
struct Recovery {
    double sensible = 0.0, moisture = 0.0;                    ///< effectiveness, 0..1
    double frost = -std::numeric_limits<double>::infinity();  ///< K, outdoors, below which it is limited
    assembly::Ventilation::Guard guard = assembly::Ventilation::Guard::preheat;
};
/// None unless the ventilation is balanced.
[[nodiscard]] Recovery recovery_of(const assembly::Ventilation& ventilation);

/// What enters the rooms in one hour.
///
///   T_x = T_out, with preheat max(T_out, T_frost)        T_supply = T_x + e_s (T_room - T_x)
///   preheat = rho c_p V (T_x - T_out)                    bypass below T_frost: T_supply = T_out, no moisture
///
/// capacity  W/K, rho c_p V of the supply air
/// Source    effectiveness by definition, equal flows, no condensation; worked by hand in supply_test.cpp
struct Supplied {
    double temperature = 0.0;  ///< K
    double preheat = 0.0;      ///< W
    double moisture = 0.0;     ///< effectiveness of vapour in this hour
};
[[nodiscard]] Supplied supplied(const Recovery& recovery, double outdoor, double room, double capacity);

/// Heat that moist air carries, J/(m3 K).  (c_pa + W c_pv) rho_dry
/// temperature K, vapour_pressure Pa, pressure Pa (total)
[[nodiscard]] double heat_capacity(double temperature, double vapour_pressure, double pressure);
/// Dry air in a volume of moist air, kg/m3.  (p - p_v)/(R_a T)
[[nodiscard]] double dry_density(double temperature, double vapour_pressure, double pressure);

/// Supply air over a year; each [8760]. Heat recovery runs all year: no bypass in summer.
struct Supply {
    std::vector<double> dry_flow;     ///< kg/s of dry air
    std::vector<double> capacity;     ///< W/K
    std::vector<double> temperature;  ///< K, as it enters the rooms
    std::vector<double> preheat;      ///< W, at the frost guard
    std::vector<double> moisture;     ///< effectiveness of vapour
    double preheat_energy = 0.0;      ///< J a year
    int guarded = 0;                  ///< hours below the frost limit
};
/// flow     m3/s at the room's density, as the fans move it; mean over time
/// Problem  incomplete when a column is not 8760 long
[[nodiscard]] Result<Supply> supply(const Recovery& recovery, double flow, const climate::Year& year,
                                    const climate::Indoor& indoor);

}  // namespace warmside::leakage
