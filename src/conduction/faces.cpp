#include "conduction/faces.h"

#include <algorithm>
#include <cmath>

namespace warmside::conduction {

namespace {

// Part of a cell's side that one piece holds.
struct Stretch {
    double from = 0.0, to = 0.0;
    std::uint32_t first = 0, last = 0;  // nodes
    std::uint16_t region = no_region;
};

class Faces {
public:
    Faces(const Model& model, const Grid& grid, const Metric& metric, const Plan& plan, std::size_t storey,
          const std::vector<double>& lambda)
        : model_(model),
          grid_(grid),
          metric_(metric),
          plan_(plan),
          region_(plan.region[storey]),
          piece_(plan.piece_region[storey]),
          lambda_(lambda) {}

    PlanFaces run() {
        const std::size_t nx = plan_.nx, ny = plan_.ny;
        out_.east.assign(nx * ny, 0.0);
        out_.north.assign(nx * ny, 0.0);
        for (std::size_t j = 0, c = 0; j < ny; ++j)
            for (std::size_t i = 0; i < nx; ++i, ++c) {
                if (i > 0) face(c, c - 1, 0, 0);
                if (i + 1 < nx) out_.east[c] = face(c, c + 1, 0, 1);
                if (j > 0) face(c, c - nx, 1, 0);
                if (j + 1 < ny) out_.north[c] = face(c, c + nx, 1, 1);
                if (const CutCell* cut = plan_.cut_at(c)) slopes(*cut);
            }
        return std::move(out_);
    }

private:
    // Conductance between two neighbours; the patches of `c` on that face go to the list.
    double face(std::size_t c, std::size_t n, std::size_t axis, std::size_t side) {
        const CutCell* here = plan_.cut_at(c);
        const CutCell* there = plan_.cut_at(n);
        if (here != nullptr || there != nullptr) return cut_face(c, n, axis, side);
        const std::uint16_t a = region_[c], b = region_[n];
        if (!is_material(model_, a)) return 0.0;
        const double area = measure(c, axis, side, low(c, 1 - axis), high(c, 1 - axis));
        const double half = whole_half(c, axis, side) / lambda_[a];
        if (is_air(model_, b)) {
            const auto [first, last] = side_nodes(c, axis, side);
            patch(c, axis, side, {.first = first, .last = last, .region = a}, b, area, half);
        }
        if (!is_material(model_, b) || side == 0) return 0.0;
        return area / (half + whole_half(n, axis, 0) / lambda_[b]);
    }

    double cut_face(std::size_t c, std::size_t n, std::size_t axis, std::size_t side) {
        const auto ours = stretches(c, axis, side), theirs = stretches(n, axis, 1 - side);
        const bool pierced = has_opening(c) || has_opening(n);
        double sum = 0.0, open = 0.0;
        for (std::size_t u = 0, v = 0; u < ours.size() && v < theirs.size();) {
            const Stretch& a = ours[u];
            const Stretch& b = theirs[v];
            Stretch s{.from = std::max(a.from, b.from), .to = std::min(a.to, b.to), .region = a.region};
            s.first = a.from >= b.from ? a.first : b.first;
            s.last = a.to <= b.to ? a.last : b.last;
            if (s.to > s.from && is_material(model_, a.region)) {
                const double area = measure(c, axis, side, s.from, s.to), mid = 0.5 * (s.from + s.to);
                const double half = path(c, axis, side, mid, lambda_[a.region]);
                if (is_material(model_, b.region)) {
                    sum += area / (half + path(n, axis, 1 - side, mid, lambda_[b.region]));
                    open += area;
                } else if (is_air(model_, b.region)) {
                    patch(c, axis, side, s, b.region, area, half);
                }
            }
            (a.to < b.to ? u : v) += 1;
        }
        if (side == 0 || open == 0.0 || pierced) return side == 0 ? 0.0 : sum;
        // Along the line through both centres: exact where heat flows straight across a sloped interface.
        const double middle = grid_.centre(1 - axis, 1 - axis == 0 ? c % plan_.nx : c / plan_.nx);
        return open / (path(c, axis, 1, middle, 1.0) + path(n, axis, 0, middle, 1.0));
    }

    void patch(std::size_t c, std::size_t axis, std::size_t side, const Stretch& s, std::uint16_t air,
               double area, double half) {
        if (area <= 0.0) return;
        PlanPatch p{.cell = static_cast<std::uint32_t>(c),
                    .side = static_cast<std::uint8_t>(2 * axis + side),
                    .end = {s.first, s.last},
                    .region = s.region,
                    .air = air,
                    .area = area,
                    .film = film_between(model_, s.region, air)};
        p.conductance = area / (half + p.film);
        out_.patch.push_back(p);
    }

