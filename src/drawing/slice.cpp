#include "drawing/slice.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <tuple>

#include "conduction/shape.h"

namespace warmside::drawing {

namespace {

using conduction::coordinate;
using conduction::no_region;

// m: beside a line, and what counts as one place.
constexpr double beside = 1e-6, same = 1e-9;

Window bounds_of(const std::vector<Point>& outline) {
    constexpr double far = std::numeric_limits<double>::infinity();
    Window out{far, -far, far, -far};
    for (const Point& p : outline) {
        out.left = std::min(out.left, p.x), out.right = std::max(out.right, p.x);
        out.bottom = std::min(out.bottom, p.y), out.top = std::max(out.top, p.y);
    }
    return out;
}

/// Even-odd rule.
bool inside(const std::vector<Point>& outline, const Point& p) {
    bool in = false;
    for (std::size_t i = 0, j = outline.size() - 1; i < outline.size(); j = i++) {
        const Point &a = outline[i], &b = outline[j];
        if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y)) in = !in;
    }
    return in;
}

std::size_t interval(const std::vector<double>& lines, double value) {
    const auto above = std::upper_bound(lines.begin(), lines.end(), value) - lines.begin();
    return static_cast<std::size_t>(
        std::clamp<std::ptrdiff_t>(above - 1, 0, static_cast<std::ptrdiff_t>(lines.size()) - 2));
}

/// Shares along a-b at which other lines cross or touch it.
std::vector<double> stops(const Point& a, const Point& b, const std::vector<Piece>& pieces,
                          const std::vector<Window>& bounds) {
    std::vector<double> out{0.0, 1.0};
    const double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
    const Window box = bounds_of({a, b});
    for (std::size_t k = 0; k < pieces.size(); ++k) {
        const Window& other = bounds[k];
        if (other.left > box.right + beside || other.right < box.left - beside ||
            other.bottom > box.top + beside || other.top < box.bottom - beside)
            continue;
        const auto& outline = pieces[k].outline;
        for (std::size_t i = 0; i < outline.size(); ++i) {
            const Point &c = outline[i], &d = outline[(i + 1) % outline.size()];
            const double ex = d.x - c.x, ey = d.y - c.y, cross = dx * ey - dy * ex;
            const double along = ((c.x - a.x) * dx + (c.y - a.y) * dy) / square;
            out.push_back(along);
            if (std::abs(cross) < 1e-14) continue;
            const double t = ((c.x - a.x) * ey - (c.y - a.y) * ex) / cross;
            const double s = ((c.x - a.x) * dy - (c.y - a.y) * dx) / cross;
            if (s >= -1e-9 && s <= 1.0 + 1e-9) out.push_back(t);
        }
    }
    std::erase_if(out, [](double t) { return !(t >= 0.0 && t <= 1.0); });
    std::sort(out.begin(), out.end());
    return out;
}

}  // namespace

Slice::Slice(const conduction::Model& model, const conduction::Steady& solution,
             std::span<const double> temperatures, const Cut& cut)
    : model_(model), solution_(solution), cut_(cut), third_(3 - cut.across - cut.up) {
    if (model.geometry == conduction::Geometry::solid) layer_ = interval(solution.grid.line[third_], cut.at);
    cut_regions();
    read_field(temperatures);
    read_flow(temperatures);
}

std::size_t Slice::cell_of(std::size_t i, std::size_t j) const {
    std::array<std::size_t, 3> at{};
    at[cut_.across] = i;
    at[cut_.up] = j;
    at[third_] = layer_;
    return solution_.grid.index(at[0], at[1], at[2]);
}

void Slice::cut_regions() {
    const bool solid = model_.geometry == conduction::Geometry::solid;
    for (std::size_t r = 0; r < model_.regions.size(); ++r) {
        const auto& shape = model_.regions[r].shape;
        const auto index = static_cast<std::uint16_t>(r);
        if (third_ == 2) {
            if (solid && !(shape.bottom < cut_.at && cut_.at < shape.top)) continue;
            Piece piece{.region = index, .outline = {}};
            for (const auto& p : shape.outline)
                piece.outline.push_back({coordinate(p, cut_.across), coordinate(p, cut_.up)});
            pieces_.push_back(std::move(piece));
            continue;
        }
        // The prism is met along its third axis and between the crossings of its outline with the plane.
        const std::size_t other = 1 - third_;
        std::vector<double> crossings;
        const auto& o = shape.outline;
        for (std::size_t i = 0, j = o.size() - 1; i < o.size(); j = i++) {
            const double a = coordinate(o[i], third_), b = coordinate(o[j], third_);
            if ((a > cut_.at) == (b > cut_.at)) continue;
            const double t = (cut_.at - a) / (b - a);
            crossings.push_back(coordinate(o[i], other) +
                                t * (coordinate(o[j], other) - coordinate(o[i], other)));
        }
        std::sort(crossings.begin(), crossings.end());
        for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) {
            Window w{crossings[i], crossings[i + 1], shape.bottom, shape.top};
            if (cut_.across == 2) w = {shape.bottom, shape.top, crossings[i], crossings[i + 1]};
            pieces_.push_back(
                {index, {{w.left, w.bottom}, {w.right, w.bottom}, {w.right, w.top}, {w.left, w.top}}});
        }
    }
    for (const Piece& piece : pieces_) bounds_.push_back(bounds_of(piece.outline));
}

