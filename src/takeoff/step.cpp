#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "assembly/geometry.h"
#include "takeoff/cost.h"
#include "takeoff/lookup.h"
#include "takeoff/order_work.h"

namespace warmside::takeoff {
namespace {

using assembly::Assembly;
using assembly::House;
using assembly::Storey;

/// A polygon that walls of thickness t grow out of: area and length of its edge at every t.
struct Outline {
    double area = 0.0, perimeter = 0.0;
    double corners = 0.0;  // sum of tan(turn / 2): 1 for an outer right angle, -1 for an inner one

    [[nodiscard]] double area_at(double t) const { return area + perimeter * t + corners * t * t; }
    [[nodiscard]] double edge_at(double t) const { return perimeter + 2.0 * corners * t; }
};

Outline outline_of(const std::vector<assembly::Point>& points) {
    Outline out;
    const std::size_t n = points.size();
    for (std::size_t i = 0; i < n; ++i) {
        const auto &a = points[i], &b = points[(i + 1) % n], &c = points[(i + 2) % n];
        const double ux = (b.x - a.x).metres(), uy = (b.y - a.y).metres();
        const double vx = (c.x - b.x).metres(), vy = (c.y - b.y).metres();
        out.area += (a.x.metres() * b.y.metres() - b.x.metres() * a.y.metres()) / 2.0;
        out.perimeter += assembly::distance(a, b);
        const double turn = std::atan2(ux * vy - uy * vx, ux * vx + uy * vy);
        out.corners += std::tan(turn / 2.0);
    }
    return out;
}

double depth_before(const Assembly& a, std::size_t end) {
    double depth = 0.0;
    for (std::size_t i = 0; i < end && i < a.layers.size(); ++i) depth += a.layers[i].thickness.metres();
    return depth;
}

/// m from the inner finish to the outer face of the sheathing: what stands on the foundation.
double to_datum(const Assembly& a) {
    return a.layers.empty() ? 0.0 : depth_before(a, a.datum() + 1);
}

/// What is seen of the wall's depth at a window, on both sides of its frame; never negative.
struct Reveal {
    double inside = 0.0, outside = 0.0;  // m
};

Reveal reveal_of(const House& house, const Assembly& a) {
    const double frame = house.details.frame_depth.value;
    double inside = to_datum(a) - frame;
    for (std::size_t i = a.layers.size(); i-- > 0;) {
        const auto& layer = a.layers[i];
        if (i > a.datum() || !layer.framing || layer.framing->run != assembly::Run::vertical) continue;
        const double from = depth_before(a, i), to = depth_before(a, i + 1);
        if (house.details.frame.value == assembly::FramePlace::middle) inside = (from + to - frame) / 2.0;
        if (house.details.frame.value == assembly::FramePlace::inner) inside = from;
        break;
    }
    return {std::max(0.0, inside), std::max(0.0, a.thickness().metres() - inside - frame)};
}

/// Widths of openings, and head and jambs of them.
struct Sides {
    double windows = 0.0, jambs = 0.0;  // m
};

Sides sides_of(const House& house, const Assembly& from, const Assembly& to) {
    Sides out;
    for (const auto& face : house.faces) {
        // A face that names an assembly is built as that one on every rung.
        if (!face.assembly.empty() && face.assembly != from.name && face.assembly != to.name) continue;
        for (const auto& opening : face.openings) {
            out.jambs += 2.0 * opening.height.metres() + opening.width.metres();
            if (opening.kind == assembly::Opening::Kind::window) out.windows += opening.width.metres();
        }
    }
    return out;
}

const Storey* lowest(const House& house) {
    const auto at = std::min_element(house.storeys.begin(), house.storeys.end(),
                                     [](const Storey& a, const Storey& b) { return a.floor < b.floor; });
    return at == house.storeys.end() ? nullptr : &*at;
}

class Step {
public:
    Step(const House& house, const Assembly& from, const Assembly& to, const PriceBook& book)
        : house_(house), from_(from), to_(to), lookup_(book) {}

