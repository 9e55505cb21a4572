// Networks thrown together, for the properties of the house model, its cross-solve and its bench.
#pragma once

#include <cmath>
#include <cstdint>
#include <numbers>
#include <string>

#include "house/network.h"

namespace random_network {

using namespace warmside::house;

/// The same numbers on any system.
class Draw {
public:
    explicit Draw(std::uint64_t seed) : state_(seed * 0x9e3779b97f4a7c15ull + 1) {}
    double between(double low, double high) {
        state_ ^= state_ << 13;
        state_ ^= state_ >> 7;
        state_ ^= state_ << 17;
        return low + (high - low) * static_cast<double>(state_ >> 11) * 0x1.0p-53;
    }
    int whole(int low, int high) { return static_cast<int>(between(low, high + 1 - 1e-9)); }

private:
    std::uint64_t state_;
};

struct Options {
    int zones = 6, elements_a_zone = 7, cells = 16;
    bool kept = true;      ///< the first zone has set-points
    bool one_way = false;  ///< air that blows from one zone into another
    int hours = hours_in_year;
};

/// A made-up year of temperature: seasons, days, noise. K
inline Series weather(Draw& draw, double mean, double season, double day) {
    Series out;
    for (int h = 0; h < hours_in_year; ++h) {
        const double t = 2.0 * std::numbers::pi * h;
        out.hourly.push_back(mean - season * std::cos(t / 8760.0) - day * std::cos(t / 24.0) +
                             draw.between(-2.0, 2.0));
    }
    return out;
}

inline Element element(Draw& draw, const Options& options, std::size_t zone) {
    Element e;
    e.zone = zone;
    e.area = draw.between(2.0, 40.0);
    e.convection = draw.between(0.7, 5.0);
    const int cells = draw.whole(0, 4) == 0 ? 0 : draw.whole(3, options.cells);
    const double resistance = cells == 0 ? draw.between(0.2, 0.6) : draw.between(0.5, 9.0);
    for (int i = 0; i <= cells; ++i)
        e.conductance.push_back((cells + 1) / resistance * draw.between(0.5, 2.0));
    for (int i = 0; i < cells; ++i) e.capacity.push_back(draw.between(1e3, 3e4));
    return e;
}

inline Network make(std::uint64_t seed, const Options& options = {}) {
    Draw draw(seed);
    Network n;
    for (int z = 0; z < options.zones; ++z) {
        Zone zone;
        zone.name = "zone " + std::to_string(z);
        zone.capacity = draw.between(1e5, 3e6);
        zone.convective.constant = draw.between(0.0, 400.0);
        zone.radiant.constant = draw.between(0.0, 400.0);
        zone.system_convective = draw.between(0.4, 1.0);
        if (z == 0 && options.kept) {
            zone.heating.constant = 293.15;
            zone.cooling.constant = 299.15;
        }
        n.zones.push_back(zone);
    }
    for (int b = 0; b < 4; ++b) {
        Boundary boundary{.name = "outside", .conductance = weather(draw, 20.0, 0.0, 3.0), .temperature = {}};
        boundary.temperature = weather(draw, 279.0, 14.0, 5.0 + 4.0 * b);
        n.boundaries.push_back(boundary);
    }
    for (std::size_t z = 0; z < n.zones.size(); ++z) {
        for (int i = 0; i < options.elements_a_zone; ++i) {
            Element e = element(draw, options, z);
            const int kind = draw.whole(0, 9);
            if (kind < 2 && n.zones.size() > 1)
                e.beyond = (z + 1) % n.zones.size();
            else if (kind < 9)
                e.boundary = static_cast<std::size_t>(draw.whole(0, 3));
            e.name = "element " + std::to_string(n.elements.size());
            if (i == 0) e.gain = weather(draw, 10.0, 0.0, 8.0);
            n.elements.push_back(e);
        }
        Link leak{.name = "leak", .zone = z};
        leak.conductance = weather(draw, 20.0, 0.0, 5.0);
        leak.temperature = n.boundaries[0].temperature;
        n.links.push_back(leak);
        Link door{.name = "door", .zone = z, .beyond = (z + 1) % n.zones.size()};
        door.conductance.constant = draw.between(1.0, 60.0);
        door.mutual = !options.one_way;
        if (n.zones.size() > 1) n.links.push_back(door);
    }
    return n;
}

}  // namespace random_network
