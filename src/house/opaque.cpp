#include "house/opaque.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>
#include <numeric>

namespace warmside::house {

namespace {

using assembly::Assembly;
using assembly::Layer;

constexpr double reach_time = 3600.0;  // s: cells are as thick as heat spreads in this time

// A layer as the chain takes it.
struct Piece {
    double resistance = 0.0;  // m2 K/W
    double capacity = 0.0;    // J/(m2 K)
    double thickness = 0.0;   // m
    bool framed = false;      // holds members, fasteners or voids
};

int cells_of(const Piece& p, double fineness) {
    if (!(p.capacity > 0.0)) return 0;
    const double diffusivity = p.thickness * p.thickness / (p.resistance * p.capacity);
    const double cells = fineness * p.thickness / std::sqrt(diffusivity * reach_time);
    return std::max(1, static_cast<int>(std::ceil(cells)));
}

Result<double> storage(const material::Material& m, const Layer& layer) {
    if (m.density > 0.0 && m.specific_heat > 0.0) return m.density * m.specific_heat;
    return fail(Code::out_of_range, fmt::format("\"{}\" has no density or specific heat", m.name),
                layer.origin.where);
}

// J/(m2 K) of a layer, its wood by share.
Result<double> capacity_of(const Layer& layer, std::optional<double> share) {
    double fill = 0.0;
    if (layer.kind == Layer::Kind::material) {
        const auto own = storage(*layer.material, layer);
        if (!own) return own;
        fill = *own;
    }
    if (!layer.framing) return fill * layer.thickness.metres();
    double sum = 0.0;
    for (const assembly::Slice& slice : assembly::slices(layer)) {
        double wood = 0.0, part = 0.0;
        if (slice.member) {
            const auto member = storage(*slice.member, layer);
            if (!member) return member;
            wood = *member;
            part = share.value_or(slice.share);
        }
        sum += slice.thickness * ((1.0 - part) * fill + part * wood);
    }
    return sum;
}

// Surface to cells to surface; the cells' centres hold their heat.
void assemble(const std::vector<Piece>& pieces, double fineness, Chain& out) {
    double before = 0.0;
    for (const Piece& p : pieces) {
        const int n = cells_of(p, fineness);
        if (n == 0) before += p.resistance;
        for (int i = 0; i < n; ++i) {
            const double half = 0.5 * p.resistance / n;
            out.conductance.push_back(1.0 / (before + half));
            out.capacity.push_back(p.capacity / n);
            before = half;
        }
    }
    out.conductance.push_back(1.0 / before);
}

// Scales what framing and fasteners change so that the pieces resist `target` in all; where those alone
// cannot bear it, everything.
void scale(std::vector<Piece>& pieces, double target) {
    double plain = 0.0, framed = 0.0;
    for (const Piece& p : pieces) (p.framed ? framed : plain) += p.resistance;
    const bool bears = framed > 0.0 && target > plain;
    const double factor = bears ? (target - plain) / framed : target / (plain + framed);
    for (Piece& p : pieces)
        if (p.framed || !bears) p.resistance *= factor;
}

Result<std::vector<Piece>> pieces_of(const Assembly& assembly, const thermal::States& states,
                                     std::optional<double> framing) {
    const std::vector<bool> structural = thermal::structural_layers(assembly);
    std::vector<Piece> out;
    for (std::size_t i = 0; i < assembly.layers.size(); ++i) {
        const Layer& layer = assembly.layers[i];
        const thermal::LayerState& state = states.layers[i];
        if (state.resistance() <= 0.0) continue;
        const auto capacity = capacity_of(layer, structural[i] ? framing : std::nullopt);
        if (!capacity) return fail(capacity.error());
        out.push_back({.resistance = state.resistance(),
                       .capacity = layer.kind == Layer::Kind::air ? 0.0 : state.counted * *capacity,
                       .thickness = layer.thickness.metres(),
                       .framed = layer.framing || layer.fasteners || layer.void_level > 0});
    }
    return out;
}

}  // namespace

double Chain::resistance() const {
    return std::accumulate(conductance.begin(), conductance.end(), 0.0,
                           [](double sum, double g) { return sum + 1.0 / g; });
}

Result<Chain> chain_of(const Assembly& assembly, const thermal::Conditions& conditions,
                       const ChainOptions& options) {
    if (auto good = thermal::check(assembly); !good) return fail(good.error());
    const auto states = thermal::winter_states(assembly, conditions);
    if (!states) return fail(states.error());
    auto pieces = pieces_of(assembly, *states, options.framing);
    if (!pieces) return fail(pieces.error());
    if (pieces->empty())
        return fail(Code::missing, fmt::format("{}: no layer resists heat", assembly.name),
                    assembly.origin.where);
    Chain out{.conductance = {}, .capacity = {}, .inside_film = states->films.inside};
    out.outside_film = states->films.outside;
    out.open =
        states->layers.back().counted == 1.0 && !assembly.vented && assembly.part != assembly::Part::ceiling;
    double bay = 0.0;
    for (const Piece& p : *pieces) bay += p.resistance, out.thickness += p.thickness;
    const double films = out.inside_film + out.outside_film;
    out.bay_u = 1.0 / (bay + films);
    out.u = options.u.value_or(out.bay_u);
    const double target = 1.0 / out.u - films;
    if (!std::isfinite(target) || target <= 0.0)
        return fail(Code::out_of_range,
                    fmt::format("{} passes {:.3f} W/(m2 K), more than its films alone", assembly.name, out.u),
                    assembly.origin.where);
    scale(*pieces, target);
    assemble(*pieces, options.fineness, out);
    return out;
}

void extend(Chain& chain, const Slabs& body, double fineness) {
    const Piece piece{.resistance = body.thickness / body.conductivity,
                      .capacity = body.thickness * body.heat_capacity,
                      .thickness = body.thickness};
    Chain added;
    assemble({piece}, fineness, added);
    if (chain.conductance.empty()) chain.conductance.push_back(std::numeric_limits<double>::infinity());
    chain.conductance.back() = 1.0 / (1.0 / chain.conductance.back() + 1.0 / added.conductance.front());
    chain.conductance.insert(chain.conductance.end(), added.conductance.begin() + 1, added.conductance.end());
    chain.capacity.insert(chain.capacity.end(), added.capacity.begin(), added.capacity.end());
    chain.thickness += body.thickness;
}

}  // namespace warmside::house
