#include "house/build.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>
#include <numbers>
#include <numeric>

#include "climate/sky.h"
#include "house/builder.h"

namespace warmside::house {

using assembly::Assembly;
using assembly::Face;
using assembly::Opening;
using assembly::Part;
using assembly::Storey;

namespace {

constexpr double upright = std::numbers::pi / 2;
constexpr double air_specific_heat = 1006.0;  // J/(kg K)
constexpr double dry_air = 287.05;            // J/(kg K)
constexpr double room_air = 293.15;           // K
// Of a window, ISO 6946 films (memory).
constexpr double glass_inside = 0.13, glass_outside = 0.04, glass_emissivity = 0.84;
constexpr double door_absorptance = 0.6;

Series scaled(const Series& s, double factor) {
    Series out{factor * s.constant, {}};
    for (const double v : s.hourly) out.hourly.push_back(factor * v);
    return out;
}

void add_to(Series& sum, const Series& more, double factor) {
    if (more.hourly.empty() && sum.hourly.empty()) {
        sum.constant += factor * more.constant;
        return;
    }
    if (sum.hourly.empty()) sum.hourly.assign(hours_in_year, sum.constant);
    for (int h = 0; h < hours_in_year; ++h) sum.hourly[static_cast<std::size_t>(h)] += factor * more.at(h);
}

bool is_basement_wall(const Assembly& a) {
    return a.part == Part::basement_wall;
}

std::string title_of(const Opening& o, const std::string& face) {
    const char* kind = o.kind == Opening::Kind::door ? "door" : "window";
    return o.name.empty() ? fmt::format("{} in face {}", kind, face) : fmt::format("{} {}", kind, o.name);
}

}  // namespace

Builder::Builder(const BuildInput& input, const RoomData& data)
    : in_(input), data_(data), house_(input.house), areas_(assembly::areas(input.house)) {
    for (const Storey& s : house_.storeys)
        if (s.heated && (!lowest_ || s.floor < lowest_->floor)) lowest_ = &s;
    if (!lowest_) return;
    for (std::size_t i = 0; i < lowest_->outline.size(); ++i)
        perimeter_ +=
            assembly::distance(lowest_->outline[i], lowest_->outline[(i + 1) % lowest_->outline.size()]);
    // Levels count from the lowest finished floor that is not below grade.
    if (!house_.foundations.empty()) grade_ = -house_.foundations.front().height_above_grade.metres();
}

Result<Building> Builder::all() {
    if (!lowest_)
        return fail(Code::missing, "no heated storey is stated: there is no house to heat",
                    house_.origin.where);
    add_rooms();
    for (auto step : {&Builder::add_walls, &Builder::add_openings, &Builder::add_roofs, &Builder::add_floors})
        if (auto done = (this->*step)(); !done) return fail(done.error());
    add_junctions();
    add_air();
    add_mass();
    for (const Problem& p : areas_.notes) note(p.what);
    if (auto good = check(out_.network); !good) return fail(good.error());
    return std::move(out_);
}

void Builder::add_rooms() {
    const auto& services = house_.services;
    const double pressure =
        std::accumulate(in_.year.pressure.begin(), in_.year.pressure.end(), 0.0) / hours_in_year;
    out_.air_heat = air_specific_heat * pressure / (dry_air * room_air);
    out_.floor = areas_.floor;
    out_.volume = areas_.volume;
    Zone rooms{.name = "rooms", .capacity = data_.furniture * areas_.floor};
    rooms.heating = steady() ? Series{services.people.heating.value, {}} : heating_kept(services.people);
    using Kind = assembly::Heating::Kind;
    const bool radiators = services.heating.kind.value == Kind::boiler;
    rooms.system_convective = radiators ? data_.convective_radiators : data_.convective_warm_air;
    if (!steady()) {
        if (services.cooling.kind.value != assembly::Cooling::Kind::none)
            rooms.cooling.constant = services.people.cooling.value;
        if (services.heating.capacity)
            rooms.heating_limit = services.heating.capacity->value * services.heating.distribution.value;
        if (services.cooling.capacity) rooms.cooling_limit = services.cooling.capacity->value;
        const Gains gains = gains_of(services.people, areas_.floor, data_);
        rooms.convective = scaled(gains.heat, data_.convective_gains);
        rooms.radiant = scaled(gains.heat, 1.0 - data_.convective_gains);
        note(gains.words + ".");
    }
    out_.network.zones.push_back(std::move(rooms));
}

Result<void> Builder::add_walls() {
    for (std::size_t i = 0; i < house_.faces.size(); ++i) {
        const Face& face = house_.faces[i];
        if (!heated(face.storey)) continue;
        if (auto done = add_wall(face, areas_.faces[i].net); !done) return done;
    }
    return {};
}

Result<void> Builder::add_wall(const Face& face, double net) {
    const Assembly* own = face.assembly.empty() ? &in_.wall : house_.find(face.assembly);
    for (const auto& ladder : house_.ladders)
        for (const std::size_t rung : ladder.rungs)
            if (ladder.part == Part::wall && own == &house_.assemblies[rung]) own = &in_.wall;
    if (!own) return fail(Code::missing, fmt::format("face {} has no layers", face.name), face.origin.where);
    if (net <= 0.0) return {};
    const auto made = chain(*own);
    if (!made) return fail(made.error());
    const std::string title = own == &in_.wall ? "walls" : "walls of " + own->name;
    if (is_basement_wall(*own)) {
        const double bottom = house_.storey(face.storey)->floor.metres();
        const double height = face.height.metres();
        const double depth = std::clamp(grade_ - bottom, 0.0, height);
        const double width = net / height;
        if (depth > 0.0)
            if (auto done = add_ground_wall(0, *made, width, depth, 0.0, face.name); !done) return done;
        if (depth < height) return add_bare_wall(0, *made, width * (height - depth), face.name);
        return {};
    }
    const Outer outer{.plane = {assembly::azimuth(face), upright},
                      .absorptance = own->solar_absorptance,
                      .emissivity = own->emissivity,
                      .film = made->outside_film,
                      .kind = made->open ? Outer::Kind::open : Outer::Kind::sheltered};
    put(*made, {.name = "wall " + face.name,
                .area = net,
                .zone = 0,
                .boundary = outside(outer),
                .owners = framed(Loss::Kind::wall, title, *made)});
    return {};
}

// Frame and pane as one, without mass, so that U comes back with ISO films.
Result<void> Builder::add_openings() {
    for (const PlacedOpening& placed : openings_of(house_)) {
        const Face& face = house_.faces[placed.face];
        const Opening& o = face.openings[placed.opening];
        const bool door = o.kind == Opening::Kind::door;
        const std::string title = title_of(o, face.name);
        if (!(o.u > 0.0))
            return fail(Problem{.code = Code::missing,
                                .what = title + " states no U: the heat that it loses cannot be known",
                                .suggestion = "u = \"U-0.30\"",
                                .where = o.origin.where});
        const double core = 1.0 / o.u - glass_inside - glass_outside;
        if (!(core > 0.0))
            return fail(Code::out_of_range,
                        fmt::format("{}: U {:.2f} W/(m2 K) is more than its films alone pass", title, o.u),
                        o.origin.where);
        const Chain pane{.conductance = {1.0 / core},
                         .capacity = {},
                         .inside_film = glass_inside,
                         .outside_film = glass_outside,
                         .bay_u = o.u,
                         .u = o.u};
        const Outer outer{.plane = placed.plane,
                          .absorptance = door ? door_absorptance : 0.0,
                          .emissivity = door ? 0.9 : glass_emissivity,
                          .film = glass_outside};
        out_.windows.push_back(out_.network.elements.size());
        put(pane, {.name = title,
                   .area = placed.area,
                   .zone = 0,
                   .boundary = outside(outer),
                   .owners = whole(door ? Loss::Kind::door : Loss::Kind::window, title)});
    }
    if (steady()) return {};
    if (in_.sun.empty()) {
        note("No sun comes in: the windows' gains are not handed in.");
        return {};
    }
    if (in_.sun.size() != out_.windows.size())
        return fail(Code::incomplete, fmt::format("{} windows and doors, but the sun of {}",
                                                  out_.windows.size(), in_.sun.size()));
    for (std::size_t i = 0; i < in_.sun.size(); ++i) add_sun(in_.sun[i], out_.windows[i]);
    return {};
}

void Builder::add_sun(const OpeningSun& sun, std::size_t element) {
    Zone& rooms = out_.network.zones.front();
    Element& window = out_.network.elements[element];
    add_to(rooms.convective, sun.transmitted, window.area * data_.convective_sun);
    add_to(rooms.radiant, sun.transmitted, window.area * (1.0 - data_.convective_sun));
    add_to(window.gain, sun.inner, 1.0);
    if (sun.outer.hourly.empty() && sun.outer.constant == 0.0) return;
    Boundary warmed = out_.network.boundaries[window.boundary];
    if (warmed.temperature.hourly.empty())
        warmed.temperature.hourly.assign(hours_in_year, warmed.temperature.constant);
    for (int h = 0; h < hours_in_year; ++h)
        warmed.temperature.hourly[static_cast<std::size_t>(h)] += sun.outer.at(h) / warmed.conductance.at(h);
    out_.network.boundaries.push_back(std::move(warmed));
    window.boundary = out_.network.boundaries.size() - 1;
}

// To outdoor air, all of them: as psi was solved.
void Builder::add_junctions() {
    std::map<thermal::JunctionKind, double> sums;
    for (const thermal::Junction& j : in_.junctions) sums[j.kind] += j.psi_internal * j.length;
    for (const auto& [kind, heat] : sums) {
        const std::string name = fmt::format("junctions: {}", thermal::name_of(kind));
        link({.name = name, .zone = 0, .conductance = {heat, {}}, .temperature = outdoor_air()},
             whole(Loss::Kind::junction, name));
    }
    if (in_.junctions.empty()) note("Junctions are not handed in: they are left out.");
}

void Builder::add_air() {
    link({.name = "leakage", .zone = 0, .conductance = in_.air.leakage, .temperature = outdoor_air()},
         whole(Loss::Kind::leakage, "air leakage"));
    link({.name = "ventilation",
          .zone = 0,
          .conductance = in_.air.ventilation,
          .temperature = in_.air.supply.value_or(outdoor_air())},
         whole(Loss::Kind::ventilation, "ventilation"));
    const double top = areas_.ceiling + areas_.roof;
    const double share = areas_.ceiling / std::max(1e-9, areas_.walls_gross + top);
    double attics = 0.0;
    for (const Element& e : out_.network.elements)
        if (e.beyond != none && e.name.starts_with("ceiling")) attics += e.area;
    for (const std::size_t attic : out_.attics) {
        double own = 0.0;
        for (const Element& e : out_.network.elements)
            if (e.beyond == attic) own += e.area;
        const double part = own / attics;
        link({.name = "leakage through the ceiling",
              .zone = attic,
              .beyond = 0,
              .conductance = in_.air.into_attic ? scaled(*in_.air.into_attic, part)
                                                : scaled(in_.air.leakage, share * part),
              .mutual = false},
             {});
    }
}

// Inner walls and floors between storeys: half of each, with an adiabatic middle.
void Builder::add_mass() {
    const auto lay = [&](const char* name, const char* material, double thickness, double area, double tilt) {
        if (area <= 0.0) return;
        const Assembly board = boards(Part::wall, tilt, {{material, thickness}});
        auto made = chain_of(board, in_.winter, {.u = {}, .framing = {}, .fineness = in_.fineness});
        if (!made) return note(made.error().what + ".");
        put(*made, {.name = name,
                    .area = area,
                    .zone = 0,
                    .owners = whole(Loss::Kind::other, "stored in inner walls and floors")});
    };
    const double between = std::max(0.0, areas_.floor - areas_.ground_floor);
    lay("inner walls", "gypsum board", data_.lining, 2.0 * data_.partitions * areas_.floor, upright);
    lay("ceilings between storeys", "gypsum board", data_.lining, between, 0.0);
    lay("floors between storeys", "osb", data_.deck, between, std::numbers::pi);
    note(
        fmt::format("Inner walls are taken as {:g} m2 per m2 of floor (no source), furniture and air as "
                    "{:.0f} kJ/(m2 K) (ISO 52016-1, memory).",
                    data_.partitions, 1e-3 * data_.furniture));
}

std::vector<PlacedOpening> openings_of(const assembly::House& house) {
    std::vector<PlacedOpening> out;
    for (std::size_t f = 0; f < house.faces.size(); ++f) {
        const Face& face = house.faces[f];
        const Storey* storey = house.storey(face.storey);
        if (!storey || !storey->heated) continue;
        for (std::size_t i = 0; i < face.openings.size(); ++i) {
            const Opening& o = face.openings[i];
            out.push_back({f, i, {assembly::azimuth(face), upright}, o.width.metres() * o.height.metres()});
        }
    }
    return out;
}

KnownWorth known(const Assembly& assembly, const thermal::Worth& worth) {
    return {assembly.name, worth.field_u, worth.field_share};
}

Result<Building> build(const BuildInput& input) {
    const auto& data = room_data();
    if (!data) return fail(data.error());
    if (auto good = climate::check(input.year); !good) return fail(good.error());
    return Builder(input, *data).all();
}

double transmittance(const Network& network, std::size_t element, int hour) {
    const Element& e = network.elements[element];
    double resistance = 1.0 / (e.convection + e.radiation);
    for (const double g : e.conductance) resistance += 1.0 / g;
    if (e.beyond != none)
        resistance += 1.0 / (e.convection_beyond + e.radiation_beyond);
    else if (e.boundary != none)
        resistance += 1.0 / network.boundaries[e.boundary].conductance.at(hour);
    else
        return 0.0;
    return 1.0 / resistance;
}

}  // namespace warmside::house
