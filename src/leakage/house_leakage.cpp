#include "leakage/house_leakage.h"

#include <algorithm>
#include <cmath>

#include "leakage/air_flow.h"
#include "leakage/defaults.h"

namespace warmside::leakage {

namespace {
constexpr double reference_density = 1.204;  // kg/m3, ASTM E779: 20 degC, 101325 Pa (memory)
}

double HouseLeakage::at(double pressure) const {
    return flow_at(pressure, at_50_pa, exponent);
}

double HouseLeakage::area() const {
    return at(4.0) * std::sqrt(reference_density / (2.0 * 4.0));
}

const assembly::Assembly* outer_wall(const assembly::House& house) {
    for (const auto& face : house.faces)
        if (const auto* built = face.assembly.empty() ? nullptr : house.find(face.assembly)) return built;
    for (const auto& ladder : house.ladders)
        if (ladder.part == assembly::Part::wall && !ladder.rungs.empty())
            return &house.assemblies[ladder.rungs.front()];
    const auto wall = std::find_if(house.assemblies.begin(), house.assemblies.end(),
                                   [](const auto& a) { return a.part == assembly::Part::wall; });
    return wall == house.assemblies.end() ? nullptr : &*wall;
}

Result<HouseLeakage> house_leakage(const assembly::House& house, const Envelope& envelope) {
    const auto& given = defaults();
    if (!given) return fail(given.error());
    HouseLeakage out{.exponent = given->exponent, .origin = house.air.origin};
    if (house.air.blower_door >= 0.0) {
        out.at_50_pa = house.air.blower_door * envelope.volume;
        out.from = "from the blower door";
        return out;
    }
    const assembly::Assembly* wall = outer_wall(house);
    const auto tight = tightness_of(house, wall ? *wall : assembly::Assembly{}, envelope);
    if (!tight) return fail(tight.error());
    out.at_50_pa = tight->at_50_pa * leaky_area(envelope) / given->through_assemblies;
    out.exponent = tight->exponent;
    out.from = tight->from;
    out.origin = tight->origin;
    return out;
}

}  // namespace warmside::leakage
