// A year of one house, hour by hour, six zones: how long does it take, and how long does SUNDIALS CVODE need?
//
// Both march the same network (tests/house/random_network.h: 42 walls and windows of up to 16 cells, floating
// zones, so that both solve the same equations) through the same hours. The error of each is against CVODE
// with tolerances of 1e-9: root mean square over the zones' air at the ends of hours, in the first four
// weeks. CVODE's tolerance is the loosest of a row that is not worse than ours. Processor time of one thread.
#include <fmt/core.h>

#include <chrono>
#include <cmath>
#include <cstdlib>
#include <ctime>

#include "../tests/house/ode.h"
#include "../tests/house/random_network.h"
#include "house/simulate.h"

using namespace warmside::house;

namespace {

double seconds() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

constexpr double start = 285.0;
constexpr int weeks4 = 672;

double error(const std::vector<std::vector<double>>& a, const std::vector<std::vector<double>>& b) {
    double square = 0.0;
    for (std::size_t z = 0; z < a.size(); ++z)
        for (std::size_t h = 0; h < weeks4; ++h) square += std::pow(a[z][h] - b[z][h], 2);
    return std::sqrt(square / (static_cast<double>(a.size()) * weeks4));
}

}  // namespace

int main() {
    const Network n = random_network::make(7, {.kept = false});
    std::size_t cells = 0;
    for (const Element& e : n.elements) cells += e.capacity.size();
    fmt::print("  6 zones, {} elements, {} cells, 8760 hours\n", n.elements.size(), cells);
    const auto reference = ode::march(n, weeks4, start, 1e-9, 1e-8);

    double ours = 1e9, ours_error = 0.0;
    for (int i = 0; i < 7; ++i) {
        const double before = seconds();
        const auto run = simulate(n, {.run_in = 0, .start = start});
        ours = std::min(ours, seconds() - before);
        if (!run) return EXIT_FAILURE;
        ours_error = error(run->air, reference);
    }
    fmt::print("  ours, one implicit step an hour: {:.1f} ms (budget 20), error {:.3g} K\n", 1e3 * ours,
               ours_error);

    for (const double tolerance : {3e-2, 1e-2, 3e-3, 1e-3, 3e-4, 1e-4, 1e-5}) {
        double before = seconds();
        const auto part = ode::march(n, weeks4, start, tolerance * 1e-3, tolerance);
        const double its_error = error(part, reference);
        if (its_error > ours_error && tolerance > 1e-5) continue;
        before = seconds();
        (void)ode::march(n, hours_in_year, start, tolerance * 1e-3, tolerance);
        const double its = seconds() - before;
        fmt::print("  CVODE (BDF, dense), {:.0e} K: {:.2f} s, error {:.3g} K: {:.0f} times ours (asked 50)\n",
                   tolerance, its, its_error, its / ours);
        break;
    }
    return EXIT_SUCCESS;
}
