// What is read out of a solution: temperatures, surfaces, fluxes.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "conduction/shape.h"
#include "conduction/steady.h"

namespace warmside::conduction {

namespace {

bool is_solid(const Model& model) {
    return model.geometry == Geometry::solid;
}

// A place within a cell: its lowest corner and the fractions from there.
struct Spot {
    std::size_t corner = 0, row = 0, plane = 0;
    std::array<double, 3> part{};
};

Spot spot_in(const Grid& grid, bool solid, std::size_t cell, const Point& point) {
    const std::size_t nx = grid.count(0), ny = grid.count(1);
    const std::array<std::size_t, 3> at{cell % nx, cell / nx % ny, cell / (nx * ny)};
    Spot spot{.row = nx + 1, .plane = solid ? (nx + 1) * (ny + 1) : 0};
    spot.corner = at[0] + spot.row * at[1] + spot.plane * at[2];
    for (std::size_t axis = 0; axis < (solid ? 3U : 2U); ++axis)
        spot.part[axis] = std::clamp(
            (coordinate(point, axis) - grid.line[axis][at[axis]]) / grid.width(axis, at[axis]), 0.0, 1.0);
    return spot;
}

double value_at(const Spot& s, const std::vector<double>& corner) {
    double v = 0.0;
    for (std::size_t e = 0; e < (s.plane > 0 ? 8U : 4U); ++e) {
        const std::array<std::size_t, 3> bit{e % 2, e / 2 % 2, e / 4};
        double w = 1.0;
        for (std::size_t axis = 0; axis < (s.plane > 0 ? 3U : 2U); ++axis)
            w *= bit[axis] == 1 ? s.part[axis] : 1.0 - s.part[axis];
        v += w * corner[s.corner + bit[0] + s.row * bit[1] + s.plane * bit[2]];
    }
    return v;
}

Point gradient_at(const Grid& grid, std::size_t cell, const Spot& s, const std::vector<double>& corner) {
    const std::array<std::size_t, 3> at{cell % grid.count(0), cell / grid.count(0) % grid.count(1),
                                        cell / (grid.count(0) * grid.count(1))};
    std::array<double, 3> slope{};
    const std::size_t axes = s.plane > 0 ? 3 : 2;
    for (std::size_t axis = 0; axis < axes; ++axis) {
        Spot low = s, high = s;
        low.part[axis] = 0.0;
        high.part[axis] = 1.0;
        slope[axis] = (value_at(high, corner) - value_at(low, corner)) / grid.width(axis, at[axis]);
    }
    return {slope[0], slope[1], slope[2]};
}

bool takes_part(const Steady& solution, std::size_t cell) {
    double sum = 0.0;
    for (const auto& w : solution.weight) sum += w[cell];
    return sum > 0.5;
}

// Whether material lies at the point or right beside it.
bool on_material(const Model& model, const Point& point) {
    const double off = 2.0 * same_place;
    for (int e = 0; e < 8; ++e) {
        const Point p{point.x + (e % 2 != 0 ? off : -off), point.y + (e / 2 % 2 != 0 ? off : -off),
                      point.z + (is_solid(model) ? (e / 4 != 0 ? off : -off) : 0.0)};
        const std::uint16_t r = region_at(model, p);
        if (r != no_region && !model.regions[r].environment) return true;
    }
    return false;
}

// The cells that hold the point or touch it, in one axis.
std::pair<std::size_t, std::size_t> around(const std::vector<double>& line, double value) {
    const auto low = std::lower_bound(line.begin(), line.end(), value - 2.0 * same_place) - line.begin();
    const auto high = std::upper_bound(line.begin(), line.end(), value + 2.0 * same_place) - line.begin();
    const auto cells = static_cast<std::ptrdiff_t>(line.size()) - 1;
    return {static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(low - 1, 0, cells)),
            static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(high, 0, cells))};
}

