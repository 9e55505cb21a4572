#include "numerics/block2.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <random>
#include <vector>

using namespace warmside::numerics;

namespace {

// Gaussian elimination with partial pivoting, for comparison.
std::vector<double> dense_solve(std::vector<std::vector<double>> a, std::vector<double> b) {
    const std::size_t n = b.size();
    for (std::size_t k = 0; k < n; ++k) {
        std::size_t pivot = k;
        for (std::size_t i = k + 1; i < n; ++i)
            if (std::abs(a[i][k]) > std::abs(a[pivot][k])) pivot = i;
        std::swap(a[k], a[pivot]);
        std::swap(b[k], b[pivot]);
        for (std::size_t i = k + 1; i < n; ++i) {
            const double f = a[i][k] / a[k][k];
            for (std::size_t j = k; j < n; ++j) a[i][j] -= f * a[k][j];
            b[i] -= f * b[k];
        }
    }
    for (std::size_t k = n; k-- > 0;) {
        for (std::size_t j = k + 1; j < n; ++j) b[k] -= a[k][j] * b[j];
        b[k] /= a[k][k];
    }
    return b;
}

}  // namespace

TEST_CASE("elimination row by row solves block-tridiagonal systems, each lane its own") {
    constexpr int L = 4, cells = 7;
    std::mt19937 dice(7);
    std::uniform_real_distribution<double> draw(-1.0, 1.0);
    // blocks[row][0 below, 1 diagonal, 2 above][4 entries][lane]
    double blocks[cells][3][4][L], right[cells][2][L];
    for (auto& row : blocks)
        for (int which = 0; which < 3; ++which)
            for (int e = 0; e < 4; ++e)
                for (int l = 0; l < L; ++l)
                    row[which][e][l] = draw(dice) + (which == 1 && (e == 0 || e == 3) ? 6.0 : 0.0);
    for (auto& row : right)
        for (auto& half : row)
            for (double& value : half) value = draw(dice);

    Eliminated<L> kept[cells];
    Eliminated<L> before{};
    const auto block = [&](int j, int which) {
        const auto& b = blocks[j][which];
        return Block2<L>{load<L>(b[0]), load<L>(b[1]), load<L>(b[2]), load<L>(b[3])};
    };
    for (int j = 0; j < cells; ++j) {
        before = eliminate<L>(block(j, 0), block(j, 1), block(j, 2),
                              {load<L>(right[j][0]), load<L>(right[j][1])}, before);
        kept[j] = before;
    }
    Pair<L> x[cells];
    x[cells - 1] = kept[cells - 1].right;
    for (int j = cells - 2; j >= 0; --j) {
        const Pair<L> taken = product<L>(kept[j].above, x[j + 1]);
        x[j] = {kept[j].right.x0 - taken.x0, kept[j].right.x1 - taken.x1};
    }

    for (int l = 0; l < L; ++l) {
        std::vector<std::vector<double>> a(2 * cells, std::vector<double>(2 * cells, 0.0));
        std::vector<double> b(2 * cells);
        for (int j = 0; j < cells; ++j) {
            for (int which = 0; which < 3; ++which) {
                const int column = j + which - 1;
                if (column < 0 || column >= cells) continue;
                for (int e = 0; e < 4; ++e)
                    a[static_cast<std::size_t>(2 * j + e / 2)][static_cast<std::size_t>(2 * column + e % 2)] =
                        blocks[j][which][e][l];
            }
            for (int half = 0; half < 2; ++half)
                b[static_cast<std::size_t>(2 * j + half)] = right[j][half][l];
        }
        const auto expected = dense_solve(a, b);
        for (int j = 0; j < cells; ++j) {
            CHECK(x[j].x0[l] == doctest::Approx(expected[static_cast<std::size_t>(2 * j)]).epsilon(1e-12));
            CHECK(x[j].x1[l] ==
                  doctest::Approx(expected[static_cast<std::size_t>(2 * j + 1)]).epsilon(1e-12));
        }
    }
}
