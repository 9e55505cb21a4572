#include "leakage/envelope.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "assembly/geometry.h"
#include "leakage/defaults.h"

namespace warmside::leakage {

namespace {

constexpr double turn = 2.0 * std::numbers::pi;

void add(Envelope& to, const Patch& patch) {
    for (Patch& wall : to.walls) {
        if (std::abs(std::remainder(wall.azimuth - patch.azimuth, turn)) > std::numbers::pi / 180.0) continue;
        wall.bottom = std::min(wall.bottom, patch.bottom);
        wall.top = std::max(wall.top, patch.top);
        wall.area += patch.area;
        return;
    }
    to.walls.push_back(patch);
}

constexpr double house_pitch = std::numbers::pi / 6.0;  // without a roof in the file, invented

Envelope default_house(const Defaults& given) {
    Envelope out;
    out.assumed = true;
    const double top = given.floor_to_floor + given.height;
    for (int side = 0; side < 4; ++side)
        out.walls.push_back({side * turn / 4.0, 0.0, top, 2.0 * given.side * given.height});
    out.top_area = given.side * given.side;
    out.top_height = top;
    out.volume = out.top_area * top;
    out.pitch = house_pitch;
    out.upper_floor = given.floor_to_floor;
    out.upper_height = given.height;
    out.eaves = top;
    return out;
}

// Pitch, and the way that one slope looks: square to the ridge.
void add_roof(Envelope& to, const assembly::House& house) {
    if (!house.roofs.empty()) to.pitch = 0.0;
    for (const assembly::Roof& roof : house.roofs) {
        if (roof.pitch < to.pitch) continue;
        to.pitch = roof.pitch;
        to.attic = roof.over_attic;
        const bool across =
            roof.ridge == "north-south" || roof.high_side == "east" || roof.high_side == "west";
        to.slope_azimuth = across ? turn / 4.0 : 0.0;
    }
}

}  // namespace

double leaky_area(const Envelope& envelope) {
    double area = envelope.top_area;
    for (const Patch& wall : envelope.walls) area += wall.area;
    return area;
}

Result<Envelope> envelope_of(const assembly::House& house) {
    const auto& given = defaults();
    if (!given) return fail(given.error());
    std::vector<const assembly::Storey*> heated;
    for (const auto& storey : house.storeys) {
        if (storey.heated && storey.outline.size() >= 3) heated.push_back(&storey);
    }
    if (heated.empty()) {
        Envelope out = default_house(*given);
        add_roof(out, house);
        return out;
    }
    Envelope out;
    const auto by_level = [](const auto* a, const auto* b) { return a->floor < b->floor; };
    const double lowest = (*std::min_element(heated.begin(), heated.end(), by_level))->floor.metres();
    const assembly::Storey& upper = **std::max_element(heated.begin(), heated.end(), by_level);
    for (const auto* storey : heated) {
        const double bottom = storey->floor.metres() - lowest, height = storey->height.metres();
        for (std::size_t i = 0; i < storey->outline.size(); ++i) {
            const assembly::Face edge{.from = storey->outline[i],
                                      .to = storey->outline[(i + 1) % storey->outline.size()]};
            add(out, {assembly::azimuth(edge), bottom, bottom + height,
                      assembly::distance(edge.from, edge.to) * height});
        }
    }
    const auto areas = assembly::areas(house);
    out.top_area = areas.ceiling + areas.roof;
    // Without a roof in the file the highest storey's ceiling is the top.
    if (out.top_area <= 0.0) out.top_area = std::abs(assembly::signed_area(upper.outline));
    out.volume = areas.volume;
    out.upper_floor = upper.floor.metres() - lowest;
    out.upper_height = upper.height.metres();
    out.top_height = out.upper_floor + out.upper_height;
    out.eaves = out.top_height + std::max(0.0, lowest);
    for (const auto& roof : areas.roofs) {
        if (!roof.attic)
            out.top_height = std::max(out.top_height, out.upper_floor + out.upper_height + 0.5 * roof.rise);
    }
    out.pitch = house_pitch;
    add_roof(out, house);
    return out;
}

}  // namespace warmside::leakage
