#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "conduction/shape.h"

namespace warmside::conduction {

namespace {

void report(Problems& problems, Code code, std::string what, const Place& where) {
    problems.push_back({.code = code, .what = std::move(what), .where = where});
}

bool sound(const Region& region, const Model& model, Problems& problems) {
    const auto& outline = region.shape.outline;
    const std::size_t before = problems.size();
    if (outline.size() < 3) {
        report(
            problems, Code::out_of_range,
            fmt::format("region \"{}\" has {} corners, an outline needs three", region.name, outline.size()),
            region.where);
        return false;
    }
    if (!region.environment && !(region.conductivity > 0.0 && std::isfinite(region.conductivity)))
        report(problems, Code::missing, fmt::format("region \"{}\" has no conductivity", region.name),
               region.where);
    if (region.environment && *region.environment >= model.environments.size())
        report(problems, Code::unknown_name,
               fmt::format("region \"{}\" is air of environment {}, there are {}", region.name,
                           *region.environment, model.environments.size()),
               region.where);
    if (!(region.film >= 0.0) || (region.own_film && !(*region.own_film >= 0.0)))
        report(problems, Code::out_of_range, fmt::format("region \"{}\" has a film below 0", region.name),
               region.where);
    return problems.size() == before;
}

}  // namespace

void check(const Model& model, Problems& problems, bool) {
    bool material = false, air = false;
    for (const Region& region : model.regions) {
        sound(region, model, problems);
        (region.environment ? air : material) = true;
    }
    if (!material) report(problems, Code::missing, "the model has no material", model.where);
    if (!air || model.environments.empty())
        report(problems, Code::missing, "the model has no boundary temperature: no air of an environment",
               model.where);
}

}  // namespace warmside::conduction
