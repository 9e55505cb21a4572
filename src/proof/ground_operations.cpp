// Ground: its undisturbed temperature, floors on it, the air of crawl spaces and attics.
#include <array>

#include "climate/ground.h"
#include "moisture/beyond.h"
#include "proof/inputs.h"

namespace warmside::proof {
namespace {

climate::Soil soil_of(Inputs& in) {
    return {
        .conductivity = in.one("conductivity", units::conductivity),
        .heat_capacity = in.one("density", units::density) * in.one("specific_heat", units::specific_heat)};
}

/// given: conductivity, density, specific_heat of the ground; m.
Result<Outcome> penetration_depth(const Given& given) {
    Inputs in(given);
    const auto soil = soil_of(in);
    return in.then(
        [&]() -> Result<Outcome> { return Outcome{{"depth", {climate::penetration_depth(soil)}}}; });
}

/// given: the soil; mean, amplitude, coldest (h) of the surface; depth, hours (list). K.
Result<Outcome> ground_temperature(const Given& given) {
    Inputs in(given);
    const auto soil = soil_of(in);
    const climate::AnnualWave wave{in.one("mean", units::temperature),
                                   in.one("amplitude", units::temperature_difference),
                                   in.one("coldest", units::duration) / 3600.0};
    const double depth = in.one("depth", units::length);
    const auto hours = in.list("time", units::duration);
    return in.then([&]() -> Result<Outcome> {
        std::vector<double> out;
        for (const double t : hours)
            out.push_back(climate::ground_temperature(wave, soil, depth, t / 3600.0));
        return Outcome{{"temperature", std::move(out)}};
    });
}

/// given: the soil; area, perimeter, resistance, wall_thickness of the floor. W/K, W/(m2 K).
Result<Outcome> floor_swing(const Given& given) {
    Inputs in(given);
    const auto soil = soil_of(in);
    const moisture::FloorOnGround floor{.area = in.one("area", units::area),
                                        .perimeter = in.one("perimeter", units::length),
                                        .resistance = in.one("resistance", units::thermal_resistance),
                                        .wall_thickness = in.one("wall_thickness", units::length)};
    return in.then([&]() -> Result<Outcome> {
        const auto swing = moisture::floor_swing(floor, soil);
        if (!swing) return fail(swing.error());
        return Outcome{{"swing", {*swing}}};
    });
}

/// given: vents (share of the floor), wind (m/s at 10 m); m3/(s m2).
Result<Outcome> crawl_flow(const Given& given) {
    Inputs in(given);
    const double vents = in.one("vents", units::fraction), wind = in.one("wind", units::speed);
    return in.then([&]() -> Result<Outcome> {
        return Outcome{{"flow", {moisture::crawl_space(vents, 0.5, 0.0).wind_flow * wind}}};
    });
}

constexpr std::array operations{
    Operation{"climate.penetration_depth", penetration_depth},
    Operation{"climate.ground_temperature", ground_temperature},
    Operation{"moisture.floor_swing", floor_swing},
    Operation{"moisture.crawl_flow", crawl_flow},
};

}  // namespace

std::span<const Operation> ground_operations() {
    return operations;
}

}  // namespace warmside::proof
