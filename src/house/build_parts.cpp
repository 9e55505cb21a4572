// The small steps of a Builder: chains, boundaries, names.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "house/builder.h"

namespace warmside::house {

using assembly::Assembly;
using assembly::Foundation;
using assembly::Part;

double convective_part(double film) {
    constexpr double least = 0.5;  // W/(m2 K), should a film be thicker than radiation alone
    return std::max(least, 1.0 / film - radiant_film);
}

const Assembly* Builder::built(const std::string& name, Part part) const {
    if (!name.empty()) return house_.find(name);
    for (const auto& ladder : house_.ladders)
        if (ladder.part == part && !ladder.rungs.empty()) return &house_.assemblies[ladder.rungs.front()];
    return nullptr;
}

// U of the walls, roofs, ceilings and floors with their framing; of what lies on the ground the layers alone.
Result<Chain> Builder::chain(const Assembly& assembly) {
    for (const auto& [name, known] : chains_)
        if (name == assembly.name) return known;
    ChainOptions options{.u = {}, .framing = {}, .fineness = in_.fineness};
    const auto worth = std::find_if(in_.worths.begin(), in_.worths.end(),
                                    [&](const KnownWorth& w) { return w.assembly == assembly.name; });
    if (worth != in_.worths.end()) {
        options.u = worth->u;
        options.framing = worth->field;
    } else if (!thermal::on_ground(assembly)) {
        const auto solved = thermal::worth(assembly, in_.winter);
        if (!solved) return fail(solved.error());
        options.u = solved->field_u;
    }
    auto out = chain_of(assembly, in_.winter, options);
    if (out) chains_.emplace_back(assembly.name, *out);
    return out;
}

std::size_t Builder::outside(const Outer& outer) {
    for (const auto& [known, boundary] : outers_)
        if (known == outer) return boundary;
    out_.network.boundaries.push_back(boundary_of(outer, in_.year, in_.design));
    outers_.emplace_back(outer, out_.network.boundaries.size() - 1);
    return outers_.back().second;
}

void Builder::put(const Chain& chain, Stand stand) {
    Element e{.name = std::move(stand.name),
              .area = stand.area,
              .zone = stand.zone,
              .beyond = stand.beyond,
              .boundary = stand.boundary,
              .conductance = chain.conductance,
              .capacity = chain.capacity};
    e.convection = convective_part(chain.inside_film);
    e.radiation = 1.0 / chain.inside_film - e.convection;
    if (stand.beyond != none) {
        e.convection_beyond = convective_part(chain.outside_film);
        e.radiation_beyond = 1.0 / chain.outside_film - e.convection_beyond;
    }
    out_.network.elements.push_back(std::move(e));
    out_.elements.push_back(std::move(stand.owners));
}

void Builder::put(const GroundContact& contact, Stand stand) {
    out_.network.boundaries.push_back(contact.boundary);
    stand.boundary = out_.network.boundaries.size() - 1;
    put(contact.chain, std::move(stand));
}

void Builder::link(Link link, Owners owners) {
    out_.network.links.push_back(std::move(link));
    out_.links.push_back(std::move(owners));
}

Series Builder::outdoor_air() const {
    if (in_.design) return {*in_.design, {}};
    return {0.0, in_.year.temperature};
}

Builder::Owners Builder::whole(Loss::Kind kind, const std::string& name) {
    return {{kind, name, 1.0}};
}

Builder::Owners Builder::framed(Loss::Kind kind, const std::string& name, const Chain& chain) {
    const double bays = chain.bay_u / chain.u;
    if (std::abs(bays - 1.0) < 1e-9) return whole(kind, name);
    return {{kind, name + ", between framing", bays}, {kind, name + ", framing and fasteners", 1.0 - bays}};
}

const Foundation* Builder::foundation(Foundation::Kind kind) const {
    const auto found = std::find_if(house_.foundations.begin(), house_.foundations.end(),
                                    [&](const Foundation& f) { return f.kind == kind; });
    return found == house_.foundations.end() ? nullptr : &*found;
}

Soil Builder::soil(const Foundation* foundation) const {
    const bool clay = foundation && foundation->soil == Foundation::Soil::clay;
    return {clay ? climate::clay : climate::sand, climate::annual_wave(in_.year)};
}

Assembly Builder::boards(Part part, double tilt, std::vector<std::pair<const char*, double>> layers) const {
    Assembly out;
    out.part = part;
    out.tilt = tilt;
    for (const auto& [material, thickness] : layers) {
        assembly::Layer layer;
        layer.material = house_.catalogue.material(material);
        layer.thickness = units::Exact::nearest(thickness);
        out.layers.push_back(std::move(layer));
    }
    return out;
}

void Builder::note(std::string text) {
    if (std::find(out_.notes.begin(), out_.notes.end(), text) == out_.notes.end())
        out_.notes.push_back(std::move(text));
}

bool Builder::heated(const std::string& storey) const {
    const assembly::Storey* found = house_.storey(storey);
    return found && found->heated;
}

}  // namespace warmside::house
