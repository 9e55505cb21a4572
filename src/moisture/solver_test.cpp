// The solver against exact solutions and against itself: conservation, order, symmetry, independence of
// lanes.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/what.h"
#include "moisture/checks.h"
#include "moisture/lanes.h"
#include "moisture/potential.h"

using namespace warmside;
using namespace warmside::moisture;

TEST_CASE("u and suction are inverse over the whole range") {
    for (double theta = 1e-4; theta < driest_theta; theta *= 1.07)
        CHECK(theta_of(potential_of(theta)) == doctest::Approx(theta).epsilon(1e-9));
    CHECK(highest_potential() > full_potential());
    CHECK(lowest_potential() < potential_of(1.0));
}

TEST_CASE("the matric potential of a constant diffusivity is D times the water content") {
    const Column c = constant_diffusivity(1e-9, 100.0, 0.1, 10);
    const auto& tables = c.nodes[0].substance->tables;
    for (double u = 0.1; u < full_potential(); u += 0.17) {
        const double w =
            tables.at(Substance::water, u).value - tables.at(Substance::water, lowest_potential()).value;
        CHECK(tables.at(Substance::liquid, u).value == doctest::Approx(1e-9 * w).epsilon(1e-6));
        CHECK(tables.at(Substance::liquid, u).slope ==
              doctest::Approx(1e-9 * tables.at(Substance::water, u).slope).epsilon(1e-3));
    }
}

namespace {

// Fourier series of a slab at w0 whose faces are held at wa (x = 0) and wb; an independent solution.
double slab(double x, double t, double thickness, double diffusivity, double w0, double wa, double wb) {
    double w = wa + (wb - wa) * x / thickness;
    for (int n = 1; n < 400; ++n) {
        const double k = n * std::numbers::pi / thickness;
        const double sign = n % 2 ? -1.0 : 1.0;
        const double c = 2.0 / (n * std::numbers::pi) * ((w0 - wa) - sign * (w0 - wb));
        w += c * std::sin(k * x) * std::exp(-diffusivity * k * k * t);
    }
    return w;
}

}  // namespace

TEST_CASE("isothermal drying follows the Fourier series within 0.3 % at every place and time") {
    const auto run = run_check(isothermal_drying(2), {100, 300, 1000}, {.tolerance = 5e-4});
    REQUIRE(run);
    for (const ProfileAt& p : run->profiles) {
        for (double x = 0.0; x <= 0.2; x += 0.005)
            CHECK(p.water_at(x) ==
                  doctest::Approx(slab(x, p.time, 0.2, 6e-10, 84.7690, 19.5356, 30.5059)).epsilon(3e-3));
    }
    CHECK(run->result.water_error() < 1e-6);
}

TEST_CASE("the error of isothermal drying falls fourfold when the cells are halved") {
    // Long after the jump, so that time steps of 15 minutes add nothing.
    const auto error = [](int refine) {
        Column c = isothermal_drying(refine);
        c.highest_step = 900.0;
        const auto run = run_check(c, {400}, {.tolerance = 5e-5});
        REQUIRE(run);
        double worst = 0.0;
        const ProfileAt& p = run->profiles.back();
        for (std::size_t j = 0; j < p.depth.size(); ++j)
            worst = std::max(worst, std::abs(p.water[j] - slab(p.depth[j], p.time, 0.2, 6e-10, 84.7690,
                                                               19.5356, 30.5059)));
        return worst;
    };
    const double coarse = error(1), fine = error(2);
    MESSAGE("largest error ", coarse, " and ", fine, " kg/m3");
    CHECK(coarse / fine > 3.3);
}