void Slice::read_field(std::span<const double> temperatures) {
    const auto& grid = solution_.grid;
    const bool solid = model_.geometry == conduction::Geometry::solid;
    field_.x = grid.line[cut_.across];
    field_.y = grid.line[cut_.up];
    field_.value.assign(field_.x.size() * field_.y.size(), 0.0);
    field_.filled.assign(field_.columns() * field_.rows(), false);
    const auto& depth = grid.line[third_];
    const double part =
        solid ? std::clamp((cut_.at - depth[layer_]) / (depth[layer_ + 1] - depth[layer_]), 0.0, 1.0) : 0.0;
    const std::array<std::size_t, 3> stride{1, grid.line[0].size(), solution_.stride};
    constexpr double none = std::numeric_limits<double>::quiet_NaN();
    const auto corner = [&](std::size_t i, std::size_t j, std::size_t k) {
        const std::size_t at =
            i * stride[cut_.across] + j * stride[cut_.up] + (solid ? k * stride[third_] : 0);
        double t = 0.0, sum = 0.0;
        for (std::size_t e = 0; e < temperatures.size(); ++e) {
            t += solution_.corner[e][at] * temperatures[e];
            sum += solution_.corner[e][at];
        }
        return sum > 0.5 ? t : none;
    };
    for (std::size_t j = 0; j < field_.y.size(); ++j) {
        for (std::size_t i = 0; i < field_.x.size(); ++i) {
            const double low = corner(i, j, layer_);
            field_.value[i + field_.x.size() * j] =
                solid ? low + part * (corner(i, j, layer_ + 1) - low) : low;
        }
    }
    carry_on();
    for (std::size_t j = 0; j < field_.rows(); ++j) {
        for (std::size_t i = 0; i < field_.columns(); ++i) {
            bool whole = std::isfinite(solution_.temperature(cell_of(i, j), temperatures));
            for (const std::size_t each : {0U, 1U, 2U, 3U})
                whole = whole && std::isfinite(field_.at(i + each % 2, j + each / 2));
            field_.filled[i + field_.columns() * j] = whole;
        }
    }
}

/// A cell that a slope cuts has corners in the air: the field goes on there as it was.
void Slice::carry_on() {
    const std::size_t wide = field_.x.size(), high = field_.y.size();
    const std::vector<double> known = field_.value;
    const auto value = [&](std::size_t i, std::size_t j) { return known[i + wide * j]; };
    for (std::size_t j = 0; j < high; ++j) {
        for (std::size_t i = 0; i < wide; ++i) {
            if (std::isfinite(value(i, j))) continue;
            double sum = 0.0, count = 0.0;
            const auto from = [&](const std::vector<double>& line, std::size_t at, double near, double far,
                                  std::size_t next, std::size_t after) {
                if (!std::isfinite(near)) return;
                const double slope = std::isfinite(far) ? (near - far) / (line[next] - line[after]) : 0.0;
                sum += near + slope * (line[at] - line[next]);
                count += 1.0;
            };
            if (i > 1) from(field_.x, i, value(i - 1, j), value(i - 2, j), i - 1, i - 2);
            if (i + 2 < wide) from(field_.x, i, value(i + 1, j), value(i + 2, j), i + 1, i + 2);
            if (j > 1) from(field_.y, j, value(i, j - 1), value(i, j - 2), j - 1, j - 2);
            if (j + 2 < high) from(field_.y, j, value(i, j + 1), value(i, j + 2), j + 1, j + 2);
            if (count > 0.0) field_.value[i + wide * j] = sum / count;
        }
    }
}

