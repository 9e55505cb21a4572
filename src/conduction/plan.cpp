#include "conduction/plan.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <unordered_map>

#include "conduction/shape.h"

namespace warmside::conduction {

namespace {

struct Edge {
    Point a, b;
    Point normal;  // length 1, left of a to b
    [[nodiscard]] double distance(const Point& p) const {
        return (p.x - a.x) * normal.x + (p.y - a.y) * normal.y;
    }
};

std::size_t nearest_line(const std::vector<double>& line, double value) {
    const auto at = std::lower_bound(line.begin(), line.end(), value - same_place);
    return static_cast<std::size_t>(
        std::min<std::ptrdiff_t>(at - line.begin(), static_cast<std::ptrdiff_t>(line.size()) - 1));
}

// Finds a node again by its place.
class Nodes {
public:
    Nodes(std::vector<Point>& node, double near) : node_(node), near_(near) {}
    std::uint32_t at(const Point& p) {
        const auto x = static_cast<std::int64_t>(std::floor(p.x / (4.0 * near_)));
        const auto y = static_cast<std::int64_t>(std::floor(p.y / (4.0 * near_)));
        for (std::int64_t v = y - 1; v <= y + 1; ++v)
            for (std::int64_t u = x - 1; u <= x + 1; ++u) {
                const auto [from, to] = place_.equal_range(key(u, v));
                for (auto it = from; it != to; ++it)
                    if (std::hypot(node_[it->second].x - p.x, node_[it->second].y - p.y) < near_)
                        return it->second;
            }
        const auto id = static_cast<std::uint32_t>(node_.size());
        node_.push_back(p);
        place_.emplace(key(x, y), id);
        return id;
    }

private:
    static std::uint64_t key(std::int64_t u, std::int64_t v) {
        return static_cast<std::uint64_t>(u) * 0x9E3779B97F4A7C15ULL ^ static_cast<std::uint64_t>(v);
    }
    std::vector<Point>& node_;
    double near_;
    std::unordered_multimap<std::uint64_t, std::uint32_t> place_;
};

class Cutter {
public:
    Cutter(const Model& model, const Grid& grid, Plan& plan) : model_(model), grid_(grid), plan_(plan) {
        double least = grid.width(0, 0);
        for (std::size_t axis = 0; axis < 2; ++axis)
            for (std::size_t i = 0; i < grid.count(axis); ++i) least = std::min(least, grid.width(axis, i));
        near_ = 1e-3 * least;
    }

    void run() {
        crossings();
        if (crossed_.empty()) return;
        Nodes nodes(plan_.node, near_);
        plan_.index.assign(plan_.nx * plan_.ny, -1);
        std::uint32_t pieces = 0;
        for (std::size_t from = 0, to = 0; from < crossed_.size(); from = to) {
            while (to < crossed_.size() && crossed_[to].first == crossed_[from].first) ++to;
            CutCell cut{.cell = crossed_[from].first,
                        .first_piece = pieces,
                        .normal = edge_[crossed_[from].second].normal};
            cut.piece.push_back({.node = corners_of(cut.cell)});
            for (std::size_t e = from; e < to; ++e) split(cut, edge_[crossed_[e].second], nodes);
            join(cut);
            plan_.index[cut.cell] = static_cast<std::int32_t>(plan_.cut.size());
            plan_.first_triangle.push_back(static_cast<std::uint32_t>(plan_.triangle.size()));
            for (Piece& piece : cut.piece) triangles(piece, pieces++);
            plan_.cut.push_back(std::move(cut));
        }
        plan_.first_triangle.push_back(static_cast<std::uint32_t>(plan_.triangle.size()));
    }

private:
    // All (cell, edge) where a sloped edge has corners of the cell on both sides.
    void crossings() {
        for (const Region& region : model_.regions) {
            const auto& outline = region.shape.outline;
            for (std::size_t v = 0; v < outline.size(); ++v) {
                const Point& a = outline[v];
                const Point& b = outline[(v + 1) % outline.size()];
                if (axis_parallel(a, b)) continue;
                const double length = std::hypot(b.x - a.x, b.y - a.y);
                edge_.push_back({a, b, {(a.y - b.y) / length, (b.x - a.x) / length}});
                crossings(edge_.size() - 1);
            }
        }
        std::sort(crossed_.begin(), crossed_.end());
        // Neighbouring regions share an edge: one cut serves both.
        crossed_.erase(std::unique(crossed_.begin(), crossed_.end()), crossed_.end());
    }