TEST_CASE("the error in time falls fourfold when the steps are halved") {
    // Two hours of warming by films, against steps of 18 s.
    const auto end = [](double step) {
        Column c = air_leak_wall(1);
        c.heat = Column::Heat::full;
        c.highest_step = step;
        c.weather = [](int, Hour& hour) {
            hour.ambient[0] = {
                .temperature = 303.15, .vapour_pressure = 1500.0, .heat_film = 8.0, .vapour_film = 2e-8};
            hour.ambient[1] = {
                .temperature = 288.15, .vapour_pressure = 1000.0, .heat_film = 15.0, .vapour_film = 5e-8};
            hour.air = 0.0;
        };
        const auto run = run_check(c, {2}, {.tolerance = 1e-6, .fixed_steps = true});
        REQUIRE(run);
        return run->profiles.back();
    };
    const ProfileAt exact = end(18.0), coarse = end(720.0), fine = end(360.0);
    const auto distance = [&](const ProfileAt& a) {
        double worst = 0.0;
        for (std::size_t j = 0; j < a.depth.size(); ++j)
            worst = std::max(worst, std::abs(a.temperature[j] - exact.temperature[j]));
        return worst;
    };
    MESSAGE("largest error ", distance(coarse), " and ", distance(fine), " K");
    CHECK(distance(coarse) / distance(fine) > 3.3);
}

TEST_CASE("water uptake with constant diffusivity grows with the root of time") {
    // m = 2 dw sqrt(D t/pi)
    const Column c = constant_diffusivity(1e-9, 100.0, 0.3, 120);
    const auto run = run_check(c, {6, 24, 96}, {.tolerance = 2e-4});
    REQUIRE(run);
    for (const ProfileAt& p : run->profiles) {
        const double exact = 2.0 * 100.0 * std::sqrt(1e-9 * p.time / std::numbers::pi);
        CHECK(p.total - run->result.water_start == doctest::Approx(exact).epsilon(2e-3));
    }
}

TEST_CASE("heat and vapour carried by air take the exponential profile") {
    const AdvectionCase given{.air = 5e-4, .pressure_left = 60.0, .pressure_right = 60.0};
    const auto run = run_check(advection(given, 16), {400});
    REQUIRE(run);
    const double peclet = 5e-4 * 1005.0 * 0.2 / 0.04;
    for (std::size_t j = 0; j < run->profiles[0].depth.size(); ++j) {
        const double exact =
            20.0 - 30.0 * std::expm1(peclet * run->profiles[0].depth[j] / 0.2) / std::expm1(peclet);
        CHECK(run->profiles[0].temperature[j] - 273.15 == doctest::Approx(exact).epsilon(0.01 / 20.0));
    }
}

TEST_CASE("in a wall that loses as much as it gains the balances close to one millionth") {
    Column c = air_leak_wall(1);
    c.heat = Column::Heat::full;
    const auto run = run_check(c, {24 * 60});
    REQUIRE(run);
    CHECK(run->result.through.water_in > 1.0);
    CHECK(run->result.water_error() < 1e-6);
    CHECK(run->result.energy_error() < 1e-6);
}

TEST_CASE("a dry wall in dry air stays dry and never leaves the range of its surroundings") {
    Column c = isothermal_drying(1);
    c.heat = Column::Heat::full;
    std::fill(c.potential.begin(), c.potential.end(), potential_of_humidity(0.3, 293.15));
    c.weather = [](int i, Hour& hour) {
        const double humidity = i % 48 < 24 ? 0.2 : 0.4;
        for (std::size_t e = 0; e < 2; ++e)
            hour.ambient[e] = {.temperature = 293.15,
                               .vapour_pressure = humidity * saturation_pressure(293.15),
                               .heat_film = 8.0,
                               .vapour_film = 2e-8};
    };
    const auto run = run_check(c, {24, 48, 240, 960});
    REQUIRE(run);
    const auto& tables = c.nodes[0].substance->tables;
    const double low = tables.at(Substance::water, potential_of_humidity(0.2, 293.15)).value;
    const double high = tables.at(Substance::water, potential_of_humidity(0.4, 293.15)).value;
    for (const ProfileAt& p : run->profiles) {
        CHECK(*std::min_element(p.water.begin(), p.water.end()) > low * 0.99);
        CHECK(*std::max_element(p.water.begin(), p.water.end()) < high * 1.01);
    }
}

