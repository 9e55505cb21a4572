// How the house is lived in, heated, cooled and ventilated, what energy costs there, and which code holds:
// what [people], [ventilation], [heating], [cooling], [energy.NAME], [money], [room.NAME], [appliance.NAME],
// [penetration.NAME] and [code] of a house file say. SI units; money in the file's own currency.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "assembly/details.h"
#include "base/origin.h"
#include "units/quantity.h"

namespace warmside::assembly {

enum class Fuel { electricity, natural_gas, propane, heating_oil, wood };
[[nodiscard]] const char* name_of(Fuel fuel);  ///< "natural gas"

/// Who lives there, and at what temperatures. An absent optional is taken by the rule named beside it, and
/// the result says so.
struct Occupancy {
    Sourced<int> bedrooms = Details::ours(3);
    std::optional<Sourced<double>> people;            ///< absent: bedrooms + 1 (ASHRAE 62.2)
    Sourced<double> heating = Details::ours(293.15);  ///< K, air temperature kept by heating
    Sourced<double> cooling = Details::ours(299.15);  ///< K, kept by cooling where there is any
    std::optional<Sourced<double>> night;             ///< K, heating from `night_from` to `night_to`
    double night_from = 22.0, night_to = 6.0;         ///< h, local standard time
    std::optional<Sourced<double>>
        gains;  ///< W, sensible, mean over the year; absent: by people and floor area
    std::optional<Sourced<double>>
        moisture;  ///< kg/s, all sources; absent: by bedrooms (data/leakage/moisture.toml)
    std::optional<Sourced<double>> humidifier;    ///< relative humidity kept above in winter
    std::optional<Sourced<double>> dehumidifier;  ///< kept below in summer
    Origin origin;
};

/// Mechanical ventilation of the whole dwelling.
struct Ventilation {
    enum class Kind { none, exhaust, supply, balanced };
    enum class Guard { preheat, bypass };
    Sourced<Kind> kind = Details::ours(Kind::exhaust);
    std::optional<Sourced<double>> flow;            ///< m3/s while it runs; absent: the required rate
    Sourced<double> run = Details::ours(1.0);       ///< share of the time that it runs
    Sourced<double> sensible = Details::ours(0.0);  ///< recovery effectiveness of heat, 0..1; balanced only
    Sourced<double> moisture = Details::ours(0.0);  ///< of vapour, 0..1
    std::optional<Sourced<double>> frost;           ///< K, outdoor air below which recovery is limited
    Sourced<Guard> guard =
        Details::ours(Guard::preheat);                 ///< then: warmed to `frost`, or no recovery that hour
    Sourced<double> fan_power = Details::ours(800.0);  ///< W/(m3/s), all fans together
    Sourced<bool> ducted =
        Details::ours(false);  ///< balanced, and ducted to each bedroom and the living area
    std::optional<Sourced<double>> range_hood, dryer;  ///< m3/s, exhaust appliances, for make-up air
    Origin origin;
};

/// Capacity and efficiency of a heat pump or air conditioner at one outdoor temperature, from the maker's
/// sheet.
struct PerformancePoint {
    double outdoor = 0.0;     ///< K
    double capacity = 0.0;    ///< W
    double efficiency = 0.0;  ///< COP, W/W
};

struct Heating {
    enum class Kind { furnace, boiler, resistance, heat_pump };
    Sourced<Kind> kind = Details::ours(Kind::furnace);
    Sourced<Fuel> fuel = Details::ours(Fuel::propane);
    Sourced<double> efficiency = Details::ours(0.95);  ///< of furnace and boiler, seasonal
    std::optional<Sourced<double>> capacity;           ///< W; absent: as large as needed
    std::vector<PerformancePoint> points;  ///< heat pump, rising temperature; empty: a demo curve, said so
    Sourced<double> cut_off = Details::ours(248.15);    ///< K, outdoors, below which the heat pump stops
    Sourced<double> distribution = Details::ours(1.0);  ///< share of the heat that reaches the rooms
    Origin origin;
};

struct Cooling {
    enum class Kind { none, air_conditioner, heat_pump };
    Sourced<Kind> kind = Details::ours(Kind::none);
    std::vector<PerformancePoint> points;
    Sourced<double> efficiency = Details::ours(3.5);  ///< COP where no points are given
    std::optional<Sourced<double>> capacity;          ///< W
    Origin origin;
};

/// What one kind of energy costs and emits.
struct EnergyPrice {
    std::string name;
    Fuel fuel = Fuel::electricity;
    /// Upper limit of a month's use (J; the last infinite) and money/J up to it.
    std::vector<std::array<double, 2>> blocks;
    /// By hours of the day: from (h), to (h), money/J; where given they replace the blocks. They cover 0 to
    /// 24 in order; one that the file runs over midnight stands here as two.
    std::vector<std::array<double, 3>> hours;
    double monthly = 0.0;          ///< money/month, whatever is used
    std::optional<double> carbon;  ///< kg CO2/J; absent: the table's (fuels.h)
    double rise = 0.0;             ///< 1/year above general prices
    std::string date, source;      ///< "2024", "the utility's sheet"; "demo" where invented
    Origin origin;
};

/// Rates of the present-value sum (NIST Handbook 135), real: without general inflation.
struct Money {
    std::string currency = "$";
    Sourced<double> discount = Details::ours(0.03);  ///< 1/year
    Sourced<int> years = Details::ours(30);
    Origin origin;
};

/// Part of a heated storey, for a load of its own.
struct Room {
    std::string name, storey;
    std::vector<std::array<units::Exact, 2>> outline;  ///< counter-clockwise, within the storey's outline
    Origin origin;
};

/// Something that burns fuel, for the reminders on combustion air.
struct Appliance {
    enum class Draught { natural, fan, sealed };  ///< natural: open to the room; sealed: direct vent
    std::string name;
    Fuel fuel = Fuel::natural_gas;
    Draught draught = Draught::sealed;
    Origin origin;
};

/// What goes through the airtight layer beside boxes, windows and sheet joints, which the model knows itself.
struct Penetration {
    enum class Kind { pipe, wire, duct, flue, hatch, recessed_light, other };
    std::string name;
    Kind kind = Kind::pipe;
    int count = 1;
    bool ceiling = true;         ///< through the ceiling, else through the outer walls
    std::optional<double> area;  ///< m2, of the hole, for `other`
    Origin origin;
};
[[nodiscard]] const char* name_of(Penetration::Kind kind);

/// Which code the findings are for.
struct CodeChoice {
    Sourced<int> edition = Details::ours(2021);  ///< IECC and IRC: 2018, 2021, 2024
    std::string zone;                            ///< climate zone, "6A"; empty: of the place
    std::string amendments;                      ///< file beside the house file, or empty
    Origin origin;
};

struct Services {
    Occupancy people;
    Ventilation ventilation;
    Heating heating;
    Cooling cooling;
    std::vector<EnergyPrice> energy;  ///< at most one of a fuel; absent fuels: the built-in demo tariff
    Money money;
    std::vector<Room> rooms;
    std::vector<Appliance> appliances;
    std::vector<Penetration> penetrations;
    CodeChoice code;
    std::string test;  ///< [air] test: blower-door readings, a CSV beside the house file; or empty
};

}  // namespace warmside::assembly
