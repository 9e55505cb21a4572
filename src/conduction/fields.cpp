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

// A place within a cell: the nodes around it, their shares of the value there and of its slopes.
struct Spot {
    std::array<std::size_t, 8> node{};
    std::array<double, 8> share{};
    std::array<Point, 8> slope{};
    std::size_t count = 0;
};

// How much of a place between two lines belongs to each, with slopes.
struct Between {
    double part = 0.0, width = 1.0;
    [[nodiscard]] double share(std::size_t end) const { return end == 1 ? part : 1.0 - part; }
    [[nodiscard]] double slope(std::size_t end) const { return (end == 1 ? 1.0 : -1.0) / width; }
};

Between between(const std::vector<double>& line, std::size_t i, double value) {
    const double width = line[i + 1] - line[i];
    return {std::clamp((value - line[i]) / width, 0.0, 1.0), width};
}

Point node_of(const Steady& s, std::uint32_t node) {
    const std::size_t row = s.grid.count(0) + 1, corners = row * (s.grid.count(1) + 1);
    if (node >= corners) return s.node[node - corners];
    return {s.grid.line[0][node % row], s.grid.line[1][node / row]};
}

// Shares of the corners of a triangle; the least of them says how far within it the place is.
std::array<double, 3> shares(const std::array<Point, 3>& p, double x, double y) {
    const double twice = (p[1].x - p[0].x) * (p[2].y - p[0].y) - (p[1].y - p[0].y) * (p[2].x - p[0].x);
    const double b = ((x - p[0].x) * (p[2].y - p[0].y) - (y - p[0].y) * (p[2].x - p[0].x)) / twice;
    const double c = ((p[1].x - p[0].x) * (y - p[0].y) - (p[1].y - p[0].y) * (x - p[0].x)) / twice;
    return {1.0 - b - c, b, c};
}

// The corners of a plane cell or of the triangle of it that holds the place.
Spot plane_spot(const Steady& s, std::size_t i, std::size_t j, const Point& point) {
    const std::size_t row = s.grid.count(0) + 1, cell = i + s.grid.count(0) * j;
    Spot spot;
    auto it = std::lower_bound(s.triangle.begin(), s.triangle.end(), cell,
                               [](const CutTriangle& t, std::size_t c) { return t.cell < c; });
    if (it == s.triangle.end() || it->cell != cell) {
        const Between x = between(s.grid.line[0], i, point.x), y = between(s.grid.line[1], j, point.y);
        spot.count = 4;
        for (std::size_t e = 0; e < 4; ++e) {
            spot.node[e] = i + e % 2 + row * (j + e / 2);
            spot.share[e] = x.share(e % 2) * y.share(e / 2);
            spot.slope[e] = {x.slope(e % 2) * y.share(e / 2), x.share(e % 2) * y.slope(e / 2), 0.0};
        }
        return spot;
    }
    double best = -std::numeric_limits<double>::infinity();
    for (; it != s.triangle.end() && it->cell == cell; ++it) {
        const std::array<Point, 3> p{node_of(s, it->node[0]), node_of(s, it->node[1]),
                                     node_of(s, it->node[2])};
        const auto share = shares(p, point.x, point.y);
        const double within = std::min({share[0], share[1], share[2]});
        if (within <= best) continue;
        best = within;
        spot.count = 3;
        const double twice = (p[1].x - p[0].x) * (p[2].y - p[0].y) - (p[1].y - p[0].y) * (p[2].x - p[0].x);
        for (std::size_t e = 0; e < 3; ++e) {
            const Point& a = p[(e + 1) % 3];
            const Point& b = p[(e + 2) % 3];
            spot.node[e] = it->node[e];
            spot.share[e] = share[e];
            spot.slope[e] = {(a.y - b.y) / twice, (b.x - a.x) / twice, 0.0};
        }
    }
    return spot;
}

Spot spot_in(const Steady& s, bool solid, std::size_t cell, const Point& point) {
    const std::size_t nx = s.grid.count(0), ny = s.grid.count(1), k = cell / (nx * ny);
    Spot spot = plane_spot(s, cell % nx, cell / nx % ny, point);
    if (!solid) return spot;
    const Between z = between(s.grid.line[2], k, point.z);
    const std::size_t count = spot.count;
    for (std::size_t e = 0; e < count; ++e) {
        spot.node[count + e] = spot.node[e] + s.stride * (k + 1);
        spot.node[e] += s.stride * k;
        spot.share[count + e] = spot.share[e] * z.share(1);
        spot.slope[count + e] = {spot.slope[e].x * z.share(1), spot.slope[e].y * z.share(1),
                                 spot.share[e] * z.slope(1)};
        spot.slope[e] = {spot.slope[e].x * z.share(0), spot.slope[e].y * z.share(0),
                         spot.share[e] * z.slope(0)};
        spot.share[e] *= z.share(0);
    }
    spot.count = 2 * count;
    return spot;
}

double value_at(const Spot& spot, const std::vector<double>& corner) {
    double v = 0.0;
    for (std::size_t e = 0; e < spot.count; ++e) v += spot.share[e] * corner[spot.node[e]];
    return v;
}

Point gradient_at(const Spot& spot, const std::vector<double>& corner) {
    Point g;
    for (std::size_t e = 0; e < spot.count; ++e) {
        g.x += spot.slope[e].x * corner[spot.node[e]];
        g.y += spot.slope[e].y * corner[spot.node[e]];
        g.z += spot.slope[e].z * corner[spot.node[e]];
    }
    return g;
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
    const Spot spot = spot_in(solution, is_solid(model), *cell, point);
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
            const Spot spot = spot_in(solution, is_solid(model), p.cell, p.at[e]);
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
                value_at(spot_in(solution, is_solid(model), p.cell, p.at[e]), solution.corner[inside]);
            if (g < lowest.factor) lowest = {.factor = g, .at = p.at[e], .region = p.region};
        }
    }
    return lowest;
}

Point flux(const Model& model, const Steady& solution, std::size_t cell,
           std::span<const double> environments) {
    if (!takes_part(solution, cell)) return {};
    const Grid& g = solution.grid;
    const std::size_t nx = g.count(0), ny = g.count(1);
    const Point centre{g.centre(0, cell % nx), g.centre(1, cell / nx % ny), g.centre(2, cell / (nx * ny))};
    const Spot spot = spot_in(solution, is_solid(model), cell, centre);
    const std::uint16_t r = solution.region[cell];
    Point q;
    if (r == no_region) return q;
    for (std::size_t e = 0; e < solution.corner.size(); ++e) {
        const Point slope = gradient_at(spot, solution.corner[e]);
        const double scale = -model.regions[r].conductivity * environments[e];
        q.x += scale * slope.x;
        q.y += scale * slope.y;
        q.z += scale * slope.z;
    }
    return q;
}

}  // namespace warmside::conduction
