#include "answer/heat_section.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "thermal/layering.h"
#include "thermal/repeating.h"

namespace warmside::answer {

namespace {

// Far below what colours tell apart; isotherms of a section are smooth at a finer one, and cost little.
constexpr double solid_tolerance = 2e-3, section_tolerance = 1e-3;

Result<void> solve(HeatSection& section, const Control& control) {
    const bool solid = section.model.geometry == conduction::Geometry::solid;
    auto solution = conduction::steady(
        section.model, {.tolerance = solid ? solid_tolerance : section_tolerance, .threads = 1}, control);
    if (!solution) return fail(solution.error());
    section.solution = std::move(*solution);
    return {};
}

/// The cell with its image beyond the plane of symmetry at the low end of x (and z): a whole bay about the
/// member.
void mirror(conduction::Model& model, bool across) {
    constexpr double same = 1e-9;
    std::vector<conduction::Region> images;
    for (auto& region : model.regions) {
        auto& shape = region.shape;
        auto image = region;
        bool touches = false;
        if (across) {
            for (auto& p : image.shape.outline) p.x = -p.x;
            touches = std::any_of(shape.outline.begin(), shape.outline.end(),
                                  [&](const auto& p) { return std::abs(p.x) < same; });
            if (touches) {
                for (auto& p : shape.outline) {
                    if (std::abs(p.x) < same) {
                        // Rectangles: the side at the plane moves to where its image ends.
                        double far = 0.0;
                        for (const auto& q : image.shape.outline) far = std::min(far, q.x);
                        p.x = far;
                    }
                }
            }
        } else {
            image.shape.bottom = -shape.top;
            image.shape.top = -shape.bottom;
            touches = std::abs(shape.bottom) < same;
            if (touches) shape.bottom = -shape.top;
        }
        if (!touches) images.push_back(std::move(image));
    }
    for (auto& image : images) model.regions.push_back(std::move(image));
}

}  // namespace

Result<HeatSection> clear_field_section(const assembly::Assembly& assembly,
                                        const thermal::Conditions& conditions, const Control& control) {
    const auto states = thermal::winter_states(assembly, conditions);
    if (!states) return fail(states.error());
    auto cell = thermal::repeating_cell(assembly, *states, thermal::Include::all);
    if (!cell) return fail(cell.error());
    HeatSection out{.name = "clear field",
                    .title = fmt::format("{}  {}", assembly.name, assembly.title),
                    .model = std::move(cell->model)};
    out.upright = true;
    if (cell->mirrored) {
        mirror(out.model, true);
        if (out.model.geometry == conduction::Geometry::solid) mirror(out.model, false);
    }
    out.model.environments[0].temperature = conditions.inside;
    out.model.environments[1].temperature = conditions.outside;
    out.temperatures = {conditions.inside, conditions.outside};
    if (auto done = solve(out, control); !done) return fail(done.error());
    const auto lowest = conduction::lowest_factor(out.model, out.solution, 0);
    out.coldest = lowest.at;
    out.factor = lowest.factor;
    out.coldest_temperature = conditions.outside + lowest.factor * (conditions.inside - conditions.outside);
    return out;
}

Result<HeatSection> junction_section(const assembly::Assembly& assembly, const thermal::Junction& junction,
                                     const thermal::Conditions& conditions, const Control& control) {
    HeatSection out{.name = junction.name,
                    .title = fmt::format("{}  {}", assembly.name, assembly.title),
                    .model = junction.model};
    for (std::size_t e = 0; e < out.model.environments.size(); ++e) {
        out.model.environments[e].temperature =
            e == thermal::indoors ? conditions.inside : conditions.outside;
        out.temperatures.push_back(out.model.environments[e].temperature);
    }
    if (auto done = solve(out, control); !done) return fail(done.error());
    out.coldest = junction.coldest;
    out.factor = junction.factor;
    out.factor_note =
        fmt::format("Coldest place and f with a film of 0.25 m² K/W inside, as behind furniture{}.",
                    junction.factor_glazing ? "; frame and pane are not counted" : "");
    out.coldest_temperature = conditions.outside + junction.factor * (conditions.inside - conditions.outside);
    out.psi = junction.psi_internal;
    using thermal::JunctionKind;
    out.upside_down = junction.kind == JunctionKind::window_head;
    out.upright = out.upside_down || junction.kind == JunctionKind::window_sill;
    return out;
}

}  // namespace warmside::answer
