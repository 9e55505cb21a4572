#include "compare.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "conduction/steady.h"
#include "freefem.h"

namespace warmside::fem {

namespace {

// Largest difference of a coupling, relative to the largest coupling.
double difference(const std::vector<double>& a, const std::vector<double>& b) {
    double most = 0.0, largest = 0.0;
    for (std::size_t k = 0; k < a.size(); ++k) {
        most = std::max(most, std::abs(a[k] - b[k]));
        largest = std::max(largest, std::abs(b[k]));
    }
    return most / largest;
}

}  // namespace

void compare(const conduction::Model& model, const Sizes& sizes) {
    if (!there_is_freefem()) {
        MESSAGE("skipped: FreeFEM is not installed");
        return;
    }
    Sizes coarse = sizes;
    coarse.corner *= 2.0;
    coarse.growth *= 1.6;
    coarse.most *= 1.6;
    const Solution rough = solve(model, coarse), fine = solve(model, sizes);
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

}  // namespace warmside::fem
