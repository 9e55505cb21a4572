// A house with one rung for its walls as a Network, and what each of its elements and links belongs to.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "assembly/assembly.h"
#include "climate/year.h"
#include "house/network.h"
#include "house/outcome.h"
#include "thermal/junction.h"
#include "thermal/worth.h"

namespace warmside::house {

/// Outdoor air that comes into the heated rooms, W/K: rho c V.
struct AirHeat {
    Series leakage;
    Series ventilation;
    /// K, what ventilation blows in, after recovery; empty: outdoor air.
    std::optional<Series> supply;
    /// Room air that leaks through ceilings into attics; empty: as large a share of `leakage` as ceilings
    /// have of walls, roofs and ceilings (leaks even over all of them).
    std::optional<Series> into_attic;
};

/// Sun through one opening, W per m2 of its rough opening.
struct OpeningSun {
    Series transmitted;   ///< falls into the room
    Series inner, outer;  ///< taken up and set free at its inner and outer face
};

/// An opening of a heated storey, above the ground.
struct PlacedOpening {
    std::size_t face = 0, opening = 0;  ///< indices into House::faces and its openings
    climate::Plane plane;
    double area = 0.0;  ///< m2, rough opening
};
/// In the order in which `sun` is handed in.
[[nodiscard]] std::vector<PlacedOpening> openings_of(const assembly::House& house);

/// What an assembly is worth, where the caller knows it already.
struct KnownWorth {
    std::string assembly;         ///< its name
    double u = 0.0;               ///< W/(m2 K), Worth::field_u
    std::optional<double> field;  ///< Worth::field_share
};
[[nodiscard]] KnownWorth known(const assembly::Assembly& assembly, const thermal::Worth& worth);

/// All of it is only read during the call.
struct BuildInput {
    const assembly::House& house;
    const assembly::Assembly& wall;  ///< of the faces that name none, or one of the wall's ladder
    const climate::Year& year;
    thermal::Conditions winter;                    ///< for conductivities; those of the worths
    std::span<const KnownWorth> worths;            ///< others are worked out (thermal::worth)
    std::span<const thermal::Junction> junctions;  ///< of this rung, with lengths; may be empty
    AirHeat air;
    std::span<const OpeningSun> sun;  ///< as openings_of lists them; empty: no sun comes in
    /// K: the steady house of the design hour: constant films, no sun, no sky, no gains, no night set-back,
    /// the ground at its coldest; hour 0 of `air`'s series. Empty: hour by hour.
    std::optional<double> design;
    double fineness = 1.0;  ///< of all meshes
};

/// A share of an element's or link's heat that counts to one line of "where the heat goes".
struct Share {
    Loss::Kind kind = Loss::Kind::other;
    std::string name;
    double share = 1.0;
};

struct Building {
    Network network;
    std::size_t rooms = 0;                             ///< zone of all heated storeys
    std::vector<std::size_t> attics;                   ///< zones
    std::optional<std::size_t> crawl_space, basement;  ///< zones, unheated
    /// Of each element and link of the network, as seen from the rooms; empty: no side of the rooms'
    /// envelope.
    std::vector<std::vector<Share>> elements, links;
    std::vector<std::size_t> windows;  ///< [opening of openings_of] element
    double floor = 0.0, volume = 0.0;  ///< m2 and m3, heated
    double air_heat = 0.0;             ///< J/(m3 K), rho c of the air that is counted
    std::vector<std::string> notes;    ///< what is assumed or left out
};

/// Zones: all heated storeys as one; each attic over them; a crawl space; an unheated basement. A heated
/// basement under the lowest storey counts to the rooms. Unheated storeys (garages) are left out: what faces
/// them is taken to face outdoors. docs/methods/house.md has the rules, README.md the equations.
///
/// Design and hourly networks of the same input have the same elements and links in the same order.
///
/// Problem  missing: a heated storey, roof or floor, layers of a part, U of a window or door; conflict: two
///          floors that both take the whole outline; out_of_range; those of chain_of, worth and the ground;
///          with place
/// Source   ISO 52016-1:2017 (memory) for zones, films and elements, ISO 13370 (memory) for the ground
[[nodiscard]] Result<Building> build(const BuildInput& input);

/// Days before a year (Stepping::run_in) after which soil has forgotten how a run of a Building began: the
/// year's heat is then within 0.2 % of that after 300 days (tests/house).
inline constexpr int settling_days = 60;

/// W/(m2 K) of an element from air to air, both films with their radiant part, as if its zones' radiant nodes
/// had the air's temperature; of an hour, where its boundary varies.
[[nodiscard]] double transmittance(const Network& network, std::size_t element, int hour = 0);

}  // namespace warmside::house