std::optional<std::size_t> cell_at(const Model& model, const Steady& solution, const Point& point) {
    const Grid& g = solution.grid;
    const auto x = around(g.line[0], point.x), y = around(g.line[1], point.y);
    const auto z = is_solid(model) ? around(g.line[2], point.z) : std::pair<std::size_t, std::size_t>{0, 1};
    if (!on_material(model, point)) return std::nullopt;
    for (std::size_t k = z.first; k < z.second; ++k)
        for (std::size_t j = y.first; j < y.second; ++j)
            for (std::size_t i = x.first; i < x.second; ++i)
                if (takes_part(solution, g.index(i, j, k))) return g.index(i, j, k);
    return std::nullopt;
}

}  // namespace

double Steady::temperature(std::size_t cell, std::span<const double> environments) const {
    double sum = 0.0, t = 0.0;
    for (std::size_t e = 0; e < weight.size(); ++e) {
        sum += weight[e][cell];
        t += weight[e][cell] * environments[e];
    }
    return sum > 0.5 ? t : std::numeric_limits<double>::quiet_NaN();
}

Result<std::vector<double>> weights_at(const Model& model, const Steady& solution, const Point& point) {
    const auto cell = cell_at(model, solution, point);
    if (!cell)
        return fail(Code::out_of_range,
                    fmt::format("the point ({}, {}, {}) m is not in or on a material of \"{}\"", point.x,
                                point.y, point.z, model.name),
                    model.where);
    const Spot spot = spot_in(solution.grid, is_solid(model), *cell, point);
    std::vector<double> weights;
    for (const auto& corner : solution.corner) weights.push_back(value_at(spot, corner));
    return weights;
}

Result<double> temperature_at(const Model& model, const Steady& solution, const Point& point,
                              std::span<const double> environments) {
    return weights_at(model, solution, point).map([&](const std::vector<double>& weights) {
        double t = 0.0;
        for (std::size_t e = 0; e < weights.size(); ++e) t += weights[e] * environments[e];
        return t;
    });
}

std::vector<SurfaceExtreme> surface_extremes(const Model& model, const Steady& solution) {
    constexpr double none = std::numeric_limits<double>::infinity();
    std::vector<SurfaceExtreme> out(model.environments.size(), {.lowest = none, .highest = -none});
    for (const Patch& p : solution.patches)
        for (std::size_t e = 0; e < (is_solid(model) ? 4U : 2U); ++e) {
            const Spot spot = spot_in(solution.grid, is_solid(model), p.cell, p.at[e]);
            double t = 0.0;
            for (std::size_t k = 0; k < solution.corner.size(); ++k)
                t += value_at(spot, solution.corner[k]) * model.environments[k].temperature;
            SurfaceExtreme& s = out[p.environment];
            if (t < s.lowest) s.lowest = t, s.lowest_at = p.at[e];
            if (t > s.highest) s.highest = t, s.highest_at = p.at[e];
        }
    return out;
}

SurfaceFactor lowest_factor(const Model& model, const Steady& solution, std::size_t inside,
                            std::span<const std::size_t> regions) {
    SurfaceFactor lowest;
    for (const Patch& p : solution.patches) {
        if (p.environment != inside) continue;
        if (!regions.empty() && std::find(regions.begin(), regions.end(), p.region) == regions.end())
            continue;
        for (std::size_t e = 0; e < (is_solid(model) ? 4U : 2U); ++e) {
            const double g =
                value_at(spot_in(solution.grid, is_solid(model), p.cell, p.at[e]), solution.corner[inside]);
            if (g < lowest.factor) lowest = {.factor = g, .at = p.at[e], .region = p.region};
        }
    }
    return lowest;
}

Point flux(const Model& model, const Steady& solution, std::size_t cell,
           std::span<const double> environments) {
    if (!takes_part(solution, cell)) return {};
    Spot spot = spot_in(solution.grid, is_solid(model), cell, {});
    spot.part.fill(0.5);
    Point q;
    for (std::size_t e = 0; e < solution.corner.size(); ++e) {
        const Point slope = gradient_at(solution.grid, cell, spot, solution.corner[e]);
        const double scale = -model.regions[solution.region[cell]].conductivity * environments[e];
        q.x += scale * slope.x;
        q.y += scale * slope.y;
        q.z += scale * slope.z;
    }
    return q;
}

}  // namespace warmside::conduction