    void crossings(std::size_t e) {
        const Edge& edge = edge_[e];
        const std::size_t i0 = nearest_line(grid_.line[0], std::min(edge.a.x, edge.b.x));
        const std::size_t i1 = nearest_line(grid_.line[0], std::max(edge.a.x, edge.b.x));
        const std::size_t j0 = nearest_line(grid_.line[1], std::min(edge.a.y, edge.b.y));
        const std::size_t j1 = nearest_line(grid_.line[1], std::max(edge.a.y, edge.b.y));
        const double slope = (edge.b.y - edge.a.y) / (edge.b.x - edge.a.x);
        for (std::size_t i = i0; i < i1; ++i) {
            const double left = edge.a.y + slope * (grid_.line[0][i] - edge.a.x);
            const double right = edge.a.y + slope * (grid_.line[0][i + 1] - edge.a.x);
            std::size_t j = std::max(j0, nearest_line(grid_.line[1], std::min(left, right)));
            if (j > j0) --j;
            for (; j < j1 && grid_.line[1][j] <= std::max(left, right); ++j) {
                const auto cell = static_cast<std::uint32_t>(i + plan_.nx * j);
                bool above = false, below = false;
                for (const std::uint32_t c : corners_of(cell)) {
                    const double d = edge.distance(plan_.node[c]);
                    above = above || d > near_;
                    below = below || d < -near_;
                }
                if (above && below) crossed_.emplace_back(cell, e);
            }
        }
    }

    std::vector<std::uint32_t> corners_of(std::uint32_t cell) const {
        const auto row = static_cast<std::uint32_t>(plan_.nx + 1), nx = static_cast<std::uint32_t>(plan_.nx);
        const std::uint32_t low = cell % nx + row * (cell / nx);
        return {low, low + 1, low + row + 1, low + row};
    }

    void split(CutCell& cut, const Edge& edge, Nodes& nodes) {
        std::vector<Piece> out;
        for (const Piece& piece : cut.piece) {
            std::vector<double> d;
            bool above = false, below = false;
            for (const std::uint32_t n : piece.node) {
                d.push_back(edge.distance(plan_.node[n]));
                if (std::abs(d.back()) <= near_) d.back() = 0.0;
                above = above || d.back() > 0.0;
                below = below || d.back() < 0.0;
            }
            if (!above || !below) {
                out.push_back(piece);
                continue;
            }
            Piece one, other;
            for (std::size_t v = 0, n = piece.node.size(); v < n; ++v) {
                const std::size_t w = (v + 1) % n;
                if (d[v] >= 0.0) one.node.push_back(piece.node[v]);
                if (d[v] <= 0.0) other.node.push_back(piece.node[v]);
                if (d[v] * d[w] >= 0.0) continue;
                const double t = d[v] / (d[v] - d[w]);
                const Point a = plan_.node[piece.node[v]], b = plan_.node[piece.node[w]];
                const std::uint32_t id = nodes.at({a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)});
                one.node.push_back(id);
                other.node.push_back(id);
            }
            for (Piece* part : {&one, &other}) {
                // A crossing may have found a node that is there already.
                auto& node = part->node;
                node.erase(std::unique(node.begin(), node.end()), node.end());
                while (node.size() > 1 && node.front() == node.back()) node.pop_back();
                if (node.size() > 2) out.push_back(std::move(*part));
            }
        }
        cut.piece = std::move(out);
    }

    // A corner of one piece on the side of another becomes a corner of it too.
    void join(CutCell& cut) const {
        if (cut.piece.size() < 3) return;
        std::vector<std::uint32_t> all;
        for (const Piece& piece : cut.piece) all.insert(all.end(), piece.node.begin(), piece.node.end());
        std::sort(all.begin(), all.end());
        all.erase(std::unique(all.begin(), all.end()), all.end());
        for (Piece& piece : cut.piece) {
            std::vector<std::uint32_t> node;
            for (std::size_t v = 0; v < piece.node.size(); ++v) {
                const std::uint32_t from = piece.node[v], to = piece.node[(v + 1) % piece.node.size()];
                node.push_back(from);
                const Point a = plan_.node[from], b = plan_.node[to];
                const double length = std::hypot(b.x - a.x, b.y - a.y);
                std::vector<std::pair<double, std::uint32_t>> on;
                for (const std::uint32_t c : all) {
                    if (c == from || c == to) continue;
                    const Point p = plan_.node[c];
                    const double off = ((p.x - a.x) * (b.y - a.y) - (p.y - a.y) * (b.x - a.x)) / length;
                    const double along = ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length;
                    if (std::abs(off) < 0.5 * near_ && along > 0.0 && along < length)
                        on.emplace_back(along, c);
                }
                std::sort(on.begin(), on.end());
                for (const auto& [along, c] : on) node.push_back(c);
            }
            piece.node = std::move(node);
        }
    }

