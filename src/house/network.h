// A house as a network of heat: zones, what stands between them and the outside, air that moves, hour by
// hour. It knows no assembly and no weather file; build.h makes it from a house.
#pragma once

#include <cstddef>
#include <limits>
#include <string>
#include <vector>

#include "base/result.h"

namespace warmside::house {

inline constexpr int hours_in_year = 8760;

/// One number an hour, or one for all hours: empty means `constant`.
struct Series {
    double constant = 0.0;
    std::vector<double> hourly;
    [[nodiscard]] double at(int hour) const {
        return hourly.empty() ? constant : hourly[static_cast<std::size_t>(hour)];
    }
};

/// Air at one temperature, and a radiant node that its inner surfaces exchange with (a star, linear).
struct Zone {
    std::string name;
    double capacity = 0.0;  ///< J/K, air and furniture
    /// Kept between these where the system can; infinite: it floats. K
    Series heating{-std::numeric_limits<double>::infinity(), {}};
    Series cooling{std::numeric_limits<double>::infinity(), {}};
    double heating_limit = std::numeric_limits<double>::infinity();  ///< W, sensible
    double cooling_limit = std::numeric_limits<double>::infinity();  ///< W, positive
    double system_convective =
        1.0;            ///< share of the system's heat given to the air, the rest to the surfaces
    Series convective;  ///< W, gains to the air
    Series radiant;     ///< W, gains to the surfaces
};

/// What an outer surface exchanges heat with: conductance (T - T_surface).
struct Boundary {
    std::string name;
    Series conductance;  ///< W/(m2 K), convection and linear radiation together
    Series temperature;  ///< K, with absorbed sun over the conductance added (sol-air)
};

/// What makes the air move at a surface: a fixed film, or free convection by how far the surface is from the
/// air, upright, or level and seen from the room.
enum class Film { fixed, wall, ceiling, floor };

/// Free convection at a surface in a room, W/(m2 K).
///
///   wall 1.31 |dT|^(1/3);  level: 1.52 |dT|^(1/3) where the warmer air rises (warm floor, cold ceiling),
///   else 0.76
///
/// warmer  K, surface less air; below 0.1 K taken as that
/// Source  walton-1983 (memory), level planes: 9.482/(7.238 - 1) and 1.810/(1.382 + 1)
[[nodiscard]] double free_convection(Film film, double warmer);

inline constexpr std::size_t none = static_cast<std::size_t>(-1);

/// A wall, roof, floor, window or furniture: a chain of finite volumes from its inner to its outer surface,
/// both without mass.
struct Element {
    std::string name;
    double area = 0.0;            ///< m2
    std::size_t zone = 0;         ///< at its inner surface
    std::size_t beyond = none;    ///< zone at its outer surface, or none
    std::size_t boundary = none;  ///< index of what lies beyond, where it is no zone; both none: adiabatic
    std::vector<double>
        conductance;               ///< W/(m2 K), from surface to cells to surface: one more than `capacity`
    std::vector<double> capacity;  ///< J/(m2 K), of the cells; empty: no mass
    double convection = 2.5;       ///< W/(m2 K), inner surface to the zone's air
    double radiation = 5.13;       ///< W/(m2 K), inner surface to the zone's radiant node
    double convection_beyond = 2.5, radiation_beyond = 5.13;  ///< the same at its outer surface, to `beyond`
    /// Not fixed: the film follows the surface's temperature, a step behind; `convection` then starts it.
    Film film = Film::fixed, film_beyond = Film::fixed;
    Series gain;  ///< W/m2, at the inner surface (sun that fell through a window)
};

/// Heat without mass between a zone and a boundary's temperature or another zone: junctions, air.
struct Link {
    std::string name;
    std::size_t zone = 0;
    std::size_t beyond = none;  ///< zone; none: outdoor air
    /// W/K; of air: rho c V, carried into `zone` alone unless `mutual`. Below 0 only towards outdoors: a
    /// junction that passes less than the areas around it are counted with.
    Series conductance;
    bool mutual = true;  ///< false: air that blows from `beyond` into `zone`
    Series temperature;  ///< K, of what comes in, where `beyond` is none
};

struct Network {
    std::vector<Zone> zones;
    std::vector<Boundary> boundaries;
    std::vector<Element> elements;
    std::vector<Link> links;
};

/// Sizes, indices, signs, finite values.
/// Problem  incomplete or out_of_range with the part's name
[[nodiscard]] Result<void> check(const Network& network);

}  // namespace warmside::house
