// Prints our moist air over a grid, one JSON list a line, for compare.js.
#include <fmt/core.h>

#include "air/moist_air.h"

using namespace warmside;

int main() {
    for (const double pressure : {80000.0, 95000.0, 101325.0}) {
        for (double t = -60.0; t <= 60.0; t += 2.5) {
            const double T = t + air::zero_celsius;
            const double saturation = air::over_stable_phase(T);
            for (const double humidity : {0.05, 0.3, 0.5, 0.8, 1.0}) {
                const double vapour = humidity * saturation;
                const double W = air::humidity_ratio(vapour, pressure);
                const double dew = vapour < 611.657 ? air::frost_point(vapour) : air::dew_point(vapour);
                fmt::print("[{},{},{},{:.15g},{:.15g},{:.15g},{:.15g},{:.15g}]\n", t, humidity, pressure,
                           saturation, W, dew - air::zero_celsius, air::density(T, vapour, pressure),
                           air::enthalpy(T, W));
            }
        }
    }
    for (double z = 0.0; z <= 3000.0; z += 250.0) fmt::print("[{},{:.15g}]\n", z, air::standard_pressure(z));
}
