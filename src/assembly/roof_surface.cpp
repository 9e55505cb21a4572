#include "assembly/roof_surface.h"

#include <algorithm>

namespace warmside::assembly {

namespace {

using Part = RoofShape::Part;

// A point of the outline may lie a rounding outside of the part that it bounds.
constexpr double slack = 1e-9;
constexpr std::array sides{Side::south, Side::east, Side::north, Side::west};

std::size_t index(Side side) {
    return static_cast<std::size_t>(side);
}

// A part seen along one axis of the plan: sections run along it, at a fixed place on the other one.
struct View {
    bool along_y = true;
    [[nodiscard]] Side rising() const { return along_y ? Side::south : Side::west; }
    [[nodiscard]] Side falling() const { return along_y ? Side::north : Side::east; }
    [[nodiscard]] double low(const Part& p) const { return along_y ? p.south : p.west; }
    [[nodiscard]] double high(const Part& p) const { return along_y ? p.north : p.east; }
    [[nodiscard]] double fixed_low(const Part& p) const { return along_y ? p.west : p.south; }
    [[nodiscard]] double fixed_high(const Part& p) const { return along_y ? p.east : p.north; }
    [[nodiscard]] int slope(Side side) const { return side == rising() ? 1 : side == falling() ? -1 : 0; }
};

double distance_from(const Part& p, Side side, double x, double y) {
    const double line = p.line[index(side)];
    switch (side) {
        case Side::south: return y - line;
        case Side::east: return line - x;
        case Side::north: return line - y;
        case Side::west: break;
    }
    return x - line;
}

void sort_unique(std::vector<double>& values) {
    std::sort(values.begin(), values.end());
    values.erase(std::unique(values.begin(), values.end()), values.end());
}

// Places on one axis where three planes can meet, or a part ends.
std::vector<double> breaks_of(const std::vector<Part>& parts, const View& view) {
    const View other{!view.along_y};
    std::vector<double> out, rising, falling, spans;
    for (const Part& a : parts) {
        // On the fixed axis of `view`, which is the running one of `other`.
        out.insert(out.end(), {other.low(a), other.high(a)});
        if (a.rises[index(other.rising())]) rising.push_back(a.line[index(other.rising())]);
        if (a.rises[index(other.falling())]) falling.push_back(a.line[index(other.falling())]);
        for (const Part& b : parts) {
            if (a.rises[index(view.rising())] && b.rises[index(view.falling())])
                spans.push_back((b.line[index(view.falling())] - a.line[index(view.rising())]) / 2);
        }
    }
    sort_unique(rising);
    sort_unique(falling);
    sort_unique(spans);
    for (const double a : rising) {
        for (const double b : falling) out.push_back((a + b) / 2);
        for (const double half : spans) out.push_back(a + half);
    }
    for (const double b : falling) {
        for (const double half : spans) out.push_back(b - half);
    }
    double low = out.front(), high = low;
    for (const Part& p : parts) {
        low = std::min(low, other.low(p));
        high = std::max(high, other.high(p));
    }
    sort_unique(out);
    std::erase_if(out, [&](double at) { return at < low || at > high; });
    return out;
}

struct Piece {
    Side side = Side::south;
    double line = 0.0, from = 0.0, to = 0.0, level_from = 0.0, level_to = 0.0;
};

std::vector<Piece> section(const std::vector<Part>& parts, const View& view, double at) {
    std::vector<double> places, rising, falling, caps;
    for (const Part& p : parts) {
        if (at < view.fixed_low(p) || at > view.fixed_high(p)) continue;
        places.insert(places.end(), {view.low(p), view.high(p)});
        if (p.rises[index(view.rising())]) rising.push_back(p.line[index(view.rising())]);
        if (p.rises[index(view.falling())]) falling.push_back(p.line[index(view.falling())]);
        const View other{!view.along_y};
        if (p.rises[index(other.rising())]) caps.push_back(at - p.line[index(other.rising())]);
        if (p.rises[index(other.falling())]) caps.push_back(p.line[index(other.falling())] - at);
    }
    for (const double a : rising) {
        for (const double b : falling) places.push_back((a + b) / 2);
        for (const double cap : caps) places.push_back(a + cap);
    }
    for (const double b : falling) {
        for (const double cap : caps) places.push_back(b - cap);
    }
    sort_unique(places);
    const auto level = [&](const RoofTop& top, double along) {
        const int slope = view.slope(top.side);
        return slope == 0 ? top.level : slope * (along - top.line);
    };
    std::vector<Piece> out;
    for (std::size_t i = 0; i + 1 < places.size(); ++i) {
        const double middle = (places[i] + places[i + 1]) / 2;
        const auto top = view.along_y ? top_at(parts, at, middle) : top_at(parts, middle, at);
        if (!top) continue;
        const bool goes_on = !out.empty() && out.back().to == places[i] && out.back().side == top->side &&
                             out.back().line == top->line;
        if (!goes_on) out.push_back({top->side, top->line, places[i], 0.0, level(*top, places[i]), 0.0});
        out.back().to = places[i + 1];
        out.back().level_to = level(*top, places[i + 1]);
    }
    return out;
}

// Planes and lines out of sections in both directions.
class Surface {
public:
    explicit Surface(RoofShape& shape) : shape_(shape) {}

