#include "conduction/line_sweep.h"

#include <doctest/doctest.h>
#include <random>

using namespace warmside::conduction;

namespace {

// Largest residual of a lane, over the largest right-hand side, in double.
template <std::size_t lanes>
double worst_residual(const LineTile& given, const LineTile& solved, std::size_t length) {
    double worst = 0.0, largest = 0.0;
    for (std::size_t i = 0; i < length; ++i) {
        for (std::size_t l = 0; l < lanes; ++l) {
            const std::size_t at = i * lanes + l;
            const double own = solved.value[at];
            double flow = given.excess[at] * own - given.value[at];
            if (i > 0) flow += given.link[at - lanes] * (own - solved.value[at - lanes]);
            if (i + 1 < length) flow += given.link[at] * (own - solved.value[at + lanes]);
            worst = std::max(worst, std::abs(flow));
            largest = std::max(largest, std::abs(static_cast<double>(given.value[at])));
        }
    }
    return worst / largest;
}

template <std::size_t lanes>
void check_random(std::size_t length) {
    std::mt19937 dice(7);
    std::uniform_real_distribution<float> any(0.0F, 1.0F);
    LineTile tile;
    make_room(tile, length);
    for (std::size_t at = 0; at < length * lanes; ++at) {
        tile.excess[at] = any(dice);
        tile.link[at] = at / lanes + 1 < length ? any(dice) : 0.0F;
        tile.value[at] = any(dice) - 0.5F;
    }
    LineTile solved = tile;
    solve_lines<lanes>(solved, length);
    CHECK(worst_residual<lanes>(tile, solved, length) < 1e-5);
}

}  // namespace

TEST_CASE("all lanes of a tile are solved") {
    for (const std::size_t length : {1U, 2U, 57U}) {
        check_random<row_lanes>(length);
        check_random<column_lanes>(length);
    }
}

TEST_CASE("a line that almost nothing holds has the level that its excess gives it, in single precision") {
    // 200 cells linked by 1 W/K, 1e-9 W/K to 0 K at the last one alone, 1 W in at the first: the last is at
    // 1e9 K by Ohm's law. The pivots of a plain elimination would be differences of 1 and 1, lost at 1e-7.
    constexpr std::size_t length = 200;
    LineTile tile;
    make_room(tile, length);
    for (std::size_t i = 0; i + 1 < length; ++i) tile.link[i * row_lanes] = 1.0F;
    tile.value[0] = 1.0F;
    tile.excess[(length - 1) * row_lanes] = 1e-9F;
    solve_lines<row_lanes>(tile, length);
    CHECK(tile.value[(length - 1) * row_lanes] == doctest::Approx(1e9).epsilon(1e-4));
    CHECK(tile.value[0] == doctest::Approx(1e9 + 199).epsilon(1e-4));
}

TEST_CASE("a cell that nothing holds, of a hole, stays at zero") {
    LineTile tile;
    make_room(tile, 3);
    for (const std::size_t place : {0U, 2U}) {
        tile.excess[place * row_lanes] = 2.0F;
        tile.value[place * row_lanes] = 3.0F;
    }
    solve_lines<row_lanes>(tile, 3);
    CHECK(tile.value[0] == 1.5F);
    CHECK(tile.value[row_lanes] == 0.0F);
    CHECK(tile.value[2 * row_lanes] == 1.5F);
}
