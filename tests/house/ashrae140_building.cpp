#include "ashrae140_building.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <numbers>
#include <stdexcept>

#include "air/moist_air.h"
#include "climate/calendar.h"
#include "house/glass.h"
#include "house/shading.h"
#include "house/solar.h"

namespace ashrae140 {

using namespace warmside;
using namespace warmside::house;

namespace {

constexpr double zero = 273.15;
constexpr int roof_plane = 4;

struct Layer {
    double thickness, conductivity, density, heat;
};
using Layers = std::vector<Layer>;

// Reference ashrae140-2020-building-600 and -900 (layers: memory; U: seen), from inside.
Layers wall_of(bool heavy, bool thick) {
    if (heavy)
        return {{0.1, 0.51, 1400, 1000}, {thick ? 0.2452 : 0.0615, 0.04, 10, 1400}, {0.009, 0.14, 530, 900}};
    return {{0.012, 0.16, 950, 840}, {thick ? 0.25 : 0.066, 0.04, 12, 840}, {0.009, 0.14, 530, 900}};
}
Layers roof_of(bool thick) {
    return {{0.01, 0.16, 950, 840}, {thick ? 0.4 : 0.1118, 0.04, 12, 840}, {0.019, 0.14, 530, 900}};
}
Layers floor_of(bool heavy) {
    if (heavy) return {{0.08, 1.13, 1400, 1000}, {1.007, 0.04, 0, 0}};
    return {{0.025, 0.14, 650, 1200}, {1.003, 0.04, 0, 0}};
}
const Layers common_wall{{0.2, 0.51, 1400, 1000}};  // case 960 (memory)

// Cells of 10 mm at most; a layer without mass is a resistance alone.
void set_chain(Element& e, const Layers& layers) {
    double before = 0.0;  // resistance since the last cell
    for (const Layer& l : layers) {
        if (l.density <= 0.0) {
            before += l.thickness / l.conductivity;
            continue;
        }
        const int n = std::max(2, static_cast<int>(std::ceil(l.thickness / 0.010)));
        const double half = 0.5 * l.thickness / n / l.conductivity;
        for (int i = 0; i < n; ++i) {
            e.conductance.push_back(1.0 / (before + half));
            e.capacity.push_back(l.density * l.heat * l.thickness / n);
            before = half;
        }
    }
    e.conductance.push_back(1.0 / before);
}

// Clear glass, own data: two panes of 3.048 mm and 12 mm of air (quoted). The extinction gives a single pane
// the solar transmittance 0.834 and reflectance 0.075 of generic clear 3 mm glass (memory); it then has SHGC
// 0.86, and 0.864 is quoted for the single pane of case 670. The older editions' 0.0196 per mm would give it
// 0.88.
Glazing double_pane() {
    const Pane pane{.thickness = 0.003048, .extinction = 30.9};
    return {.panes = {pane, pane}, .gaps = {{.thickness = 0.012}}};
}
// About the mean state of the year at Denver, for the gap: 5 and 21 degC.
const Sides usual{zero + 5.0, zero + 21.0, 10.0, 2.5, 2.0, 0.0};

// What a surface is to the room's light and radiant exchange.
struct Role {
    double emissivity = 0.9, absorptance = 0.6;
    double first = 0.0;
    bool glass = false;
};

class Builder {
public:
    Builder(const Case& one, const Site& site) : one_(one), site_(site) {
        const auto glass = behaviour(double_pane(), usual);
        if (!glass) throw std::runtime_error(glass.error().what);
        glass_ = *glass;
        light_back_ = diffuse_optics(double_pane()).reflectance;
    }

    void build();
    Network network;
    std::vector<Role> roles;   // [element]
    double transmitted = 0.0;  // kWh/m2 of the window counted
    double incident = 0.0;
    std::size_t kept = 0;  // the zone with the thermostat

private:
    std::size_t boundary(int quarter, double absorptance, double emissivity, double roughness);
    void part(std::string name, double area, std::size_t zone, const Layers& layers, Film facing,
              int quarter);
    void floor(double area, std::size_t zone, bool heavy);
    void window(int quarter, double width, std::size_t zone, const std::vector<Screen>& screens);
    void opaque_window(double area, std::size_t zone);
    void walls_and_windows(std::size_t zone, double width, double depth, bool heavy, bool south_opaque,
                           bool north_common);
    void zone(std::string name, double volume, bool conditioned);
    void light();
    void exchange();