void Slice::read_flow(std::span<const double> temperatures) {
    const std::size_t columns = field_.columns(), rows = field_.rows();
    std::vector<Flow> middle(field_.filled.size());
    std::vector<double> conductivity(field_.filled.size(), 0.0);
    for (std::size_t j = 0; j < rows; ++j) {
        for (std::size_t i = 0; i < columns; ++i) {
            const std::size_t at = i + columns * j, cell = cell_of(i, j);
            if (!field_.filled[at]) continue;
            const auto q = conduction::flux(model_, solution_, cell, temperatures);
            const std::array<double, 3> part{q.x, q.y, q.z};
            middle[at] = {part[cut_.across], part[cut_.up], std::hypot(q.x, q.y, q.z)};
            const auto region = solution_.region[cell];
            // A cell that is mostly air: its heat goes through the material in it.
            conductivity[at] = region == no_region ? 0.0 : model_.regions[region].conductivity;
        }
    }
    flow_.resize(middle.size());
    for (std::size_t j = 0; j < rows; ++j) {
        for (std::size_t i = 0; i < columns; ++i) {
            const std::size_t at = i + columns * j;
            for (std::size_t corner = 0; corner < 4; ++corner) {
                Flow sum;
                double count = 0.0;
                for (std::size_t other = 0; other < 4; ++other) {
                    // Cells around the corner: this one's column or its neighbour's, and likewise the row.
                    const std::size_t oi = i + corner % 2 + other % 2, oj = j + corner / 2 + other / 2;
                    if (oi < 1 || oj < 1 || oi > columns || oj > rows) continue;
                    const std::size_t near = oi - 1 + columns * (oj - 1);
                    if (!field_.filled[near] || conductivity[near] != conductivity[at]) continue;
                    sum.across += middle[near].across;
                    sum.up += middle[near].up;
                    sum.size += middle[near].size;
                    count += 1.0;
                }
                if (count > 0.0) flow_[at][corner] = {sum.across / count, sum.up / count, sum.size / count};
            }
        }
    }
}

std::size_t Slice::column(double x) const {
    return interval(field_.x, x);
}

std::size_t Slice::row(double y) const {
    return interval(field_.y, y);
}

std::uint16_t Slice::region_at(const Point& p) const {
    for (std::size_t k = pieces_.size(); k-- > 0;) {
        if (bounds_[k].holds(p) && inside(pieces_[k].outline, p)) return pieces_[k].region;
    }
    return no_region;
}

bool Slice::is_material(const Point& p) const {
    const auto region = region_at(p);
    return region != no_region && !model_.regions[region].environment;
}

Point Slice::cell_size(const Point& p) const {
    const std::size_t i = column(p.x), j = row(p.y);
    return {field_.x[i + 1] - field_.x[i], field_.y[j + 1] - field_.y[j]};
}

std::optional<std::size_t> Slice::filled_near(const Point& p) const {
    const std::size_t i = column(p.x), j = row(p.y), columns = field_.columns();
    if (field_.filled[i + columns * j]) return i + columns * j;
    constexpr std::size_t reach = 2;
    std::optional<std::size_t> best;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t b = j > reach ? j - reach : 0; b <= std::min(j + reach, field_.rows() - 1); ++b) {
        for (std::size_t a = i > reach ? i - reach : 0; a <= std::min(i + reach, columns - 1); ++a) {
            if (!field_.filled[a + columns * b]) continue;
            const double dx = std::max({field_.x[a] - p.x, 0.0, p.x - field_.x[a + 1]});
            const double dy = std::max({field_.y[b] - p.y, 0.0, p.y - field_.y[b + 1]});
            const double away = dx * dx + dy * dy;
            if (away < least) {
                least = away;
                best = a + columns * b;
            }
        }
    }
    return best;
}

Point Slice::within(std::size_t cell, const Point& p) const {
    const std::size_t i = cell % field_.columns(), j = cell / field_.columns();
    return {std::clamp((p.x - field_.x[i]) / (field_.x[i + 1] - field_.x[i]), 0.0, 1.0),
            std::clamp((p.y - field_.y[j]) / (field_.y[j + 1] - field_.y[j]), 0.0, 1.0)};
}

std::optional<double> Slice::temperature(const Point& p) const {
    const auto cell = filled_near(p);
    if (!cell) return std::nullopt;
    const std::size_t i = *cell % field_.columns(), j = *cell / field_.columns();
    const auto [u, v] = within(*cell, p);
    return (1.0 - v) * ((1.0 - u) * field_.at(i, j) + u * field_.at(i + 1, j)) +
           v * ((1.0 - u) * field_.at(i, j + 1) + u * field_.at(i + 1, j + 1));
}

std::optional<Flow> Slice::flow(const Point& p) const {
    if (!is_material(p)) return std::nullopt;
    const auto cell = filled_near(p);
    if (!cell) return std::nullopt;
    const auto [u, v] = within(*cell, p);
    const std::array<double, 4> share{(1.0 - u) * (1.0 - v), u * (1.0 - v), (1.0 - u) * v, u * v};
    Flow out;
    for (std::size_t corner = 0; corner < 4; ++corner) {
        const Flow& each = flow_[*cell][corner];
        out.across += share[corner] * each.across;
        out.up += share[corner] * each.up;
        out.size += share[corner] * each.size;
    }
    return out;
}

