#include "assembly/roof_bodies.h"

#include <algorithm>

namespace warmside::assembly {

namespace {

constexpr std::size_t most_corners = 24;
constexpr std::array sides{Side::south, Side::east, Side::north, Side::west};

std::vector<double> steps_of(const std::vector<Point>& outline, bool x) {
    std::vector<double> out;
    for (const Point& p : outline) out.push_back(static_cast<double>((x ? p.x : p.y).count()));
    std::sort(out.begin(), out.end());
    out.erase(std::unique(out.begin(), out.end()), out.end());
    return out;
}

// By the edges that a ray to the west crosses.
bool holds(const std::vector<Point>& outline, double x, double y) {
    bool in = false;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point &a = outline[i], &b = outline[(i + 1) % outline.size()];
        const auto at = [](Exact e) { return static_cast<double>(e.count()); };
        if (a.x != b.x || at(a.x) > x) continue;
        if ((at(a.y) > y) != (at(b.y) > y)) in = !in;
    }
    return in;
}

bool all_inside(const RoofGrid& grid, const CellBox& b) {
    for (int i = b.i0; i < b.i1; ++i) {
        for (int j = b.j0; j < b.j1; ++j) {
            if (!grid.in(i, j)) return false;
        }
    }
    return true;
}

double area(const RoofGrid& grid, const CellBox& b) {
    const auto at = [](const std::vector<double>& v, int i) { return v[static_cast<std::size_t>(i)]; };
    return (at(grid.x, b.i1) - at(grid.x, b.i0)) * (at(grid.y, b.j1) - at(grid.y, b.j0));
}

CellBox beside(const CellBox& b, Side side) {
    switch (side) {
        case Side::south: return {b.i0, b.j0 - 1, b.i1, b.j0};
        case Side::east: return {b.i1, b.j0, b.i1 + 1, b.j1};
        case Side::north: return {b.i0, b.j1, b.i1, b.j1 + 1};
        case Side::west: break;
    }
    return {b.i0 - 1, b.j0, b.i0, b.j1};
}

// Bodies in the making: which of them owns each cell.
class Division {
public:
    Division(const RoofGrid& grid, const CellBox& main, bool east_west)
        : grid_(grid), owner_(grid.x.size(), std::vector<int>(grid.y.size(), -1)) {
        add(main, east_west, -1, east_west ? Side::west : Side::south);
        for (std::size_t k = 0; k < boxes_.size() && fits_; ++k) attach(k);
    }

    [[nodiscard]] bool complete() const {
        if (!fits_) return false;
        for (int i = 0; i + 1 < static_cast<int>(grid_.x.size()); ++i) {
            for (int j = 0; j + 1 < static_cast<int>(grid_.y.size()); ++j) {
                if (grid_.in(i, j) && owner(i, j) < 0) return false;
            }
        }
        return ends_outside();
    }
    [[nodiscard]] const std::vector<RoofBody>& bodies() const { return bodies_; }

private:
    [[nodiscard]] int owner(int i, int j) const {
        return owner_[static_cast<std::size_t>(i)][static_cast<std::size_t>(j)];
    }
    [[nodiscard]] bool open(int i, int j) const { return grid_.in(i, j) && owner(i, j) < 0; }
    [[nodiscard]] bool all_open(const CellBox& b) const {
        for (int i = b.i0; i < b.i1; ++i) {
            for (int j = b.j0; j < b.j1; ++j) {
                if (!open(i, j)) return false;
            }
        }
        return true;
    }

    void add(const CellBox& b, bool east_west, int parent, Side tip) {
        const auto at = [](const std::vector<double>& v, int i) { return v[static_cast<std::size_t>(i)]; };
        for (int i = b.i0; i < b.i1; ++i) {
            for (int j = b.j0; j < b.j1; ++j)
                owner_[static_cast<std::size_t>(i)][static_cast<std::size_t>(j)] =
                    static_cast<int>(boxes_.size());
        }
        boxes_.push_back(b);
        bodies_.push_back({.west = at(grid_.x, b.i0),
                           .east = at(grid_.x, b.i1),
                           .south = at(grid_.y, b.j0),
                           .north = at(grid_.y, b.j1),
                           .ridge_east_west = east_west,
                           .parent = parent,
                           .tip = tip});
    }