    // Surfaces within a cut cell. The cell's temperature stands at its centre, which may lie beyond the
    // surface: the resistance counts back from there, but not below half the film.
    void slopes(const CutCell& cut) {
        const std::size_t i = cut.cell % plan_.nx, j = cut.cell / plan_.nx;
        const double x = grid_.centre(0, i), y = grid_.centre(1, j);
        const double least = 0.05 * std::min(grid_.width(0, i), grid_.width(1, j));
        for (std::size_t p = 0; p < cut.piece.size(); ++p) {
            const std::uint16_t a = piece_[cut.first_piece + p];
            if (!is_material(model_, a)) continue;
            const auto& node = cut.piece[p].node;
            for (std::size_t v = 0; v < node.size(); ++v) {
                const std::uint32_t from = node[v], to = node[(v + 1) % node.size()];
                const std::uint16_t b = beyond(cut, from, to);
                if (!is_air(model_, b)) continue;
                const Point& s = plan_.node[from];
                const Point& e = plan_.node[to];
                const double length = std::hypot(e.x - s.x, e.y - s.y);
                const double depth = ((s.x - x) * (e.y - s.y) - (s.y - y) * (e.x - s.x)) / length;
                PlanPatch patch{.cell = cut.cell,
                                .side = 6,
                                .end = {from, to},
                                .region = a,
                                .air = b,
                                .area = length * metric_.weight(0.5 * (s.x + e.x)),
                                .film = film_between(model_, a, b)};
                const double half = depth > 0.0 ? straight(cut, {x, y}, s, e, depth, a) : depth / lambda_[a];
                const double resistance = std::max({patch.film + half, 0.5 * patch.film, least / lambda_[a]});
                patch.conductance = patch.area / resistance;
                if (patch.area > 0.0) out_.patch.push_back(patch);
            }
        }
    }

    // m2 K/W from the cell's centre straight to the line of an edge; beyond the cell in the edge's own
    // material.
    double straight(const CutCell& cut, const Point& centre, const Point& s, const Point& e, double depth,
                    std::uint16_t own) const {
        const double length = std::hypot(e.x - s.x, e.y - s.y);
        const Point out{(e.y - s.y) / length, (s.x - e.x) / length};
        double sum = 0.0, covered = 0.0;
        for (std::size_t p = 0; p < cut.piece.size(); ++p) {
            const std::uint16_t r = piece_[cut.first_piece + p];
            if (!is_material(model_, r)) continue;
            double from = 0.0, to = depth;
            const auto& node = cut.piece[p].node;
            for (std::size_t v = 0; v < node.size(); ++v) {
                // Within a piece lies what is left of all its edges.
                const Point& a = plan_.node[node[v]];
                const Point& b = plan_.node[node[(v + 1) % node.size()]];
                const double at = (b.x - a.x) * (centre.y - a.y) - (b.y - a.y) * (centre.x - a.x);
                const double rate = (b.x - a.x) * out.y - (b.y - a.y) * out.x;
                if (rate == 0.0) {
                    if (at < 0.0) to = from;
                } else if (rate > 0.0) {
                    from = std::max(from, -at / rate);
                } else {
                    to = std::min(to, -at / rate);
                }
            }
            if (to <= from) continue;
            sum += (to - from) / lambda_[r];
            covered += to - from;
        }
        return sum + std::max(0.0, depth - covered) / lambda_[own];
    }

    // Region of the piece that has the same edge the other way round.
    std::uint16_t beyond(const CutCell& cut, std::uint32_t from, std::uint32_t to) const {
        for (std::size_t p = 0; p < cut.piece.size(); ++p) {
            const auto& node = cut.piece[p].node;
            for (std::size_t v = 0; v < node.size(); ++v)
                if (node[v] == to && node[(v + 1) % node.size()] == from) return piece_[cut.first_piece + p];
        }
        return no_region;
    }

    bool has_opening(std::size_t c) const {
        const CutCell* cut = plan_.cut_at(c);
        if (cut == nullptr) return !is_material(model_, region_[c]);
        for (std::size_t p = 0; p < cut->piece.size(); ++p)
            if (!is_material(model_, piece_[cut->first_piece + p])) return true;
        return false;
    }

