#include "drawing/contour.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <unordered_map>

namespace warmside::drawing {

namespace {

/// Where lines cross the edges of cells: the edge from corner c to the right is 2 c, upwards 2 c + 1.
class Tracer {
public:
    Tracer(const ScalarGrid& grid, double level) : grid_(grid), level_(level) {}

    std::vector<Polyline> trace() {
        for (std::size_t j = 0; j < grid_.rows(); ++j) {
            for (std::size_t i = 0; i < grid_.columns(); ++i) {
                if (grid_.filled[i + grid_.columns() * j]) cell(i, j);
            }
        }
        return joined();
    }

private:
    // On the level counts as above it, so that a line never runs through a corner.
    [[nodiscard]] bool above(std::size_t i, std::size_t j) const { return grid_.at(i, j) >= level_; }

    void cell(std::size_t i, std::size_t j) {
        const std::size_t wide = grid_.x.size(), corner = i + wide * j;
        // Edges of the cell in turn: bottom, right, top, left.
        const std::array<std::size_t, 4> edge{2 * corner, 2 * (corner + 1) + 1, 2 * (corner + wide),
                                              2 * corner + 1};
        const std::array<bool, 4> up{above(i, j), above(i + 1, j), above(i + 1, j + 1), above(i, j + 1)};
        std::array<std::size_t, 4> crossed{};
        std::size_t count = 0;
        for (std::size_t k = 0; k < 4; ++k) {
            if (up[k] != up[(k + 1) % 4]) crossed[count++] = edge[k];
        }
        if (count == 2) segment(crossed[0], crossed[1]);
        if (count < 4) return;
        const double mean =
            0.25 * (grid_.at(i, j) + grid_.at(i + 1, j) + grid_.at(i, j + 1) + grid_.at(i + 1, j + 1));
        // The corner at the lower left is cut off when the middle is not on its side.
        const bool cut = (mean >= level_) != up[0];
        segment(crossed[0], crossed[cut ? 3 : 1]);
        segment(crossed[2], crossed[cut ? 1 : 3]);
    }

    void segment(std::size_t a, std::size_t b) {
        const std::size_t index = ends_.size();
        ends_.push_back({a, b});
        for (const std::size_t edge : {a, b}) {
            auto [at, fresh] = meets_.try_emplace(edge, std::array<std::size_t, 2>{index, none});
            if (!fresh) at->second[1] = index;
        }
    }

    [[nodiscard]] Point point(std::size_t edge) const {
        const std::size_t corner = edge / 2, wide = grid_.x.size(), i = corner % wide, j = corner / wide;
        const bool upwards = edge % 2 == 1;
        const double a = grid_.value[corner], b = grid_.value[corner + (upwards ? wide : 1)];
        const double t = b == a ? 0.5 : std::clamp((level_ - a) / (b - a), 0.0, 1.0);
        return upwards ? Point{grid_.x[i], grid_.y[j] + t * (grid_.y[j + 1] - grid_.y[j])}
                       : Point{grid_.x[i] + t * (grid_.x[i + 1] - grid_.x[i]), grid_.y[j]};
    }

    /// Follows segments from `segment`, whose end `edge` is passed already.
    void follow(std::size_t segment, std::size_t edge, Polyline& line, std::vector<bool>& used) const {
        while (segment != none && !used[segment]) {
            used[segment] = true;
            edge = ends_[segment][0] == edge ? ends_[segment][1] : ends_[segment][0];
            line.push_back(point(edge));
            const auto& next = meets_.at(edge);
            segment = next[0] == segment ? next[1] : next[0];
        }
    }

    [[nodiscard]] std::vector<Polyline> joined() const {
        std::vector<Polyline> out;
        std::vector<bool> used(ends_.size(), false);
        // Open lines from their ends, then what is closed.
        for (const bool closed : {false, true}) {
            for (std::size_t s = 0; s < ends_.size(); ++s) {
                if (used[s]) continue;
                for (const std::size_t edge : ends_[s]) {
                    if (used[s] || (!closed && meets_.at(edge)[1] != none)) continue;
                    Polyline line{point(edge)};
                    follow(s, edge, line, used);
                    out.push_back(std::move(line));
                }
            }
        }
        return out;
    }

    static constexpr std::size_t none = static_cast<std::size_t>(-1);
    const ScalarGrid& grid_;
    double level_;
    std::vector<std::array<std::size_t, 2>> ends_;                       // [segment] edges
    std::unordered_map<std::size_t, std::array<std::size_t, 2>> meets_;  // edge -> segments
};

double distance(const Point& p, const Point& a, const Point& b) {
    const double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
    const double t =
        square > 0.0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0.0, 1.0) : 0.0;
    return std::hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

}  // namespace

std::vector<Polyline> contour(const ScalarGrid& grid, double level) {
    return Tracer(grid, level).trace();
}

Polyline simplified(const Polyline& line, double tolerance) {
    if (line.size() < 3) return line;
    std::vector<bool> keep(line.size(), false);
    keep.front() = keep.back() = true;
    std::vector<std::pair<std::size_t, std::size_t>> open{{0, line.size() - 1}};
    while (!open.empty()) {
        const auto [from, to] = open.back();
        open.pop_back();
        double farthest = tolerance;
        std::size_t at = 0;
        for (std::size_t i = from + 1; i < to; ++i) {
            const double d = distance(line[i], line[from], line[to]);
            if (d > farthest) farthest = d, at = i;
        }
        if (at == 0) continue;
        keep[at] = true;
        open.emplace_back(from, at);
        open.emplace_back(at, to);
    }
    Polyline out;
    for (std::size_t i = 0; i < line.size(); ++i) {
        if (keep[i]) out.push_back(line[i]);
    }
    return out;
}

double length_of(const Polyline& line) {
    double sum = 0.0;
    for (std::size_t i = 1; i < line.size(); ++i)
        sum += std::hypot(line[i].x - line[i - 1].x, line[i].y - line[i - 1].y);
    return sum;
}

}  // namespace warmside::drawing
