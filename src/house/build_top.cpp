// Ceilings, attics and roofs of a Builder.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

#include "house/builder.h"
#include "house/spaces.h"
#include "leakage/wind.h"

namespace warmside::house {

using assembly::Assembly;
using assembly::Layer;
using assembly::Part;
using assembly::Roof;

namespace {

constexpr double shingles_absorptance = 0.85;  // dark shingles (no source)
// What covers an attic where the roof names no deck.
constexpr double usual_osb = 0.0111125, usual_shingles = 0.006;  // m, 7/16 in

// What a roof assembly has outside of its last insulation, without framing.
Assembly deck_of(const Assembly& roof) {
    Assembly deck = roof;
    const auto insulates = [](const Layer& l) { return l.material && l.material->is_insulation; };
    const auto last = std::find_if(deck.layers.rbegin(), deck.layers.rend(), insulates);
    deck.layers.erase(deck.layers.begin(), last.base());
    while (!deck.layers.empty() && deck.layers.front().kind != Layer::Kind::material)
        deck.layers.erase(deck.layers.begin());
    for (Layer& layer : deck.layers) layer.framing.reset();
    deck.vented = false;
    return deck;
}

}  // namespace

Result<void> Builder::add_roofs() {
    bool any = false;
    for (std::size_t i = 0; i < house_.roofs.size(); ++i) {
        const assembly::Storey* under = assembly::storey_under(house_, house_.roofs[i]);
        if (!under || !under->heated) continue;
        any = true;
        if (auto done = add_roof(house_.roofs[i], areas_.roofs[i]); !done) return done;
    }
    if (any) return {};
    return fail(
        Problem{.code = Code::missing,
                .what = "no roof over a heated storey is stated: the heat through the top cannot be known",
                .suggestion = "[roof.NAME]",
                .where = lowest_->origin.where});
}

Result<void> Builder::add_roof(const Roof& roof, const assembly::RoofArea& area) {
    const Part part = roof.over_attic ? Part::ceiling : Part::roof;
    const Assembly* over = built(roof.assembly, part);
    if (!over)
        return fail(Code::missing, fmt::format("roof {} has no {} with layers", roof.name, name_of(part)),
                    roof.origin.where);
    return roof.over_attic ? add_attic(roof, area, *over) : add_slopes(roof, area, *over);
}

Result<void> Builder::add_slopes(const Roof& roof, const assembly::RoofArea& area, const Assembly& roofing) {
    const auto made = chain(roofing);
    if (!made) return fail(made.error());
    for (const Slope& slope : slopes_of(house_, roof, area)) {
        const Outer outer{.plane = slope.plane,
                          .absorptance = roofing.solar_absorptance,
                          .emissivity = roofing.emissivity,
                          .film = made->outside_film,
                          .kind = made->open ? Outer::Kind::open : Outer::Kind::sheltered};
        put(*made, {.name = "roof " + roof.name,
                    .area = slope.area,
                    .zone = 0,
                    .boundary = outside(outer),
                    .owners = framed(Loss::Kind::roof, "roof " + roof.name, *made)});
    }
    return {};
}

Result<void> Builder::add_attic(const Roof& roof, const assembly::RoofArea& area, const Assembly& ceiling) {
    const auto made = chain(ceiling);
    if (!made) return fail(made.error());
    const double volume = volume_under(house_, roof, area);
    const std::size_t attic = out_.network.zones.size();
    out_.network.zones.push_back({.name = "attic " + roof.name, .capacity = out_.air_heat * volume});
    out_.attics.push_back(attic);
    put(*made, {.name = "ceiling " + roof.name,
                .area = area.plan,
                .zone = 0,
                .beyond = attic,
                .owners = framed(Loss::Kind::ceiling, "ceiling", *made)});

    const double pitch = roof.form == Roof::Form::flat ? 0.0 : roof.pitch;
    Assembly deck = boards(Part::roof, pitch, {{"osb", usual_osb}, {"asphalt shingles", usual_shingles}});
    deck.solar_absorptance = shingles_absorptance;
    if (const Assembly* named = house_.find(roof.deck)) deck = deck_of(*named);
    const auto cover = chain_of(deck, in_.winter, {.u = {}, .framing = {}, .fineness = in_.fineness});
    if (!cover) return fail(cover.error());
    for (const Slope& slope : slopes_of(house_, roof, area)) {
        const Outer outer{.plane = slope.plane,
                          .absorptance = deck.solar_absorptance,
                          .emissivity = deck.emissivity,
                          .film = cover->outside_film,
                          .kind = cover->open ? Outer::Kind::open : Outer::Kind::sheltered};
        put(*cover, {.name = "deck of roof " + roof.name,
                     .area = slope.area,
                     .zone = attic,
                     .boundary = outside(outer),
                     .owners = {}});
    }
    if (area.gable > 0.0) {
        const Assembly board = boards(Part::wall, std::numbers::pi / 2, {{"osb", usual_osb}});
        const auto gable = chain_of(board, in_.winter, {.u = {}, .framing = {}, .fineness = in_.fineness});
        if (!gable) return fail(gable.error());
        const Outer outer{.plane = {}, .film = gable->outside_film, .kind = Outer::Kind::shaded};
        put(*gable, {.name = "gables of roof " + roof.name,
                     .area = area.gable,
                     .zone = attic,
                     .boundary = outside(outer),
                     .owners = {}});
    }
    const assembly::Storey* under = assembly::storey_under(house_, roof);
    const double eaves = (under->floor + under->height).metres() - grade_;
    const Series air = attic_air(roof.vents * area.plan, leakage::wind_share(house_.air.terrain, eaves),
                                 data_.closed_air * volume, in_.year, steady());
    Link vents{.name = "vents of roof " + roof.name, .zone = attic, .temperature = outdoor_air()};
    vents.conductance.constant = out_.air_heat * air.constant;
    for (const double q : air.hourly) vents.conductance.hourly.push_back(out_.air_heat * q);
    link(std::move(vents), {});
    note("Attics: vents driven by wind alone; gables as OSB out of the sun.");
    return {};
}

}  // namespace warmside::house
