// What energy costs and emits at a place: the file's tariffs, else demo ones, and a year's bill by them.
#pragma once

#include <array>
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "assembly/fuels.h"
#include "assembly/services.h"
#include "climate/year.h"

namespace warmside::house {

/// data/house/tariffs.toml.
struct DemoTariff {
    double us = 0.0;                                    ///< $/J where the state has none of its own
    std::map<std::string, double, std::less<>> states;  ///< "MN" to $/J
    double monthly = 0.0;                               ///< $/month
    std::string date;
    Origin origin;
};
struct GridRegion {
    std::string name;                         ///< "MROW, MRO West"
    double carbon = 0.0;                      ///< kg CO2/J of electricity, losses of the grid not included
    std::vector<std::string> states, places;  ///< "MN"; "Sault Ste. Marie, MI", which goes before states
};
struct DemoTariffs {
    std::array<DemoTariff, assembly::fuel_count> fuels;  ///< in the order of Fuel
    std::vector<GridRegion> regions;
    Origin grid;
};
/// Problem: syntax, a missing fuel, a price that is not one or not by a unit of its fuel, with its line.
[[nodiscard]] Result<DemoTariffs> read_tariffs(std::string_view name, std::string_view text);
/// The embedded file; read once.
[[nodiscard]] const Result<DemoTariffs>& demo_tariffs();

struct FuelPrice {
    assembly::EnergyPrice price;
    bool demo = false;       ///< not of the house file: said wherever its money is shown
    std::string from;        ///< "demo (US EIA ..., Minnesota, 2024)", "the utility's sheet, 2025"
    Sourced<double> carbon;  ///< kg CO2/J
};

/// The tariff of the house file for a fuel, else the demo one of the place's state, else of the United
/// States. Carbon: as the tariff states, else for electricity that of the grid region, else of the fuel
/// table.
///
/// place    null: no state is known
/// Problem  a data file cannot be read; the file's tariff does not hold (check); unsupported: the file's
/// money
///          is not in dollars and it has no tariff for this fuel
[[nodiscard]] Result<FuelPrice> price_of(const assembly::Services& services, assembly::Fuel fuel,
                                         const climate::PlaceRow* place);

/// Blocks rise and end without limit, hours cover the day from 0 to 24 in order, no number is negative or
/// not finite, and there is one of the two.
/// Problem  incomplete, conflict or out_of_range, at the tariff's place
[[nodiscard]] Result<void> check(const assembly::EnergyPrice& price);

struct Bill {
    double money = 0.0;               ///< a year, `fixed` included
    double fixed = 0.0;               ///< a year: twelve monthly charges, whatever is used
    std::array<double, 12> months{};  ///< money, with the monthly charge
    std::array<double, 12> used{};    ///< J
};

/// Each month's energy through the blocks from the first on, or each hour's at the rate of its hour of the
/// day (local standard time; no summer time, no weekends), and the monthly charge.
///
/// power    [8760] W, all that is bought by this tariff; other use of the house, which would fill the lower
///          blocks, is not in it
/// Problem  those of check; incomplete: not 8760 hours; out_of_range: an hour below 0 or not finite
/// Check    proof/house/tariff.toml
[[nodiscard]] Result<Bill> bill(const assembly::EnergyPrice& price, std::span<const double> power);

}  // namespace warmside::house