std::vector<Edge> Slice::edges(std::span<const std::string> words) const {
    std::vector<Edge> out;
    std::set<std::tuple<long long, long long, long long, long long>> seen;
    const auto kind_of = [&](const Point& p) -> std::pair<int, const std::string*> {
        const auto region = region_at(p);
        if (region == no_region) return {2, nullptr};
        return {model_.regions[region].environment ? 1 : 0, &words[region]};
    };
    for (const Piece& piece : pieces_) {
        for (std::size_t i = 0; i < piece.outline.size(); ++i) {
            const Point a = piece.outline[i], b = piece.outline[(i + 1) % piece.outline.size()];
            const double length = std::hypot(b.x - a.x, b.y - a.y);
            if (!(length > same)) continue;
            const Point side{-(b.y - a.y) / length * beside, (b.x - a.x) / length * beside};
            const auto at = stops(a, b, pieces_, bounds_);
            bool running = false;
            for (std::size_t k = 0; k + 1 < at.size(); ++k) {
                if ((at[k + 1] - at[k]) * length < beside) continue;
                const double middle = 0.5 * (at[k] + at[k + 1]);
                const Point m{a.x + middle * (b.x - a.x), a.y + middle * (b.y - a.y)};
                const auto left = kind_of({m.x + side.x, m.y + side.y}),
                           right = kind_of({m.x - side.x, m.y - side.y});
                const bool material = left.first == 0 || right.first == 0;
                const bool differ =
                    left.first != right.first || (left.second && *left.second != *right.second);
                if (!material || !differ) {
                    running = false;
                    continue;
                }
                const int other = std::max(left.first, right.first);
                const auto kind = other == 0   ? Edge::Kind::inner
                                  : other == 1 ? Edge::Kind::surface
                                               : Edge::Kind::end;
                const Point from{a.x + at[k] * (b.x - a.x), a.y + at[k] * (b.y - a.y)},
                    to{a.x + at[k + 1] * (b.x - a.x), a.y + at[k + 1] * (b.y - a.y)};
                const auto key = [](double v) { return std::llround(v * 1e7); };
                auto one = std::tuple(key(from.x), key(from.y), key(to.x), key(to.y));
                const auto back = std::tuple(key(to.x), key(to.y), key(from.x), key(from.y));
                if (!seen.insert(std::min(one, back)).second) {
                    running = false;
                    continue;
                }
                if (running && out.back().kind == kind)
                    out.back().to = to;
                else
                    out.push_back({from, to, kind});
                running = true;
            }
        }
    }
    return out;
}

Window Slice::whole() const {
    constexpr double far = std::numeric_limits<double>::infinity();
    Window out{far, -far, far, -far};
    for (std::size_t k = 0; k < pieces_.size(); ++k) {
        if (model_.regions[pieces_[k].region].environment) continue;
        out.left = std::min(out.left, bounds_[k].left), out.right = std::max(out.right, bounds_[k].right);
        out.bottom = std::min(out.bottom, bounds_[k].bottom), out.top = std::max(out.top, bounds_[k].top);
    }
    return out.right > out.left ? out : Window{0.0, 1.0, 0.0, 1.0};
}

Window Slice::worth_seeing() const {
    constexpr double large = 4.0, margin_least = 0.5;  // m
    const Window all = whole();
    constexpr double far = std::numeric_limits<double>::infinity();
    Window core{far, -far, far, -far};
    for (const Piece& piece : pieces_) {
        if (model_.regions[piece.region].environment) continue;
        for (const Point& p : piece.outline) {
            if (p.x > all.left + same && p.x < all.right - same)
                core.left = std::min(core.left, p.x), core.right = std::max(core.right, p.x);
            if (p.y > all.bottom + same && p.y < all.top - same)
                core.bottom = std::min(core.bottom, p.y), core.top = std::max(core.top, p.y);
        }
    }
    const auto axis = [&](double& low, double& high, double from, double to) {
        const double margin = std::max(margin_least, 0.35 * (to - from));
        if (high - low < large || !(to >= from) || high - low < 1.6 * (to - from + 2.0 * margin)) return;
        low = std::max(low, from - margin);
        high = std::min(high, to + margin);
    };
    Window out = all;
    axis(out.left, out.right, core.left, core.right);
    axis(out.bottom, out.top, core.bottom, core.top);
    return out;
}

}  // namespace warmside::drawing
