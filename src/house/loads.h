// What the heater and the cooler have to be able to do at design.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "assembly/services.h"
#include "house/design_temperature.h"
#include "house/load_data.h"
#include "house/outcome.h"
#include "house/room_shares.h"

namespace warmside::house {

/// What leaks, for infiltration at design.
struct LeakageArea {
    double area = 0.0;    ///< m2, effective, at 4 Pa with a discharge coefficient of 1, whole house
    double flue = 0.0;    ///< m2, of flues open to the room
    double height = 0.0;  ///< m, from the lowest leaks to the highest: mostly grade to top ceiling
};

/// m3/s that leaks let in at design.
///
///   Q = A (I_0 + H |dT| (I_1 + I_2 A_flue/A))/1000,   L/s of cm2, m, K
///
/// difference  K, indoors less outdoors
/// Source      ashrae-fundamentals-17, infiltration driving force (memory); check:
/// proof/house/infiltration.toml
[[nodiscard]] double design_infiltration(const LeakageArea& leaks, double difference,
                                         const DrivingForce& force);

/// Air of ventilation at design, while it runs as in a mean hour.
struct DesignVentilation {
    double supply = 0.0, exhaust = 0.0;  ///< m3/s by fans
    double sensible = 0.0;               ///< recovery effectiveness of what is balanced
    std::optional<double> frost;         ///< K, outdoor air below which recovery is limited
    bool preheat = true;                 ///< then warmed to `frost`; else no recovery
};
/// flow  m3/s while it runs (Ventilation::flow, else the required rate)
[[nodiscard]] DesignVentilation design_ventilation(const assembly::Ventilation& ventilation, double flow);

/// Air and heat at design.
struct DesignAir {
    double infiltration = 0.0;              ///< m3/s, what unbalanced fans draw through leaks with it
    double recovered = 0.0;                 ///< m3/s, balanced, behind recovery
    double leaks = 0.0, ventilation = 0.0;  ///< W to the rooms, at the season's difference; signed as it is
    double preheat = 0.0;                   ///< W beside the rooms' load, in the ventilation unit
};
/// Q_balanced = min(supply, exhaust), Q_unbalanced = |supply - exhaust|
/// Q_infiltration with fans = max(Q_unbalanced, Q_leaks + Q_unbalanced/2)
/// heat = c Q dT, of balanced air (1 - effectiveness) of it;  c = 1230 J/(m3 K) p/101325 Pa
///
/// pressure  Pa, of the place (air::standard_pressure of its elevation)
/// Source    ashrae-fundamentals-17, combined infiltration and ventilation (memory)
[[nodiscard]] DesignAir design_air(const LeakageArea& leaks, const DesignVentilation& ventilation,
                                   double indoor, double outdoor, double pressure, const DrivingForce& force,
                                   const LoadData& data);

struct HeatingLoadInput {
    double indoor = 293.15;   ///< K
    Sourced<double> outdoor;  ///< K, design_temperature
    std::span<const Loss>
        envelope;  ///< conductances to outdoors at design; leakage and ventilation are passed over
    LeakageArea leaks;
    DesignVentilation ventilation;
    double pressure = 101325.0;        ///< Pa
    std::span<const RoomShare> rooms;  ///< room_shares, or none
};

/// Steady, without sun and gains, the house at its day temperature: sum of conductance x difference, and air.
/// No allowance for pick-up after a night set-back, for ducts outside of the envelope or for a heater's steps
/// of size. Fills Loads::heating, outdoor_heating, indoor_heating, rooms and notes.
///
/// Problem  out_of_range: it is no warmer indoors than outdoors; a conductance, area or flow below 0 or not
///          finite, an effectiveness beyond 0 to 1
/// Source   ashrae-fundamentals-17 (memory); check: loads_test (sums by hand)
[[nodiscard]] Result<Loads> heating_load(const HeatingLoadInput& input);

/// The peak of the rooms' zone on the design day (cooling_day.h), set into `loads` and split over its rooms:
/// the part that `sun` brings by windows and their directions, the rest as the heating load is split, but by
/// floor area where there is none. Each room's own peak may come at another hour and be higher.
///
/// peak     W, cooling_peak
/// sun      [face] W at the hour of the peak through the openings of each of House::faces; may be empty
/// outdoor  K, design_temperature
/// Problem  incomplete: `sun` is of another house than `rooms`; out_of_range: a peak below 0 or not finite
[[nodiscard]] Result<void> set_cooling_load(Loads& loads, double peak, std::span<const double> sun,
                                            double indoor, const Sourced<double>& outdoor,
                                            std::span<const RoomShare> rooms);

}  // namespace warmside::house