TEST_CASE("a symmetric wall under symmetric weather stays symmetric") {
    Column c = isothermal_drying(1);
    c.heat = Column::Heat::full;
    c.weather = [](int i, Hour& hour) {
        for (std::size_t e = 0; e < 2; ++e)
            hour.ambient[e] = {.temperature = 283.15 + 8.0 * std::sin(i * 0.26),
                               .vapour_pressure = 800.0,
                               .heat_film = 10.0,
                               .vapour_film = 3e-8};
    };
    const auto run = run_check(c, {200});
    REQUIRE(run);
    const ProfileAt& p = run->profiles.back();
    const std::size_t n = p.depth.size();
    for (std::size_t j = 0; j < n / 2; ++j) {
        CHECK(p.temperature[j] == doctest::Approx(p.temperature[n - 1 - j]).epsilon(1e-7));
        CHECK(p.water[j] == doctest::Approx(p.water[n - 1 - j]).epsilon(1e-6));
    }
}

TEST_CASE("a layer of dry air between two fixed faces passes the vapour of resistances in series") {
    // (p_i - p_o)/sum Z with Z = d/delta: exact for constant permeability.
    const AdvectionCase given{.temperature_right = 293.15, .pressure_left = 1200.0, .pressure_right = 250.0};
    const auto run = run_check(advection(given, 8), {400});
    REQUIRE(run);
    const auto& through = run->result.through;
    // Steady after minutes: what went in over 400 h is the steady flow but for the start.
    const double flow = 1.3e-10 * (1200.0 - 250.0) / 0.2;
    CHECK(through.water_in == doctest::Approx(flow * 400 * 3600.0).epsilon(5e-3));
}

namespace {

struct Kept : Recorder {
    std::vector<double> values;
    void hour(int, const Snapshot& now) override {
        for (std::size_t j = 0; j < now.nodes; ++j) {
            values.push_back(now.t(j));
            values.push_back(now.u(j));
            values.push_back(now.w(j));
        }
    }
};

}  // namespace

TEST_CASE("a run gives the same bits alone, among others, in any order and on any number of threads") {
    std::vector<Column> columns;
    for (int k = 0; k < 11; ++k) {
        columns.push_back(
            k % 3 == 0 ? air_leak_wall(1)
            : k % 3 == 1
                ? isothermal_drying(1)
                : advection({.air = 1e-4 * k, .pressure_left = 90.0, .pressure_right = 60.0}, 10 + k));
        columns.back().highest_step = 3600.0 / (1 + k % 2);
    }
    std::vector<std::vector<double>> alone;
    for (const Column& c : columns) {
        Kept kept;
        const Task task{.column = &c, .hours = 30, .recorder = &kept};
        REQUIRE(march(std::span(&task, 1), {}));
        alone.push_back(kept.values);
    }
    for (const bool backwards : {false, true}) {
        for (const unsigned threads : {1U, 2U}) {
            std::vector<Kept> kept(columns.size());
            std::vector<Task> tasks;
            for (std::size_t k = 0; k < columns.size(); ++k) {
                const std::size_t i = backwards ? columns.size() - 1 - k : k;
                tasks.push_back({.column = &columns[i], .hours = 30, .recorder = &kept[i]});
            }
            REQUIRE(march(tasks, {}, {}, threads));
            for (std::size_t k = 0; k < columns.size(); ++k) CHECK(kept[k].values == alone[k]);
        }
    }
}

TEST_CASE("a run that is asked to stop returns no number") {
    const Column c = air_leak_wall(1);
    StopSource source;
    source.stop();
    const Task task{.column = &c, .hours = 1000};
    const auto done = march(std::span(&task, 1), {}, {.stop = source.token()});
    REQUIRE_FALSE(done);
    CHECK(done.error().code == Code::stopped);
}

