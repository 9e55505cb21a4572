#include "thermal/junction_draft.h"

#include <algorithm>

namespace warmside::thermal {

using conduction::rectangle;
using conduction::Region;
using conduction::Shape;

const char* name_of(JunctionKind kind) {
    switch (kind) {
        case JunctionKind::outer_corner: return "outer corner";
        case JunctionKind::inner_corner: return "inner corner";
        case JunctionKind::partition: return "partition";
        case JunctionKind::rim_joist: return "rim joist";
        case JunctionKind::sill_slab: return "sill on slab";
        case JunctionKind::sill_basement: return "sill on basement wall";
        case JunctionKind::sill_crawl_space: return "sill over crawl space";
        case JunctionKind::eave: return "eave";
        case JunctionKind::gable: return "gable";
        case JunctionKind::window_head: return "window head";
        case JunctionKind::window_jamb: return "window jamb";
        case JunctionKind::window_sill: return "window sill";
        case JunctionKind::exposed_floor: return "exposed floor edge";
        case JunctionKind::balcony_ledger: return "balcony ledger";
    }
    return "";
}

double reach(double thickness) {
    return std::max(1.0, 3.0 * thickness);
}

Draft::Draft(JunctionKind kind, std::string name) {
    out_.kind = kind;
    out_.name = name.empty() ? name_of(kind) : std::move(name);
    out_.model.name = out_.name;
    out_.model.environments = {{"indoors", 1.0}, {"outdoors", 0.0}};
}

std::size_t Draft::air(std::size_t environment, Shape shape, double film) {
    out_.model.regions.push_back({.name = out_.model.environments[environment].name,
                                  .shape = std::move(shape),
                                  .environment = environment,
                                  .film = film,
                                  .over = true});
    return out_.model.regions.size() - 1;
}

std::size_t Draft::lay(std::string name, Shape shape, double conductivity) {
    out_.model.regions.push_back(
        {.name = std::move(name), .shape = std::move(shape), .conductivity = conductivity, .over = true});
    return out_.model.regions.size() - 1;
}

std::size_t Draft::member(std::string name, Shape shape, double conductivity) {
    out_.members.push_back(lay(std::move(name), std::move(shape), conductivity));
    return out_.members.back();
}

std::size_t Draft::glazing(std::string name, Shape shape, double conductivity) {
    out_.glazing.push_back(lay(std::move(name), std::move(shape), conductivity));
    return out_.glazing.back();
}

void Draft::upright(const Buildup& wall, std::size_t from, std::size_t to, double low, double high) {
    for (std::size_t i = from; i < to; ++i) {
        lay(wall.sheets[i].name, rectangle({wall.depth(i), low}, {wall.depth(i + 1), high}),
            wall.sheets[i].conductivity);
    }
}

void Draft::plates(const Buildup& wall, const std::string& name, double low, double high) {
    for (std::size_t i = 0; i < wall.sheets.size(); ++i) {
        if (!wall.sheets[i].structural) continue;
        member(name, rectangle({wall.depth(i), low}, {wall.depth(i + 1), high}), wall.sheets[i].wood);
    }
}

}  // namespace warmside::thermal
