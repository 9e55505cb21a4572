#include "conduction/level.h"

#include <algorithm>
#include <limits>

#include "base/parallel.h"
#include "conduction/direct.h"

namespace warmside::conduction {

namespace {

constexpr std::size_t worth_a_thread = 40'000;  // cells

// May cells i-1 and i be merged where pairs up to `widest` are? A thin layer of a material keeps its own
// cells until the grid beside it has grown to several times its thickness: then a coarse grid of unlike
// widths would do worse than a mean of the two.
bool mergeable(const Level& level, std::size_t axis, std::size_t i, double widest, bool respect) {
    constexpr double outgrown = 24.0;
    const double before = level.width[axis][i - 1], own = level.width[axis][i];
    return before + own <= widest &&
           (!respect || !level.keep[axis][i] || outgrown * std::min(before, own) <= widest);
}

// Pairs of neighbours along one axis whose common width is at most `widest`.
std::vector<bool> pairs(const Level& level, std::size_t axis, double widest, bool respect) {
    std::vector<bool> out(level.n[axis], false);  // true: merged with the one before it
    for (std::size_t i = 1; i < level.n[axis]; ++i)
        out[i] = !out[i - 1] && mergeable(level, axis, i, widest, respect);
    return out;
}

double thinnest_pair(const Level& level, bool respect) {
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t axis = 0; axis < 3; ++axis) {
        for (std::size_t i = 1; i < level.n[axis]; ++i) {
            if (respect && level.keep[axis][i]) continue;
            least = std::min(least, level.width[axis][i - 1] + level.width[axis][i]);
        }
    }
    return least;
}

using Pairs = std::array<std::vector<bool>, 3>;

double share_left(const Level& level, const Pairs& merged) {
    double left = 1.0;
    for (std::size_t axis = 0; axis < 3; ++axis) {
        const auto gone = std::count(merged[axis].begin(), merged[axis].end(), true);
        left *= 1.0 - static_cast<double>(gone) / static_cast<double>(level.n[axis]);
    }
    return left;
}

// Where the grid is thinnest the coupling is strongest, and what is strongly coupled is merged first: so a
// point smoother will do. If that takes too little away the limit is raised.
Pairs choose_pairs(const Level& level) {
    constexpr double enough = 0.6;  // of the cells left at most
    Pairs merged;
    for (const bool respect : {true, false}) {
        const double thinnest = thinnest_pair(level, respect);
        if (thinnest == std::numeric_limits<double>::infinity()) continue;
        for (double reach = 2.0; reach <= 4.0; reach *= 2.0) {
            for (std::size_t axis = 0; axis < 3; ++axis) {
                merged[axis] = pairs(level, axis, reach * thinnest * (1.0 + 1e-9), respect);
            }
            if (share_left(level, merged) <= enough) return merged;
        }
        if (share_left(level, merged) <= 0.9) return merged;
    }
    return merged;
}

Merge merge_of(const std::vector<bool>& merged, const std::vector<double>& width) {
    Merge out;
    const std::size_t n = merged.size();
    out.to_centre.assign(n, 0.0F);
    for (std::size_t i = 0; i < n; ++i) {
        const auto fine = static_cast<std::int32_t>(i);
        if (merged[i]) {
            out.last.back() = fine;
            const double both = width[i - 1] + width[i];
            out.to_centre[i - 1] = static_cast<float>(width[i] / both);
            out.to_centre[i] = static_cast<float>(width[i - 1] / both);
        } else {
            out.first.push_back(fine);
            out.last.push_back(fine);
        }
        out.parent.push_back(static_cast<std::int32_t>(out.first.size()) - 1);
    }
    const auto coarse = static_cast<std::int32_t>(out.first.size());
    out.beside = out.parent;
    for (std::size_t i = 0; i < n; ++i) {
        if (!out.merged(i)) continue;
        const std::int32_t to = out.parent[i] + (merged[i] ? 1 : -1);
        if (to >= 0 && to < coarse) out.beside[i] = to;
    }
    return out;
}

const Padded<float>& conductances(const Level& level, std::size_t axis) {
    return axis == 0 ? level.east : axis == 1 ? level.north : level.up;
}

std::array<std::ptrdiff_t, 3> strides(const Level& level) {
    return {1, static_cast<std::ptrdiff_t>(level.n[0]), static_cast<std::ptrdiff_t>(level.n[0] * level.n[1])};
}

void over_planes(std::size_t outer, std::size_t cells, unsigned threads,
                 const std::function<void(std::size_t)>& task) {
    if (cells < worth_a_thread || threads == 1) {
        for (std::size_t o = 0; o < outer; ++o) task(o);
    } else {
        parallel_for(outer, task, {}, threads);
    }
}

// Resistance from a cell's centre to its parent's, K/W; nothing where it is not merged.
struct ToCentre {
    const Level& level;
    std::size_t axis;
    const float* g;
    std::ptrdiff_t stride;
    ToCentre(const Level& l, std::size_t a)
        : level(l), axis(a), g(conductances(l, a).data()), stride(strides(l)[a]) {}
    // `i` is the cell's index along the axis, `c` its index in the grid.
    [[nodiscard]] float operator()(std::size_t i, std::ptrdiff_t c) const {
        const Merge& m = level.merge[axis];
        if (!m.merged(i)) return 0.0F;
        const bool second = m.last[static_cast<std::size_t>(m.parent[i])] == static_cast<std::int32_t>(i);
        const float inner = second ? g[c - stride] : g[c];
        return inner > 0.0F ? m.to_centre[i] / inner : 0.0F;
    }
};

// Share of the value beside that a merged cell takes: by the resistances between the two coarse centres.
void fill_weights(Level& level, std::size_t axis, unsigned threads) {
    const Merge& m = level.merge[axis];
    const ToCentre to_centre(level, axis);
    const auto stride = strides(level);
    const float* const g = to_centre.g;
    float* const w = level.weight[axis].data();
    const std::size_t outer = level.slices();
    over_planes(outer, level.cells(), threads, [&](std::size_t o) {
        for (std::size_t jj = 0; jj < level.slice_rows(); ++jj) {
            const std::array<std::size_t, 3> at{0, level.solid ? jj : o, level.solid ? o : 0};
            const auto start = static_cast<std::ptrdiff_t>(at[1]) * stride[1] +
                               static_cast<std::ptrdiff_t>(at[2]) * stride[2];
            if (axis != 0 && m.beside[at[axis]] == m.parent[at[axis]]) continue;
            for (std::size_t i = 0; i < level.n[0]; ++i) {
                const std::size_t along = axis == 0 ? i : at[axis];
                const std::int32_t towards = m.beside[along] - m.parent[along];
                if (towards == 0) continue;
                const auto c = start + static_cast<std::ptrdiff_t>(i);
                const std::ptrdiff_t other = c + towards * to_centre.stride;
                const float out = towards > 0 ? g[c] : g[other];
                const float inner = to_centre(along, c);
                if (out <= 0.0F || inner <= 0.0F) continue;
                const float beyond = to_centre(along + static_cast<std::size_t>(towards), other);
                w[c] = inner / (inner + 1.0F / out + beyond);
            }
        }
    });
}

// Conductance between coarse neighbours along an axis: chains between their centres, side by side.
void fill_coarse(const Level& fine, Level& coarse, std::size_t axis, unsigned threads) {
    const ToCentre to_centre(fine, axis);
    const auto s = strides(fine);
    const auto& m = fine.merge;
    float* const out = (axis == 0 ? coarse.east : axis == 1 ? coarse.north : coarse.up).data();
    const float* const g = to_centre.g;
    const std::size_t a = (axis + 1) % 3, b = (axis + 2) % 3;
    over_planes(coarse.n[b], fine.cells(), threads, [&](std::size_t jb) {
        std::array<std::size_t, 3> at{};
        at[b] = jb;
        for (at[a] = 0; at[a] < coarse.n[a]; ++at[a]) {
            for (at[axis] = 0; at[axis] + 1 < coarse.n[axis]; ++at[axis]) {
                const auto here = static_cast<std::size_t>(m[axis].last[at[axis]]);
                float sum = 0.0F;
                for (std::int32_t p = m[a].first[at[a]]; p <= m[a].last[at[a]]; ++p) {
                    for (std::int32_t q = m[b].first[jb]; q <= m[b].last[jb]; ++q) {
                        const std::ptrdiff_t c =
                            static_cast<std::ptrdiff_t>(here) * s[axis] + p * s[a] + q * s[b];
                        if (g[c] <= 0.0F) continue;
                        sum += 1.0F / (1.0F / g[c] + to_centre(here, c) + to_centre(here + 1, c + s[axis]));
                    }
                }
                out[at[0] + coarse.n[0] * (at[1] + coarse.n[1] * at[2])] = sum;
            }
        }
    });
}

void fill_ground(const Level& fine, Level& coarse) {
    const std::array<ToCentre, 3> to{ToCentre(fine, 0), ToCentre(fine, 1), ToCentre(fine, 2)};
    std::size_t c = 0;
    for (std::size_t k = 0; k < fine.n[2]; ++k) {
        for (std::size_t j = 0; j < fine.n[1]; ++j) {
            const auto row = static_cast<std::size_t>(fine.merge[2].parent[k]) * coarse.n[1] +
                             static_cast<std::size_t>(fine.merge[1].parent[j]);
            float* const out = coarse.ground.data() + row * coarse.n[0];
            for (std::size_t i = 0; i < fine.n[0]; ++i, ++c) {
                const float g = fine.ground.data()[c];
                if (g <= 0.0F) continue;
                // Which way the ground lies is not known: the shorter way to the parent's centre is taken.
                float way = std::numeric_limits<float>::infinity();
                const std::array<std::size_t, 3> at{i, j, k};
                for (std::size_t axis = 0; axis < fine.axes(); ++axis) {
                    const float r = to[axis](at[axis], static_cast<std::ptrdiff_t>(c));
                    if (r > 0.0F) way = std::min(way, r);
                }
                if (way == std::numeric_limits<float>::infinity()) way = 0.0F;
                out[fine.merge[0].parent[i]] += g / (1.0F + g * way);
            }
        }
    }
}

void fill_inverse(Level& level) {
    const auto [sx, sy, sz] = strides(level);
    const float* const e = level.east.data();
    const float* const n = level.north.data();
    const float* const u = level.solid ? level.up.data() : nullptr;
    const float* const g = level.ground.data();
    float* const out = level.inverse.data();
    const auto cells = static_cast<std::ptrdiff_t>(level.cells());
    for (std::ptrdiff_t c = 0; c < cells; ++c) {
        float d = g[c] + e[c] + e[c - 1] + n[c] + n[c - sy];
        if (u) d += u[c] + u[c - sz];
        out[c] = d > 0.0F ? 1.0F / d : 0.0F;
    }
}

void allocate(Level& level) {
    const std::size_t n = level.cells(), pad = level.pad();
    for (auto* values :
         {&level.east, &level.north, &level.ground, &level.inverse, &level.x, &level.b, &level.residual}) {
        *values = Padded<float>(n, pad);
    }
    if (level.solid) level.up = Padded<float>(n, pad);
}

// So that cells may be coupled along any axis more strongly than along the others, and not everywhere along
// the same.
bool uneven(const Level& level) {
    constexpr double unlike = 4.0;
    double least = std::numeric_limits<double>::infinity(), most = 0.0;
    for (std::size_t axis = 0; axis < level.axes(); ++axis) {
        if (level.n[axis] < 2) continue;
        const auto [thin, wide] = std::minmax_element(level.width[axis].begin(), level.width[axis].end());
        least = std::min(least, *thin);
        most = std::max(most, *wide);
    }
    return most > unlike * least;
}

Level finest(const Stencil& stencil) {
    Level level;
    level.n = {stencil.nx, stencil.ny, stencil.nz};
    level.solid = stencil.nz > 1;
    level.width = stencil.width;
    level.keep = stencil.keep;
    allocate(level);
    std::copy(stencil.east.begin(), stencil.east.end(), level.east.data());
    std::copy(stencil.north.begin(), stencil.north.end(), level.north.data());
    if (level.solid) std::copy(stencil.up.begin(), stencil.up.end(), level.up.data());
    std::copy(stencil.ground.begin(), stencil.ground.end(), level.ground.data());
    fill_inverse(level);
    level.uneven = uneven(level);
    return level;
}

Level coarser(Level& fine, const Pairs& merged, unsigned threads) {
    Level coarse;
    coarse.solid = fine.solid;
    for (std::size_t axis = 0; axis < 3; ++axis) {
        fine.merge[axis] = merge_of(merged[axis], fine.width[axis]);
        const Merge& m = fine.merge[axis];
        coarse.n[axis] = m.first.size();
        for (std::size_t i = 0; i < m.first.size(); ++i) {
            const auto a = static_cast<std::size_t>(m.first[i]), z = static_cast<std::size_t>(m.last[i]);
            coarse.width[axis].push_back(a == z ? fine.width[axis][a]
                                                : fine.width[axis][a] + fine.width[axis][z]);
            coarse.keep[axis].push_back(fine.keep[axis][a]);
        }
        coarse.keep[axis].push_back(true);
    }
    allocate(coarse);
    for (std::size_t axis = 0; axis < fine.axes(); ++axis) {
        fine.weight[axis] = Padded<float>(fine.cells(), 16);
        fill_weights(fine, axis, threads);
        fill_coarse(fine, coarse, axis, threads);
    }
    fill_ground(fine, coarse);
    fill_inverse(coarse);
    coarse.uneven = uneven(coarse);
    return coarse;
}

}  // namespace

std::size_t Level::bytes() const {
    std::size_t sum = 0;
    for (const auto* values :
         {&east, &north, &up, &ground, &inverse, &x, &b, &residual, &weight[0], &weight[1], &weight[2]}) {
        sum += values->bytes();
    }
    return sum;
}

Row Level::row(std::size_t start) {
    return Row{.east = east.data() + start,
               .north = north.data() + start,
               .up = solid ? up.data() + start : nullptr,
               .inverse = inverse.data() + start,
               .b = b.data() + start,
               .x = x.data() + start,
               .count = n[0],
               .row = static_cast<std::ptrdiff_t>(n[0]),
               .plane = static_cast<std::ptrdiff_t>(n[0] * n[1])};
}

std::vector<Level> levels_of(const Stencil& stencil, unsigned threads) {
    std::vector<Level> levels;
    levels.push_back(finest(stencil));
    while (!Direct::cheap(levels.back(), stencil.cells())) {
        const Pairs merged = choose_pairs(levels.back());
        if (share_left(levels.back(), merged) == 1.0) break;
        Level next = coarser(levels.back(), merged, threads);
        levels.push_back(std::move(next));
    }
    return levels;
}

}  // namespace warmside::conduction
