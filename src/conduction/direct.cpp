#include "conduction/direct.h"

#include <algorithm>
#include <cmath>

namespace warmside::conduction {

namespace {

// Axes from the shortest to the longest.
std::array<std::size_t, 3> by_length(const Level& level) {
    std::array<std::size_t, 3> axes{0, 1, 2};
    std::stable_sort(axes.begin(), axes.end(),
                     [&](std::size_t a, std::size_t b) { return level.n[a] < level.n[b]; });
    return axes;
}

std::size_t band_of(const Level& level) {
    const auto axes = by_length(level);
    return level.n[axes[0]] * level.n[axes[1]];
}

}  // namespace

bool Direct::cheap(const Level& level, std::size_t finest) {
    const auto band = static_cast<double>(band_of(level)), cells = static_cast<double>(level.cells());
    const auto all = static_cast<double>(finest);
    return cells * band * band <= std::max(2e6, 20.0 * all) && cells * band <= std::max(1e5, 0.25 * all);
}

Direct::Direct(const Level& level)
    : cells_(level.cells()), band_(band_of(level)), order_(cells_), work_(cells_) {
    const auto axes = by_length(level);
    const std::array<std::size_t, 3> stride{1, level.n[0], level.n[0] * level.n[1]};
    std::vector<std::size_t> position(cells_);
    std::array<std::size_t, 3> at{};
    std::size_t p = 0;
    for (at[2] = 0; at[2] < level.n[axes[2]]; ++at[2]) {
        for (at[1] = 0; at[1] < level.n[axes[1]]; ++at[1]) {
            for (at[0] = 0; at[0] < level.n[axes[0]]; ++at[0], ++p) {
                order_[p] = at[0] * stride[axes[0]] + at[1] * stride[axes[1]] + at[2] * stride[axes[2]];
                position[order_[p]] = p;
            }
        }
    }
    const std::size_t wide = band_ + 1;
    factor_.assign(cells_ * wide, 0.0);
    const auto entry = [&](std::size_t r, std::size_t c) -> double& {
        return factor_[r * wide + band_ + c - r];
    };
    const std::array<const float*, 3> g{level.east.data(), level.north.data(),
                                        level.solid ? level.up.data() : nullptr};
    for (std::size_t c = 0; c < cells_; ++c) {
        const double inverse = static_cast<double>(level.inverse.data()[c]);
        const std::size_t own = position[c];
        entry(own, own) = inverse > 0.0 ? (1.0 + 1e-7) / inverse : 1.0;
        for (std::size_t axis = 0; axis < 3; ++axis) {
            if (!g[axis] || g[axis][c] <= 0.0F) continue;
            const std::size_t other = position[c + stride[axis]];
            entry(std::max(own, other), std::min(own, other)) = -static_cast<double>(g[axis][c]);
        }
    }
    for (std::size_t i = 0; i < cells_; ++i) {
        const std::size_t low = i > band_ ? i - band_ : 0;
        for (std::size_t j = low; j <= i; ++j) {
            const std::size_t from = std::max(low, j > band_ ? j - band_ : 0);
            double sum = entry(i, j);
            for (std::size_t k = from; k < j; ++k) sum -= entry(i, k) * entry(j, k);
            entry(i, j) = j < i ? sum / entry(j, j) : std::sqrt(sum);
        }
    }
}

void Direct::solve(Level& level) {
    const std::size_t wide = band_ + 1;
    for (std::size_t i = 0; i < cells_; ++i) {
        const std::size_t low = i > band_ ? i - band_ : 0;
        const double* const row = &factor_[i * wide + band_ - i];
        double sum = static_cast<double>(level.b.data()[order_[i]]);
        for (std::size_t k = low; k < i; ++k) sum -= row[k] * work_[k];
        work_[i] = sum / row[i];
    }
    for (std::size_t i = cells_; i-- > 0;) {
        const std::size_t low = i > band_ ? i - band_ : 0;
        const double* const row = &factor_[i * wide + band_ - i];
        work_[i] /= row[i];
        for (std::size_t k = low; k < i; ++k) work_[k] -= row[k] * work_[i];
        level.x.data()[order_[i]] = static_cast<float>(work_[i]);
    }
}

}  // namespace warmside::conduction
