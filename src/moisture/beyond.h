// What stands between an assembly's outer face and the weather: an attic, a crawl space, the ground. Shade
// needs nothing here: it is a weather (`shaded`). Equations and sources: docs/methods/moisture.md, "What lies
// beyond".
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "climate/ground.h"
#include "moisture/build.h"

namespace warmside::moisture {

/// A body of air with its own balance of heat and vapour.
struct Space {
    std::string name = "attic";
    double height = 1.0;            ///< m3 of air per m2 of the assembly
    Draught draught = {};           ///< vents low and high; none: the two flows below alone
    double wind_coefficient = 0.0;  ///< difference of C_p between those vents
    double wind_flow = 0.0;         ///< m3/(s m2) of outdoor air per m/s of wind at 10 m
    double fixed_flow = 0.0;        ///< m3/(s m2), always
    std::string vents;              ///< in words
    double loss = 0.0;              ///< W/(m2 K), heat alone, to outdoor air: the walls of a crawl space
};

/// Ground at the far end.
struct Ground {
    std::shared_ptr<const std::vector<double>> temperature;  ///< [8760] K at the end of the path
    double path = 0.5;                                       ///< m2 K/W of soil, from the face to there
    climate::Soil soil;
    double humidity = 0.99;  ///< of the air in its pores
};

/// Lies outside of an assembly's last layer. Run::outside is then the weather of the far face (a roof's
/// slope), or, before ground, that of the vents.
struct Beyond {
    std::optional<Space> space;           ///< none: the far layers or the ground touch the assembly
    std::vector<assembly::Layer> layers;  ///< the far side, from the space outwards: deck, felt, shingles
    double area = 1.0;                    ///< m2 of the far side per m2 of the assembly
    double solar_absorptance = 0.85;      ///< of the far face
    double emissivity = 0.9;
    std::optional<Ground> ground;  ///< outside of the far layers, in place of weather
};

/// Air of an attic with half of its vents low and half high: orifices in series, driven by wind and stack as
/// a cavity's (cavity_flow.h).
///
///   dp = (rho/2) (q/(C_d A_e))^2,  A_e = A/(2 sqrt 2),  C_d 0.6
///
/// The wind's difference of C_p between them is taken as 0.6: wall 0.40 windward, -0.20 leeward
/// (cp-liddament, quoted). That is about one air change an hour for each m/s with 1/300 over a metre of
/// attic.
///
/// vent_share  free area of all vents per m2 of ceiling (1/300); 0: none
/// rise        m from the low to the high vents
/// height      m3 of air per m2 of ceiling
/// Source      orifice flow: canadian-cavity-1995 (memory)
[[nodiscard]] Space attic(double vent_share, double rise, double height);

/// Air of a crawl space with vents on all sides.  Q = 0.6 A v f_w,  f_w 0.05 (average shelter)
///
/// vent_share  free area of all vents per m2 of floor (1/150)
/// height      m3 of air per m2 of floor
/// wall_loss   W/(m2 K) of floor: perimeter x height x U over the floor's area
/// Source      ISO 13370:2007, 9.2: its 1450 e v f_w/B' is 0.6 times 1208 J/(m3 K) (memory); check:
///             proof/moisture/ground.toml
[[nodiscard]] Space crawl_space(double vent_share, double height, double wall_loss);

/// The same without vents: outdoor air by leaks alone, `air_change` in 1/s.
[[nodiscard]] Space closed_crawl_space(double air_change, double height, double wall_loss);

/// A floor on the ground as ISO 13370 sees it.
struct FloorOnGround {
    double area = 80.0, perimeter = 36.0;  ///< m2, m
    double resistance = 0.0;  ///< m2 K/W of the floor's layers; of a crawl space, of what lies on the soil
    double wall_thickness = 0.3;  ///< m
    double depth = 0.0;           ///< m of the floor below grade
};
/// Swing of the heat loss of a floor per kelvin of the outdoor swing, W/K.
///   H_pe = 0.37 P k ln(d/d_t + 1),  d the penetration depth
/// Source  ISO 13370:2007 annex A, no edge insulation (memory); check: proof/moisture/ground.toml
[[nodiscard]] Result<double> floor_swing(const FloorOnGround& floor, const climate::Soil& soil);

/// Ground below the middle of a floor: the path is what ISO 13370's U leaves for the soil, and the
/// temperature at its end makes the year's mean and swing of the loss those of the standard (a month late),
/// for a steady room.
///
///   R = 1/U - Rsi - Rf,   T = mean - amplitude (H_pe/(A U)) cos(2 pi (t - coldest - 1 month)/year)
[[nodiscard]] Result<Ground> below_floor(const FloorOnGround& floor, const climate::Soil& soil,
                                         const climate::AnnualWave& air);

/// Ground beside a wall, or below the rim of a slab, at a distance from the surface: undisturbed temperature
/// at that depth, over the soil of a quarter circle.  R = pi z/(2 k) Source  the circular paths behind ISO
/// 13370's and ASHRAE's basement walls (memory)
[[nodiscard]] Ground beside(double depth, const climate::Soil& soil, const climate::AnnualWave& air);

/// A weather without sun, rain and sky, for a floor over piers: everything that the face sees has the air's
/// temperature.
[[nodiscard]] climate::FaceWeather shaded(climate::FaceWeather weather);

/// Conductances of the air of a space: its node is the star point that stands for convection to both sides
/// and radiation between them; `air` lies between that point and the air itself. Exact for grey parallel
/// faces.
struct Star {
    double inner = 0.0, outer = 0.0, air = 0.0;  ///< m2 K/W, per m2 of the assembly
};
[[nodiscard]] Star star_of(double convection, double radiation, double area);

/// Adds what lies beyond to a column whose assembly is all there; exchanges follow in `beyond_exchanges`.
struct FarEnd {
    std::optional<std::size_t> space;  ///< its node
    double arm = 0.0;                  ///< m2 K/W between that node and the air
};
/// The films of the assembly's outer face towards what lies beyond: heat m2 K/W, vapour s m2 Pa/kg.
struct Films {
    double heat = 0.0, vapour = 0.0;
};
[[nodiscard]] Films films_before(const Beyond& beyond);
/// joint  from the assembly's last node, with those films in it
[[nodiscard]] Result<FarEnd> add_beyond(Built& built, const Beyond& beyond, const Link& joint, Shelf& shelf,
                                        const Run& run);
/// Exchanges of the far end and a weather that serves them. Call last.
void close_beyond(Built& built, const Beyond& beyond, const FarEnd& end, const Run& run);

}  // namespace warmside::moisture