    // Wings on both eaves of a body: over each open stretch as far out as all of it goes.
    void attach(std::size_t k) {
        const CellBox body = boxes_[k];
        const bool east_west = bodies_[k].ridge_east_west;
        const int first = east_west ? body.i0 : body.j0, last = east_west ? body.i1 : body.j1;
        for (const Side side :
             east_west ? std::array{Side::south, Side::north} : std::array{Side::west, Side::east}) {
            const CellBox row = beside(body, side);
            for (int from = first; from < last; ++from) {
                int to = from;
                while (to < last && (east_west ? open(to, row.j0) : open(row.i0, to))) ++to;
                if (to == from) continue;
                CellBox wing =
                    east_west ? CellBox{from, row.j0, to, row.j1} : CellBox{row.i0, from, row.i1, to};
                for (CellBox more = beside(wing, side); all_open(more); more = beside(wing, side))
                    wing = {std::min(wing.i0, more.i0), std::min(wing.j0, more.j0),
                            std::max(wing.i1, more.i1), std::max(wing.j1, more.j1)};
                add(wing, !east_west, static_cast<int>(k), side);
                if (bodies_.back().span() > bodies_[k].span()) fits_ = false;
                from = to;
            }
        }
    }

    [[nodiscard]] bool ends_outside() const {
        for (std::size_t k = 0; k < boxes_.size(); ++k) {
            const RoofBody& body = bodies_[k];
            std::vector<Side> ends{body.tip};
            if (body.parent < 0) ends.push_back(opposite(body.tip));
            for (const Side end : ends) {
                const CellBox next = beside(boxes_[k], end);
                for (int i = next.i0; i < next.i1; ++i) {
                    for (int j = next.j0; j < next.j1; ++j) {
                        if (grid_.in(i, j)) return false;
                    }
                }
            }
        }
        return true;
    }

    const RoofGrid& grid_;
    std::vector<std::vector<int>> owner_;
    std::vector<CellBox> boxes_;
    std::vector<RoofBody> bodies_;
    bool fits_ = true;
};

}  // namespace

bool RoofGrid::in(int i, int j) const {
    return i >= 0 && j >= 0 && i + 1 < static_cast<int>(x.size()) && j + 1 < static_cast<int>(y.size()) &&
           inside[static_cast<std::size_t>(i)][static_cast<std::size_t>(j)];
}

std::optional<RoofGrid> grid_of(const std::vector<Point>& outline) {
    if (outline.size() < 4 || outline.size() > most_corners) return std::nullopt;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point &a = outline[i], &b = outline[(i + 1) % outline.size()];
        if ((a.x == b.x) == (a.y == b.y)) return std::nullopt;
    }
    RoofGrid grid{.x = steps_of(outline, true), .y = steps_of(outline, false), .inside = {}};
    grid.inside.assign(grid.x.size() - 1, std::vector<bool>(grid.y.size() - 1, false));
    for (std::size_t i = 0; i + 1 < grid.x.size(); ++i) {
        for (std::size_t j = 0; j + 1 < grid.y.size(); ++j) {
            grid.inside[i][j] =
                holds(outline, (grid.x[i] + grid.x[i + 1]) / 2, (grid.y[j] + grid.y[j + 1]) / 2);
        }
    }
    return grid;
}

std::vector<CellBox> greatest_rectangles(const RoofGrid& grid) {
    const int nx = static_cast<int>(grid.x.size()) - 1, ny = static_cast<int>(grid.y.size()) - 1;
    std::vector<CellBox> out;
    for (int i0 = 0; i0 < nx; ++i0) {
        for (int i1 = i0 + 1; i1 <= nx; ++i1) {
            for (int j0 = 0; j0 < ny; ++j0) {
                for (int j1 = j0 + 1; j1 <= ny; ++j1) {
                    const CellBox box{i0, j0, i1, j1};
                    if (!all_inside(grid, box)) break;
                    const bool grows = std::any_of(sides.begin(), sides.end(), [&](Side side) {
                        return all_inside(grid, beside(box, side));
                    });
                    if (!grows) out.push_back(box);
                }
            }
        }
    }
    std::stable_sort(out.begin(), out.end(),
                     [&](const CellBox& a, const CellBox& b) { return area(grid, a) > area(grid, b); });
    return out;
}

std::vector<RoofBody> bodies_of(const RoofGrid& grid, bool east_west) {
    for (const CellBox& main : greatest_rectangles(grid)) {
        const Division division(grid, main, east_west);
        if (division.complete()) return division.bodies();
    }
    return {};
}

}  // namespace warmside::assembly
