#include "house/loads.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numeric>

namespace warmside::house {

namespace {

using Kind = Loss::Kind;

constexpr double sea_level = 101325.0;      // Pa
constexpr double square_centimetre = 1e-4;  // m2
constexpr double litre = 1e-3;              // m3

bool sound(double value) {
    return std::isfinite(value) && value >= 0.0;
}

Result<void> check(const HeatingLoadInput& in) {
    if (!(in.indoor > in.outdoor.value) || !std::isfinite(in.indoor - in.outdoor.value))
        return fail(Code::out_of_range, fmt::format("heating load: {:.1f} degC indoors, {:.1f} degC outdoors",
                                                    in.indoor - 273.15, in.outdoor.value - 273.15));
    for (const Loss& loss : in.envelope)
        if (!std::isfinite(loss.conductance))
            return fail(Code::out_of_range,
                        fmt::format("heating load: {} of {} W/K", loss.name, loss.conductance));
    const auto& v = in.ventilation;
    if (!sound(in.leaks.area) || !sound(in.leaks.flue) || !sound(in.leaks.height) || !sound(v.supply) ||
        !sound(v.exhaust) || !(in.pressure > 0.0))
        return fail(Code::out_of_range,
                    "heating load: a leakage area, height or flow is below 0 or not a number");
    if (!(v.sensible >= 0.0 && v.sensible <= 1.0))
        return fail(Code::out_of_range, fmt::format("heating load: recovery of {:g}", v.sensible));
    return {};
}

bool of_air(Kind kind) {
    return kind == Kind::leakage || kind == Kind::ventilation;
}

}  // namespace

double design_infiltration(const LeakageArea& leaks, double difference, const DrivingForce& force) {
    if (leaks.area <= 0.0) return 0.0;
    const double flue = force.flue * leaks.flue / leaks.area;
    const double per_area =
        (force.base + leaks.height * std::abs(difference) * (force.stack + flue)) / 1000.0;  // L/(s cm2)
    return leaks.area / square_centimetre * per_area * litre;
}

DesignVentilation design_ventilation(const assembly::Ventilation& ventilation, double flow) {
    using VentilationKind = assembly::Ventilation::Kind;
    const double mean = flow * ventilation.run.value;
    const VentilationKind kind = ventilation.kind.value;
    DesignVentilation out;
    if (kind == VentilationKind::supply || kind == VentilationKind::balanced) out.supply = mean;
    if (kind == VentilationKind::exhaust || kind == VentilationKind::balanced) out.exhaust = mean;
    if (kind == VentilationKind::balanced) out.sensible = ventilation.sensible.value;
    if (ventilation.frost) out.frost = ventilation.frost->value;
    out.preheat = ventilation.guard.value == assembly::Ventilation::Guard::preheat;
    return out;
}

DesignAir design_air(const LeakageArea& leaks, const DesignVentilation& ventilation, double indoor,
                     double outdoor, double pressure, const DrivingForce& force, const LoadData& data) {
    const double heat = data.air_heat.value * pressure / sea_level, difference = indoor - outdoor;
    const double unbalanced = std::abs(ventilation.supply - ventilation.exhaust);
    DesignAir out;
    out.recovered = std::min(ventilation.supply, ventilation.exhaust);
    const double through_leaks = design_infiltration(leaks, difference, force);
    out.infiltration = std::max(unbalanced, through_leaks + 0.5 * unbalanced);
    out.leaks = heat * out.infiltration * difference;
    double entering = outdoor, effectiveness = ventilation.sensible;
    if (ventilation.sensible > 0.0 && ventilation.frost && outdoor < *ventilation.frost) {
        if (ventilation.preheat)
            entering = *ventilation.frost;
        else
            effectiveness = 0.0;
    }
    out.preheat = heat * out.recovered * (entering - outdoor);
    out.ventilation = heat * out.recovered * (1.0 - effectiveness) * (indoor - entering);
    return out;
}

Result<Loads> heating_load(const HeatingLoadInput& input) {
    const auto& data = load_data();
    if (!data) return fail(data.error());
    if (auto good = check(input); !good) return fail(good.error());
    const double difference = input.indoor - input.outdoor.value;
    const DesignAir air = design_air(input.leaks, input.ventilation, input.indoor, input.outdoor.value,
                                     input.pressure, data->heating, *data);
    std::array<double, std::tuple_size_v<decltype(RoomShare::of)>> by_kind{};
    for (const Loss& loss : input.envelope)
        if (!of_air(loss.kind)) by_kind[static_cast<std::size_t>(loss.kind)] += loss.conductance * difference;
    by_kind[static_cast<std::size_t>(Kind::leakage)] = air.leaks;
    by_kind[static_cast<std::size_t>(Kind::ventilation)] = air.ventilation;
    Loads out;
    out.heating = std::accumulate(by_kind.begin(), by_kind.end(), 0.0);
    out.outdoor_heating = input.outdoor;
    out.indoor_heating = input.indoor;
    for (const RoomShare& room : input.rooms)
        out.rooms.push_back(
            {.room = room.room,
             .heating = std::inner_product(by_kind.begin(), by_kind.end(), room.of.begin(), 0.0)});
    out.notes.push_back(
        fmt::format("heating load: steady, without sun and gains; air leaks {:.1f} L/s by leakage area "
                    "(ASHRAE Fundamentals "
                    "ch. 17, {}), ventilation {:.1f} L/s",
                    air.infiltration / litre, name_of(data->heating.origin.evidence), air.recovered / litre));
    if (air.preheat > 0.0)
        out.notes.push_back(fmt::format(
            "heating load: the ventilation unit's preheater takes another {:.0f} W", air.preheat));
    return out;
}

Result<void> set_cooling_load(Loads& loads, double peak, std::span<const double> sun, double indoor,
                              const Sourced<double>& outdoor, std::span<const RoomShare> rooms) {
    if (!sound(peak)) return fail(Code::out_of_range, fmt::format("a cooling load of {:g} W", peak));
    for (const RoomShare& room : rooms)
        if (!sun.empty() && room.openings.size() != sun.size())
            return fail(Code::incomplete, fmt::format("sun of {} faces, room {} of {}", sun.size(), room.room,
                                                      room.openings.size()));
    loads.cooling = peak;
    loads.indoor_cooling = indoor;
    loads.outdoor_cooling = outdoor;
    if (loads.rooms.size() != rooms.size()) {
        loads.rooms.clear();
        for (const RoomShare& room : rooms) loads.rooms.push_back({.room = room.room});
    }
    std::vector<double> glazed(sun.size(), 0.0);
    double heating = 0.0, floor = 0.0;
    for (std::size_t i = 0; i < rooms.size(); ++i) {
        for (std::size_t face = 0; face < sun.size(); ++face) glazed[face] += rooms[i].openings[face];
        heating += loads.rooms[i].heating;
        floor += rooms[i].floor;
    }
    // What is stored of the sun comes later: no more of it than the peak has.
    double all_sun = 0.0;
    for (std::size_t face = 0; face < sun.size(); ++face)
        if (glazed[face] > 0.0) all_sun += std::max(0.0, sun[face]);
    const double scale = all_sun > peak ? peak / all_sun : 1.0;
    const double rest = peak - scale * all_sun;
    for (std::size_t i = 0; i < rooms.size(); ++i) {
        double own = rest * (heating > 0.0 ? loads.rooms[i].heating / heating
                                           : rooms[i].floor / std::max(floor, 1e-9));
        for (std::size_t face = 0; face < sun.size(); ++face)
            if (glazed[face] > 0.0)
                own += scale * std::max(0.0, sun[face]) * rooms[i].openings[face] / glazed[face];
        loads.rooms[i].cooling = own;
    }
    loads.notes.push_back(
        "cooling load: sensible peak of a clear design day in July (clear sky of ASHRAE "
        "Fundamentals 1985 to 2005, memory); moisture is left out, and south windows may peak in "
        "September");
    return {};
}

}  // namespace warmside::house
