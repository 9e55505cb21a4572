// What makes a model senseless, found before anything is solved.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "conduction/lines.h"
#include "conduction/plan.h"
#include "conduction/shape.h"

namespace warmside::conduction {

namespace {

constexpr double most_slender = 1e6;

std::string at(const Point& p, bool solid) {
    return solid ? fmt::format("x {:.6g}, y {:.6g}, z {:.6g} mm", 1e3 * p.x, 1e3 * p.y, 1e3 * p.z)
                 : fmt::format("x {:.6g}, y {:.6g} mm", 1e3 * p.x, 1e3 * p.y);
}

class Checker {
public:
    Checker(const Model& model, Problems& problems) : model_(model), problems_(problems) {}

    void run(bool allow_holes) {
        bool good = environments();
        for (const Region& region : model_.regions) good = region_alone(region) && good;
        if (model_.regions.size() >= no_region)
            good = report(Code::out_of_range,
                          fmt::format("{} regions, {} is the most", model_.regions.size(), no_region - 1),
                          model_.where);
        // What follows would stumble over regions that are no regions.
        if (!good) return;
        slenderness();
        overlaps();
        touching(allow_holes);
    }

private:
    bool report(Code code, std::string what, const Place& where) {
        problems_.push_back({.code = code, .what = std::move(what), .where = where});
        return false;
    }
    bool solid() const { return model_.geometry == Geometry::solid; }

    bool environments() {
        bool good = true;
        if (model_.environments.empty())
            good = report(Code::missing, "there is no boundary temperature: the model has no environment",
                          model_.where);
        for (const Environment& e : model_.environments)
            if (!std::isfinite(e.temperature))
                good = report(Code::out_of_range,
                              fmt::format("the temperature of environment \"{}\" is not a number", e.name),
                              model_.where);
        bool material = false;
        for (const Region& region : model_.regions) material = material || !region.environment;
        if (!material) good = report(Code::missing, "the model has no material", model_.where);
        return good;
    }

    bool region_alone(const Region& region) {
        bool good = outline(region);
        const auto says = [&](Code code, const std::string& what) {
            good = report(code, fmt::format("region \"{}\" {}", region.name, what), region.where);
        };
        if (!region.environment && !(std::isfinite(region.conductivity) && region.conductivity > 0.0))
            says(Code::missing, region.conductivity == 0.0
                                    ? std::string("has no conductivity")
                                    : fmt::format("has a conductivity of {} W/(m K), it must be above 0",
                                                  region.conductivity));
        if (region.environment && *region.environment >= model_.environments.size())
            says(Code::unknown_name, fmt::format("is air of environment {}, but there are {}",
                                                 *region.environment, model_.environments.size()));
        for (const double film : {region.film, region.own_film.value_or(0.0)})
            if (!(std::isfinite(film) && film >= 0.0))
                says(Code::out_of_range,
                     fmt::format("has a film of {} m2 K/W, it must not be below 0", film));
        return good;
    }

    bool outline(const Region& region) {
        const auto& o = region.shape.outline;
        const auto says = [&](const std::string& what) {
            return report(Code::out_of_range, fmt::format("region \"{}\" {}", region.name, what),
                          region.where);
        };
        if (o.size() < 3) return says(fmt::format("has {} corners, an outline needs three", o.size()));
        for (const Point& p : o)
            if (!std::isfinite(p.x) || !std::isfinite(p.y)) return says("has a corner that is not a number");
        if (solid() && (!std::isfinite(region.shape.bottom) || !std::isfinite(region.shape.top)))
            return says("has a bottom or top that is not a number");
        const Extent e = extent_of(region.shape, solid());
        double twice = 0.0;
        for (std::size_t v = 0; v < o.size(); ++v) {
            const Point& a = o[v];
            const Point& b = o[(v + 1) % o.size()];
            twice += a.x * b.y - b.x * a.y - (o[0].x * (b.y - a.y) - o[0].y * (b.x - a.x));
            if (std::hypot(b.x - a.x, b.y - a.y) < same_place)
                return says(fmt::format("has two corners at one place, {}", at(a, false)));
        }
        for (std::size_t axis = 0; axis < (solid() ? 3U : 2U); ++axis)
            if (e.size(axis) < same_place) return says(fmt::format("has no extent along {}", "xyz"[axis]));
        if (model_.geometry == Geometry::axisymmetric && e.low[0] < -same_place)
            return says(fmt::format("reaches x {:.6g} mm, beyond the axis x = 0", 1e3 * e.low[0]));
        for (std::size_t a = 0; a < o.size(); ++a)
            for (std::size_t b = a + 2; b < o.size(); ++b) {
                if (a == 0 && b + 1 == o.size()) continue;
                Point where;
                if (crossing(o[a], o[a + 1], o[b], o[(b + 1) % o.size()], where))
                    return says(fmt::format("crosses itself at {}", at(where, false)));
            }
        if (std::abs(twice) < same_place * std::max(e.size(0), e.size(1))) return says("has no area");
        return true;
    }

