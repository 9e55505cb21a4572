// One line through an assembly as the solver sees it: nodes with stores, links between them, exchanges
// with air, rain and sun. Everything above (assemblies, weather) and every check is put in these terms.
#pragma once

#include <array>
#include <functional>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "moisture/cavity_flow.h"
#include "moisture/substance.h"

namespace warmside::moisture {

/// A control volume around a point at which temperature and moisture potential are unknown. Layers have nodes
/// on both faces (with half a volume), so that surface values are unknowns and not reconstructed.
struct Node {
    const Substance* substance = nullptr;
    double volume = 0.0;    ///< m3 per m2 of face
    double position = 0.0;  ///< m from the inside
    int layer = -1;         ///< index into Assembly::layers, for messages and results
    double weight = 1.0;    ///< of this node's local error; below 1 outside a ventilated cavity
};

/// What joins node i to node i + 1.
struct Link {
    double inverse_spacing =
        0.0;              ///< 1/m inside a material; 0 where a contact, membrane or air layer joins two
    double vapour = 0.0;  ///< kg/(s m2 Pa), fixed conductance
    double heat = 0.0;    ///< W/(m2 K), fixed conductance
    bool carries_latent = true;  ///< false in a perfect contact, where water crosses in any phase
    bool carries_air = false;    ///< lies on the path of the air flow
    double area = 1.0;  ///< of a membrane's permeance: m2 per m2 of the assembly, beyond its outer face
    /// Membranes: vapour resistance (s m2 Pa/kg, function 0) over the mean humidity of both nodes, in place
    /// of `vapour`.
    const numerics::Tables* membrane = nullptr;
};

/// Perfect contact of two layers: large enough to be negligible, small enough to keep the digits.
inline constexpr double contact_vapour = 1e-2;  ///< kg/(s m2 Pa)
inline constexpr double contact_heat = 1e6;     ///< W/(m2 K)

/// What one node meets during one hour (held constant over the hour).
struct Ambient {
    double temperature = 293.15;   ///< K
    double vapour_pressure = 0.0;  ///< Pa, at most saturation
    double heat_film = 0.0;        ///< W/(m2 K)
    double vapour_film = 0.0;      ///< kg/(s m2 Pa)
    double emission = 0.0;         ///< emissivity x Stefan-Boltzmann, W/(m2 K4); 0 = none
    double radiant = 293.15;       ///< K
    double sun = 0.0;              ///< W/m2 absorbed
    double rain = 0.0;             ///< kg/(m2 s) offered; taken up until the node is at free saturation
    double wind_square = 0.0;      ///< Pa2, for a draught: of the wind's pressure difference between its ends
    // A space beyond the assembly:
    double loss = 0.0;  ///< W/(m2 K), heat alone, to the outdoor air of its draught
    double arm = 0.0;   ///< m2 K/W between the node and the air of the space
    // Ground: water moves freely and keeps the node near a moisture potential.
    double hold = 0.0;  ///< kg/(s m2) per unit of u
    double held = 0.0;  ///< u
};

inline constexpr int most_exchanges = 8;

struct Hour {
    std::array<Ambient, most_exchanges> ambient;  ///< one for each of Column::exchanges
    double air = 0.0;                             ///< kg/(m2 s) of dry air, from inside to outside positive
};

struct Exchange {
    enum class Kind { inside, outside, cavity, leak };
    int node = 0;
    Kind kind = Kind::outside;
    bool takes_air = false;  ///< the air flow enters or leaves here
    bool drains = false;     ///< water beyond free saturation runs off (time constant 600 s)
    /// Of a cavity that wind and buoyancy ventilate (openings > 0): its flow takes the place of the films.
    Draught draught = {};
};

struct Column {
    std::string name;
    std::vector<std::shared_ptr<const Substance>> substances;        ///< keeps what nodes point to
    std::vector<std::shared_ptr<const numerics::Tables>> membranes;  ///< keeps what links point to
    std::vector<Node> nodes;
    std::vector<Link> links;          ///< nodes.size() - 1
    std::vector<int> membrane_links;  ///< those with a membrane, filled by add_node
    std::vector<Exchange> exchanges;  ///< at most most_exchanges
    std::vector<double> temperature;  ///< K at the start, one a node
    std::vector<double> potential;    ///< u at the start
    /// What moving water carries. full: latent and sensible heat, energy closes. en15026: latent heat alone,
    /// storage (rho c + c_w w) dT/dt as the standard writes it, for checks against solutions of those
    /// equations; the energy balance does not close then. isothermal: no heat at all, for cases that are
    /// isothermal by definition.
    enum class Heat { full, en15026, isothermal } heat = Heat::full;
    double highest_step = 3600.0;  ///< s
    /// Fills `hour` for hour number i from the start of the run.
    std::function<void(int i, Hour& hour)> weather;
    /// For checks alone: fills what is put into every node, W/m2 and kg/(s m2) of face, at a time (s) from
    /// the start. Asked for at the end of each implicit solve. Not booked in the balances; empty in walls.
    std::function<void(double time, std::span<double> energy, std::span<double> water)> source;

    /// Takes a substance over; the pointer stays good.
    const Substance* keep(Substance substance);
};

/// Places of nodes over [0, thickness], finer towards both faces; `pieces` pieces, the first of size about
/// `first`.
[[nodiscard]] std::vector<double> graded(double thickness, int pieces, double first);

/// Appends nodes and links of one homogeneous layer whose nodes stand at `places` (from 0 to the thickness),
/// joined to what is there by `joint`. Start values are set on the new nodes.
void add_layer(Column& column, const Substance* substance, const std::vector<double>& places,
               double start_position, int layer, const Link& joint, double temperature, double potential,
               bool carries_air);

/// Adds one node of `volume`, joined by `joint`.
void add_node(Column& column, const Node& node, const Link& joint, double temperature, double potential);

/// Array sizes, signs and finite numbers. Problem: what is wrong, with the node or link.
[[nodiscard]] Result<void> check(const Column& column);

}  // namespace warmside::moisture