    [[nodiscard]] bool build() {
        for (const bool along_y : {true, false}) {
            const View view{along_y};
            auto& breaks = along_y ? shape_.x_breaks : shape_.y_breaks;
            breaks = breaks_of(shape_.parts, view);
            columns_.clear();
            for (std::size_t i = 0; i + 1 < breaks.size() && sound_; ++i)
                column(view, breaks[i], breaks[i + 1]);
        }
        if (sound_) join_strips();
        return sound_;
    }

private:
    // One strip of every plane between two breaks.
    void column(const View& view, double from, double to) {
        const double middle = (from + to) / 2, quarter = (from + middle) / 2;
        const auto at_middle = section(shape_.parts, view, middle);
        const auto at_quarter = section(shape_.parts, view, quarter);
        std::vector<std::size_t> planes;
        if (at_middle.size() != at_quarter.size()) sound_ = false;
        for (std::size_t i = 0; i < at_middle.size() && sound_; ++i) {
            const Piece &m = at_middle[i], &q = at_quarter[i];
            const auto ends = [&](double Piece::* what) {
                const double slope = (q.*what - m.*what) / (quarter - middle);
                return std::array{m.*what + slope * (from - middle), m.*what + slope * (to - middle)};
            };
            const bool meets = i + 1 < at_middle.size() && at_middle[i + 1].from == m.to;
            const RoofEdge before = i > 0 && at_middle[i - 1].to == m.from ? edge(view, at_middle[i - 1], m)
                                                                           : outer(m.level_from);
            const RoofEdge after = meets ? edge(view, m, at_middle[i + 1]) : outer(m.level_to);
            const auto low = ends(&Piece::from), high = ends(&Piece::to);
            if (meets) line(view, after, {from, to}, high, ends(&Piece::level_to));
            const int slope = view.slope(m.side);
            if (slope == 0) continue;
            RoofStrip strip{.from = from, .to = to};
            if (slope > 0) {
                strip.low_from = low[0] - m.line, strip.low_to = low[1] - m.line;
                strip.high_from = high[0] - m.line, strip.high_to = high[1] - m.line;
                strip.low = before, strip.high = after;
            } else {
                strip.low_from = m.line - high[0], strip.low_to = m.line - high[1];
                strip.high_from = m.line - low[0], strip.high_to = m.line - low[1];
                strip.low = after, strip.high = before;
            }
            planes.push_back(own(m, strip));
        }
        columns_ = std::move(planes);
    }

    static RoofEdge outer(double level) { return level == 0.0 ? RoofEdge::eave : RoofEdge::verge; }

    // Between two planes, one after the other along a section.
    RoofEdge edge(const View& view, const Piece& a, const Piece& b) {
        const int before = view.slope(a.side), after = view.slope(b.side);
        // A step, or a level gutter between two slopes: no roof.
        if (a.level_to != b.level_from || before == after || (before < 0 && after > 0)) sound_ = false;
        if (before < after) return RoofEdge::valley;
        return before == 1 && after == -1 ? RoofEdge::ridge : RoofEdge::hip;
    }