    static bool crossing(const Point& a, const Point& b, const Point& c, const Point& d, Point& where) {
        const auto side = [](const Point& p, const Point& q, const Point& r) {
            const double length = std::hypot(q.x - p.x, q.y - p.y);
            const double v = ((q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x)) / length;
            return std::abs(v) < same_place ? 0.0 : v;
        };
        const double c1 = side(a, b, c), c2 = side(a, b, d), a1 = side(c, d, a), a2 = side(c, d, b);
        if (c1 * c2 > 0.0 || a1 * a2 > 0.0) return false;
        if (c1 == 0.0 && c2 == 0.0) {
            // On one line: do they overlap along it?
            const bool along_x = std::abs(b.x - a.x) > std::abs(b.y - a.y);
            const auto u = [&](const Point& p) { return along_x ? p.x : p.y; };
            where = u(c) > std::min(u(a), u(b)) && u(c) < std::max(u(a), u(b)) ? c : d;
            return std::max(std::min(u(a), u(b)), std::min(u(c), u(d))) <=
                   std::min(std::max(u(a), u(b)), std::max(u(c), u(d)));
        }
        const double t = c1 == c2 ? 0.0 : c1 / (c1 - c2);
        where = {c.x + t * (d.x - c.x), c.y + t * (d.y - c.y)};
        return true;
    }

    void slenderness() {
        const Grid lines = corner_lines(model_);
        double largest = 0.0, thinnest = std::numeric_limits<double>::infinity(), value = 0.0;
        std::size_t axis = 0;
        for (std::size_t a = 0; a < (solid() ? 3U : 2U); ++a) {
            largest = std::max(largest, lines.line[a].back() - lines.line[a].front());
            for (std::size_t i = 0; i < lines.count(a); ++i)
                if (lines.width(a, i) < thinnest)
                    thinnest = lines.width(a, i), axis = a, value = lines.line[a][i];
        }
        if (largest <= most_slender * thinnest) return;
        Place where = model_.where;
        std::string name;
        for (const Region& region : model_.regions) {
            const Extent e = extent_of(region.shape, solid());
            // Best the region that is so thin itself, else one with a corner there.
            const bool thin =
                std::abs(e.low[axis] - value) < same_place && e.size(axis) < thinnest + same_place;
            bool corner = axis == 2 && (std::abs(e.low[2] - value) < same_place ||
                                        std::abs(e.high[2] - value) < same_place);
            for (const Point& p : region.shape.outline)
                corner = corner || (axis < 2 && std::abs(coordinate(p, axis) - value) < same_place);
            if (thin || (name.empty() && corner)) where = region.where, name = region.name;
            if (thin) break;
        }
        report(Code::out_of_range,
               fmt::format("corners {:.3g} mm apart along {} at {:.6g} mm (region \"{}\") in a model of "
                           "{:.6g} mm: more than a "
                           "million to one",
                           1e3 * thinnest, "xyz"[axis], 1e3 * value, name, 1e3 * largest),
               where);
    }

    void overlaps() {
        for (std::size_t r = 1; r < model_.regions.size(); ++r) {
            if (model_.regions[r].over) continue;
            for (std::size_t e = 0; e < r; ++e) overlap(model_.regions[e], model_.regions[r]);
        }
    }

    // Both regions alone on the lines of their own corners: a cell or piece that lies in both is an overlap.
    void overlap(const Region& under, const Region& over) {
        const Extent a = extent_of(under.shape, solid()), b = extent_of(over.shape, solid());
        for (std::size_t axis = 0; axis < (solid() ? 3U : 2U); ++axis)
            if (a.low[axis] > b.high[axis] - 2 * same_place || b.low[axis] > a.high[axis] - 2 * same_place)
                return;
        Model pair{.geometry = Geometry::plane, .regions = {under, over}};
        const Grid grid = corner_lines(pair);
        pair = on_lines(pair, grid);
        const Plan plan = make_plan(pair, grid);
        const auto in_both = [&](const Point& p) {
            return inside(pair.regions[0].shape.outline, p.x, p.y) &&
                   inside(pair.regions[1].shape.outline, p.x, p.y);
        };
        for (std::size_t c = 0; c < plan.nx * plan.ny; ++c) {
            std::vector<Point> middles{{grid.centre(0, c % plan.nx), grid.centre(1, c / plan.nx)}};
            if (const CutCell* cut = plan.cut_at(c)) {
                middles.clear();
                for (const Piece& piece : cut->piece) middles.push_back(piece.middle);
            }
            for (Point p : middles)
                if (in_both(p)) {
                    p.z = 0.5 * (std::max(a.low[2], b.low[2]) + std::min(a.high[2], b.high[2]));
                    problems_.push_back(
                        {.code = Code::conflict,
                         .what = fmt::format(
                             "region \"{}\" lies over region \"{}\"{} at {}", over.name, under.name,
                             under.where.line > 0 ? fmt::format(" (line {})", under.where.line) : "",
                             at(p, solid())),
                         .suggestion = "say that it may lie over others, or move it",
                         .where = over.where});
                    return;
                }
        }
    }