    const Case& one_;
    const Site& site_;
    SolarBehaviour glass_;
    double light_back_ = 0.0;
    std::vector<std::vector<double>> sun_into_;  // W, [zone][hour]
};

std::size_t Builder::boundary(int quarter, double absorptance, double emissivity, double roughness) {
    const auto plane = Site::plane(quarter);
    const auto film = wind_film(site_.year(), plane, 2.0, roughness);
    network.boundaries.push_back(outdoors(site_.year(), plane, absorptance, emissivity, 0.2, film));
    return network.boundaries.size() - 1;
}

void Builder::part(std::string name, double area, std::size_t zone, const Layers& layers, Film facing,
                   int quarter) {
    Element e{.name = std::move(name), .area = area, .zone = zone, .film = facing};
    e.boundary = boundary(quarter, one_.absorptance_outside, one_.emissivity_outside, 1.67);
    set_chain(e, layers);
    network.elements.push_back(std::move(e));
    roles.push_back({one_.emissivity_inside, one_.absorptance_inside});
}

// Above outdoor air, without sun or sky (memory); U 0.04, so its outer film does not matter.
void Builder::floor(double area, std::size_t zone, bool heavy) {
    Boundary below{.name = "under the floor", .conductance = {10.0, {}}};
    below.temperature.hourly = site_.year().temperature;
    network.boundaries.push_back(below);
    Element e{.name = "floor", .area = area, .zone = zone, .boundary = network.boundaries.size() - 1};
    e.film = Film::floor;
    set_chain(e, floor_of(heavy));
    network.elements.push_back(std::move(e));
    roles.push_back({one_.emissivity_inside, one_.absorptance_inside, 1.0});
}

void Builder::window(int quarter, double width, std::size_t zone, const std::vector<Screen>& screens) {
    const Frontage frontage{width, 2.0};
    const auto& sun = site_.sun(quarter);
    const double azimuth = Site::plane(quarter).azimuth;
    const auto through = window_sun(sun, azimuth, glass_, frontage, screens);
    const auto film = wind_film(site_.year(), Site::plane(quarter), 2.0, 1.0);
    network.boundaries.push_back(outdoors(site_.year(), Site::plane(quarter), through, 0.84, film));
    Element e{.name = "window",
              .area = width * 2.0,
              .zone = zone,
              .boundary = network.boundaries.size() - 1,
              .conductance = {glass_.conductance},
              .film = Film::wall};
    e.gain.hourly = through.inner;
    transmitted = incident = 0.0;
    for (std::size_t i = 0; i < through.transmitted.size(); ++i) {
        sun_into_[zone][i] += e.area * through.transmitted[i];
        transmitted += through.transmitted[i] / 1000.0;
        incident += (sun.beam[i] + sun.sky[i] + sun.ground[i]) / 1000.0;
    }
    network.elements.push_back(std::move(e));
    roles.push_back({0.84, 1.0 - light_back_, 0.0, true});
}

// "High conductance wall": the window's conductance, opaque, with the walls' absorptance and emissivity
// (memory).
void Builder::opaque_window(double area, std::size_t zone) {
    Element e{.name = "opaque window", .area = area, .zone = zone, .conductance = {glass_.conductance}};
    e.boundary = boundary(2, one_.absorptance_outside, one_.emissivity_outside, 1.0);
    e.film = Film::wall;
    network.elements.push_back(std::move(e));
    roles.push_back({one_.emissivity_inside, one_.absorptance_inside});
}

void Builder::zone(std::string name, double volume, bool conditioned) {
    using enum Case::Control;
    const double density = 101325.0 * 0.82 / (287.0 * 293.0);  // the site's height, 1650 m
    Zone z{.name = std::move(name), .capacity = density * 1006.0 * volume};
    sun_into_.emplace_back(hours_in_year, 0.0);
    if (conditioned) {
        z.convective.constant = 0.4 * one_.gains;
        z.radiant.constant = 0.6 * one_.gains;
        const bool floats = one_.control == floating || one_.control == vented_floating;
        if (!floats) {
            z.heating.constant = zero + one_.heating;
            // The engine wants a band, however narrow.
            z.cooling.constant = zero + std::max(one_.cooling, one_.heating + 1e-3);
        }
        if (one_.control == vented) {
            z.heating.constant = -std::numeric_limits<double>::infinity();
            for (int h = 0; h < hours_in_year; ++h)
                z.cooling.hourly.push_back(h % 24 >= 7 && h % 24 < 18 ? zero + one_.cooling : 1000.0);
        }
        // 10 degC from 23 to 7, rising until 8 (memory): the hour of the rise at its mean.
        for (int h = 0; one_.control == setback && h < hours_in_year; ++h) {
            const int hour = h % 24;
            z.heating.hourly.push_back(zero + (hour >= 23 || hour < 7 ? 10.0 : hour == 7 ? 15.0 : 20.0));
        }
    }
    network.zones.push_back(z);
    Link air{.name = "infiltration", .zone = network.zones.size() - 1};
    for (std::size_t i = 0; i < hours_in_year; ++i) {
        const int hour = static_cast<int>(i) % 24;
        const bool fan =
            (one_.control == vented || one_.control == vented_floating) && (hour >= 18 || hour < 7);
        const double flow = volume * one_.air_changes / 3600.0 + (fan ? 1703.16 / 3600.0 : 0.0);
        // Air changes of the room's own air, at its temperature and the station's pressure (choice).
        const double rho = site_.year().pressure[i] / (287.0 * 293.15);
        air.conductance.hourly.push_back(rho * 1006.0 * flow);
    }
    air.temperature.hourly = site_.year().temperature;
    if (one_.air_changes > 0.0) network.links.push_back(std::move(air));
}

void Builder::walls_and_windows(std::size_t zone, double width, double depth, bool heavy, bool south_opaque,
                                bool north_common) {
    using enum Case::Windows;
    const double height = 2.7;
    const Layers wall = wall_of(heavy, one_.thick);
    const bool sides = !south_opaque && one_.windows == east_west;
    const double south_glass =
        !south_opaque && (one_.windows == south || one_.windows == opaque) ? 12.0 : 0.0;
    if (!north_common) part("north", width * height, zone, wall, Film::wall, 0);
    part("east", depth * height - (sides ? 6.0 : 0.0), zone, wall, Film::wall, 1);
    part("west", depth * height - (sides ? 6.0 : 0.0), zone, wall, Film::wall, 3);
    if (!(one_.sunspace && south_opaque))
        part("south", width * height - south_glass, zone, wall, Film::wall, 2);
    part("roof", width * depth, zone, roof_of(one_.thick), Film::ceiling, roof_plane);
    floor(width * depth, zone, heavy);
    const Frontage pane{3.0, 2.0};
    if (south_glass > 0.0 && one_.windows == opaque) opaque_window(12.0, zone);
    if (south_glass > 0.0 && one_.windows == south) {
        for (const double left : {0.5, 4.5}) {
            std::vector<Screen> screens;  // the wall's whole width, at roof level, 0.5 m above the head
            if (one_.shaded) screens.push_back(overhang(pane, 0.5, 1.0, left, 8.0 - left - 3.0));
            window(2, 3.0, zone, screens);
        }
    }
    if (sides) {
        std::vector<Screen>
            screens;  // overhang at roof level and fins from roof to ground at the jambs (memory)
        if (one_.shaded)
            screens = {overhang(pane, 0.5, 1.0, 0.0, 0.0), left_fin(pane, 0.0, 1.0, 0.2, 0.5),
                       right_fin(pane, 0.0, 1.0, 0.2, 0.5)};
        for (const int quarter : {1, 3}) window(quarter, 3.0, zone, screens);
    }
}

void Builder::light() {
    for (std::size_t z = 0; z < network.zones.size(); ++z) {
        std::vector<LitSurface> surfaces;
        std::vector<std::size_t> which;
        for (std::size_t i = 0; i < network.elements.size(); ++i) {
            if (network.elements[i].zone != z) continue;
            which.push_back(i);
            surfaces.push_back({network.elements[i].area, roles[i].absorptance, roles[i].first});
        }
        const auto shares = sun_shares(surfaces);
        if (!shares) throw std::runtime_error(shares.error().what);
        for (std::size_t k = 0; k < which.size(); ++k) {
            Element& e = network.elements[which[k]];
            // Of the light that glass takes from inside most goes out again; what its panes absorb warms its
            // inner face as light from outside warms the outer one (the pair is symmetric).
            const double kept_share =
                roles[which[k]].glass ? glass_.outer_diffuse / roles[which[k]].absorptance : 1.0;
            e.gain.hourly.resize(hours_in_year, 0.0);
            for (std::size_t i = 0; i < hours_in_year; ++i)
                e.gain.hourly[i] += kept_share * (*shares)[k] * sun_into_[z][i] / e.area;
        }
    }
}

// Carroll 1980: each surface to a common radiant node, F = 1/(1 - A F / sum A F), grey.
void Builder::exchange() {
    constexpr double black = 4.0 * 5.670374419e-8 * 293.15 * 293.15 * 293.15;
    for (std::size_t z = 0; z < network.zones.size(); ++z) {
        std::vector<double> F(network.elements.size(), 1.0);
        for (int pass = 0; pass < 200; ++pass) {
            double whole = 0.0;
            for (std::size_t i = 0; i < F.size(); ++i)
                if (network.elements[i].zone == z) whole += network.elements[i].area * F[i];
            for (std::size_t i = 0; i < F.size(); ++i)
                if (network.elements[i].zone == z)
                    F[i] = 1.0 / (1.0 - network.elements[i].area * F[i] / whole);
        }
        for (std::size_t i = 0; i < F.size(); ++i) {
            Element& e = network.elements[i];
            if (e.zone == z)
                e.radiation = black / ((1.0 - roles[i].emissivity) / roles[i].emissivity + 1.0 / F[i]);
        }
    }
}

void Builder::build() {
    zone("room", 129.6, true);
    if (one_.sunspace) {
        walls_and_windows(0, 8.0, 6.0, false, true, false);
        zone("sunspace", 8.0 * 2.0 * 2.7, false);
        // Its inner face, which takes light, is the sunspace's.
        Element e{.name = "common wall", .area = 21.6, .zone = 1, .beyond = 0};
        e.film = e.film_beyond = Film::wall;
        set_chain(e, common_wall);
        network.elements.push_back(e);
        roles.push_back({0.9, 0.6});
        walls_and_windows(1, 8.0, 2.0, true, false, true);
        kept = 0;
    } else {
        walls_and_windows(0, 8.0, 6.0, one_.heavy, one_.windows == Case::Windows::none, false);
    }
    light();
    exchange();
}

void collect(const Run& run, std::size_t kept, Result& out) {
    const auto& heating = run.heating[kept];
    const auto& cooling = run.cooling[kept];
    auto& f = out.figures;
    for (std::size_t h = 0; h < hours_in_year; ++h) {
        const std::string month =
            std::string(
                climate::month_names[static_cast<std::size_t>(climate::month_of(static_cast<int>(h)))])
                .substr(0, 3);
        f["heating"] += heating[h] / 1e6;
        f["cooling"] += cooling[h] / 1e6;
        f["peak_heating"] = std::max(f["peak_heating"], heating[h] / 1e3);
        f["peak_cooling"] = std::max(f["peak_cooling"], cooling[h] / 1e3);
        f["cooling " + month] += cooling[h] / 1e3;
        f["peak_heating " + month] = std::max(f["peak_heating " + month], heating[h] / 1e3);
    }
    const auto& air = run.air.back();  // of 960 the sunspace
    f["highest"] = *std::max_element(air.begin(), air.end()) - zero;
    f["lowest"] = *std::min_element(air.begin(), air.end()) - zero;
}

}  // namespace

climate::Plane Site::plane(int quarter) {
    if (quarter == roof_plane) return {.azimuth = 0.0, .tilt = 0.0};
    return {.azimuth = 0.5 * std::numbers::pi * quarter};
}

Site::Site(climate::Year year) : year_(std::move(year)) {
    for (int quarter = 0; quarter <= roof_plane; ++quarter)
        sun_.push_back(climate::sun_on(year_, plane(quarter), 0.2));
}

Result run(const Case& one, const Site& site) {
    Builder made(one, site);
    made.build();
    Result out;
    const auto run = simulate(made.network, {.steps = 4, .run_in = 14});
    if (!run) throw std::runtime_error(run.error().what);
    collect(*run, made.kept, out);
    out.balance = run->worst_balance / run->largest_flow;
    const char* side = one.windows == Case::Windows::south ? "south" : "west";
    out.figures[std::string("transmitted ") + side] = made.transmitted;
    out.figures[std::string("transmissivity ") + side] = made.transmitted / std::max(1e-9, made.incident);
    return out;
}

std::vector<Case> cases() {
    using enum Case::Windows;
    using enum Case::Control;
    std::vector<Case> all;
    // 195 to 320: thermostat 20/20, no gains, no air change, emissivities and absorptance 0.1, each one
    // changed in turn (memory, from the standard's table of cases).
    const Case conduction{.name = "195",
                          .windows = none,
                          .cooling = 20.0,
                          .air_changes = 0.0,
                          .gains = 0.0,
                          .emissivity_inside = 0.1,
                          .emissivity_outside = 0.1,
                          .absorptance_outside = 0.1};
    const auto add = [&](Case one, const char* name, auto change) {
        one.name = name;
        change(one);
        all.push_back(one);
        return one;
    };
    const auto same = [](Case&) {};
    add(conduction, "195", same);
    const Case c200 = add(conduction, "200", [](Case& c) { c.windows = opaque; });
    add(c200, "210", [](Case& c) { c.emissivity_outside = 0.9; });
    const Case c215 = add(c200, "215", [](Case& c) { c.emissivity_inside = 0.9; });
    const Case c220 = add(c215, "220", [](Case& c) { c.emissivity_outside = 0.9; });
    add(c220, "230", [](Case& c) { c.air_changes = 1.0; });
    add(c220, "240", [](Case& c) { c.gains = 200.0; });
    add(c220, "250", [](Case& c) { c.absorptance_outside = 0.9; });
    const Case c270 = add(c220, "270", [](Case& c) { c.windows = south, c.absorptance_inside = 0.9; });
    add(c270, "280", [](Case& c) { c.absorptance_inside = 0.1; });
    add(c270, "290", [](Case& c) { c.shaded = true; });
    const Case c300 = add(c270, "300", [](Case& c) { c.windows = east_west; });
    add(c300, "310", [](Case& c) { c.shaded = true; });
    add(c270, "320", [](Case& c) { c.cooling = 27.0; });
    const Case c395 = add(c220, "395", [](Case& c) { c.windows = none, c.cooling = 27.0; });
    const Case c400 = add(c395, "400", [](Case& c) { c.windows = opaque; });
    const Case c410 = add(c400, "410", [](Case& c) { c.air_changes = 0.5; });
    const Case c420 = add(c410, "420", [](Case& c) { c.gains = 200.0; });
    const Case c430 = add(c420, "430", [](Case& c) { c.absorptance_outside = 0.6; });
    add(c430, "440", [](Case& c) { c.windows = south, c.absorptance_inside = 0.1; });
    add(c430, "800", [](Case& c) { c.heavy = true; });
    for (const bool heavy : {false, true}) {
        Case base{.name = heavy ? "900" : "600", .heavy = heavy};
        const auto named = [&](const char* light, const char* heavy_name) {
            return heavy ? heavy_name : light;
        };
        all.push_back(base);
        add(base, named("610", "910"), [](Case& c) { c.shaded = true; });
        add(base, named("620", "920"), [](Case& c) { c.windows = east_west; });
        add(base, named("630", "930"), [](Case& c) { c.windows = east_west, c.shaded = true; });
        add(base, named("640", "940"), [](Case& c) { c.control = setback; });
        add(base, named("650", "950"), [](Case& c) { c.control = vented; });
        add(base, named("680", "980"), [](Case& c) { c.thick = true; });
        add(base, named("685", "985"), [](Case& c) { c.cooling = 20.0; });
        add(base, named("695", "995"), [](Case& c) { c.thick = true, c.cooling = 20.0; });
        add(base, named("600FF", "900FF"), [](Case& c) { c.control = floating; });
        add(base, named("650FF", "950FF"), [](Case& c) { c.control = vented_floating; });
    }
    all.push_back({.name = "810", .heavy = true, .absorptance_inside = 0.1});
    all.push_back({.name = "960", .sunspace = true});
    return all;
}

}  // namespace ashrae140
