// Layers that touch, that touch without passing liquid, and that stand apart by a film of air; vent spaces
// that a roof does not list.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "moisture/build.h"
#include "moisture/march.h"
#include "moisture/simulate.h"
#include "moisture/synthetic.h"

using namespace warmside;
using namespace warmside::moisture;
using assembly::Layer;

namespace {

using invented::board;

// Two leaves of brick: dry inside, wet outside.
struct Leaves {
    assembly::Assembly wall;
    climate::FaceWeather weather = invented_weather(0.0, 0.0);
    climate::Indoor room;
    explicit Leaves(Layer::Contact contact, double inside = 293.15, double outside = 293.15) {
        wall.name = "w";
        wall.layers = {board("brick", 90), board("brick", 90)};
        wall.layers[0].start_humidity = 0.5;
        wall.layers[1].start_humidity = 0.9999;
        wall.layers[1].contact = contact;
        const std::size_t n = climate::hours_in_year;
        weather.temperature.assign(n, outside);
        weather.radiant.assign(n, outside);
        weather.solar.assign(n, 0.0);
        weather.driving_rain.assign(n, 0.0);
        weather.vapour_pressure.assign(n, 0.5 * saturation_pressure(outside));
        room.temperature.assign(n, inside);
        room.vapour_pressure.assign(n, 0.3 * saturation_pressure(inside));
    }
    Run run() const {
        Run r;
        r.name = "w bay typical";
        r.assembly = &wall;
        r.outside = &weather;
        r.inside = &room;
        r.years = 1;
        return r;
    }
};

// kg/m2 in the inner leaf after some hours.
double inner_water(const Leaves& leaves, std::size_t hours) {
    const Run run = leaves.run();
    const auto done = simulate(std::span(&run, 1), {});
    REQUIRE(done);
    return 0.09 * static_cast<double>(done->front().layers[0].moisture[hours]);
}

}  // namespace

TEST_CASE("liquid crosses a full contact and not an open one") {
    // In the first hour, against the most that a film of 1 mm of air lets through at the whole difference of
    // pressure.
    const double start = 0.09 * material::moisture_content(*material::built_in().material("brick"), 0.5);
    const double most = 2e-10 / 1e-3 * 0.5 * saturation_pressure(293.15) * 3600.0;
    const double full = inner_water(Leaves(Layer::Contact::full), 0) - start;
    const double open = inner_water(Leaves(Layer::Contact::open), 0) - start;
    MESSAGE("kg/m2 gained: full ", full, ", open ", open, ", most by vapour ", most);
    CHECK(full > 3.0 * most);
    CHECK(open > 0.0);
    CHECK(open < most);
}

TEST_CASE("heat crosses an open contact, and a gap resists it as 1 mm of air by ISO 6946") {
    const auto jump = [](Layer::Contact contact, double& flow) {
        Leaves leaves(contact, 293.15, 273.15);
        leaves.wall.layers[1].start_humidity = 0.5;
        const Run run = leaves.run();
        Shelf shelf;
        const auto built = build(run, {}, shelf);
        REQUIRE(built);
        struct Last : Recorder {
            std::vector<double> t;
            void hour(int, const Snapshot& now) override {
                t.clear();
                for (std::size_t j = 0; j < now.nodes; ++j) t.push_back(now.t(j));
            }
        } last;
        const Task task{.column = &built->column, .hours = 24 * 60, .recorder = &last};
        REQUIRE(march(std::span(&task, 1), {}));
        std::size_t second = 0;
        while (built->column.nodes[second].layer == 0) ++second;
        flow = 7.7 * (293.15 - last.t.front());
        return last.t[second - 1] - last.t[second];
    };
    double flow = 0.0;
    CHECK(jump(Layer::Contact::full, flow) < 1e-3);
    // What vapour crosses the film evaporates on one side and condenses on the other: some thousandths of a
    // kelvin.
    CHECK(jump(Layer::Contact::open, flow) < 1e-2);
    const double apart = jump(Layer::Contact::gap, flow);
    const double r = 1.0 / (25.0 + 1.0 / (2.0 / 0.9 - 1.0) * 4.0 * 5.670374419e-8 * std::pow(283.15, 3));
    CHECK(apart / flow == doctest::Approx(r).epsilon(0.02));
}

TEST_CASE("a vented roof that lists no ventilated air gets a vent space over its insulation") {
    assembly::Assembly roof;
    roof.name = "r";
    roof.part = assembly::Part::roof;
    roof.tilt = 0.6;
    Layer felt;
    felt.kind = Layer::Kind::membrane;
    felt.membrane = material::built_in().membrane("asphalt felt");
    felt.water = true;
    roof.layers = {board("gypsum board", 12.7), board("stone wool batt", 240), board("osb", 11.1), felt,
                   board("asphalt shingles", 6)};
    const auto weather = invented_weather(0.5, 0.0);
    const auto room = invented_indoor(weather);
    Run run;
    run.name = "r bay typical";
    run.assembly = &roof;
    run.outside = &weather;
    run.inside = &room;
    run.years = 1;
    std::vector<Run> runs{run, run};
    assembly::Assembly vented = roof;
    vented.vented = true;
    runs[1].assembly = &vented;
    const auto done = simulate(runs, {});
    REQUIRE(done);
    const auto wettest = [](const History& h) {
        const auto& w = h.layers[2].moisture;  // the deck
        return *std::max_element(w.begin(), w.end());
    };
    CHECK(wettest((*done)[1]) < wettest((*done)[0]));
    for (const History& h : *done) {
        CHECK(h.balance.water_error < 1e-6);
        CHECK(h.balance.energy_error < 1e-6);
        CHECK(std::is_sorted(h.probes.begin(), h.probes.end(),
                             [](const Probe& a, const Probe& b) { return a.depth < b.depth; }));
    }
    const auto& notes = (*done)[1].notes;
    CHECK(std::any_of(notes.begin(), notes.end(),
                      [](const std::string& n) { return n.starts_with("the roof is vented and lists no"); }));
}
