#include "graph.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace warmside::fem {

namespace {

using Node = std::array<double, 2>;
using Edge = std::array<std::size_t, 2>;

constexpr double close = 1e-8;  // m: nearer than that is the same place

Node minus(const Node& a, const Node& b) {
    return {a[0] - b[0], a[1] - b[1]};
}
double cross(const Node& a, const Node& b) {
    return a[0] * b[1] - a[1] * b[0];
}
double dot(const Node& a, const Node& b) {
    return a[0] * b[0] + a[1] * b[1];
}
double length(const Node& a) {
    return std::hypot(a[0], a[1]);
}

class Nodes {
public:
    std::size_t at(const Node& p) {
        const auto [found, fresh] =
            index_.try_emplace({std::llround(p[0] / close), std::llround(p[1] / close)}, all.size());
        if (fresh) all.push_back(p);
        return found->second;
    }
    std::vector<Node> all;

private:
    std::map<std::array<long long, 2>, std::size_t> index_;
};

struct Line {
    Node from, to;
};

// Where lines cross or touch a line, as shares of its length, ends included.
std::vector<double> cuts(const Line& line, const std::vector<Line>& all) {
    const Node along = minus(line.to, line.from);
    const double whole = length(along);
    std::vector<double> at{0.0, 1.0};
    for (const Line& other : all) {
        for (const Node& end : {other.from, other.to}) {
            const Node reach = minus(end, line.from);
            if (std::abs(cross(along, reach)) < close * whole)
                at.push_back(dot(along, reach) / (whole * whole));
        }
        const Node direction = minus(other.to, other.from);
        const double turn = cross(along, direction);
        if (std::abs(turn) < 1e-12 * whole * length(direction)) continue;
        const Node apart = minus(other.from, line.from);
        const double s = cross(apart, direction) / turn, t = cross(apart, along) / turn;
        const double slack = close / length(direction);
        if (t > -slack && t < 1.0 + slack) at.push_back(s);
    }
    std::erase_if(at, [&](double s) { return s < -close / whole || s > 1.0 + close / whole; });
    std::sort(at.begin(), at.end());
    return at;
}

std::vector<Line> lines_of(const conduction::Model& model) {
    std::vector<Line> lines;
    Node low{1e300, 1e300}, high{-1e300, -1e300};
    for (const auto& region : model.regions) {
        const auto& o = region.shape.outline;
        for (std::size_t i = 0; i < o.size(); ++i) {
            const auto& next = o[(i + 1) % o.size()];
            lines.push_back({{o[i].x, o[i].y}, {next.x, next.y}});
            low = {std::min(low[0], o[i].x), std::min(low[1], o[i].y)};
            high = {std::max(high[0], o[i].x), std::max(high[1], o[i].y)};
        }
    }
    lines.push_back({low, {high[0], low[1]}});
    lines.push_back({{high[0], low[1]}, high});
    lines.push_back({high, {low[0], high[1]}});
    lines.push_back({{low[0], high[1]}, low});
    return lines;
}

double distance(const Node& p, const Line& line) {
    const Node along = minus(line.to, line.from);
    const double s = std::clamp(dot(minus(p, line.from), along) / dot(along, along), 0.0, 1.0);
    return length(minus(p, {line.from[0] + s * along[0], line.from[1] + s * along[1]}));
}

// Places between 0 and `whole` so that each step is what `size` allows there; steps are scaled to end
// exactly.
template <class Size>
std::vector<double> steps(double whole, Size size) {
    std::vector<double> at{0.0};
    while (at.back() < whole) {
        const double here = size(at.back());
        at.push_back(at.back() + std::min(here, size(at.back() + here)));
    }
    const double scale = whole / at.back();
    for (double& s : at) s *= scale;
    if (at.size() == 2 && whole > size(0.5 * whole)) at.insert(at.begin() + 1, 0.5 * whole);
    return at;
}

}  // namespace

Graph graph_of(const conduction::Model& model, const Sizes& sizes) {
    const auto lines = lines_of(model);
    Nodes nodes;
    std::set<Edge> whole;
    for (const Line& line : lines) {
        const auto at = cuts(line, lines);
        for (std::size_t i = 0; i + 1 < at.size(); ++i) {
            const auto place = [&](double s) {
                return Node{line.from[0] + s * (line.to[0] - line.from[0]),
                            line.from[1] + s * (line.to[1] - line.from[1])};
            };
            Edge edge{nodes.at(place(at[i])), nodes.at(place(at[i + 1]))};
            std::sort(edge.begin(), edge.end());
            if (edge[0] != edge[1]) whole.insert(edge);
        }
    }
    const std::vector<Node> corners = nodes.all;
    std::vector<Line> pieces;
    for (const Edge& e : whole) pieces.push_back({corners[e[0]], corners[e[1]]});
    Graph graph;
    for (const Edge& e : whole) {
        const Line line{corners[e[0]], corners[e[1]]};
        const Node along = minus(line.to, line.from);
        const double reach = length(along);
        const auto place = [&](double s) {
            return Node{line.from[0] + s / reach * along[0], line.from[1] + s / reach * along[1]};
        };
        const auto size = [&](double s) {
            const Node p = place(std::min(s, reach));
            double h = sizes.most;
            for (const Node& corner : corners)
                h = std::min(h, sizes.corner + sizes.growth * length(minus(p, corner)));
            // Beside a parallel edge no longer than the gap is wide.
            for (const Line& other : pieces) {
                const double gap = distance(p, other);
                if (gap > close && distance(line.from, other) > close && distance(line.to, other) > close)
                    h = std::min(h, std::max(0.7 * gap, 0.5 * sizes.corner));
            }
            return h;
        };
        const auto at = steps(reach, size);
        for (std::size_t i = 0; i + 1 < at.size(); ++i)
            graph.edge.push_back({nodes.at(place(at[i])), nodes.at(place(at[i + 1]))});
    }
    graph.node = nodes.all;
    return graph;
}

std::vector<double> levels_of(const conduction::Model& model, const Sizes& sizes, int axis) {
    std::vector<double> planes;
    for (const auto& region : model.regions) {
        if (axis == 2) {
            planes.push_back(region.shape.bottom);
            planes.push_back(region.shape.top);
            continue;
        }
        for (const auto& p : region.shape.outline) planes.push_back(axis == 0 ? p.x : p.y);
    }
    std::sort(planes.begin(), planes.end());
    planes.erase(std::unique(planes.begin(), planes.end(), [](double a, double b) { return b - a < close; }),
                 planes.end());
    std::vector<double> levels{planes.front()};
    for (std::size_t i = 0; i + 1 < planes.size(); ++i) {
        const double low = planes[i], whole = planes[i + 1] - low;
        const auto size = [&](double s) {
            return std::min(sizes.most,
                            sizes.corner + sizes.growth * std::min(std::abs(s), std::abs(whole - s)));
        };
        const auto at = steps(whole, size);
        for (std::size_t k = 1; k < at.size(); ++k) levels.push_back(low + at[k]);
    }
    return levels;
}

bool follows_axes(const conduction::Model& model) {
    for (const auto& region : model.regions) {
        const auto& o = region.shape.outline;
        for (std::size_t i = 0; i < o.size(); ++i) {
            const auto& next = o[(i + 1) % o.size()];
            if (std::abs(o[i].x - next.x) > close && std::abs(o[i].y - next.y) > close) return false;
        }
    }
    return true;
}

}  // namespace warmside::fem
