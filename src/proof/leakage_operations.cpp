// Checks of wind, stack and the law of leaks.
#include <array>
#include <cmath>

#include "air/moist_air.h"
#include "leakage/air_flow.h"
#include "leakage/wind.h"
#include "proof/inputs.h"

namespace warmside::proof {
namespace {

namespace l = warmside::leakage;

/// given: face (wall, roof), pitch of a roof, angle (list). Pressure coefficients.
Result<Outcome> pressure_coefficient(const Given& given) {
    Inputs v(given);
    const bool wall = v.word("face", {"wall", "roof"}) == "wall";
    const double pitch = wall ? 0.0 : v.one("pitch", units::angle);
    const auto angle = v.list("angle", units::angle);
    return v.then([&]() -> Result<Outcome> {
        Outcome out;
        for (const double a : angle)
            out["coefficient"].push_back(wall ? l::wall_pressure_coefficient(a)
                                              : l::roof_pressure_coefficient(a, pitch));
        return out;
    });
}

/// given: leakages m3/(s m2) (list) at a pressure, exponent, pressure. Flow m3/(s m2) there.
Result<Outcome> power_law(const Given& given) {
    Inputs v(given);
    const auto leakage = v.list("leakage", units::air_leakage);
    const double at = v.one("at", units::pressure), pressure = v.one("pressure", units::pressure);
    const double exponent = v.one("exponent", units::number);
    return v.then([&]() -> Result<Outcome> {
        Outcome out;
        for (const double each : leakage)
            out["flow"].push_back(l::flow_at(pressure, each * std::pow(50.0 / at, exponent), exponent));
        return out;
    });
}

/// given: outdoor and indoor temperature and vapour pressure. Gradient of the pressure difference in still
/// air, Pa/m, as the balance of a house gives it.
Result<Outcome> stack(const Given& given) {
    Inputs v(given);
    const double outdoor = v.one("outdoor", units::temperature), indoor = v.one("indoor", units::temperature);
    const double out_vapour = v.one("outdoor_vapour", units::pressure);
    const double in_vapour = v.one("indoor_vapour", units::pressure);
    return v.then([&]() -> Result<Outcome> {
        climate::Year year;
        climate::Indoor room;
        constexpr std::size_t hours = climate::hours_in_year;
        for (auto* column : {&year.wind_speed, &year.wind_direction}) column->assign(hours, 0.0);
        year.pressure.assign(hours, 101325.0);
        year.temperature.assign(hours, outdoor);
        year.vapour_pressure.assign(hours, out_vapour);
        room.temperature.assign(hours, indoor);
        room.vapour_pressure.assign(hours, in_vapour);
        const assembly::House house;
        const auto made = l::pressures(house, year, room);
        if (!made) return fail(made.error());
        const climate::Plane wall;
        return Outcome{{"gradient", {l::across(*made, wall, 1.0)[0] - l::across(*made, wall, 0.0)[0]}}};
    });
}

/// given: terrain, height. Wind over the station's.
Result<Outcome> wind_share(const Given& given) {
    using Terrain = assembly::Airtightness::Terrain;
    Inputs v(given);
    const std::string word = v.word("terrain", {"open", "suburban", "city"});
    const double height = v.one("height", units::length);
    const Terrain terrain = word == "open"   ? Terrain::open
                            : word == "city" ? Terrain::city
                                             : Terrain::suburban;
    return v.then([&]() -> Result<Outcome> { return Outcome{{"share", {l::wind_share(terrain, height)}}}; });
}

constexpr std::array operations{
    Operation{"leakage.pressure_coefficient", pressure_coefficient},
    Operation{"leakage.power_law", power_law},
    Operation{"leakage.stack", stack},
    Operation{"leakage.wind_share", wind_share},
};

}  // namespace

std::span<const Operation> leakage_operations() {
    return operations;
}

}  // namespace warmside::proof
