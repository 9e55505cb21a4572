// A wall's hours by our solver and by SUNDIALS CVODE over the stores: the same semi-discrete system, real
// weather, the rain leak on. Source of the agreement asked for: 1e-4 (issue 4).
//
// Weather: Duluth, Minnesota, TMY3 file from outside the project; without it the tests say so and return.
// WARMSIDE_SOAK=1 runs whole years, and air leakage, in place of a quarter.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <optional>
#include <sstream>

#include "climate/calendar.h"
#include "moisture/build.h"
#include "moisture/march.h"
#include "moisture/synthetic.h"
#include "stores.h"

using namespace warmside;
using namespace warmside::moisture;

namespace {

struct Scene {
    climate::FaceWeather outside;
    climate::Indoor inside;
};

std::optional<Scene> real_weather(const char* name) {
    const char* source = std::getenv("WARMSIDE_SOURCE");
    const auto path = std::filesystem::path(source ? source : ".") / "../shared/reference/weather" / name;
    std::ifstream in(path, std::ios::binary);
    if (!in) {
        MESSAGE("skipped: no real weather file at ../shared/reference/weather");
        return std::nullopt;
    }
    std::ostringstream text;
    text << in.rdbuf();
    Problems problems;
    const auto year = climate::read_weather(name, text.str(), problems);
    REQUIRE(year);
    return Scene{climate::weather_on(*year, {.azimuth = 0.5 * std::numbers::pi}),
                 climate::indoor_air({}, *year)};
}

bool soak() {
    return std::getenv("WARMSIDE_SOAK") != nullptr;
}

Column column_of(const assembly::Assembly& wall, const Scene& scene, Path path, double leak, double air) {
    Run run;
    run.name = "cross-solved wall";
    run.assembly = &wall;
    run.path = path;
    run.outside = &scene.outside;
    run.inside = &scene.inside;
    run.start_hour = climate::first_hour_of(9);
    run.rain_leak = leak;
    run.air_flow = air;
    Shelf shelf;
    auto built = build(run, {}, shelf);
    REQUIRE(built);
    return std::move(built->column);
}

// States at the ends of hours.
struct States {
    std::vector<double> temperature, humidity, water;  // [hour][node], the last [hour] of the whole column
    void add(double T, double u) {
        temperature.push_back(T);
        humidity.push_back(std::exp(-theta_of(std::min(u, full_potential())) * reference_temperature / T));
    }
};

struct Watch : Recorder {
    explicit Watch(States& into) : states(into) {}
    States& states;
    void hour(int hours_done, const Snapshot& now) override {
        if (hours_done == 0) return;
        double sum = 0.0;
        for (std::size_t j = 0; j < now.nodes; ++j) {
            states.add(now.t(j), now.u(j));
            sum += now.w(j);
        }
        states.water.push_back(sum);
    }
};

struct Distance {
    double most_humidity = 0.0, mean_humidity = 0.0;        // of 1; mean: root of the mean square
    double most_temperature = 0.0, mean_temperature = 0.0;  // K
    double water = 0.0;                                     // largest difference over the water then
    std::size_t worst = 0;
};

Distance distance(const States& a, const States& b) {
    Distance d;
    REQUIRE(a.humidity.size() == b.humidity.size());
    for (std::size_t i = 0; i < a.humidity.size(); ++i) {
        const double h = std::abs(a.humidity[i] - b.humidity[i]);
        const double t = std::abs(a.temperature[i] - b.temperature[i]);
        if (h > d.most_humidity) d.worst = i;
        d.most_humidity = std::max(d.most_humidity, h);
        d.most_temperature = std::max(d.most_temperature, t);
        d.mean_humidity += h * h;
        d.mean_temperature += t * t;
    }
    d.mean_humidity = std::sqrt(d.mean_humidity / static_cast<double>(a.humidity.size()));
    d.mean_temperature = std::sqrt(d.mean_temperature / static_cast<double>(a.humidity.size()));
    for (std::size_t i = 0; i < a.water.size(); ++i)
        d.water = std::max(d.water, std::abs(a.water[i] - b.water[i]) / b.water[i]);
    return d;
}

States ours(const Column& column, int hours, double tolerance) {
    States states;
    Watch watch(states);
    const Task task{.column = &column, .hours = hours, .recorder = &watch};
    const auto done = march(std::span(&task, 1), {.tolerance = tolerance});
    REQUIRE_MESSAGE(done, done.error().what);
    MESSAGE("ours, tolerance ", tolerance, ": ", (*done)[0].steps, " steps, ", (*done)[0].iterations,
            " iterations, water balance ", (*done)[0].water_error());
    return states;
}

States theirs(const Column& column, int hours, const cross_solve::Tolerance& tolerance) {
    States states;
    const auto marched =
        cross_solve::march(column, hours, tolerance, [&](int, const cross_solve::Stores& s, const double* y) {
            double sum = 0.0;
            for (std::size_t j = 0; j < s.nodes(); ++j) {
                states.add(s.lane().temperature[j], s.lane().potential[j]);
                sum += y[2 * j + 1];
            }
            states.water.push_back(sum);
        });
    REQUIRE_MESSAGE(marched.trouble.empty(), marched.trouble);
    MESSAGE("CVODE, tolerance ", tolerance.temperature, " K: ", marched.steps, " steps, ",
            marched.evaluations, " evaluations");
    return states;
}

}  // namespace

TEST_CASE("explore") {
    (void)soak();
    const auto scene = real_weather("tmy3_727450_Duluth_MN.csv");
    if (!scene) return;
    const assembly::Assembly wall = invented_wall(std::getenv("BOARD") != nullptr);
    const int hours = std::getenv("HOURS") ? std::atoi(std::getenv("HOURS")) : 2208;
    const double leak = std::getenv("LEAK") ? std::atof(std::getenv("LEAK")) : 0.01;
    for (const Path path : {Path::bay, Path::framing}) {
        Column c = column_of(wall, *scene, path, leak, 0.0);
        if (std::getenv("STEP")) c.highest_step = std::atof(std::getenv("STEP"));
        const States fine = theirs(c, hours, {1e-4, 2e-6});
        const auto show = [&](const char* what, const States& s) {
            const Distance d = distance(s, fine);
            const std::size_t n = c.nodes.size();
            MESSAGE(what, " RH ", d.most_humidity, " rms ", d.mean_humidity, " T ", d.most_temperature, " rms ",
                    d.mean_temperature, " water ", d.water, " worst at node ", d.worst % n, " of ", n, " ",
                    c.nodes[d.worst % n].substance->name, " hour ", d.worst / n, " RH there ",
                    fine.humidity[d.worst]);
        };
        show("cvode 1e-3", theirs(c, hours, {1e-3, 2e-5}));
        for (const double tol : {2e-3, 1e-4, 1e-5}) show("ours", ours(c, hours, tol));
    }
}