    void footprint(bool roofs_priced) {
        const double was = to_datum(from_), is = to_datum(to_);
        if (const Storey* storey = lowest(house_)) {
            const Outline outline = outline_of(storey->outline);
            material("foundation", "foundation footprint",
                     "slab or floor and foundation under a larger house",
                     outline.area_at(is) - outline.area_at(was), "m2");
            material("foundation", "foundation edge", "longer foundation edge",
                     outline.edge_at(is) - outline.edge_at(was), "m");
        }
        if (roofs_priced) {
            step_.notes.emplace_back("the larger roof is in the order of the roof, not counted again");
            return;
        }
        for (const auto& roof : house_.roofs) {
            const Storey* storey = assembly::storey_under(house_, roof);
            if (!storey) continue;
            const Outline outline = outline_of(storey->outline);
            const double over = roof.overhang.metres();
            const double a = from_.thickness().metres() + over, b = to_.thickness().metres() + over;
            material("roof", "roof surface", "larger roof, overhang kept",
                     (outline.area_at(b) - outline.area_at(a)) / std::cos(roof.pitch), "m2");
            material("roof", "eave", "longer eaves and rakes", outline.edge_at(b) - outline.edge_at(a), "m");
        }
    }

    void floor_area() {
        const double change = to_.thickness().metres() - from_.thickness().metres();
        double lost = 0.0;
        for (const Storey& storey : house_.storeys) {
            if (!storey.heated) continue;
            const Outline outline = outline_of(storey.outline);
            lost += outline.area_at(0.0) - outline.area_at(-change);
        }
        material("floor area", "floor area", "floor area given up", lost, "m2");
    }

    void openings() {
        const Reveal was = reveal_of(house_, from_), is = reveal_of(house_, to_);
        const Sides sides = sides_of(house_, from_, to_);
        const double inside = is.inside - was.inside, outside = is.outside - was.outside;
        both("jambs", "jamb extension", "jamb extensions", "deeper inner jambs and heads",
             sides.jambs * inside);
        both("sills", "window stool", "window stools", "wider window stools", sides.windows * inside);
        both("sills", "outer sill", "outer sills", "wider outer sills", sides.windows * outside);
        both("jambs", "outer jamb", "outer sills", "deeper outer jambs and heads", sides.jambs * outside);
    }

    /// Their money is in the rungs' costs: here it leaves the difference of the fasteners and becomes a line.
    void fasteners(const Cost& from, const Cost& to) {
        const Screws was = screws_of(from), is = screws_of(to);
        step_.within_rungs = is.money - was.money;
        if (was.pieces == 0.0 && is.pieces == 0.0) return;
        if (was.lengths == is.lengths && std::abs(step_.within_rungs) < 1e-9) return;
        step_.knock_on.push_back(
            {.group = "fasteners",
             .name = fmt::format("longer screws through exterior insulation: {} instead of {}",
                                 is.lengths.empty() ? "none" : is.lengths,
                                 was.lengths.empty() ? "none" : was.lengths),
             .quantity = is.pieces,
             .unit = "piece",
             .money = step_.within_rungs,
             .origin = is.pieces > 0.0 ? is.origin : was.origin});
    }

    void learning(const Cost& from, const Cost& to) {
        for (const CostLine& line : to.lines) {
            if (!line.labour || has(from, line.group)) continue;
            const Labour* row = lookup_.labour(line.group, line.name);
            if (!row || !(row->learning > 0.0)) continue;
            step_.knock_on.push_back({.group = "learning",
                                      .name = "first time: " + line.name,
                                      .quantity = line.quantity,
                                      .unit = line.unit,
                                      .money = line.money * row->learning,
                                      .hours = line.hours * row->learning,
                                      .labour = true,
                                      .origin = row->origin});
        }
    }

