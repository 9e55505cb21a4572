// Published and exact checks of the transient solver.
#include <algorithm>
#include <array>
#include <cmath>

#include "moisture/build.h"
#include "moisture/cavity_flow.h"
#include "moisture/checks.h"
#include "moisture/synthetic.h"
#include "proof/inputs.h"

namespace warmside::proof {
namespace {

namespace m = warmside::moisture;

int whole_hours(double seconds) {
    return static_cast<int>(std::lround(seconds / 3600.0));
}

/// Water and temperature at depths, and the water in all, at one time.
Result<Outcome> profile(const m::Column& column, double time, const std::vector<double>& water_depth,
                        const std::vector<double>& temperature_depth, const m::MarchOptions& options) {
    const auto run = m::run_check(column, {whole_hours(time)}, options);
    if (!run) return fail(run.error());
    const m::ProfileAt& at = run->profiles.back();
    Outcome out;
    for (const double x : water_depth) out["water"].push_back(at.water_at(x));
    for (const double x : temperature_depth) out["temperature"].push_back(at.temperature_at(x));
    out["total"] = {at.total};
    out["uptake"] = {at.total - run->result.water_start};
    out["absorption"] = {out["uptake"][0] / std::sqrt(time)};
    return out;
}

/// given: time, water_depth, temperature_depth. Water content kg/m3, temperature K, uptake kg/m2.
Result<Outcome> en15026_step(const Given& given) {
    Inputs v(given);
    const double time = v.one("time", units::duration);
    const auto xw = v.list("water_depth", units::length), xt = v.list("temperature_depth", units::length);
    return v.then([&] { return profile(m::en15026_step(), time, xw, xt, {}); });
}

/// given: time, depth from the outside. Water content kg/m3, total kg/m2.
Result<Outcome> isothermal_drying(const Given& given) {
    Inputs v(given);
    const double time = v.one("time", units::duration);
    const auto x = v.list("depth", units::length);
    return v.then([&] { return profile(m::isothermal_drying(2), time, x, {}, {.tolerance = 5e-4}); });
}

/// given: time, depth from the inside. Temperature K, water content kg/m3, total kg/m2.
Result<Outcome> air_leak_wall(const Given& given) {
    Inputs v(given);
    const double time = v.one("time", units::duration);
    const auto x = v.list("depth", units::length);
    return v.then([&] { return profile(m::air_leak_wall(2), time, x, x, {.tolerance = 5e-4}); });
}

/// given: air_flow, temperature_inside, temperature_outside, depth. Steady temperature K in a layer 0.2 m
/// thick.
Result<Outcome> air_advection_heat(const Given& given) {
    Inputs v(given);
    m::AdvectionCase at;
    at.air = v.one("air_flow", units::moisture_flux);
    at.temperature_left = v.one("temperature_inside", units::temperature);
    at.temperature_right = v.one("temperature_outside", units::temperature);
    at.pressure_left = at.pressure_right = 60.0;  // dry enough for the coldest place
    const auto x = v.list("depth", units::length);
    return v.then([&] { return profile(m::advection(at, 16), 1.44e6, {}, x, {}); });
}

/// given: air_flow, permeability, pressure_inside, pressure_outside. Steady vapour pressure Pa at quarters.
Result<Outcome> air_advection_vapour(const Given& given) {
    Inputs v(given);
    m::AdvectionCase at;
    at.air = v.one("air_flow", units::moisture_flux);
    at.permeability = v.one("permeability", units::permeability);
    at.pressure_left = v.one("pressure_inside", units::pressure);
    at.pressure_right = v.one("pressure_outside", units::pressure);
    at.temperature_right = at.temperature_left;
    return v.then([&]() -> Result<Outcome> {
        const auto run = m::run_check(m::advection(at, 16), {400});
        if (!run) return fail(run.error());
        const auto& p = run->profiles.back().pressure;
        return Outcome{{"pressure", {p[0], p[4], p[8], p[12], p[16]}}};
    });
}

/// given: diffusivity, water_difference. Absorption coefficient kg/(m2 s^0.5) and uptake in a day kg/m2, in a
/// slab deep enough that its far side stays dry.
Result<Outcome> capillary_uptake(const Given& given) {
    Inputs v(given);
    const double diffusivity = v.one("diffusivity", units::diffusivity);
    const double difference = v.one("water_difference", units::density);
    return v.then([&]() -> Result<Outcome> {
        const double depth = 8.0 * std::sqrt(diffusivity * 86400.0);
        const auto run = m::run_check(m::constant_diffusivity(diffusivity, difference, depth, 160), {24},
                                      {.tolerance = 2e-4});
        if (!run) return fail(run.error());
        const double uptake = run->profiles.back().total - run->result.water_start;
        return Outcome{{"uptake", {uptake}}, {"absorption", {uptake / std::sqrt(86400.0)}}};
    });
}

/// given: resistance and permeance of the layers from inside (films first and last), temperatures and vapour
/// pressures of both airs. Steady temperatures K of the planes, vapour flow in and out kg/(s m2), water
/// gained in 30 days kg/m2.
Result<Outcome> condensing_planes(const Given& given) {
    Inputs v(given);
    m::Planes at;
    at.resistance = v.list("resistance", units::thermal_resistance);
    at.permeance = v.list("permeance", units::permeance);
    at.temperature_inside = v.one("temperature_inside", units::temperature);
    at.temperature_outside = v.one("temperature_outside", units::temperature);
    at.pressure_inside = v.one("pressure_inside", units::pressure);
    at.pressure_outside = v.one("pressure_outside", units::pressure);
    return v.then([&]() -> Result<Outcome> {
        if (at.resistance.size() != at.permeance.size() || at.resistance.size() < 3)
            return fail(Code::incomplete, "resistance and permeance do not match in number");
        const auto run = m::run_check(m::planes(at), {72, 72 + 720});
        if (!run) return fail(run.error());
        const m::ProfileAt& start = run->profiles.front();
        const m::ProfileAt& end = run->profiles.back();
        return Outcome{{"temperature", end.temperature},
                       {"flow_in", {at.permeance.front() * (at.pressure_inside - end.pressure.front())}},
                       {"flow_out", {at.permeance.back() * (end.pressure.back() - at.pressure_outside)}},
                       {"water", {end.total - start.total}}};
    });
}

/// given: permeability, capacity, temperature; 8 h at 75 % and 16 h at 33 % on a bare face. Water taken up in
/// the damp hours and given off in the others, kg/m2 per per cent of humidity, once days repeat.
Result<Outcome> buffer_cycle(const Given& given) {
    Inputs v(given);
    m::BufferCase at;
    at.permeability = v.one("permeability", units::permeability);
    at.capacity = v.one("capacity", units::density);
    at.temperature = v.one("temperature", units::temperature);
    return v.then([&]() -> Result<Outcome> {
        constexpr int days = 20;
        const auto run = m::run_check(m::moisture_buffer(at), {24 * days, 24 * days + 8, 24 * days + 24},
                                      {.tolerance = 1e-4});
        if (!run) return fail(run.error());
        const auto& p = run->profiles;
        const double percent = 100.0 * (at.high - at.low);
        return Outcome{{"taken_up", {(p[1].total - p[0].total) / percent}},
                       {"given_off", {(p[1].total - p[2].total) / percent}}};
    });
}

/// given: air_change, thickness, temperature. Conductances between a ventilated cavity and outdoor air as a
/// run of an assembly has them: vapour kg/(s m2 Pa), heat W/(m2 K).
Result<Outcome> cavity_exchange(const Given& given) {
    Inputs v(given);
    const double change = v.one("air_change", units::air_change);
    const double thickness = v.one("thickness", units::length);
    const double temperature = v.one("temperature", units::temperature);
    return v.then([&]() -> Result<Outcome> {
        assembly::Assembly wall;
        wall.name = "cavity";
        assembly::Layer cavity = m::invented::cavity(1e3 * thickness);
        cavity.air_change = change;
        wall.layers = {m::invented::board("osb", 11.0), cavity, m::invented::board("spruce siding", 19.0)};
        climate::FaceWeather outside = m::invented_weather();
        std::fill(outside.temperature.begin(), outside.temperature.end(), temperature);
        const climate::Indoor inside = m::invented_indoor(outside);
        m::Run run;
        run.name = "cavity";
        run.assembly = &wall;
        run.outside = &outside;
        run.inside = &inside;
        m::Shelf shelf;
        const auto built = m::build(run, {}, shelf);
        if (!built) return fail(built.error());
        m::Hour hour;
        built->column.weather(0, hour);
        for (std::size_t e = 0; e < built->column.exchanges.size(); ++e) {
            if (built->column.exchanges[e].kind != m::Exchange::Kind::cavity) continue;
            return Outcome{{"vapour", {hour.ambient[e].vapour_film}}, {"heat", {hour.ambient[e].heat_film}}};
        }
        return fail(Code::unsupported, "the assembly has no ventilated cavity");
    });
}

/// given: gap, length, openings in and out (heights of slots), clear (gamma), pressures (list). Air changes
/// 1/s.
Result<Outcome> cavity_air_change(const Given& given) {
    Inputs v(given);
    m::CavityShape shape;
    shape.gap = v.one("gap", units::length);
    shape.length = v.one("length", units::length);
    shape.opening_in = v.one("opening_in", units::length);
    shape.opening_out = v.one("opening_out", units::length);
    shape.clear = v.one("clear", units::number);
    const auto pressure = v.list("pressure", units::pressure);
    return v.then([&]() -> Result<Outcome> {
        Outcome out;
        for (const double p : pressure) {
            const auto draw = m::draw(m::draught(shape), 283.15, 0.0, 283.15, 0.0, p * p);
            out["air_change"].push_back(draw.flow / shape.gap);
        }
        return out;
    });
}

/// given: wind (list), coefficient, rise, outdoor, cavity. Pressure Pa that the flow through a cavity meets.
Result<Outcome> cavity_pressure(const Given& given) {
    Inputs v(given);
    const auto wind = v.list("wind", units::speed);
    const double coefficient = v.one("coefficient", units::number), rise = v.one("rise", units::length);
    const double outdoor = v.one("outdoor", units::temperature), cavity = v.one("cavity", units::temperature);
    return v.then([&]() -> Result<Outcome> {
        const auto d =
            m::draught({.length = 2.4, .gap = 0.019, .opening_in = 0.01, .opening_out = 0.01, .rise = rise});
        Outcome out;
        for (const double speed : wind) {
            const double q =
                m::draw(d, outdoor, 0.0, cavity, 0.0, m::wind_square_of(coefficient, speed)).flow;
            out["pressure"].push_back((d.openings * q + d.friction) * q);
        }
        return out;
    });
}

constexpr std::array operations{
    Operation{"moisture.en15026_step", en15026_step},
    Operation{"moisture.isothermal_drying", isothermal_drying},
    Operation{"moisture.air_leak_wall", air_leak_wall},
    Operation{"moisture.air_advection_heat", air_advection_heat},
    Operation{"moisture.air_advection_vapour", air_advection_vapour},
    Operation{"moisture.capillary_uptake", capillary_uptake},
    Operation{"moisture.condensing_planes", condensing_planes},
    Operation{"moisture.buffer_cycle", buffer_cycle},
    Operation{"moisture.cavity_exchange", cavity_exchange},
    Operation{"moisture.cavity_air_change", cavity_air_change},
    Operation{"moisture.cavity_pressure", cavity_pressure},
};

}  // namespace

std::span<const Operation> moisture_solver_operations() {
    return operations;
}

}  // namespace warmside::proof
