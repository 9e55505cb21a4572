#include "moisture/settle.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "moisture/simulate.h"
#include "moisture/synthetic.h"

using namespace warmside;
using namespace warmside::moisture;

namespace {

// A stud that starts wet: its water leaves over years.
struct Scene {
    assembly::Assembly wall = invented::wall();
    climate::FaceWeather weather = invented_weather();
    climate::Indoor indoor = invented_indoor(weather);
    [[nodiscard]] std::vector<Run> runs(int years) const {
        Run r;
        r.name = "framing";
        r.assembly = &wall;
        r.path = Path::framing;
        r.outside = &weather;
        r.inside = &indoor;
        r.years = years;
        r.start_humidity = 0.85;
        return {r};
    }
};

double farthest(const History& a, const History& b) {
    double most = 0.0;
    for (std::size_t k = 0; k < a.probes.size(); ++k) {
        const auto& x = a.probes[k].relative_humidity;
        const auto& y = b.probes[k].relative_humidity;
        for (std::size_t i = 1; i <= static_cast<std::size_t>(climate::hours_in_year); ++i)
            most = std::max(most, std::abs(static_cast<double>(x[x.size() - i] - y[y.size() - i])));
    }
    return most;
}

}  // namespace

TEST_CASE("the settled year is the one that brute repetition comes to") {
    const Scene scene;
    Options options{.tolerance = 2e-4, .carpet_columns = 0};  // so that steps do not blur the comparison
    options.settled_within = 0.0;
    const auto brute = simulate(scene.runs(16), options);
    const auto short_run = simulate(scene.runs(3), options);
    options.settled_within = 1e-3;
    const auto settled = simulate(scene.runs(3), options);
    REQUIRE(brute);
    REQUIRE(short_run);
    REQUIRE(settled);
    const History& h = settled->front();
    MESSAGE("years marched " << h.years_marched << ", change " << h.yearly_change
                             << ", farthest from year 16: " << farthest(h, brute->front())
                             << ", third year: " << farthest(short_run->front(), brute->front()));
    CHECK(h.settled);
    CHECK(h.yearly_change <= 1e-3);
    CHECK(h.years_marched < 8);
    CHECK(h.hours == 3 * climate::hours_in_year);
    CHECK(h.probes.front().relative_humidity.size() == static_cast<std::size_t>(h.hours));
    // What is left of the change, summed over the years to come, is of the size of the change itself.
    CHECK(farthest(h, brute->front()) < 3e-3);
    CHECK(farthest(short_run->front(), brute->front()) > 0.01);
    // The first year is marched as ever.
    for (std::size_t i = 0; i < static_cast<std::size_t>(climate::hours_in_year); i += 97)
        CHECK(h.probes[0].relative_humidity[i] == short_run->front().probes[0].relative_humidity[i]);
    CHECK(h.balance.water_error < 1e-6);
    CHECK(h.balance.energy_error < 1e-6);
}

TEST_CASE("a year that equals the one before it is not marched again") {
    Scene scene;
    auto runs = scene.runs(3);
    runs[0].path = Path::bay;
    Options options;
    const auto settled = simulate(runs, options);
    options.settled_within = 0.0;
    const auto brute = simulate(runs, options);
    REQUIRE(settled);
    REQUIRE(brute);
    CHECK(settled->front().years_marched == 2);
    CHECK(brute->front().years_marched == 3);
    CHECK(farthest(settled->front(), brute->front()) < 5e-3);
    const Carpet &a = settled->front().carpet, &b = brute->front().carpet;
    REQUIRE(a.columns == b.columns);
    for (std::size_t i = 0; i < a.relative_humidity.size(); ++i)
        CHECK(std::abs(a.relative_humidity[i] - b.relative_humidity[i]) < 5e-3F);
}

TEST_CASE("a wall that never settles says so") {
    Scene scene;
    auto runs = scene.runs(3);
    Options options{.carpet_columns = 0};
    options.settled_within = 1e-12;
    options.most_years = 4;
    const auto done = simulate(runs, options);
    REQUIRE(done);
    CHECK_FALSE(done->front().settled);
    CHECK(done->front().years_marched == 4);
    CHECK(done->front().hours == 3 * climate::hours_in_year);
}
