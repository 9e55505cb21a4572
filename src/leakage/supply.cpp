#include "leakage/supply.h"

#include <algorithm>

#include "air/moist_air.h"
#include "leakage/year_columns.h"

namespace warmside::leakage {

Recovery recovery_of(const assembly::Ventilation& v) {
    if (v.kind.value != assembly::Ventilation::Kind::balanced) return {};
    Recovery out{.sensible = v.sensible.value, .moisture = v.moisture.value, .guard = v.guard.value};
    if (v.frost && (out.sensible > 0.0 || out.moisture > 0.0)) out.frost = v.frost->value;
    return out;
}

Supplied supplied(const Recovery& recovery, double outdoor, double room, double capacity) {
    const bool cold = outdoor < recovery.frost;
    if (cold && recovery.guard == assembly::Ventilation::Guard::bypass) return {outdoor, 0.0, 0.0};
    const double entering = cold ? recovery.frost : outdoor;
    return {entering + recovery.sensible * (room - entering), capacity * (entering - outdoor),
            recovery.moisture};
}

double dry_density(double temperature, double vapour_pressure, double pressure) {
    return (pressure - vapour_pressure) / (air::dry_air_gas_constant * temperature);
}

double heat_capacity(double temperature, double vapour_pressure, double pressure) {
    return dry_density(temperature, vapour_pressure, pressure) *
           (air::dry_air_heat + air::humidity_ratio(vapour_pressure, pressure) * air::vapour_heat);
}

Result<Supply> supply(const Recovery& recovery, double flow, const climate::Year& year,
                      const climate::Indoor& indoor) {
    if (auto good = check_columns("supply air", year, indoor); !good) return fail(good.error());
    Supply out;
    for (auto* column : {&out.dry_flow, &out.capacity, &out.temperature, &out.preheat, &out.moisture})
        column->reserve(year.temperature.size());
    for (std::size_t i = 0; i < year.temperature.size(); ++i) {
        const double room = indoor.temperature[i], pressure = year.pressure[i];
        const double dry = flow * dry_density(room, indoor.vapour_pressure[i], pressure);
        // The same dry air crosses the fans on both sides; it carries the vapour of outdoors on the way in.
        const double capacity =
            dry *
            (air::dry_air_heat + air::humidity_ratio(year.vapour_pressure[i], pressure) * air::vapour_heat);
        const Supplied hour = supplied(recovery, year.temperature[i], room, capacity);
        out.dry_flow.push_back(dry);
        out.capacity.push_back(capacity);
        out.temperature.push_back(hour.temperature);
        out.preheat.push_back(hour.preheat);
        out.moisture.push_back(hour.moisture);
        out.preheat_energy += 3600.0 * hour.preheat;
        out.guarded += year.temperature[i] < recovery.frost ? 1 : 0;
    }
    return out;
}

}  // namespace warmside::leakage
