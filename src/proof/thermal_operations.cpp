// Operations of the steady-heat checks, proof/thermal/*.toml.
#include <array>
#include <cmath>

#include "assembly/assembly.h"
#include "climate/ground.h"
#include "conduction/periodic.h"
#include "framing/fractions.h"
#include "proof/inputs.h"
#include "thermal/air_layer.h"
#include "thermal/cell.h"
#include "thermal/code_tables.h"
#include "thermal/corrections.h"
#include "thermal/ground.h"
#include "thermal/layering.h"

namespace warmside::proof {

namespace {

using units::Dimension;
using units::Exact;

thermal::HeatFlow flow_of(Inputs& in) {
    const auto text = in.word("flow", {"horizontal", "up", "down"});
    return text == "up"     ? thermal::HeatFlow::up
           : text == "down" ? thermal::HeatFlow::down
                            : thermal::HeatFlow::horizontal;
}

/// `name` with one value for each of `inputs`; the first Problem stops.
template <class F>
Result<Outcome> each(std::string name, const std::vector<double>& inputs, F value) {
    std::vector<double> out;
    for (const double input : inputs) {
        const Result<double> result = value(input);
        if (!result) return fail(result.error());
        out.push_back(*result);
    }
    return Outcome{{std::move(name), std::move(out)}};
}

Result<Outcome> single(std::string name, const Result<double>& value) {
    if (!value) return fail(value.error());
    return Outcome{{std::move(name), {*value}}};
}

Result<Outcome> films(const Given& given) {
    Inputs in(given);
    const auto flow = flow_of(in);
    const auto table = in.word("table", {"iso 6946", "handbook winter", "handbook summer"});
    const auto f = table == "iso 6946"          ? thermal::iso_films(flow)
                   : table == "handbook winter" ? thermal::handbook_films(flow)
                                                : thermal::handbook_films(flow, thermal::Season::summer);
    return in.done(Outcome{{"inside", {f.inside}}, {"outside", {f.outside}}});
}

Result<Outcome> air_layer(const Given& given) {
    Inputs in(given);
    const auto flow = flow_of(in);
    const double emissivity = in.one_or("emissivity", units::number, 0.9);
    const double temperature = in.one("temperature", units::temperature);
    return in.done(each("resistance", in.list("thickness", units::length), [&](double thickness) {
        return thermal::air_layer_resistance({.thickness = thickness,
                                              .emissivity_inside = emissivity,
                                              .emissivity_outside = emissivity,
                                              .temperature = temperature,
                                              .flow = flow});
    }));
}

Result<Outcome> radiative_coefficient(const Given& given) {
    Inputs in(given);
    return in.done(each("coefficient", in.list("temperature", units::temperature),
                        [](double t) -> Result<double> { return thermal::radiative_coefficient(t); }));
}

Result<Outcome> handbook_air_space(const Given& given) {
    Inputs in(given);
    thermal::AirSpace space;
    space.flow = flow_of(in);
    space.thickness = in.one("thickness", units::length);
    space.temperature = in.one("temperature", units::temperature);
    space.temperature_difference = in.one("difference", units::temperature_difference);
    return in.done(
        each("resistance", in.list("emittance", units::number), [&](double emittance) -> Result<double> {
            space.emittance = emittance;
            const auto r = thermal::handbook_air_space(space);
            if (!r) return fail(Code::out_of_range, "the table has no such air space");
            return *r;
        }));
}

Result<Outcome> slightly_ventilated(const Given& given) {
    Inputs in(given);
    const double still = in.one("unventilated", units::thermal_resistance);
    const double open = in.one("ventilated", units::thermal_resistance);
    return in.done(each("total", in.list("openings", units::area), [&](double area) -> Result<double> {
        constexpr double square_millimetres = 1e6;
        return thermal::slightly_ventilated_total(still, open, square_millimetres * area);
    }));
}

/// `layers = ["R-1", { bay = "R-13", member = "R-4.4", share = 0.25 }]`
thermal::Cell cell_of(Inputs& in) {
    thermal::Cell cell;
    cell.inside_film = in.one("inside_film", units::thermal_resistance);
    cell.outside_film = in.one("outside_film", units::thermal_resistance);
    const toml::array* layers = in.reader().array("layers");
    if (!layers) {
        in.reader().missing("layers");
        return cell;
    }
    for (const toml::node& node : *layers) {
        thermal::Ply ply;
        if (const toml::table* table = node.as_table()) {
            units::TableReader row(*table, "layer", in.problems());
            const auto bay = row.required(row.quantity("bay", units::thermal_resistance), "bay");
            const auto member = row.required(row.quantity("member", units::thermal_resistance), "member");
            const auto share = row.required(row.quantity("share", units::fraction, {0.0, 1.0}), "share");
            row.finish();
            ply.fill = bay.value_or(0.0);
            ply.member = member.value_or(0.0);
            ply.run = thermal::Ply::Run::vertical;
            ply.members = {
                .width = Exact::nearest(share.value_or(0.0)), .spacing = Exact::nearest(1.0), .offset = {}};
        } else if (auto r = units::read_quantity(node, "layers", units::thermal_resistance)) {
            ply.fill = *r;
        } else {
            in.problems().push_back(r.error());
        }
        cell.plies.push_back(ply);
    }
    return cell;
}

Result<Outcome> framed(const Given& given) {
    Inputs in(given);
    const thermal::Cell cell = cell_of(in);
    const auto both = thermal::limits(cell);
    if (!both) return in.done(fail(both.error()));
    Outcome out{{"upper", {both->upper}},
                {"lower", {both->lower}},
                {"combined", {both->combined()}},
                {"upper_u", {1.0 / both->upper}},
                {"lower_u", {1.0 / both->lower}},
                {"combined_u", {1.0 / both->combined()}},
                {"without_films", {both->lower - cell.inside_film - cell.outside_film}}};
    // The framed ply alone, its parts side by side.
    for (const thermal::Ply& ply : cell.plies) {
        if (ply.run == thermal::Ply::Run::none) continue;
        const double u = ply.members.share() / ply.member + (1.0 - ply.members.share()) / ply.fill;
        out["framed_u"] = {u};
        out["framed_r"] = {1.0 / u};
    }
    return in.done(out);
}

Result<Outcome> air_voids(const Given& given) {
    Inputs in(given);
    const double layer = in.one("layer", units::thermal_resistance);
    const double total = in.one("total", units::thermal_resistance);
    return in.done(each("correction", in.list("level", units::number), [&](double level) {
        return thermal::void_correction(static_cast<int>(std::lround(level)), layer, total);
    }));
}

Result<Outcome> counted_correction(const Given& given) {
    Inputs in(given);
    const double u = in.one("u", units::transmittance);
    return in.done(each("counted", in.list("correction", units::transmittance),
                        [&](double c) -> Result<double> { return thermal::counted_correction(c, u); }));
}

Result<Outcome> steel_zone(const Given& given) {
    Inputs in(given);
    const auto r = thermal::zone_resistance(
        in.one("zone_width", units::length), in.one("spacing", units::length),
        in.one("zone", units::thermal_resistance), in.one("cavity", units::thermal_resistance));
    if (!r) return in.done(fail(r.error()));
    return in.done(Outcome{{"resistance", {*r}}, {"u", {1.0 / *r}}});
}

Result<Outcome> linear_bridge(const Given& given) {
    Inputs in(given);
    return in.done(single(
        "u",
        thermal::with_linear(in.one("u", units::transmittance), in.one("psi", units::linear_transmittance),
                             in.one("length", units::length), in.one("area", units::area))));
}

/// Temperature behind `inward` of a plain element that has `inward` and `outward` on its two sides, films
/// included.
Result<Outcome> interface(const Given& given) {
    Inputs in(given);
    thermal::States states;
    states.layers = {{.fill = in.one("inward", units::thermal_resistance)},
                     {.fill = in.one("outward", units::thermal_resistance)}};
    const thermal::Conditions conditions{.inside = in.one("inside", units::temperature),
                                         .outside = in.one("outside", units::temperature)};
    // Air, inner face, between the two, outer face, air.
    return in.done(Outcome{{"temperature", {thermal::bay_profile(states, conditions).at(2)}}});
}

Result<Outcome> table_wall(const Given& given) {
    Inputs in(given);
    thermal::TableWall wall{.common = in.one("common", units::thermal_resistance),
                            .cavity = in.one("cavity", units::thermal_resistance),
                            .stud = in.one("stud", units::thermal_resistance),
                            .header = in.one("header", units::thermal_resistance)};
    const double spacing = in.one("spacing", units::length);
    const auto fraction = framing::published_fraction(spacing);
    if (!fraction) return in.done(fail(Code::out_of_range, "no published framing fraction for the spacing"));
    wall.headers_share = fraction->headers;
    wall.studs_share = fraction->whole - fraction->headers;
    return in.done(each("u", in.list("continuous", units::thermal_resistance), [&](double r) {
        wall.continuous = r;
        return thermal::table_wall_u(wall);
    }));
}

Result<Outcome> roof_above_deck(const Given& given) {
    Inputs in(given);
    const auto f = thermal::handbook_films(thermal::HeatFlow::up);
    return in.done(
        each("u", in.list("insulation", units::thermal_resistance), [&](double r) -> Result<double> {
            const auto both =
                thermal::limits({.inside_film = f.inside, .outside_film = f.outside, .plies = {{.fill = r}}});
            if (!both) return fail(both.error());
            return 1.0 / both->upper;
        }));
}

Result<Outcome> slab(const Given& given) {
    Inputs in(given);
    const thermal::FloorPlan plan{.area = in.one("area", units::area),
                                  .perimeter = in.one("perimeter", units::length)};
    const thermal::Ground ground{.conductivity = in.one("ground", units::conductivity),
                                 .wall_thickness = in.one("wall_thickness", units::length)};
    const auto floor = thermal::slab(plan, ground, in.one("resistance", units::thermal_resistance));
    if (!floor) return in.done(fail(floor.error()));
    return in.done(Outcome{
        {"characteristic", {floor->characteristic}}, {"equivalent", {floor->equivalent}}, {"u", {floor->u}}});
}

/// The slab of `slab` and the ground around it; `given` has the same keys.
struct Edged {
    thermal::FloorPlan plan;
    thermal::Ground ground;
    double resistance = 0.0;
};
Edged edged(Inputs& in) {
    return {.plan = {.area = in.one("area", units::area), .perimeter = in.one("perimeter", units::length)},
            .ground = {.conductivity = in.one("ground", units::conductivity),
                       .wall_thickness = in.one("wall_thickness", units::length)},
            .resistance = in.one_or("resistance", units::thermal_resistance, 0.0)};
}

Result<Outcome> edge_insulation(const Given& given) {
    Inputs in(given);
    const Edged floor = edged(in);
    const thermal::EdgeInsulation edge{
        .resistance = in.one("edge_resistance", units::thermal_resistance),
        .thickness = in.one("edge_thickness", units::length),
        .reach = in.one("reach", units::length),
        .vertical = in.flag("vertical"),
    };
    const auto bare = thermal::slab(floor.plan, floor.ground, floor.resistance);
    if (!bare) return in.done(fail(bare.error()));
    const auto psi = thermal::edge_psi(floor.ground, bare->equivalent, edge);
    if (!psi) return in.done(fail(psi.error()));
    return in.done(Outcome{{"psi", {*psi}}, {"u", {bare->u + 2.0 * *psi / bare->characteristic}}});
}

Result<Outcome> suspended_floor(const Given& given) {
    Inputs in(given);
    const Edged floor = edged(in);
    const auto done = thermal::suspended_floor(floor.plan, floor.ground,
                                               {.floor_u = in.one("floor_u", units::transmittance),
                                                .height = in.one("height", units::length),
                                                .wall_u = in.one("wall_u", units::transmittance),
                                                .vents = in.one("vents", units::number),
                                                .wind = in.one("wind", units::speed),
                                                .shelter = in.one("shelter", units::number)});
    if (!done) return in.done(fail(done.error()));
    return in.done(Outcome{{"ground_u", {done->ground_u}}, {"air_u", {done->air_u}}, {"u", {done->u}}});
}

Result<Outcome> ground_swing(const Given& given) {
    Inputs in(given);
    const Edged floor = edged(in);
    const double capacity = in.one("heat_capacity", units::number);
    const auto bare = thermal::slab(floor.plan, floor.ground, floor.resistance);
    if (!bare) return in.done(fail(bare.error()));
    const double depth = climate::penetration_depth({floor.ground.conductivity, capacity});
    const auto swing = thermal::ground_swing(floor.plan.perimeter, floor.ground, bare->equivalent, depth);
    if (!swing) return in.done(fail(swing.error()));
    return in.done(Outcome{{"penetration", {depth}}, {"floor", {swing->floor}}});
}

Result<Outcome> slabs_by_ratio(const Given& given) {
    Inputs in(given);
    const thermal::Ground ground{.conductivity = in.one("ground", units::conductivity),
                                 .wall_thickness = in.one("wall_thickness", units::length)};
    const double resistance = in.one("resistance", units::thermal_resistance);
    return in.done(
        each("u", in.list("perimeter_by_area", units::number), [&](double ratio) -> Result<double> {
            const auto floor = thermal::slab({.area = 1.0, .perimeter = ratio}, ground, resistance);
            if (!floor) return fail(floor.error());
            return floor->u;
        }));
}

Result<Outcome> periodic(const Given& given) {
    Inputs in(given);
    const auto thickness = in.list("thickness", units::length);
    const auto conductivity = in.list("conductivity", units::conductivity);
    const auto density = in.list("density", units::density);
    const auto heat = in.list("specific_heat", units::specific_heat);
    std::vector<conduction::PlaneLayer> layers;
    for (std::size_t i = 0;
         i < std::min({thickness.size(), conductivity.size(), density.size(), heat.size()}); ++i) {
        layers.push_back({thickness[i], conductivity[i], density[i], heat[i]});
    }
    const auto p = conduction::periodic(layers, in.one("inside_film", units::thermal_resistance),
                                        in.one("outside_film", units::thermal_resistance),
                                        in.one("period", units::duration));
    if (!p) return in.done(fail(p.error()));
    return in.done(Outcome{{"u", {p->transmittance}},
                           {"inside_admittance", {std::abs(p->inside_admittance)}},
                           {"inside_lead", {p->inside_lead}},
                           {"outside_admittance", {std::abs(p->outside_admittance)}},
                           {"periodic_transmittance", {std::abs(p->periodic_transmittance)}},
                           {"time_shift", {p->time_shift}},
                           {"decrement", {p->decrement}},
                           {"inside_capacity", {p->inside_capacity}},
                           {"outside_capacity", {p->outside_capacity}}});
}

Result<Outcome> framing_fraction(const Given& given) {
    Inputs in(given);
    const auto fraction = framing::published_fraction(in.one("spacing", units::length));
    if (!fraction) return in.done(fail(Code::out_of_range, "no published framing fraction for the spacing"));
    return in.done(Outcome{{"whole", {fraction->whole}},
                           {"headers", {fraction->headers}},
                           {"members", {fraction->whole - fraction->headers}},
                           {"cavity", {1.0 - fraction->whole}}});
}

Result<Outcome> surface_factor(const Given& given) {
    Inputs in(given);
    return in.done(single("factor", thermal::surface_factor(in.one("surface", units::temperature),
                                                            in.one("inside", units::temperature),
                                                            in.one("outside", units::temperature))));
}

/// `layers = [{ material = "stone wool batt", thickness = "50 mm" }, { air = "25 mm" }]`, by the built-in
/// catalogue.
Result<Outcome> label(const Given& given) {
    Inputs in(given);
    double label = 0.0, thickness = 0.0;
    const toml::array* layers = in.reader().array("layers");
    if (!layers) in.reader().missing("layers");
    for (std::size_t i = 0; layers && i < layers->size(); ++i) {
        const toml::table* table = layers->get(i)->as_table();
        if (!table) return in.done(fail(Code::wrong_type, "a layer is a table"));
        units::TableReader row(*table, "layer", in.problems());
        const auto name = row.text("material");
        const auto exact = row.required(row.exact("thickness"), "thickness");
        row.finish();
        assembly::Layer layer;
        layer.thickness = exact.value_or(Exact{});
        thickness += layer.thickness.metres();
        if (!name) continue;
        layer.material = material::built_in().material(*name);
        if (!layer.material)
            return in.done(fail(Code::unknown_name, "no material is called \"" + *name + "\""));
        label += thermal::label_of(layer);
    }
    return in.done(Outcome{{"label_r", {label}}, {"thickness", {thickness}}});
}

constexpr std::array operations{
    Operation{"thermal.films", films},
    Operation{"thermal.air_layer", air_layer},
    Operation{"thermal.radiative_coefficient", radiative_coefficient},
    Operation{"thermal.handbook_air_space", handbook_air_space},
    Operation{"thermal.slightly_ventilated", slightly_ventilated},
    Operation{"thermal.framed", framed},
    Operation{"thermal.air_voids", air_voids},
    Operation{"thermal.counted_correction", counted_correction},
    Operation{"thermal.steel_zone", steel_zone},
    Operation{"thermal.linear_bridge", linear_bridge},
    Operation{"thermal.interface", interface},
    Operation{"thermal.table_wall", table_wall},
    Operation{"thermal.roof_above_deck", roof_above_deck},
    Operation{"thermal.slab", slab},
    Operation{"thermal.slabs_by_ratio", slabs_by_ratio},
    Operation{"thermal.edge_insulation", edge_insulation},
    Operation{"thermal.suspended_floor", suspended_floor},
    Operation{"thermal.ground_swing", ground_swing},
    Operation{"thermal.periodic", periodic},
    Operation{"thermal.framing_fraction", framing_fraction},
    Operation{"thermal.surface_factor", surface_factor},
    Operation{"thermal.label", label},
};

}  // namespace

std::span<const Operation> thermal_operations() {
    return operations;
}

}  // namespace warmside::proof
