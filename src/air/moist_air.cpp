#include "air/moist_air.h"

namespace warmside::air {

double standard_pressure(double elevation) {
    return 101325.0 * std::pow(1.0 - 2.25577e-5 * elevation, 5.2559);
}

double density(double temperature, double vapour_pressure, double pressure) {
    const double W = humidity_ratio(vapour_pressure, pressure);
    const double volume = dry_air_gas_constant * temperature * (1.0 + 1.607858 * W) / pressure;
    return (1.0 + W) / volume;
}

}  // namespace warmside::air