    void triangles(Piece& piece, std::uint32_t number) {
        const bool revolved = model_.geometry == Geometry::axisymmetric;
        double area = 0.0, x = 0.0, y = 0.0;
        const Point o = plan_.node[piece.node[0]];
        for (std::size_t v = 1; v + 1 < piece.node.size(); ++v) {
            const Point a = plan_.node[piece.node[v]], b = plan_.node[piece.node[v + 1]];
            const double part = 0.5 * ((a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x));
            area += part;
            x += part * (o.x + a.x + b.x) / 3.0;
            y += part * (o.y + a.y + b.y) / 3.0;
        }
        double reach = 0.0;
        for (const std::uint32_t n : piece.node) {
            reach = std::max({reach, std::abs(plan_.node[n].x - o.x), std::abs(plan_.node[n].y - o.y)});
            piece.middle.x += plan_.node[n].x / static_cast<double>(piece.node.size());
            piece.middle.y += plan_.node[n].y / static_cast<double>(piece.node.size());
        }
        // Corners on one line to rounding: nothing flows through that.
        if (area < 1e-9 * reach * reach) return;
        piece.middle = {x / area, y / area};
        piece.area = revolved ? area * 2.0 * std::numbers::pi * piece.middle.x : area;
        if (piece.node.size() == 3) {
            plan_.triangle.push_back({{piece.node[0], piece.node[1], piece.node[2]}, number});
            return;
        }
        const auto middle = static_cast<std::uint32_t>(plan_.node.size());
        plan_.node.push_back(piece.middle);
        for (std::size_t v = 0; v < piece.node.size(); ++v)
            plan_.triangle.push_back(
                {{piece.node[v], piece.node[(v + 1) % piece.node.size()], middle}, number});
    }

    const Model& model_;
    const Grid& grid_;
    Plan& plan_;
    double near_ = 0.0;
    std::vector<Edge> edge_;
    std::vector<std::pair<std::uint32_t, std::size_t>> crossed_;
};

// First cell whose centre lies above `value`.
std::size_t first_above(const Grid& grid, std::size_t axis, double value) {
    std::size_t low = 0, high = grid.count(axis);
    while (low < high) {
        const std::size_t mid = (low + high) / 2;
        if (grid.centre(axis, mid) < value)
            low = mid + 1;
        else
            high = mid;
    }
    return low;
}

bool in_storey(const Model& model, const Region& region, double z) {
    return model.geometry != Geometry::solid || (z > std::min(region.shape.bottom, region.shape.top) &&
                                                 z < std::max(region.shape.bottom, region.shape.top));
}

void paint(const Model& model, const Grid& grid, double z, Plan& plan) {
    std::vector<std::uint16_t> cell(plan.nx * plan.ny, no_region);
    std::size_t pieces = 0;
    for (const CutCell& c : plan.cut) pieces += c.piece.size();
    std::vector<std::uint16_t> piece(pieces, no_region);
    for (std::size_t r = 0; r < model.regions.size(); ++r) {
        if (!in_storey(model, model.regions[r], z)) continue;
        const auto& outline = model.regions[r].shape.outline;
        const auto name = static_cast<std::uint16_t>(r);
        const Extent e = extent_of(model.regions[r].shape, false);
        bool straight = outline.size() == 4;
        for (std::size_t v = 0; straight && v < 4; ++v)
            straight = axis_parallel(outline[v], outline[(v + 1) % 4]);
        const std::size_t i0 = first_above(grid, 0, e.low[0]), i1 = first_above(grid, 0, e.high[0]);
        const std::size_t j0 = first_above(grid, 1, e.low[1]), j1 = first_above(grid, 1, e.high[1]);
        for (std::size_t j = j0; j < j1; ++j)
            for (std::size_t i = i0; i < i1; ++i)
                if (straight || inside(outline, grid.centre(0, i), grid.centre(1, j)))
                    cell[i + plan.nx * j] = name;
        for (const CutCell& c : plan.cut)
            for (std::size_t p = 0; p < c.piece.size(); ++p)
                if (inside(outline, c.piece[p].middle.x, c.piece[p].middle.y))
                    piece[c.first_piece + p] = name;
    }
    for (const CutCell& c : plan.cut) {
        double most = -1.0;
        for (std::size_t p = 0; p < c.piece.size(); ++p) {
            const std::uint16_t r = piece[c.first_piece + p];
            double area = 0.0;
            for (std::size_t q = 0; q < c.piece.size(); ++q)
                if (piece[c.first_piece + q] == r) area += c.piece[q].area;
            if (area > most) most = area, cell[c.cell] = r;
        }
    }
    plan.region.push_back(std::move(cell));
    plan.piece_region.push_back(std::move(piece));
}

// Slabs of the grid that hold the same regions belong to one storey.
void storeys(const Model& model, const Grid& grid, Plan& plan) {
    std::vector<bool> before;
    for (std::size_t k = 0; k < grid.count(2); ++k) {
        const double z = grid.centre(2, k);
        std::vector<bool> here;
        for (const Region& region : model.regions) here.push_back(in_storey(model, region, z));
        if (k == 0 || here != before) paint(model, grid, z, plan);
        plan.storey.push_back(static_cast<std::uint16_t>(plan.region.size() - 1));
        before = std::move(here);
    }
}

}  // namespace

Plan make_plan(const Model& model, const Grid& grid) {
    Plan plan{.nx = grid.count(0), .ny = grid.count(1)};
    plan.node.reserve(plan.corners());
    for (const double y : grid.line[1])
        for (const double x : grid.line[0]) plan.node.push_back({x, y});
    Cutter(model, grid, plan).run();
    storeys(model, grid, plan);
    return plan;
}

}  // namespace warmside::conduction
