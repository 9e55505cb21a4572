#include "thermal/ground.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numbers>

namespace warmside::thermal {

namespace {

constexpr double pi = std::numbers::pi;

bool positive(double x) {
    return std::isfinite(x) && x > 0.0;
}
bool not_negative(double x) {
    return std::isfinite(x) && x >= 0.0;
}

Result<void> check(const Ground& g, double resistance, double depth) {
    if (!positive(g.conductivity) || !not_negative(g.wall_thickness) || !not_negative(g.inside_film) ||
        !not_negative(g.outside_film)) {
        return fail(Code::out_of_range, fmt::format("ground of {} W/(m K) under walls {} m thick cannot be",
                                                    g.conductivity, g.wall_thickness));
    }
    if (!not_negative(resistance) || !not_negative(depth)) {
        return fail(Code::out_of_range, fmt::format("a resistance of {} m2 K/W at {} m below grade cannot be",
                                                    resistance, depth));
    }
    return {};
}

double floor_u(double k, double b, double d) {
    return d < b ? 2.0 * k / (pi * b + d) * std::log(pi * b / d + 1.0) : k / (0.457 * b + d);
}

}  // namespace

Result<GroundFloor> slab(const FloorPlan& plan, const Ground& ground, double resistance) {
    return basement_floor(plan, ground, resistance, 0.0);
}

Result<GroundFloor> basement_floor(const FloorPlan& plan, const Ground& ground, double resistance,
                                   double depth) {
    if (auto good = check(ground, resistance, depth); !good) return fail(good.error());
    if (!positive(plan.area) || !positive(plan.perimeter)) {
        return fail(Code::out_of_range,
                    fmt::format("a floor of {} m2 with {} m of edge cannot be", plan.area, plan.perimeter));
    }
    const double b = plan.characteristic();
    const double d = ground.wall_thickness +
                     ground.conductivity * (ground.inside_film + resistance + ground.outside_film) +
                     0.5 * depth;
    if (!positive(d))
        return fail(Code::out_of_range, "the floor's equivalent thickness is 0: films and walls are missing");
    return GroundFloor{b, d, floor_u(ground.conductivity, b, d)};
}

Result<double> basement_wall(const Ground& ground, double floor_equivalent, double resistance, double depth) {
    if (auto good = check(ground, resistance, depth); !good) return fail(good.error());
    const double k = ground.conductivity;
    const double wall = k * (ground.inside_film + resistance + ground.outside_film);
    if (!positive(depth) || !positive(floor_equivalent) || !positive(wall)) {
        return fail(
            Code::out_of_range,
            fmt::format("a basement wall {} m deep over a floor of {} m equivalent thickness cannot be",
                        depth, floor_equivalent));
    }
    const double floor = std::min(floor_equivalent, wall);
    return 2.0 * k / (pi * depth) * (1.0 + 0.5 * floor / (floor + depth)) * std::log(depth / wall + 1.0);
}

Result<double> edge_psi(const Ground& ground, double equivalent, const EdgeInsulation& edge) {
    if (auto good = check(ground, edge.resistance, edge.reach); !good) return fail(good.error());
    const double more = edge.resistance - edge.thickness / ground.conductivity;
    if (!positive(equivalent) || !not_negative(edge.thickness) || !not_negative(more)) {
        return fail(Code::out_of_range,
                    fmt::format("edge insulation of {} m2 K/W, {} m thick, resists less than the ground",
                                edge.resistance, edge.thickness));
    }
    const double reach = edge.vertical ? 2.0 * edge.reach : edge.reach;
    const double with = equivalent + ground.conductivity * more;
    return -ground.conductivity / pi * (std::log(reach / equivalent + 1.0) - std::log(reach / with + 1.0));
}

Result<SuspendedFloor> suspended_floor(const FloorPlan& plan, const Ground& ground, const CrawlSpace& space) {
    const auto under = slab(plan, ground, space.ground_resistance);
    if (!under) return fail(under.error());
    if (!positive(space.floor_u) || !not_negative(space.height) || !not_negative(space.wall_u) ||
        !not_negative(space.vents) || !not_negative(space.wind) || !not_negative(space.shelter)) {
        return fail(Code::out_of_range,
                    fmt::format("a floor of {} W/(m2 K) over a crawl space {} m high cannot be",
                                space.floor_u, space.height));
    }
    SuspendedFloor out{.ground_u = under->u};
    out.air_u = (2.0 * space.height * space.wall_u + 1450.0 * space.vents * space.wind * space.shelter) /
                under->characteristic;
    out.u = 1.0 / (1.0 / space.floor_u + 1.0 / (out.ground_u + out.air_u));
    return out;
}

Result<GroundSwing> ground_swing(double perimeter, const Ground& ground, double equivalent,
                                 double penetration, double depth, double wall_equivalent) {
    if (auto good = check(ground, 0.0, depth); !good) return fail(good.error());
    if (!positive(perimeter) || !positive(equivalent) || !positive(penetration) ||
        (depth > 0.0 && !positive(wall_equivalent))) {
        return fail(
            Code::out_of_range,
            fmt::format("the yearly swing under a floor of {} m equivalent thickness cannot be", equivalent));
    }
    const double strip = 0.37 * perimeter * ground.conductivity, fade = std::exp(-depth / penetration);
    GroundSwing out{.floor = strip * fade * std::log(penetration / equivalent + 1.0)};
    if (depth > 0.0) out.wall = strip * 2.0 * (1.0 - fade) * std::log(penetration / wall_equivalent + 1.0);
    return out;
}

}  // namespace warmside::thermal
