#include "thermal/layering.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <fmt/format.h>
#include <utility>

#include "assembly/duty.h"
#include "thermal/air_layer.h"

namespace warmside::thermal {

using assembly::AirKind;
using assembly::Assembly;
using assembly::Framing;
using assembly::Layer;
using assembly::Part;
using units::Exact;

namespace {

constexpr double label_temperature = 297.15;         // K, 24 degC
constexpr double handbook_air_temperature = 283.15;  // K
constexpr double mid_openings = 1000.0;              // mm2/m, middle of "slightly ventilated"

bool is_air(const Layer& layer, AirKind kind) {
    return layer.kind == Layer::Kind::air && layer.air == kind;
}

Result<void> check_framing(const Layer& layer, const Framing& f) {
    assert(f.material);
    const auto complain = [&](std::string what) {
        return fail(Code::out_of_range, std::move(what), f.origin.where);
    };
    if (f.depth.count() <= 0 || f.width.count() <= 0 || f.spacing.count() <= 0) {
        return complain(fmt::format("{} needs a width, a depth and a spacing above 0", f.member));
    }
    if (f.depth > layer.thickness) {
        return complain(fmt::format("{} is {} deep, its layer only {}", f.member,
                                    units::inches(f.depth.metres()),
                                    units::inches(layer.thickness.metres())));
    }
    if (f.width >= f.spacing) {
        return complain(fmt::format("{} is {} wide at {} centres: no bay is left", f.member,
                                    units::inches(f.width.metres()), units::inches(f.spacing.metres())));
    }
    if (f.kind != Framing::Kind::solid && f.flange_depth * 2 > f.depth) {
        return complain(fmt::format("the flanges of {} are deeper than the member", f.member));
    }
    for (const material::Material* m : {f.material, f.web_material}) {
        if (m && !(m->conductivity > 0.0)) return complain(fmt::format("{} has no conductivity", m->name));
    }
    return {};
}

Result<void> check_layer(const Layer& layer) {
    if (layer.kind == Layer::Kind::membrane) return {};
    if (!(layer.thickness.count() > 0)) {
        return fail(Code::out_of_range, fmt::format("{} has no thickness", layer.title()),
                    layer.origin.where);
    }
    if (layer.kind == Layer::Kind::material) {
        assert(layer.material);
        if (!(layer.material->conductivity > 0.0)) {
            return fail(Code::out_of_range, fmt::format("{} has no conductivity", layer.title()),
                        layer.origin.where);
        }
    }
    if (layer.label_r && !(*layer.label_r > 0.0)) {
        return fail(Code::out_of_range, fmt::format("the package R of {} must be above 0", layer.title()),
                    layer.origin.where);
    }
    return layer.framing ? check_framing(layer, *layer.framing) : Result<void>{};
}

// Share that counts after each layer, by the ventilated layers up to and with it.
std::vector<double> counted_shares(const Assembly& assembly, bool slightly_counts) {
    std::vector<double> out;
    double share = 1.0;
    for (const Layer& layer : assembly.layers) {
        if (is_air(layer, AirKind::ventilated)) share = 0.0;
        if (is_air(layer, AirKind::slightly_ventilated))
            share *= slightly_counts ? counted_share(mid_openings) : 0.0;
        out.push_back(share);
    }
    return out;
}

std::string counted_note(const Assembly& assembly, std::size_t i, double counted) {
    if (counted == 0.0) {
        return assembly.layers[i].kind == Layer::Kind::air ? "not counted: open to outside air"
                                                           : "not counted: outside a ventilated layer";
    }
    if (counted < 1.0)
        return fmt::format("counted by {:.0f} %: slightly ventilated, openings of 1000 mm2/m assumed",
                           100.0 * counted);
    return {};
}

Result<double> iso_air(const Layer& layer, HeatFlow flow, double temperature) {
    auto r = air_layer_resistance({.thickness = layer.thickness.metres(),
                                   .emissivity_inside = layer.emissivity_inside,
                                   .emissivity_outside = layer.emissivity_outside,
                                   .temperature = temperature,
                                   .flow = flow});
    if (!r) {
        Problem problem = r.error();
        problem.where = layer.origin.where;
        return fail(std::move(problem));
    }
    return r;
}

// W/(m K) at a temperature; a package R in the file stands for the conductivity at 24 degC.
double conductivity_at(const Layer& layer, double temperature) {
    const double k = material::conductivity(*layer.material, temperature);
    if (!layer.label_r) return k;
    const double at_label = material::conductivity(*layer.material, label_temperature);
    return layer.thickness.metres() / *layer.label_r * k / at_label;
}

// Fill and member of one layer at a mean temperature. A ventilated layer has no resistance of its own.
Result<LayerState> winter_layer(const Layer& layer, HeatFlow flow, double temperature) {
    LayerState state{.mean_temperature = temperature, .member_temperature = temperature};
    if (layer.kind == Layer::Kind::material) {
        state.conductivity = conductivity_at(layer, temperature);
        state.fill = layer.thickness.metres() / state.conductivity;
    } else if (layer.kind == Layer::Kind::air && layer.air != AirKind::ventilated) {
        const auto r = iso_air(layer, flow, temperature);
        if (!r) return fail(r.error());
        state.fill = *r;
    }
    return state;
}

// Under a ventilated roof space the outer face stands in still air, as behind a ventilated layer.
bool sheltered(const Assembly& assembly) {
    return assembly.vented || assembly.part == Part::ceiling;
}

Films winter_films(const Assembly& assembly, HeatFlow flow, double counted_outside) {
    Films films = iso_films(flow);
    if (on_ground(assembly)) {
        films.outside = 0.0;
        return films;
    }
    if (sheltered(assembly)) counted_outside = 0.0;
    films.outside = counted_outside * films.outside + (1.0 - counted_outside) * films.inside;
    return films;
}

double through_slice(const assembly::Slice& slice, const LayerState& state) {
    return slice.thickness / material::conductivity(*slice.member, state.member_temperature);
}

// Plies of a framed layer: the member by its parts, then what is left of the layer's depth.
void add_framed(const Layer& layer, const Framing& f, const LayerState& state, bool structural,
                std::vector<Ply>& plies) {
    for (const assembly::Slice& slice : assembly::slices(layer)) {
        Ply ply{.fill = state.resistance() * slice.thickness / layer.thickness.metres()};
        if (slice.member && slice.width > 0.0) {
            ply.member = state.counted * through_slice(slice, state);
            ply.run = f.run == assembly::Run::vertical ? Ply::Run::vertical : Ply::Run::horizontal;
            ply.members = {.width = Exact::nearest(slice.width), .spacing = f.spacing, .offset = f.offset};
            ply.structural = structural;
        }
        plies.push_back(ply);
    }
}

}  // namespace

bool on_ground(const Assembly& assembly) {
    return assembly.part == Part::slab || assembly.part == Part::basement_wall;
}

Result<void> check(const Assembly& assembly) {
    if (assembly.layers.empty()) {
        return fail(Code::missing, fmt::format("{} has no layers", assembly.name), assembly.origin.where);
    }
    for (const Layer& layer : assembly.layers) {
        if (auto good = check_layer(layer); !good) return good;
    }
    return {};
}

double label_of(const Layer& layer) {
    if (layer.kind != Layer::Kind::material) return 0.0;
    if (layer.label_r) return *layer.label_r;
    if (!layer.material->is_insulation) return 0.0;
    const double thickness = layer.thickness.metres();
    return material::label_resistance(*layer.material, thickness)
        .value_or(thickness / layer.material->conductivity);
}

std::vector<bool> structural_layers(const Assembly& assembly) {
    std::vector<bool> out;
    for (const assembly::Duty duty : assembly::duties_of(assembly))
        out.push_back(duty == assembly::Duty::bearing || duty == assembly::Duty::second);
    return out;
}

std::vector<double> bay_profile(const States& states, const Conditions& conditions) {
    double total = states.films.inside + states.films.outside;
    for (const LayerState& layer : states.layers) total += layer.resistance();
    const double flux = (conditions.inside - conditions.outside) / total;
    std::vector<double> t{conditions.inside, conditions.inside - flux * states.films.inside};
    double film = states.films.outside;
    for (const LayerState& layer : states.layers) {
        double r = layer.resistance();
        if (layer.counted == 0.0) r = std::exchange(film, 0.0);
        t.push_back(t.back() - flux * r);
    }
    t.push_back(conditions.outside);
    return t;
}

Result<States> winter_states(const Assembly& assembly, const Conditions& conditions) {
    const auto sane = [](double t) { return t > 150.0 && t < 400.0; };
    if (!sane(conditions.inside) || !sane(conditions.outside)) {
        return fail(Code::out_of_range, fmt::format("air at {:.1f} K inside and {:.1f} K outside cannot be",
                                                    conditions.inside, conditions.outside));
    }
    const HeatFlow flow = heat_flow(assembly.tilt, conditions.inside >= conditions.outside);
    const std::vector<double> counted = counted_shares(assembly, true);
    States states;
    states.films = winter_films(assembly, flow, counted.back());
    states.layers.resize(assembly.layers.size());
    std::vector<double> means(assembly.layers.size(), 0.5 * (conditions.inside + conditions.outside));
    constexpr int most_rounds = 100;
    constexpr double close = 1e-9;  // K
    for (int round = 0; round < most_rounds; ++round) {
        for (std::size_t i = 0; i < means.size(); ++i) {
            auto layer = winter_layer(assembly.layers[i], flow, means[i]);
            if (!layer) return fail(layer.error());
            states.layers[i] = std::move(*layer);
            states.layers[i].counted = counted[i];
            states.layers[i].note = counted_note(assembly, i, counted[i]);
        }
        states.temperatures = bay_profile(states, conditions);
        double change = 0.0;
        for (std::size_t i = 0; i < means.size(); ++i) {
            const double mean = 0.5 * (states.temperatures[i + 1] + states.temperatures[i + 2]);
            change = std::max(change, std::abs(mean - means[i]));
            means[i] = mean;
        }
        if (change < close) return states;
    }
    return fail(Code::not_converged,
                fmt::format("the temperatures of {} did not settle in {} rounds", assembly.name, most_rounds),
                assembly.origin.where);
}

Result<States> handbook_states(const Assembly& assembly) {
    const HeatFlow flow = heat_flow(assembly.tilt);
    const std::vector<double> counted = counted_shares(assembly, false);
    States states{.films = handbook_films(flow)};
    if (sheltered(assembly)) states.films.outside = states.films.inside;
    for (std::size_t i = 0; i < assembly.layers.size(); ++i) {
        const Layer& layer = assembly.layers[i];
        LayerState state{.mean_temperature = label_temperature,
                         .member_temperature = label_temperature,
                         .counted = counted[i]};
        if (layer.kind == Layer::Kind::material) {
            const double label = label_of(layer);
            state.conductivity = label > 0.0 ? layer.thickness.metres() / label
                                             : material::conductivity(*layer.material, label_temperature);
            state.fill = layer.thickness.metres() / state.conductivity;
        } else if (layer.kind == Layer::Kind::air && counted[i] > 0.0) {
            state.mean_temperature = handbook_air_temperature;
            const double emittance = effective_emittance(layer.emissivity_inside, layer.emissivity_outside);
            const auto table = handbook_air_space(
                {.thickness = layer.thickness.metres(), .emittance = emittance, .flow = flow});
            const auto r = table ? Result<double>(*table) : iso_air(layer, flow, handbook_air_temperature);
            if (!r) return fail(r.error());
            state.fill = *r;
        }
        states.layers.push_back(state);
    }
    return states;
}

double through_member(const Layer& layer, const LayerState& state) {
    double r = 0.0;
    for (const assembly::Slice& slice : assembly::slices(layer)) {
        r += slice.member ? through_slice(slice, state)
                          : state.fill * slice.thickness / layer.thickness.metres();
    }
    return state.counted * r;
}

Cell cell_of(const Assembly& assembly, const States& states) {
    Cell cell{.inside_film = states.films.inside, .outside_film = states.films.outside};
    const std::vector<bool> structural = structural_layers(assembly);
    for (std::size_t i = 0; i < assembly.layers.size(); ++i) {
        const Layer& layer = assembly.layers[i];
        const LayerState& state = states.layers[i];
        if (state.counted == 0.0) continue;
        if (layer.framing) {
            add_framed(layer, *layer.framing, state, structural[i], cell.plies);
        } else {
            cell.plies.push_back(Ply{.fill = state.resistance()});
        }
    }
    return cell;
}

}  // namespace warmside::thermal
