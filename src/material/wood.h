// Wood by the formulas of the Wood Handbook.
#pragma once

namespace warmside::material {

/// Equilibrium moisture content of wood, kg of water per kg of dry wood.
///
///   u = 18/W [K h/(1 - K h) + (K1 K h + 2 K1 K2 K^2 h^2)/(1 + K1 K h + K1 K2 K^2 h^2)]
///   W, K, K1, K2 quadratic in the temperature in degC
///
/// temperature          K, about 272 to 328 (the printed table's range is -1.1 to 54 degC)
/// relative_humidity    0..1; above 0.95 the formula keeps rising but is not tabulated
/// Source               Wood Handbook 2021 eq. 4-5 (quoted); check: proof/material/wood.toml
[[nodiscard]] double wood_moisture(double temperature, double relative_humidity);

/// Conductivity of wood across the grain at 24 degC, W/(m K).
///
///   k = G (0.1941 + 0.4064 u) + 0.01864
///
/// specific_gravity  G, oven-dry mass over volume at u, above 0.3
/// moisture          u, kg/kg, below 0.25
/// Source            Wood Handbook 2010 eq. 4-15 (memory); check: proof/material/wood.toml
[[nodiscard]] double wood_conductivity(double specific_gravity, double moisture);

/// Specific heat of wood per mass of moist wood, J/(kg K).
///
///   c = (c0 + 4.18 u)/(1 + u) + 100 u (-0.06191 + 2.36e-4 T - 0.0133 u),  c0 = 0.1031 + 0.003867 T, kJ/(kg
///   K)
///
/// temperature  K
/// moisture     u, kg/kg, below fibre saturation
/// Source       Wood Handbook 2010 eqs 4-16 to 4-18 (quoted)
[[nodiscard]] double wood_specific_heat(double temperature, double moisture);

}  // namespace warmside::material