    void line(const View& view, RoofEdge kind, const std::array<double, 2>& across,
              const std::array<double, 2>& along, const std::array<double, 2>& level) {
        // Hips and valleys are found in both directions.
        if (!view.along_y && kind != RoofEdge::ridge) return;
        const auto point = [&](std::size_t i) {
            return view.along_y ? RoofPoint{across[i], along[i], level[i]}
                                : RoofPoint{along[i], across[i], level[i]};
        };
        const RoofPoint from = point(0), to = point(1);
        for (RoofLine& each : shape_.lines) {
            const bool joined = each.to.x == from.x && each.to.y == from.y && each.to.level == from.level;
            if (each.kind != kind || !joined) continue;
            const double dx = each.to.x - each.from.x, dy = each.to.y - each.from.y;
            if (dx * (to.y - from.y) != dy * (to.x - from.x) ||
                (each.to.level > each.from.level) != (to.level > from.level))
                continue;
            each.to = to;
            return;
        }
        shape_.lines.push_back({kind, from, to});
    }

    // The plane that the strip goes on, else a new one; the index of it.
    std::size_t own(const Piece& piece, const RoofStrip& strip) {
        std::optional<std::size_t> found;
        for (const std::size_t k : columns_) {
            RoofPlane& plane = shape_.planes[k];
            if (plane.side != piece.side || plane.line != piece.line || plane.strips.empty()) continue;
            const bool beside =
                std::any_of(plane.strips.begin(), plane.strips.end(), [&](const RoofStrip& s) {
                    return s.to == strip.from &&
                           std::min(s.high_to, strip.high_from) > std::max(s.low_to, strip.low_from);
                });
            if (!beside) continue;
            if (found && *found != k) {  // two arms of one plane meet
                auto& arms = shape_.planes[*found].strips;
                arms.insert(arms.end(), plane.strips.begin(), plane.strips.end());
                plane.strips.clear();
            } else {
                found = k;
            }
        }
        if (!found) {
            found = shape_.planes.size();
            shape_.planes.push_back({.side = piece.side, .line = piece.line, .strips = {}});
        }
        shape_.planes[*found].strips.push_back(strip);
        return *found;
    }

    void join_strips() {
        std::erase_if(shape_.planes, [](const RoofPlane& plane) { return plane.strips.empty(); });
        for (RoofPlane& plane : shape_.planes) {
            std::stable_sort(plane.strips.begin(), plane.strips.end(),
                             [](const RoofStrip& a, const RoofStrip& b) { return a.from < b.from; });
            std::vector<RoofStrip> joined;
            for (const RoofStrip& next : plane.strips) {
                const auto goes_on = [&](const RoofStrip& s) {
                    const double run = s.to - s.from, more = next.to - next.from;
                    return s.to == next.from && s.low == next.low && s.high == next.high &&
                           s.low_to == next.low_from && s.high_to == next.high_from &&
                           (s.low_to - s.low_from) * more == (next.low_to - next.low_from) * run &&
                           (s.high_to - s.high_from) * more == (next.high_to - next.high_from) * run;
                };
                const auto before = std::find_if(joined.begin(), joined.end(), goes_on);
                if (before == joined.end()) {
                    joined.push_back(next);
                } else {
                    before->to = next.to;
                    before->low_to = next.low_to;
                    before->high_to = next.high_to;
                }
            }
            plane.strips = std::move(joined);
        }
    }

    RoofShape& shape_;
    std::vector<std::size_t> columns_;  // planes of the column before
    bool sound_ = true;
};

}  // namespace

std::optional<RoofTop> top_at(const std::vector<RoofShape::Part>& parts, double x, double y) {
    std::optional<RoofTop> best;
    for (const RoofShape::Part& p : parts) {
        if (x < p.west - slack || x > p.east + slack || y < p.south - slack || y > p.north + slack) continue;
        std::optional<RoofTop> own;
        for (const Side side : sides) {
            if (!p.rises[index(side)]) continue;
            const double level = distance_from(p, side, x, y);
            if (!own || level < own->level) own = RoofTop{level, side, p.line[index(side)]};
        }
        if (own && (!best || own->level > best->level)) best = own;
    }
    return best;
}

bool build_surface(RoofShape& shape) {
    return Surface(shape).build();
}

}  // namespace warmside::assembly
