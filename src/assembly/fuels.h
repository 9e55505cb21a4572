// What fuels hold and emit: data/house/energy.toml.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "assembly/services.h"
#include "base/result.h"
#include "units/price.h"

namespace warmside::assembly {

inline constexpr std::size_t fuel_count = 5;

/// One fuel. Heat contents are higher heating values.
struct FuelRow {
    Fuel fuel = Fuel::electricity;
    std::vector<std::string> sold_by;           ///< units of volume and mass that its price may be for
    std::optional<Sourced<double>> per_volume;  ///< J/m3 as sold: gas, liquid, stacked
    std::optional<Sourced<double>> per_mass;    ///< J/kg
    Sourced<double> carbon;                     ///< kg CO2/J of the fuel's heat, or of electricity
};
using FuelTable = std::array<FuelRow, fuel_count>;  ///< in the order of Fuel

/// Problem  the first fault of the text, with its place
[[nodiscard]] Result<FuelTable> read_fuels(std::string_view name, std::string_view text);

/// The built-in table, read once.
[[nodiscard]] const Result<FuelTable>& fuels();

/// J in an amount of fuel.
///
/// Problem  wrong_unit: a fuel that is not sold by that unit; `what` reads on after "price is"
[[nodiscard]] Result<double> energy_of(const units::Amount& amount, const FuelRow& row);

}  // namespace warmside::assembly