    // Looks at both sides of every outline, between all lines that cross it, in every storey, and across
    // storeys.
    void touching(bool allow_holes) {
        const Grid lines = corner_lines(model_);
        bool air = false, hole = allow_holes;
        for (std::size_t k = 0; k < lines.count(2) && !(air && hole); ++k) {
            const double z = lines.centre(2, k);
            for (const Region& region : model_.regions) {
                const auto& o = region.shape.outline;
                for (std::size_t v = 0; v < o.size() && !(air && hole); ++v)
                    along(o[v], o[(v + 1) % o.size()], z, lines, air, hole);
            }
            if (k + 1 == lines.count(2)) continue;
            for (std::size_t j = 0; j < lines.count(1) && !(air && hole); ++j)
                for (std::size_t i = 0; i < lines.count(0) && !(air && hole); ++i) {
                    const Point low{lines.centre(0, i), lines.centre(1, j), z};
                    look(low, {low.x, low.y, lines.centre(2, k + 1)}, air, hole);
                }
        }
        if (!air)
            report(Code::missing, "no environment touches a material: no boundary temperature", model_.where);
    }

    void along(const Point& a, const Point& b, double z, const Grid& lines, bool& air, bool& hole) {
        std::vector<double> cuts{0.0, 1.0};
        for (std::size_t axis = 0; axis < 2; ++axis) {
            const double from = coordinate(a, axis), to = coordinate(b, axis);
            if (std::abs(to - from) < same_place) continue;
            for (const double v : lines.line[axis])
                if (const double t = (v - from) / (to - from); t > 0.0 && t < 1.0) cuts.push_back(t);
        }
        std::sort(cuts.begin(), cuts.end());
        const double length = std::hypot(b.x - a.x, b.y - a.y), off = 4.0 * same_place;
        const Point normal{(a.y - b.y) / length, (b.x - a.x) / length};
        const auto& x = lines.line[0];
        const auto& y = lines.line[1];
        for (std::size_t c = 0; c + 1 < cuts.size(); ++c) {
            if ((cuts[c + 1] - cuts[c]) * length < 8.0 * same_place) continue;
            const double t = 0.5 * (cuts[c] + cuts[c + 1]);
            const Point p{a.x + t * (b.x - a.x), a.y + t * (b.y - a.y), z};
            const Point left{p.x + off * normal.x, p.y + off * normal.y, z};
            const Point right{p.x - off * normal.x, p.y - off * normal.y, z};
            const auto beyond = [&](const Point& q) {
                return q.x < x.front() || q.x > x.back() || q.y < y.front() || q.y > y.back();
            };
            if (!beyond(left) && !beyond(right)) look(left, right, air, hole);
        }
    }

    void look(const Point& p, const Point& q, bool& air, bool& hole) {
        const std::uint16_t a = region_at(model_, p), b = region_at(model_, q);
        const auto is_material = [&](std::uint16_t r) {
            return r != no_region && !model_.regions[r].environment;
        };
        if (is_material(a) == is_material(b)) return;
        const std::uint16_t material = is_material(a) ? a : b, other = is_material(a) ? b : a;
        if (other != no_region) {
            air = true;
        } else if (!hole) {
            hole = true;
            const Point middle{0.5 * (p.x + q.x), 0.5 * (p.y + q.y), 0.5 * (p.z + q.z)};
            problems_.push_back(
                {.code = Code::incomplete,
                 .what = fmt::format("the detail is open: region \"{}\" has nothing beside it at {}",
                                     model_.regions[material].name, at(middle, solid())),
                 .suggestion = "give what is there a material, or the air of an environment",
                 .where = model_.regions[material].where});
        }
    }

    const Model& model_;
    Problems& problems_;
};

}  // namespace

void check(const Model& model, Problems& problems, bool allow_holes) {
    Checker(model, problems).run(allow_holes);
}

}  // namespace warmside::conduction
