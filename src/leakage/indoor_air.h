// The air in a house hour by hour, from who lives there, how it is ventilated and how it leaks.
#pragma once

#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "climate/year.h"
#include "leakage/humidity.h"
#include "leakage/infiltration.h"
#include "leakage/moisture_rules.h"

namespace warmside::leakage {

/// Vapour that people and their work give off, kg/s, even through day and year: as stated, else by bedrooms.
/// Problem  the rules cannot be read
[[nodiscard]] Result<Sourced<double>> moisture_source(const assembly::House& house);

/// K, [8760]: the heating set-point with its night, in summer the temperature of EN 15026 where that is
/// higher, kept below the cooling set-point where there is cooling.
/// Source  en-15026, annex C (memory). An hourly run of the house knows better: hand its temperatures in.
[[nodiscard]] std::vector<double> room_temperature(const assembly::House& house, const climate::Year& year);

/// Room air and lining of the outer walls, the top and partitions, by the effective moisture penetration
/// depth:  S = A d xi,  1/K = (1/beta + Z_paint + d/(2 delta))/A.
///
/// temperature  K, of reference
/// Problem      the rules cannot be read; the lining's material is not in the catalogue
[[nodiscard]] Result<VapourStore> vapour_store(const assembly::House& house, const Envelope& envelope,
                                               double temperature);

/// How damp the air came out, beside published classes. Excess: vapour indoors above outdoors.
struct DampnessCompared {
    double cold = 0.0, mild = 0.0;  ///< kg/m3, mean excess at and below 5, at and above 15 degC outdoors
    double timber_cold = 0.0, timber_mild = 0.0;  ///< of measured timber houses
    int humidity_class = 0;        ///< ISO 13788: the lowest that no month below 15 degC exceeds; 6: beyond 5
    double winter_humidity = 0.0;  ///< relative, mean from December to February
};
/// Problem  the rules cannot be read; incomplete when a column is not 8760 long
[[nodiscard]] Result<DampnessCompared> compare(const climate::Indoor& indoor, const climate::Year& year);

/// Everything about the air of a house in a year.
struct IndoorAir {
    climate::Indoor indoor;  ///< means over each hour
    AirExchange exchange;
    VapourStore store;
    std::vector<double> airing;                  ///< [8760] m3/s through open windows, in this balance alone
    double source = 0.0;                         ///< kg/s
    double carried_in = 0.0, carried_out = 0.0;  ///< kg a year with the air
    double added = 0.0, removed = 0.0;           ///< kg a year: humidifier; dehumidifier, cooling, condensed
    double worst_balance = 0.0;                  ///< kg, largest residual of an hour
    double turned_over = 0.0;                    ///< kg, what came in and went out in that hour
    DampnessCompared compared;
};

/// Solves the balance of humidity.h through the year, after a run-in of 30 days with the weather of December.
/// Air brings in m W_out, and past the recovery m (W_out + e_m (W_in - W_out)). Pressures and vapour are
/// solved twice: first with the vapour of EN 15026 in the pressures, then with what came out, so that one
/// balance drives air exchange, room and walls.
///
/// temperature  K, [8760], of an hourly run; empty: room_temperature
/// Problem      those of pressures, air_exchange and vapour_store; incomplete: a column is not 8760 long
/// Source       conservation of mass. Check: indoor_air_test.cpp (sums by hand, balance of each hour);
///              orientation in docs/methods/indoor-air.md
[[nodiscard]] Result<IndoorAir> air_of_house(const assembly::House& house, const climate::Year& year,
                                             const std::vector<double>& temperature = {});

/// Indoor air for the moisture runs: by the house where [indoor] asks for it, else the class that it names.
/// Problem  those of air_of_house, of climate::indoor_air
[[nodiscard]] Result<climate::Indoor> indoor_air(const assembly::House& house, const climate::Year& year,
                                                 const std::vector<double>& temperature = {});

}  // namespace warmside::leakage
