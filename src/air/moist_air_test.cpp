#include "air/moist_air.h"

#include <cmath>
#include <doctest/doctest.h>

using namespace warmside;

TEST_CASE("the standard atmosphere has the handbook's pressures") {
    // ashrae-fundamentals-1, table 1 (memory): 1000 m 89.875 kPa, 2000 m 79.495 kPa
    CHECK(air::standard_pressure(0.0) == 101325.0);
    CHECK(std::abs(air::standard_pressure(1000.0) - 89875.0) < 5.0);
    CHECK(std::abs(air::standard_pressure(2000.0) - 79495.0) < 5.0);
}

TEST_CASE("humidity ratio and vapour pressure undo each other") {
    for (const double p : {5.0, 200.0, 2000.0, 9000.0}) {
        CHECK(air::vapour_pressure_of(air::humidity_ratio(p, 90000.0), 90000.0) ==
              doctest::Approx(p).epsilon(1e-13));
    }
}

TEST_CASE("dry air is an ideal gas, and damp air is lighter") {
    CHECK(air::density(293.15, 0.0, 101325.0) ==
          doctest::Approx(101325.0 / (287.042 * 293.15)).epsilon(1e-12));
    CHECK(air::density(293.15, 2000.0, 101325.0) < air::density(293.15, 0.0, 101325.0));
    // The two constituents, each by its own gas law, add up to the mixture (1.607858 is a rounded ratio).
    const double parts =
        (101325.0 - 2000.0) / (air::dry_air_gas_constant * 293.15) + air::vapour_density(2000.0, 293.15);
    CHECK(air::density(293.15, 2000.0, 101325.0) == doctest::Approx(parts).epsilon(1e-6));
}

TEST_CASE("the heats of water meet the steam tables") {
    // Steam tables, kJ/kg (memory): h_fg 2453.5 at 20 degC, 2406.0 at 40 degC
    CHECK(std::abs(air::evaporation_heat(293.15) / 2453.5e3 - 1.0) < 0.001);
    CHECK(std::abs(air::evaporation_heat(313.15) / 2406.0e3 - 1.0) < 0.001);
    // ashrae-fundamentals-1, table 3 (memory): h_ig 2834.2 at 0 degC, 2838.6 at -30 degC
    CHECK(std::abs(air::sublimation_heat(273.15) / 2834.2e3 - 1.0) < 0.001);
    CHECK(std::abs(air::sublimation_heat(243.15) / 2838.6e3 - 1.0) < 0.001);
}

TEST_CASE("saturation slope and heat of evaporation obey Clausius and Clapeyron") {
    // dp/dT = h p / (R_v T^2): an identity of an ideal vapour, which real vapour misses by 0.3 % at 30 degC
    for (double t = 0.0; t <= 30.0; t += 5.0) {
        const double T = t + air::zero_celsius;
        const auto water = air::over_water_with_slope(T);
        CHECK(std::abs(water.slope * air::vapour_gas_constant * T * T /
                           (water.pressure * air::evaporation_heat(T)) -
                       1.0) < 0.003);
    }
    for (double t = -40.0; t <= 0.0; t += 5.0) {
        const double T = t + air::zero_celsius;
        const auto ice = air::over_ice_with_slope(T);
        CHECK(std::abs(ice.slope * air::vapour_gas_constant * T * T /
                           (ice.pressure * air::sublimation_heat(T)) -
                       1.0) < 0.003);
    }
}
