// What a rung does to the house: load, energy, bill, carbon, and where the heat goes. Result structs alone;
// each is filled by the file named beside it.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "assembly/services.h"
#include "base/origin.h"

namespace warmside::house {

/// Where heat leaves (or comes in): one line of "where the heat goes".
struct Loss {
    enum class Kind {
        wall,
        roof,
        ceiling,
        floor,
        ground,
        window,
        door,
        junction,
        leakage,
        ventilation,
        other
    };
    Kind kind = Kind::wall;
    std::string name;  ///< "walls, clear field", "walls, framing", "junctions: rim", "window living room"
    double conductance = 0.0;  ///< W/K at design
    double design = 0.0;       ///< W at the heating design temperature
    double year = 0.0;         ///< J, through the heating season's hours (those in which the house is heated)
};

struct RoomLoad {
    std::string room;
    double heating = 0.0, cooling = 0.0;  ///< W
};

/// loads.h: ASHRAE's way, steady for heating.
struct Loads {
    double heating = 0.0, cooling = 0.0;  ///< W, sensible, the whole house
    Sourced<double> outdoor_heating,
        outdoor_cooling;  ///< K; the Origin says published, county code or typical year
    double indoor_heating = 0.0, indoor_cooling = 0.0;  ///< K
    std::vector<RoomLoad> rooms;
    std::vector<std::string> notes;
};

struct EnergyUse {
    assembly::Fuel fuel = assembly::Fuel::electricity;
    double heating = 0.0, cooling = 0.0, fans = 0.0;  ///< J a year, bought
    double money = 0.0;                               ///< a year, its fixed charge included
    double carbon = 0.0;                              ///< kg CO2 a year
    std::string price_from;                           ///< "demo", or date and source of the tariff
};

/// systems.h, tariff.h: from the hourly run.
struct Energy {
    double heating_need = 0.0, cooling_need = 0.0;  ///< J a year, sensible heat to the rooms
    double heating_peak = 0.0, cooling_peak = 0.0;  ///< W, largest hour
    std::vector<EnergyUse> uses;
    double money = 0.0, carbon = 0.0;  ///< a year, all fuels
    int overheated = 0;  ///< hours above 26 degC operative in a year (a room without cooling, EN 16798
                         ///< category II in its simplest form; evidence: memory)
    int unmet = 0;       ///< hours in which the system could not hold the set-point
    std::vector<double> monthly_heating;   ///< J, [12], of the hourly run
    std::optional<double> second_opinion;  ///< J a year, heating by the monthly method (monthly.h)
    std::vector<std::string> notes;
};

/// ice_dam.h: how likely melt water is to refreeze at the eave.
struct IceDam {
    double degree_hours = 0.0;  ///< K h: snow-covered deck above 0 degC while the air is below it
    std::string words;
};

/// carbon.h: making the materials, cradle to gate.
struct Embodied {
    double carbon = 0.0;               ///< kg CO2e of the wall's materials, those with a factor
    double stored = 0.0;               ///< kg CO2 held in its wood, biogenic, not taken off
    std::vector<std::string> missing;  ///< materials without an open factor: not counted
    std::string evidence;              ///< of the weakest factor used
};

/// All of one rung.
struct Outcome {
    Loads loads;
    Energy energy;
    IceDam ice_dam;
    Embodied embodied;
    std::vector<Loss> losses;
    std::vector<std::string> notes;
};

/// money.h: a step over the rung below. Absent where the step saves nothing or its cost is not known.
struct StepWorth {
    double energy = 0.0, money = 0.0, carbon = 0.0;  ///< saved a year: J, money, kg
    std::optional<double> cost;                      ///< of the step, knock-on costs included
    std::optional<double> payback;                   ///< years, simple
    std::optional<double> present_value;             ///< savings over the study period less cost
    std::string words;                               ///< rates and years they rest on
};

}  // namespace warmside::house