    tl::expected<StepCost, Problems> finish(const Cost& from, const Cost& to) {
        if (!lookup_.problems().empty()) return tl::make_unexpected(lookup_.problems());
        step_.material = to.material - from.material;
        step_.labour = to.labour - from.labour;
        step_.hours = to.hours - from.hours;
        for (const CostLine& line : step_.knock_on) {
            (line.labour ? step_.labour : step_.material) += line.money;
            step_.hours += line.hours;
        }
        step_.material -= step_.within_rungs;
        step_.total = step_.material + step_.labour;
        for (const CostLine& line : to.lines) change(line, 1.0);
        for (const CostLine& line : from.lines) change(line, -1.0);
        std::erase_if(step_.lines, [](const CostLine& line) {
            return line.money == 0.0 && line.hours == 0.0 && line.quantity == 0.0;
        });
        return std::move(step_);
    }

    void note(std::string text) { step_.notes.push_back(std::move(text)); }

private:
    static bool is_long_screw(const CostLine& line) {
        return !line.labour && line.name.starts_with(long_screws);
    }
    struct Screws {
        std::string lengths;  ///< "5 in", "5 in and 8 in"
        double pieces = 0.0, money = 0.0;
        Origin origin;
    };
    static Screws screws_of(const Cost& cost) {
        Screws out;
        for (const CostLine& line : cost.lines) {
            if (!is_long_screw(line)) continue;
            if (!out.lengths.empty()) out.lengths += " and ";
            out.lengths += line.name.substr(long_screws.size() + 1);
            out.pieces += line.quantity;
            out.money += line.money;
            out.origin = line.origin;
        }
        return out;
    }
    static bool has(const Cost& cost, std::string_view operation) {
        return std::any_of(cost.lines.begin(), cost.lines.end(),
                           [&](const CostLine& line) { return line.labour && line.group == operation; });
    }

    void material(std::string_view group, std::string_view key, std::string_view words, double quantity,
                  std::string_view unit) {
        if (std::abs(quantity) < 1e-9) return;
        if (auto line = lookup_.material(group, key, words, quantity, unit))
            step_.knock_on.push_back(std::move(*line));
    }

    void both(std::string_view group, std::string_view key, std::string_view operation,
              std::string_view words, double area) {
        if (std::abs(area) < 1e-9) return;
        material(group, key, words, area, "m2");
        if (auto line = lookup_.work(operation, words, area, "m2")) {
            line->group = group;
            step_.knock_on.push_back(std::move(*line));
        }
    }

    /// Adds a line's share to the difference of its group. A group of materials mixes measures, so that only
    /// its money adds up.
    void change(const CostLine& line, double sign) {
        if (is_long_screw(line)) return;
        auto at = std::find_if(step_.lines.begin(), step_.lines.end(), [&](const CostLine& each) {
            return each.labour == line.labour && each.group == line.group;
        });
        if (at == step_.lines.end()) {
            step_.lines.push_back({.group = line.group,
                                   .name = line.labour ? line.name : line.group,
                                   .unit = line.labour ? line.unit : "",
                                   .labour = line.labour,
                                   .origin = line.origin});
            at = step_.lines.end() - 1;
        }
        if (line.labour) at->quantity += sign * line.quantity;
        at->money += sign * line.money;
        at->hours += sign * line.hours;
    }

    const House& house_;
    const Assembly &from_, &to_;
    Lookup lookup_;
    StepCost step_;
};

}  // namespace

tl::expected<StepCost, Problems> step_cost(const House& house, const Assembly& from, const Cost& from_cost,
                                           const Assembly& to, const Cost& to_cost, const PriceBook& book,
                                           Growth growth) {
    if (from_cost.currency != to_cost.currency || to_cost.currency != book.currency)
        return tl::make_unexpected(Problems{
            {.code = Code::conflict,
             .what = fmt::format("costs in {} and {} do not add up", from_cost.currency, to_cost.currency)}});
    Step step(house, from, to, book);
    if (growth == Growth::outwards) {
        step.footprint(from_cost.roofs && to_cost.roofs);
        step.note(
            "a thicker wall grows outwards: floor area stays, the foundation follows the outer face of the "
            "sheathing, the roof the cladding with its overhang kept");
    } else {
        step.floor_area();
        step.note("a thicker wall grows inwards: the outside stays, floor area is given up");
    }
    step.openings();
    step.fasteners(from_cost, to_cost);
    step.learning(from_cost, to_cost);
    return step.finish(from_cost, to_cost);
}

}  // namespace warmside::takeoff