    std::vector<Stretch> stretches(std::size_t c, std::size_t axis, std::size_t side) const {
        std::vector<Stretch> out;
        const CutCell* cut = plan_.cut_at(c);
        if (cut == nullptr) {
            const auto [first, last] = side_nodes(c, axis, side);
            out.push_back({low(c, 1 - axis), high(c, 1 - axis), first, last, region_[c]});
            return out;
        }
        const double face = side == 0 ? low(c, axis) : high(c, axis);
        const double near = 1e-6 * grid_.width(axis, axis == 0 ? c % plan_.nx : c / plan_.nx);
        for (std::size_t p = 0; p < cut->piece.size(); ++p) {
            const auto& node = cut->piece[p].node;
            for (std::size_t v = 0; v < node.size(); ++v) {
                std::uint32_t a = node[v], b = node[(v + 1) % node.size()];
                if (std::abs(along(a, axis) - face) > near || std::abs(along(b, axis) - face) > near)
                    continue;
                if (along(a, 1 - axis) > along(b, 1 - axis)) std::swap(a, b);
                out.push_back({along(a, 1 - axis), along(b, 1 - axis), a, b, piece_[cut->first_piece + p]});
            }
        }
        std::sort(out.begin(), out.end(), [](const Stretch& a, const Stretch& b) { return a.from < b.from; });
        return out;
    }

    // m2 K/W from a face to the cell's centre along the line at `across`; where the line leaves the material
    // it goes on in what it came from.
    double path(std::size_t c, std::size_t axis, std::size_t side, double across, double own) const {
        const CutCell* cut = plan_.cut_at(c);
        if (cut == nullptr) return whole_half(c, axis, side) / lambda_[region_[c]];
        const double face = side == 0 ? low(c, axis) : high(c, axis);
        const double centre = grid_.centre(axis, axis == 0 ? c % plan_.nx : c / plan_.nx);
        const double from = std::min(face, centre), to = std::max(face, centre);
        double sum = 0.0, covered = 0.0;
        for (std::size_t p = 0; p < cut->piece.size(); ++p) {
            const std::uint16_t r = piece_[cut->first_piece + p];
            if (!is_material(model_, r)) continue;
            const auto [a, b] = chord(cut->piece[p], axis, across);
            const double start = std::max(a, from), end = std::min(b, to);
            if (end <= start) continue;
            const double length = metric_.length(axis, start, end, face);
            sum += length / lambda_[r];
            covered += length;
        }
        return sum + std::max(0.0, metric_.length(axis, from, to, face) - covered) / own;
    }

    std::pair<double, double> chord(const Piece& piece, std::size_t axis, double across) const {
        double from = std::numeric_limits<double>::infinity(), to = -from;
        for (std::size_t v = 0; v < piece.node.size(); ++v) {
            const std::uint32_t a = piece.node[v], b = piece.node[(v + 1) % piece.node.size()];
            const double ua = along(a, 1 - axis), ub = along(b, 1 - axis);
            if ((ua > across) == (ub > across)) continue;
            const double x = along(a, axis) + (along(b, axis) - along(a, axis)) * (across - ua) / (ub - ua);
            from = std::min(from, x);
            to = std::max(to, x);
        }
        return {from, to};
    }

    double measure(std::size_t c, std::size_t axis, std::size_t side, double from, double to) const {
        if (axis == 0) return metric_.around[c % plan_.nx + side] * (to - from);
        return metric_.weight(0.5 * (from + to)) * (to - from);
    }
    double whole_half(std::size_t c, std::size_t axis, std::size_t side) const {
        return (side == 0 ? metric_.to_low : metric_.to_high)[axis][axis == 0 ? c % plan_.nx : c / plan_.nx];
    }
    double low(std::size_t c, std::size_t axis) const {
        return grid_.line[axis][axis == 0 ? c % plan_.nx : c / plan_.nx];
    }
    double high(std::size_t c, std::size_t axis) const {
        return grid_.line[axis][(axis == 0 ? c % plan_.nx : c / plan_.nx) + 1];
    }
    double along(std::uint32_t node, std::size_t axis) const {
        return axis == 0 ? plan_.node[node].x : plan_.node[node].y;
    }
    std::pair<std::uint32_t, std::uint32_t> side_nodes(std::size_t c, std::size_t axis,
                                                       std::size_t side) const {
        const std::size_t row = plan_.nx + 1, first = c % plan_.nx + row * (c / plan_.nx);
        const std::size_t a = first + side * (axis == 0 ? 1 : row);
        return {static_cast<std::uint32_t>(a), static_cast<std::uint32_t>(a + (axis == 0 ? row : 1))};
    }

    const Model& model_;
    const Grid& grid_;
    const Metric& metric_;
    const Plan& plan_;
    const std::vector<std::uint16_t>& region_;
    const std::vector<std::uint16_t>& piece_;
    const std::vector<double>& lambda_;
    PlanFaces out_;
};

}  // namespace

PlanFaces plan_faces(const Model& model, const Grid& grid, const Metric& metric, const Plan& plan,
                     std::size_t storey, const std::vector<double>& lambda) {
    return Faces(model, grid, metric, plan, storey, lambda).run();
}

std::vector<double> conductivities(const Model& model) {
    std::vector<double> out;
    for (const Region& r : model.regions) out.push_back(r.environment ? 0.0 : r.conductivity);
    return out;
}

}  // namespace warmside::conduction
