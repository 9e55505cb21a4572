#include "conduction/smoother.h"

#include <algorithm>
#include <array>

namespace warmside::conduction {

namespace {

void relax_slice(Level& l, std::size_t s, unsigned colour, bool from_zero) {
    const std::size_t rows = l.slice_rows();
    for (std::size_t j = 0; j < rows; ++j) {
        const Row row = l.row((s * rows + j) * l.n[0]);
        const auto parity = static_cast<unsigned>(s + (rows > 1 ? j : 0)) + colour;
        if (from_zero) {
            start_row(row, parity);
        } else {
            relax_row(row, parity);
        }
    }
}

// The lines of a level along one axis.
class Lines {
public:
    Lines(Level& level, std::size_t axis, LineTile& tile)
        : level_(level), axis_(axis), tile_(tile), n_(level.n), stride_{1, n_[0], n_[0] * n_[1]} {
        const std::array<const float*, 3> g{level.east.data(), level.north.data(),
                                            level.solid ? level.up.data() : nullptr};
        along_ = g[axis];
        const std::size_t a = axis == 0 ? 1 : 0, b = axis == 2 ? 1 : 2;
        across_ = {.g1 = g[a],
                   .g2 = g[b],
                   .step1 = static_cast<std::ptrdiff_t>(stride_[a]),
                   .step2 = static_cast<std::ptrdiff_t>(stride_[b])};
        make_room(tile, n_[axis]);
    }

    // Slices only meet the next ones: planes in three dimensions (along z: of the y axis), bands of lines in
    // two.
    [[nodiscard]] static std::size_t slices(const Level& level, std::size_t axis) {
        if (level.solid) return level.n[axis == 2 ? 1 : 2];
        return axis == 0 ? (level.n[1] + 2 * row_lanes - 1) / (2 * row_lanes)
                         : (level.n[0] + 2 * column_lanes - 1) / (2 * column_lanes);
    }

    void slice(std::size_t s, unsigned colour) {
        if (axis_ == 0) {
            if (!level_.solid) return rows(s * 2 * row_lanes + colour, 0);
            for (std::size_t j = (s + colour) % 2; j < n_[1]; j += 2 * row_lanes) rows(j, s * stride_[2]);
        } else {
            if (!level_.solid) return columns(s * 2 * column_lanes + colour, 0);
            const std::size_t start = s * stride_[axis_ == 1 ? 2 : 1];
            for (std::size_t i = (s + colour) % 2; i < n_[0]; i += 2 * column_lanes) columns(i, start);
        }
    }

private:
    [[nodiscard]] LineCells cells(std::size_t at) const {
        Across across = across_;
        across.g1 += at;
        if (across.g2) across.g2 += at;
        return {.along = along_ + at,
                .ground = level_.ground.data() + at,
                .b = level_.b.data() + at,
                .x = level_.x.data() + at,
                .across = across};
    }

    // Every other row from row `j` of the plane that begins at cell `plane`, as many as a tile holds.
    void rows(std::size_t j, std::size_t plane) {
        for (std::size_t lane = 0, row = j; lane < row_lanes && row < n_[1]; ++lane, row += 2)
            take_row(tile_, lane, n_[0], cells(plane + row * n_[0]));
        solve_lines<row_lanes>(tile_, n_[0]);
        for (std::size_t lane = 0, row = j; lane < row_lanes && row < n_[1]; ++lane, row += 2)
            give_row(tile_, lane, n_[0], level_.x.data() + plane + row * n_[0]);
    }

    // Every other column from column `i`, the lines beginning at cell `start` + column.
    void columns(std::size_t i, std::size_t start) {
        if (i >= n_[0]) return;
        const std::size_t lanes = std::min(column_lanes, (n_[0] - i + 1) / 2);
        const auto at = [&](std::size_t place) { return start + i + place * stride_[axis_]; };
        for (std::size_t place = 0; place < n_[axis_]; ++place)
            take_columns(tile_, place, lanes, cells(at(place)));
        solve_lines<column_lanes>(tile_, n_[axis_]);
        for (std::size_t place = 0; place < n_[axis_]; ++place)
            give_columns(tile_, place, lanes, level_.x.data() + at(place));
    }

    Level& level_;
    std::size_t axis_;
    LineTile& tile_;
    std::array<std::size_t, 3> n_, stride_;
    const float* along_ = nullptr;
    Across across_;
};

}  // namespace

// Both colours in one pass over memory: the second follows a slice behind. At the seams between members
// the second colour waits for the first of the neighbour, so that the result is that of one thread.
template <class Task>
void Smoother::both_colours(std::size_t slices, unsigned first, unsigned crowd, unsigned member, Task task) {
    const std::size_t from = slices * member / crowd, to = slices * (member + 1) / crowd;
    const auto waits = [&](std::size_t s) { return (s == from && from > 0) || (s + 1 == to && to < slices); };
    for (std::size_t s = from; s < to; ++s) {
        task(s, first);
        if (s > from && !waits(s - 1)) task(s - 1, 1 - first);
    }
    if (to > from && !waits(to - 1)) task(to - 1, 1 - first);
    meet(crowd);
    for (std::size_t s = from; s < to; ++s) {
        if (waits(s)) task(s, 1 - first);
    }
    meet(crowd);
}

// In the blended rows of a neighbour's seam cells of the other colour are written with the value that they
// have.
void Smoother::points(Level& l, unsigned first, bool from_zero, unsigned crowd, unsigned member) {
    both_colours(l.slices(), first, crowd, member, [&](std::size_t s, unsigned colour) {
        relax_slice(l, s, colour, from_zero && colour == first);
    });
}

void Smoother::lines(Level& l, std::size_t axis, unsigned first, unsigned crowd, unsigned member) {
    Lines lines(l, axis, tile_[member]);
    both_colours(Lines::slices(l, axis), first, crowd, member,
                 [&](std::size_t s, unsigned colour) { lines.slice(s, colour); });
}

void Smoother::start(Level& l, unsigned crowd, unsigned member) {
    if (!l.uneven) return points(l, 0, true, crowd, member);
    const std::size_t cells = l.cells();
    std::fill(l.x.data() + cells * member / crowd, l.x.data() + cells * (member + 1) / crowd, 0.0F);
    meet(crowd);
    for (std::size_t axis = 0; axis < l.axes(); ++axis) lines(l, axis, 0, crowd, member);
}

void Smoother::finish(Level& l, unsigned crowd, unsigned member) {
    if (!l.uneven) return points(l, 1, false, crowd, member);
    for (std::size_t axis = l.axes(); axis-- > 0;) lines(l, axis, 1, crowd, member);
}

}  // namespace warmside::conduction
