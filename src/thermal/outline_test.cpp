#include "thermal/outline.h"

#include <doctest/doctest.h>

using namespace warmside;
using namespace warmside::thermal;

namespace {

assembly::Storey storey(std::initializer_list<std::pair<int, int>> corners) {
    assembly::Storey out;
    for (const auto& [x, y] : corners) {
        out.outline.push_back({units::Exact::millimetres(1000 * x), units::Exact::millimetres(1000 * y)});
    }
    return out;
}

}  // namespace

TEST_CASE("an L turns outwards five times and inwards once, whatever corner it begins at") {
    const Turns turns = turns_of(edges_of(storey({{0, 0}, {9, 0}, {9, 8}, {5, 8}, {5, 6}, {0, 6}})));
    CHECK(turns.outer == 5);
    CHECK(turns.inner == 1);
    CHECK_FALSE(turns.oblique);
    CHECK(turns_of(edges_of(storey({{5, 6}, {0, 6}, {0, 0}, {9, 0}, {9, 8}, {5, 8}}))).inner == 1);
}

TEST_CASE("a corner on a straight wall is no corner; one that is not square is said to be") {
    CHECK(turns_of(edges_of(storey({{0, 0}, {4, 0}, {9, 0}, {9, 8}, {0, 8}}))).outer == 4);
    CHECK(turns_of(edges_of(storey({{0, 0}, {9, 0}, {6, 8}, {0, 8}}))).oblique);
}

TEST_CASE("edges share the length that they run along each other, the same way") {
    const auto lower = edges_of(storey({{0, 0}, {9, 0}, {9, 8}, {0, 8}}));
    const auto upper = edges_of(storey({{2, 0}, {9, 0}, {9, 5}, {2, 5}}));
    double sum = 0.0;
    for (const Edge& edge : lower) sum += shared(edge, upper);
    CHECK(sum == doctest::Approx(7.0 + 5.0));
    CHECK(shared(lower[0], lower[2]) == 0.0);
    CHECK(shared(lower[0], lower[0]) == doctest::Approx(9.0));
}