TEST_CASE("weather that cannot be met is a problem that names column, layer and hour") {
    Column c = air_leak_wall(1);
    c.weather = [](int i, Hour& hour) {
        hour.ambient[0] = {.temperature = i < 5 ? 293.15 : std::nan(""),
                           .vapour_pressure = 1000.0,
                           .heat_film = 8.0,
                           .vapour_film = 1e-8};
        hour.ambient[1] = hour.ambient[0];
    };
    const auto run = run_check(c, {20});
    REQUIRE_FALSE(run);
    CHECK(run.error().code == Code::not_converged);
    CHECK(run.error().what.find("air-leakage wall: no solution in hour 5 at light wall") == 0);
}

TEST_CASE("a column without a store is refused before it runs") {
    Column c = air_leak_wall(1);
    c.nodes[3].volume = 0.0;
    const Task task{.column = &c, .hours = 1};
    const auto done = march(std::span(&task, 1), {});
    REQUIRE_FALSE(done);
    CHECK(done.error().what == "air-leakage wall: node 3 has no store or no start value");
}

TEST_CASE("wet cladding that a cold gust freezes and the sun thaws is solved on any mesh") {
    for (int pieces = 2; pieces <= 8; ++pieces) {
        Column c;
        c.name = "wet siding";
        const material::Material* wood = material::built_in().material("spruce siding");
        REQUIRE(wood);
        const Substance* s = c.keep(tabulate(*wood));
        add_layer(c, s, graded(0.019, pieces, 0.019 / pieces / 1.6), 0.0, 0, {}, 275.15, 1.79, false);
        c.exchanges = {{.node = 0, .kind = Exchange::Kind::inside},
                       {.node = pieces, .kind = Exchange::Kind::outside, .drains = true}};
        c.weather = [](int i, Hour& hour) {
            const bool cold = i % 6 < 3;
            hour.ambient[0] = {.temperature = 275.15, .vapour_pressure = 600.0, .heat_film = 2.0};
            hour.ambient[1] = {.temperature = cold ? 258.15 : 277.15,
                               .vapour_pressure = cold ? 150.0 : 700.0,
                               .heat_film = 25.0,
                               .vapour_film = 1e-7,
                               .emission = 5.1e-8,
                               .radiant = cold ? 245.0 : 270.0,
                               .sun = cold ? 0.0 : 500.0,
                               .rain = i % 12 == 4 ? 5e-4 : 0.0};
        };
        const auto run = run_check(c, {240});
        CAPTURE(pieces);
        REQUIRE_MESSAGE(run, what_of(run));
        CHECK(run->result.water_error() < 1e-6);
        CHECK(run->result.energy_error() < 1e-6);
    }
}

TEST_CASE("Newton's method finds a node in the midst of freezing from either side") {
    Column c;
    c.name = "wet node";
    const material::Material* wood = material::built_in().material("spruce siding");
    REQUIRE(wood);
    const Substance* s = c.keep(tabulate(*wood));
    add_layer(c, s, {0.0, 0.005}, 0.0, 0, {}, 0.0, 1.79, false);
    for (const double held : {271.3, 272.0, 273.0}) {
        for (const double from : {265.0, 270.9, 273.2, 275.0, 290.0}) {
            Lanes<1> lane(2);
            c.temperature = {held, held};
            lane.put(0, c);
            const double energy = lane.stored_energy[0];  // of a node at `held`
            c.temperature = {from, from};
            lane.put(0, c);
            lane.stored_energy[0] = lane.stored_energy[1] = energy;
            lane.step[0] = 1e-3;  // nothing flows: the store alone decides
            lane.move[0] = Move::iterate;
            lane.damping[0] = 1.0;
            lane.set_weights(0, c, 1.0, 1.0);
            int iterations = 0;
            do {
                lane.properties();
                lane.correct();
                lane.update();
            } while (lane.correction[0] > 1e-9 && ++iterations < 30);
            CAPTURE(held);
            CAPTURE(from);
            CHECK(iterations < 12);
            CHECK(lane.temperature[0] == doctest::Approx(held).epsilon(1e-9));
        }
    }
}
