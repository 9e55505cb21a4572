// Conductances across the faces of the cells of a plan, for one storey, per metre of z.
#pragma once

#include "conduction/metric.h"
#include "conduction/plan.h"

namespace warmside::conduction {

/// A piece of surface in the plan.
struct PlanPatch {
    std::uint32_t cell = 0;
    std::uint8_t side = 0;               ///< 0 low x, 1 high x, 2 low y, 3 high y, 6 a slope within
    std::array<std::uint32_t, 2> end{};  ///< nodes of the plan
    std::uint16_t region = 0, air = 0;
    double area = 0.0, film = 0.0, conductance = 0.0;
};

struct PlanFaces {
    std::vector<double> east, north;  ///< [cell] W/(m K)
    std::vector<PlanPatch> patch;     ///< by ascending cell
};

/// lambda   [region] as conductivities() has it
[[nodiscard]] PlanFaces plan_faces(const Model& model, const Grid& grid, const Metric& metric,
                                   const Plan& plan, std::size_t storey, const std::vector<double>& lambda);

/// [region] W/(m K), 0 of air.
[[nodiscard]] std::vector<double> conductivities(const Model& model);

[[nodiscard]] inline bool is_material(const Model& model, std::uint16_t region) {
    return region != no_region && !model.regions[region].environment;
}
[[nodiscard]] inline bool is_air(const Model& model, std::uint16_t region) {
    return region != no_region && model.regions[region].environment.has_value();
}
[[nodiscard]] inline double film_between(const Model& model, std::uint16_t material, std::uint16_t air) {
    return model.regions[material].own_film.value_or(model.regions[air].film);
}

}  // namespace warmside::conduction
