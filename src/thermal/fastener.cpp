// chi of a screw by an axisymmetric cell.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>
#include <optional>

#include "thermal/repeating.h"

namespace warmside::thermal {

using assembly::Assembly;
using assembly::Layer;

namespace {

constexpr double embedment = 0.0381;  // m, 1 1/2 in into the framing: common practice, no source

// A disc of the cylinder, inside to outside.
struct Disc {
    std::size_t layer = 0;
    double from = 0.0, to = 0.0;  // m from the inner face
    double fill = 0.0;            // W/(m K)
    double post = 0.0;            // W/(m K) of the member in which the screw stands; 0: none
    double post_radius = 0.0;     // m
};

// The batten that holds the layer outside of the screw's, where there is one.
struct Batten {
    double thickness = 0.0, radius = 0.0, conductivity = 0.0;
};

std::vector<Disc> discs_of(const Assembly& assembly, const States& states, std::optional<std::size_t> holds) {
    std::vector<Disc> out;
    double depth = 0.0;
    const std::vector<Band> framed = bands_of(assembly, states, Include::all);
    for (const Band& band : framed) {
        Disc d{.layer = band.layer, .from = depth, .to = depth + band.thickness, .fill = band.fill};
        if (band.run != Ply::Run::none && holds == band.layer) {
            d.post = band.member;
            d.post_radius = 0.5 * band.members.width.metres();
        }
        depth = d.to;
        out.push_back(d);
    }
    return out;
}

// The framed layer that holds the screw: the nearest one inside of its own.
std::optional<std::size_t> holder(const Assembly& assembly, std::size_t layer) {
    for (std::size_t i = layer; i-- > 0;) {
        if (assembly.layers[i].framing) return i;
    }
    return std::nullopt;
}

double tip_of(const std::vector<Disc>& discs, std::size_t layer) {
    double inner_face = 0.0;
    std::optional<double> member;
    for (const Disc& d : discs) {
        if (d.layer == layer) {
            inner_face = d.from;
            break;
        }
        if (d.post > 0.0) member = d.to;
    }
    return std::max(0.0, member.value_or(inner_face) - embedment);
}

std::optional<Batten> batten_outside(const Assembly& assembly, const States& states, std::size_t layer) {
    for (std::size_t i = layer + 1; i < assembly.layers.size(); ++i) {
        const Layer& next = assembly.layers[i];
        if (next.kind == Layer::Kind::membrane) continue;
        if (!next.framing || next.framing->kind != assembly::Framing::Kind::solid) return std::nullopt;
        const assembly::Framing& f = *next.framing;
        const LayerState& state = states.layers[i];
        return Batten{f.depth.metres(), 0.5 * f.width.metres(),
                      material::conductivity(*f.material, state.member_temperature) /
                          (state.counted > 0.0 ? state.counted : 1.0)};
    }
    return std::nullopt;
}

class Cylinder {
public:
    Cylinder(double radius, const States& states) : radius_(radius) {
        model_.geometry = conduction::Geometry::axisymmetric;
        model_.environments = environments_of(states);
    }
    void add_air(std::size_t environment, double from, double to, double film) {
        conduction::Region& region = lay(model_.environments[environment].name, radius_, from, to);
        region.environment = environment;
        region.film = film;
    }
    void add(std::string name, double conductivity, double radius, double from, double to, bool over = true) {
        conduction::Region& region = lay(std::move(name), std::min(radius, radius_), from, to);
        region.conductivity = conductivity;
        region.over = over;
    }
    [[nodiscard]] double radius() const { return radius_; }
    conduction::Model take() { return std::move(model_); }

private:
    conduction::Region& lay(std::string name, double radius, double from, double to) {
        conduction::Region& region = model_.regions.emplace_back();
        region.name = std::move(name);
        region.shape = conduction::rectangle({0.0, from, 0.0}, {radius, to, 0.0});
        return region;
    }
    double radius_;
    conduction::Model model_;
};

}  // namespace

Result<RepeatingCell> fastener_cell(const Assembly& assembly, const States& states, std::size_t layer,
                                    bool fastener) {
    const Layer& own = assembly.layers[layer];
    if (!own.fasteners || !(own.fasteners->per_area > 0.0) || states.layers[layer].counted == 0.0) {
        return fail(Code::out_of_range, fmt::format("{} has no fasteners that count", own.title()),
                    own.origin.where);
    }
    const assembly::Fasteners& screws = *own.fasteners;
    const auto holds = holder(assembly, layer);
    const std::vector<Disc> discs = discs_of(assembly, states, holds);
    const auto batten = batten_outside(assembly, states, layer);
    Cylinder cylinder(std::sqrt(1.0 / (std::numbers::pi * screws.per_area)), states);
    cylinder.add_air(0, -drawn_air, 0.0, states.films.inside);
    double head = 0.0;
    for (const Disc& d : discs) {
        const Layer& of = assembly.layers[d.layer];
        cylinder.add(of.title(), d.fill, cylinder.radius(), d.from, d.to, false);
        if (d.post > 0.0) cylinder.add(of.framing->member, d.post, d.post_radius, d.from, d.to);
        if (d.layer == layer) head = d.to;
    }
    const double face = discs.back().to;
    double drawn = face;
    if (batten) {
        head += batten->thickness;
        drawn = std::max(drawn, head);
    }
    cylinder.add_air(1, face, drawn + drawn_air, states.films.outside);
    if (batten) cylinder.add("batten", batten->conductivity, batten->radius, head - batten->thickness, head);
    if (fastener) {
        cylinder.add("fastener", screws.conductivity, std::sqrt(screws.cross_section / std::numbers::pi),
                     tip_of(discs, layer), head);
    }
    RepeatingCell out;
    out.model = cylinder.take();
    out.model.name = assembly.name + ", fastener";
    out.model.where = own.origin.where;
    out.area = 1.0 / screws.per_area;
    return out;
}

Result<FastenerChi> fastener_chi(const Assembly& assembly, const States& states, std::size_t layer,
                                 const conduction::SteadyOptions& options, const Control& control) {
    FastenerChi out;
    for (const bool fastener : {false, true}) {
        const auto cell = fastener_cell(assembly, states, layer, fastener);
        if (!cell) return fail(cell.error());
        const auto solved = conduction::steady(cell->model, options, control);
        if (!solved) return fail(solved.error());
        const double through = solved->between(0, 1);
        out.chi += fastener ? through : -through;
        out.error += solved->error * through;
    }
    return out;
}

}  // namespace warmside::thermal
