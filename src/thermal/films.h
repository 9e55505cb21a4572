// Surface films by direction of heat flow.
#pragma once

namespace warmside::thermal {

/// Direction of heat flow; within 30 degrees of the horizontal plane it counts as horizontal (ISO 6946).
enum class HeatFlow { up, horizontal, down };
[[nodiscard]] const char* name_of(HeatFlow flow);

/// Heat that leaves along the outer normal.
///
/// tilt     rad between the outer normal and straight up: a wall pi/2, a floor over outside air pi
/// outwards false: the outside is the warmer side
[[nodiscard]] HeatFlow heat_flow(double tilt, bool outwards = true);

struct Films {
    double inside = 0.0;   ///< m2 K/W
    double outside = 0.0;  ///< m2 K/W, to open air
};

/// ISO 6946:2017 Table 7: Rsi 0.10 up, 0.13 horizontal, 0.17 down; Rse 0.04 (evidence: memory; the range
/// quoted). Behind a well-ventilated layer the inside film stands on both sides. Check
/// proof/thermal/iso6946_films.toml
[[nodiscard]] Films iso_films(HeatFlow flow);

enum class Season { winter, summer };

/// ASHRAE Handbook Fundamentals, surface films of ordinary materials: still air up, R-0.68 on a
/// vertical face, R-0.92 down; outside R-0.17 (15 mph, winter) or R-0.25 (7.5 mph, summer); h ft2 degF/Btu
/// (evidence: memory). Check    proof/thermal/handbook_films.toml
[[nodiscard]] Films handbook_films(HeatFlow flow, Season season = Season::winter);

/// 1 h ft2 degF/Btu in m2 K/W, by way of units.
[[nodiscard]] double r_ip(double r);

}  // namespace warmside::thermal
