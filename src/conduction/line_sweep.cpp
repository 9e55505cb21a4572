#include "conduction/line_sweep.h"

#include <algorithm>

namespace warmside::conduction {

namespace {

struct Pull {
    float excess, value;
};

// What holds cell `i` from outside its line, and the right-hand side with what it brings.
template <bool solid>
inline Pull pull(const LineCells& c, std::ptrdiff_t i) {
    const float* const x = c.x;
    const auto [g1, g2, step1, step2] = c.across;
    Pull out{.excess = c.ground[i] + g1[i] + g1[i - step1],
             .value = c.b[i] + g1[i] * x[i + step1] + g1[i - step1] * x[i - step1]};
    if constexpr (solid) {
        out.excess += g2[i] + g2[i - step2];
        out.value += g2[i] * x[i + step2] + g2[i - step2] * x[i - step2];
    }
    return out;
}

template <bool solid, std::size_t stride, std::ptrdiff_t every>
void take(LineTile& tile, std::size_t first, std::size_t count, const LineCells& given) {
    const LineCells c = given;
    float* const __restrict excess = tile.excess.data() + first;
    float* const __restrict link = tile.link.data() + first;
    float* const __restrict value = tile.value.data() + first;
    for (std::size_t n = 0; n < count; ++n) {
        const auto i = static_cast<std::ptrdiff_t>(n) * every;
        const Pull p = pull<solid>(c, i);
        excess[n * stride] = p.excess;
        link[n * stride] = c.along[i];
        value[n * stride] = p.value;
    }
}

}  // namespace

void make_room(LineTile& tile, std::size_t length) {
    const std::size_t places = length * std::max(row_lanes, column_lanes);
    for (auto* each : {&tile.excess, &tile.link, &tile.value})
        if (each->size() < places) each->assign(places, 0.0F);
}

void take_row(LineTile& tile, std::size_t lane, std::size_t length, const LineCells& row) {
    if (row.across.g2) {
        take<true, row_lanes, 1>(tile, lane, length, row);
    } else {
        take<false, row_lanes, 1>(tile, lane, length, row);
    }
}

void give_row(const LineTile& tile, std::size_t lane, std::size_t length, float* x) {
    for (std::size_t i = 0; i < length; ++i) x[i] = tile.value[i * row_lanes + lane];
}

void take_columns(LineTile& tile, std::size_t place, std::size_t lanes, const LineCells& cells) {
    if (cells.across.g2) {
        take<true, 1, 2>(tile, place * column_lanes, lanes, cells);
    } else {
        take<false, 1, 2>(tile, place * column_lanes, lanes, cells);
    }
}

void give_columns(const LineTile& tile, std::size_t place, std::size_t lanes, float* x) {
    for (std::size_t lane = 0; lane < lanes; ++lane) x[2 * lane] = tile.value[place * column_lanes + lane];
}

template <std::size_t lanes>
void solve_lines(LineTile& tile, std::size_t length) {
    float* const __restrict excess = tile.excess.data();
    float* const __restrict link = tile.link.data();
    float* const __restrict value = tile.value.data();
    float low[lanes] = {}, held[lanes] = {}, before[lanes] = {};  // of the place before
    for (std::size_t i = 0; i < length; ++i) {
        for (std::size_t l = 0; l < lanes; ++l) {
            const std::size_t at = i * lanes + l;
            // The line so far holds this cell by its excess in series with the link.
            const float e = excess[at] + low[l] * held[l];
            const float pivot = e + link[at];
            const float inverse = pivot > 0.0F ? 1.0F / pivot : 0.0F;
            const float v = (value[at] + low[l] * before[l]) * inverse;
            held[l] = e * inverse;
            before[l] = value[at] = v;
            low[l] = link[at];
            link[at] *= inverse;
        }
    }
    float after[lanes] = {};
    for (std::size_t i = length; i-- > 0;) {
        for (std::size_t l = 0; l < lanes; ++l) {
            const std::size_t at = i * lanes + l;
            after[l] = value[at] += link[at] * after[l];
        }
    }
}

template void solve_lines<row_lanes>(LineTile&, std::size_t);
template void solve_lines<column_lanes>(LineTile&, std::size_t);

}  // namespace warmside::conduction
