// Floors, crawl spaces, basements and the ground of a Builder.
#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

#include "house/builder.h"
#include "house/spaces.h"

namespace warmside::house {

using assembly::Assembly;
using assembly::Floor;
using assembly::Foundation;
using assembly::Part;

namespace {

constexpr double upright = std::numbers::pi / 2;
constexpr double still_film = 0.17;   // m2 K/W, ISO 6946, heat flow down (memory)
constexpr double open_film = 0.04;    // m2 K/W, ISO 6946 (memory)
constexpr double usual_above = 0.4;   // m, of a crawl-space wall without a foundation
constexpr double stem = 0.2032;       // m, 8 in of concrete
constexpr double usual_floor = 0.1;   // m, of concrete in a basement
constexpr double least_depth = 0.05;  // m below grade that counts

bool takes_outline(const Floor& f) {
    return f.area <= 0.0 && f.over != Floor::Over::heated && f.over != Floor::Over::outside;
}

}  // namespace

Result<void> Builder::add_floors() {
    const Foundation* basement = foundation(Foundation::Kind::basement);
    const double sunk = grade_ - lowest_->floor.metres();
    const Floor* whole_outline = nullptr;
    for (const Floor& f : house_.floors) {
        if (!takes_outline(f)) continue;
        if (whole_outline)
            return fail(Problem{.code = Code::conflict,
                                .what = fmt::format("floors {} and {} both take the whole outline",
                                                    whole_outline->name, f.name),
                                .suggestion = "area = \"500 ft2\" for each",
                                .where = f.origin.where});
        whole_outline = &f;
    }
    const auto over = [&](Floor::Over o) {
        return std::any_of(house_.floors.begin(), house_.floors.end(),
                           [&](const Floor& f) { return f.over == o; });
    };
    const bool heated_below =
        basement && sunk < 0.5 && !over(Floor::Over::basement) && !over(Floor::Over::crawl_space);
    if (heated_below) {
        if (auto done = add_heated_basement(*basement, areas_.ground_floor); !done) return done;
    } else if (house_.floors.empty()) {
        return fail(Problem{.code = Code::missing,
                            .what = "no floor is stated: the heat through the ground cannot be known",
                            .suggestion = "[floor.NAME] with over = \"ground\"",
                            .where = lowest_->origin.where});
    }
    for (const Floor& f : house_.floors) {
        if (f.over == Floor::Over::heated || (heated_below && f.over == Floor::Over::ground)) continue;
        if (auto done = add_floor(f, f.area > 0.0 ? f.area : areas_.ground_floor); !done) return done;
    }
    return {};
}

Result<void> Builder::add_floor(const Floor& floor, double area) {
    switch (floor.over) {
        case Floor::Over::ground:
            return add_slab(floor, area, std::max(0.0, grade_ - lowest_->floor.metres()));
        case Floor::Over::outside: return add_hung_floor(floor, area);
        case Floor::Over::crawl_space:
        case Floor::Over::basement: return add_floor_over_space(floor, area);
        case Floor::Over::heated: break;
    }
    return {};
}

Result<void> Builder::add_slab(const Floor& floor, double area, double depth) {
    const Assembly* slab = built(floor.assembly, Part::slab);
    if (!slab)
        return fail(Code::missing, fmt::format("floor {} has no slab with layers", floor.name),
                    floor.origin.where);
    const auto layers = chain(*slab), wall = chain(in_.wall);
    if (!layers) return fail(layers.error());
    if (!wall) return fail(wall.error());
    if (slab->part != Part::slab)
        return fail(Code::conflict,
                    fmt::format("floor {} lies on the ground but \"{}\" is no slab", floor.name, slab->name),
                    floor.origin.where);
    const double share = area / areas_.ground_floor;
    return add_ground_floor(0, *layers, area, share * perimeter_, wall->thickness,
                            depth < least_depth ? 0.0 : depth, "floor " + floor.name);
}

Result<void> Builder::add_hung_floor(const Floor& floor, double area) {
    const Assembly* joists = built(floor.assembly, Part::floor);
    if (!joists)
        return fail(Code::missing, fmt::format("floor {} has no layers", floor.name), floor.origin.where);
    const auto made = chain(*joists);
    if (!made) return fail(made.error());
    const Outer outer{.plane = {0.0, std::numbers::pi},
                      .emissivity = joists->emissivity,
                      .film = made->outside_film,
                      .kind = made->open ? Outer::Kind::shaded : Outer::Kind::sheltered};
    put(*made, {.name = "floor " + floor.name,
                .area = area,
                .zone = 0,
                .boundary = outside(outer),
                .owners = framed(Loss::Kind::floor, "floor " + floor.name, *made)});
    return {};
}

Result<void> Builder::add_floor_over_space(const Floor& floor, double area) {
    const Assembly* joists = built(floor.assembly, Part::floor);
    if (!joists)
        return fail(Code::missing, fmt::format("floor {} has no layers", floor.name), floor.origin.where);
    auto made = chain(*joists);
    if (!made) return fail(made.error());
    const bool crawl = floor.over == Floor::Over::crawl_space;
    const auto space = lower_space(
        floor, foundation(crawl ? Foundation::Kind::crawl_space : Foundation::Kind::basement), area);
    if (!space) return fail(space.error());
    made->outside_film = still_film;  // ISO 13370: the inside film on both sides
    put(*made, {.name = "floor " + floor.name,
                .area = area,
                .zone = 0,
                .beyond = *space,
                .owners = framed(Loss::Kind::floor, "floor " + floor.name, *made)});
    return {};
}

// The space under a floor, with its walls, ground and outdoor air.
Result<std::size_t> Builder::lower_space(const Floor& floor, const Foundation* f, double area) {
    const bool crawl = floor.over == Floor::Over::crawl_space;
    if (!crawl && !f)
        return fail(Code::missing,
                    fmt::format("floor {} lies over a basement, but no basement is stated", floor.name),
                    floor.origin.where);
    const double above = f ? f->height_above_grade.metres() : usual_above;
    const double depth = f ? f->depth.metres() : 0.0;
    const double volume = area * std::max(0.3, above + depth);
    const std::size_t zone = out_.network.zones.size();
    out_.network.zones.push_back(
        {.name = crawl ? "crawl space" : "basement", .capacity = out_.air_heat * volume});
    (crawl ? out_.crawl_space : out_.basement) = zone;

    const Assembly* named = f && !f->assembly.empty() ? house_.find(f->assembly) : nullptr;
    if (named && named->part != Part::basement_wall) named = nullptr;
    const Assembly concrete = boards(Part::basement_wall, upright, {{"concrete", stem}});
    const auto wall =
        named ? chain(*named)
              : chain_of(concrete, in_.winter, {.u = {}, .framing = {}, .fineness = in_.fineness});
    if (!wall) return fail(wall.error());
    if (!named)
        note(fmt::format("The {}'s walls are taken as 8 in. of concrete.", out_.network.zones[zone].name));
    const double edge = perimeter_ * area / areas_.ground_floor;
    if (above > 0.0)
        if (auto done = add_bare_wall(zone, *wall, edge * above, "foundation wall above grade"); !done)
            return fail(done.error());

    Chain ground{.conductance = {}, .capacity = {}, .inside_film = still_film};
    if (!crawl) {
        const Assembly plain = boards(Part::slab, std::numbers::pi, {{"concrete", usual_floor}});
        const Assembly* slab = built({}, Part::slab);
        const auto made =
            slab ? chain(*slab)
                 : chain_of(plain, in_.winter, {.u = {}, .framing = {}, .fineness = in_.fineness});
        if (!made) return fail(made.error());
        ground = *made;
    }
    const double sunk = depth < least_depth ? 0.0 : depth;
    if (auto done = add_ground_floor(zone, ground, area, edge, wall->thickness, sunk, "ground below"); !done)
        return fail(done.error());
    if (sunk > 0.0)
        if (auto done = add_ground_wall(zone, *wall, edge, sunk, 0.0, "foundation wall in the ground"); !done)
            return fail(done.error());

    Series air{data_.basement_air * volume, {}};
    if (crawl) {
        const Foundation usual;
        const double vents = f ? f->vents : usual.vents;
        const double least = (f ? f->air_change : usual.air_change) * volume;
        air = crawl_space_air(vents * area, least, in_.year, steady());
    }
    Link outdoor{
        .name = "air of the " + out_.network.zones[zone].name, .zone = zone, .temperature = outdoor_air()};
    outdoor.conductance.constant = out_.air_heat * air.constant;
    for (const double q : air.hourly) outdoor.conductance.hourly.push_back(out_.air_heat * q);
    link(std::move(outdoor), {});
    return zone;
}

Result<void> Builder::add_heated_basement(const Foundation& f, double area) {
    const Assembly* named = built(f.assembly, Part::basement_wall);
    if (!named)
        return fail(Code::missing, fmt::format("basement {} has no wall with layers", f.name),
                    f.origin.where);
    const auto wall = chain(*named);
    if (!wall) return fail(wall.error());
    const Assembly plain = boards(Part::slab, std::numbers::pi, {{"concrete", usual_floor}});
    const Assembly* slab = built({}, Part::slab);
    if (!slab) note("The basement's floor is taken as 4 in. of concrete on the ground.");
    const auto floor =
        slab ? chain(*slab) : chain_of(plain, in_.winter, {.u = {}, .framing = {}, .fineness = in_.fineness});
    if (!floor) return fail(floor.error());
    const double depth = f.depth.metres(), above = f.height_above_grade.metres();
    if (!(depth > least_depth))
        return fail(Code::missing, fmt::format("basement {} states no depth below grade", f.name),
                    f.origin.where);
    note("The basement is heated with the rooms; its floor is not in the heated area.");
    const double conductivity = soil(&f).soil.conductivity;
    const double equivalent =
        wall->thickness + conductivity * (floor->inside_film + floor->resistance() + open_film);
    if (auto done = add_ground_floor(0, *floor, area, perimeter_, wall->thickness, depth, "basement floor");
        !done)
        return done;
    if (auto done = add_ground_wall(0, *wall, perimeter_, depth, equivalent, "basement wall"); !done)
        return done;
    return above > 0.0 ? add_bare_wall(0, *wall, perimeter_ * above, "basement wall above grade")
                       : Result<void>{};
}

Result<void> Builder::add_ground_floor(std::size_t zone, const Chain& layers, double area, double perimeter,
                                       double wall_thickness, double depth, const std::string& name) {
    const Foundation* f = house_.foundations.empty() ? nullptr : &house_.foundations.front();
    const Soil around = soil(f);
    const thermal::Ground ground{.conductivity = around.soil.conductivity,
                                 .wall_thickness = wall_thickness,
                                 .inside_film = layers.inside_film,
                                 .outside_film = open_film};
    const auto floor = thermal::basement_floor({area, perimeter}, ground, layers.resistance(), depth);
    if (!floor) return fail(floor.error());
    const double equivalent = floor->equivalent - 0.5 * depth;
    const auto swing = thermal::ground_swing(perimeter, ground, equivalent,
                                             climate::penetration_depth(around.soil), depth, equivalent);
    if (!swing) return fail(swing.error());
    const auto contact =
        ground_contact(layers, around, floor->u, swing->floor / area, steady(), in_.fineness);
    if (!contact) return fail(contact.error());
    put(*contact, {.name = name,
                   .area = area,
                   .zone = zone,
                   .owners = zone == 0 ? whole(Loss::Kind::ground, name) : Owners{}});
    return {};
}

Result<void> Builder::add_ground_wall(std::size_t zone, const Chain& wall, double width, double depth,
                                      double floor_equivalent, const std::string& name) {
    const Foundation* f = house_.foundations.empty() ? nullptr : &house_.foundations.front();
    const Soil around = soil(f);
    const thermal::Ground ground{.conductivity = around.soil.conductivity,
                                 .wall_thickness = wall.thickness,
                                 .inside_film = wall.inside_film,
                                 .outside_film = open_film};
    const double equivalent =
        ground.conductivity * (wall.inside_film + wall.resistance() + ground.outside_film);
    if (floor_equivalent <= 0.0) floor_equivalent = equivalent;
    const auto u = thermal::basement_wall(ground, floor_equivalent, wall.resistance(), depth);
    if (!u) return fail(u.error());
    const auto swing = thermal::ground_swing(width, ground, equivalent,
                                             climate::penetration_depth(around.soil), depth, equivalent);
    if (!swing) return fail(swing.error());
    const double area = width * depth;
    const auto contact = ground_contact(wall, around, *u, swing->wall / area, steady(), in_.fineness);
    if (!contact) return fail(contact.error());
    put(*contact, {.name = name,
                   .area = area,
                   .zone = zone,
                   .owners = zone == 0 ? whole(Loss::Kind::ground, name) : Owners{}});
    return {};
}

// A foundation wall in open air, out of the sun.
Result<void> Builder::add_bare_wall(std::size_t zone, const Chain& wall, double area,
                                    const std::string& name) {
    Chain open = wall;
    open.outside_film = open_film;
    const Outer outer{.plane = {}, .film = open_film, .kind = Outer::Kind::shaded};
    put(open, {.name = name,
               .area = area,
               .zone = zone,
               .boundary = outside(outer),
               .owners = zone == 0 ? whole(Loss::Kind::wall, name) : Owners{}});
    return {};
}

}  // namespace warmside::house
