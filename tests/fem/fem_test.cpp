// Couplings of our finite volumes against finite elements (FreeFEM), within 0.2 %. Skipped where FreeFEM is
// not installed.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "conduction/steady.h"
#include "freefem.h"
#include "models.h"

using namespace warmside;

namespace {

constexpr fem::Sizes plane{.corner = 5e-4, .growth = 0.3, .most = 0.2};
constexpr fem::Sizes solid{.corner = 4e-3, .growth = 1.0, .most = 0.1};

// Largest difference of a coupling, relative to the largest coupling.
double difference(const std::vector<double>& a, const std::vector<double>& b) {
    double most = 0.0, largest = 0.0;
    for (std::size_t k = 0; k < a.size(); ++k) {
        most = std::max(most, std::abs(a[k] - b[k]));
        largest = std::max(largest, std::abs(b[k]));
    }
    return most / largest;
}

void compare(const conduction::Model& model, const fem::Sizes& sizes) {
    if (!fem::there_is_freefem()) {
        MESSAGE("skipped: FreeFEM is not installed");
        return;
    }
    fem::Sizes coarse = sizes;
    coarse.corner *= 2.0;
    coarse.growth *= 1.6;
    coarse.most *= 1.6;
    const fem::Solution rough = fem::solve(model, coarse), fine = fem::solve(model, sizes);
    REQUIRE_MESSAGE(fine.trouble.empty(), fine.trouble);
    REQUIRE_MESSAGE(rough.trouble.empty(), rough.trouble);
    const double own = difference(rough.coupling, fine.coupling);
    const auto solved = conduction::steady(model);
    if (!solved) FAIL(solved.error().what);
    const double apart = difference(solved->coupling, fine.coupling);
    MESSAGE(
        fmt::format("{}: {} elements, two meshes {:.4f} % apart; ours on {} cells {:.4f} % apart "
                    "(error told {:.4f} %), coupling {:.6g} against {:.6g}",
                    model.name, fine.elements, 100.0 * own, solved->grid.cells(), 100.0 * apart,
                    100.0 * solved->error, solved->coupling[1], fine.coupling[1]));
    CHECK(own < 5e-4);
    CHECK(solved->imbalance < 1e-9);
    CHECK(apart < 2e-3);
}

}  // namespace

TEST_CASE("a stud wall") {
    compare(fem::stud_wall(), plane);
}

TEST_CASE("a steel stud") {
    compare(fem::steel_stud(), plane);
}

TEST_CASE("an outer corner of three studs") {
    compare(fem::outer_corner(), plane);
}

TEST_CASE("a rim joist between two rooms") {
    compare(fem::rim_joist(), plane);
}

TEST_CASE("a slab edge on ground") {
    compare(fem::slab_edge(), plane);
}

TEST_CASE("a window jamb") {
    compare(fem::window_jamb(), plane);
}

TEST_CASE("a pitched eave") {
    compare(fem::eave(), plane);
}

TEST_CASE("a wall aligned with no axis") {
    compare(fem::rotated_wall(), plane);
}

TEST_CASE("studs across furring") {
    compare(fem::stud_and_furring(), solid);
}

TEST_CASE("a stainless bracket through insulation") {
    compare(fem::steel_bracket(), {.corner = 2e-3, .growth = 0.7, .most = 0.1});
}

TEST_CASE("a sloped roof of rafters and battens") {
    compare(fem::sloped_roof(), solid);
}
