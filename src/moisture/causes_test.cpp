// Causes of verdicts over invented weather: what wets a wall is named, and what is taken away takes only
// itself.
#include "moisture/causes.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "moisture/potential.h"
#include "moisture/synthetic.h"
#include "moisture/variation.h"

using namespace warmside;
using namespace warmside::moisture;
using assembly::Layer;
using units::Exact;

namespace {

using invented::board;
using invented::sheet;

/// Gypsum board with latex paint, wool, osb, siding on a wrap that leaks to the osb's outer face. Invented.
assembly::Assembly paint_only() {
    assembly::Assembly a;
    a.name = "w";
    Layer lining = board("gypsum board", 12.7);
    lining.finish = material::built_in().membrane("latex paint");
    Layer wool = board("stone wool batt", 140);
    wool.framing = assembly::Framing{};
    wool.framing->material = material::built_in().material("spruce-pine-fir lumber");
    wool.framing->depth = wool.thickness;
    Layer osb = board("osb", 11.1);
    osb.water = true;  // the leak lands on its outer face and is soaked up
    Layer cavity;
    cavity.kind = Layer::Kind::air;
    cavity.air = assembly::AirKind::ventilated;
    cavity.thickness = Exact::millimetres(19);
    a.layers = {lining, wool, osb, cavity, board("spruce siding", 19)};
    return a;
}

struct Scene {
    assembly::Assembly wall = paint_only();
    climate::FaceWeather weather = invented_weather(0.3, 1.0);
    climate::Indoor indoor = invented_indoor(weather);
    Options options{.mesh_level = 0};
    Basis basis{.stressed_year_run = true, .rain_leak = 0.01};

    /// Indoor air of one relative humidity all year.
    void hold_room_at(double humidity) {
        for (std::size_t i = 0; i < indoor.temperature.size(); ++i)
            indoor.vapour_pressure[i] = humidity * saturation_pressure(indoor.temperature[i]);
    }
    [[nodiscard]] Run run(const char* name = "w north bay stressed") const {
        Run r;
        r.name = name;
        r.assembly = &wall;
        r.outside = &weather;
        r.inside = &indoor;
        r.years = 2;
        r.rain_leak = 0.01;
        return r;
    }
    [[nodiscard]] Verdict judged(std::span<const Run> runs) const {
        const auto histories = simulate(runs, options);
        REQUIRE(histories);
        auto verdict = try_judge(wall, *histories, basis);
        REQUIRE(verdict);
        return std::move(*verdict);
    }
    [[nodiscard]] Verdict explained(std::span<const Run> runs) const {
        auto verdict = judged(runs);
        const Inquiry inquiry{&wall, runs, basis, &verdict};
        const auto done = find_causes({&inquiry, 1}, options);
        REQUIRE(done);
        return verdict;
    }
};

const DriverShare* share_of(const Verdict& v, Driver driver) {
    const auto found = std::find_if(v.drivers.begin(), v.drivers.end(),
                                    [&](const DriverShare& d) { return d.driver == driver; });
    return found == v.drivers.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("a wall with paint only and 60 % indoors is wet, by vapour from inside, and a retarder helps") {
    Scene scene;
    scene.hold_room_at(0.6);
    auto run = scene.run();
    run.rain_leak = 0.0;
    const auto v = scene.explained({&run, 1});
    CHECK(v.dryness == Dryness::wet);
    REQUIRE_FALSE(v.drivers.empty());
    CHECK(v.drivers.front().driver == Driver::indoor_vapour);
    CHECK(v.drivers.front().dryness_without < Dryness::wet);
    CHECK(v.driver_words.find("mostly vapour from inside: without it the " + v.deciding.criterion) == 0);
    CHECK(share_of(v, Driver::air_leakage) == nullptr);  // none is run
    REQUIRE_FALSE(v.changes.empty());
    CHECK(v.changes.front().all_runs);
    CHECK(v.changes.front().dryness <= v.dryness);
    const auto retarder = std::find_if(v.changes.begin(), v.changes.end(), [](const Change& c) {
        return c.what.find(
                   "a variable vapour retarder (variable retarder, medium) behind the gypsum board") == 0;
    });
    CHECK(retarder != v.changes.end());
}

TEST_CASE("a wall that only the leaking rain wets names rain, and its allowance parts dry from not dry") {
    Scene scene;
    scene.hold_room_at(0.3);
    scene.wall.layers.insert(scene.wall.layers.begin() + 1, sheet("polyethylene"));
    auto run = scene.run();
    run.start_humidity = 0.5;
    run.rain_leak = 0.15;
    const auto v = scene.explained({&run, 1});
    CHECK(v.dryness != Dryness::dry);
    REQUIRE_FALSE(v.drivers.empty());
    CHECK(v.drivers.front().driver == Driver::rain);
    CHECK(v.drivers.front().dryness_without == Dryness::dry);
    CHECK(v.driver_words.find("mostly rain: without it") == 0);
    const auto half = std::find_if(v.changes.begin(), v.changes.end(),
                                   [](const Change& c) { return c.what == "half the rain leak"; });
    CHECK(half != v.changes.end());

    // The same verdict function on both sides of what the search says.
    REQUIRE(v.allowance);
    CHECK(v.allowance->assumed == doctest::Approx(0.15 * yearly_rain(run)));
    REQUIRE(v.allowance->dry_bounded);
    CHECK(v.allowance->dry > 0.0);
    CHECK(v.allowance->dry < v.allowance->assumed);
    CHECK(v.allowance->not_wet >= v.allowance->dry);
    const auto at = [&](double leak) {
        Run other = run;
        other.rain_leak = leak / yearly_rain(run);
        return scene.judged({&other, 1}).dryness;
    };
    CHECK(at(v.allowance->dry) == Dryness::dry);
    CHECK(at(1.05 * v.allowance->dry) != Dryness::dry);
    if (v.allowance->not_wet_bounded) {
        CHECK(at(v.allowance->not_wet) != Dryness::wet);
        CHECK(at(1.05 * v.allowance->not_wet) == Dryness::wet);
    }
}

TEST_CASE("a dry wall that starts damp names its built-in water") {
    Scene scene;
    scene.hold_room_at(0.3);
    scene.wall.layers.insert(scene.wall.layers.begin() + 1, sheet("variable retarder, medium"));
    auto run = scene.run();
    run.start_humidity = 0.85;
    run.rain_leak = 0.0;
    const auto v = scene.explained({&run, 1});
    CHECK(v.deciding.first_year);
    REQUIRE_FALSE(v.drivers.empty());
    CHECK(v.drivers.front().driver == Driver::built_in_water);
    CHECK(v.without_drivers.has_value());
    CHECK(*v.without_drivers < v.deciding.value);
}

TEST_CASE("a driver taken away takes nothing else with it") {
    Scene scene;
    std::vector<double> flow(climate::hours_in_year, 1e-5);
    auto run = scene.run();
    run.air_flow = 1e-5;
    run.air_flow_by_hour = &flow;
    const auto same_run = [&](const Run& a) {
        return a.name == run.name && a.assembly == run.assembly && a.path == run.path &&
               a.years == run.years && a.start_hour == run.start_hour && a.rain_leak == run.rain_leak &&
               a.mesh == run.mesh;
    };
    const auto dry_room = without(run, Driver::indoor_vapour);
    REQUIRE(dry_room);
    CHECK(same_run(dry_room->run));
    CHECK(dry_room->run.outside == run.outside);
    CHECK(dry_room->run.inside->temperature == scene.indoor.temperature);
    for (std::size_t i = 0; i < 8760; i += 13) {
        CHECK(dry_room->run.inside->vapour_pressure[i] <= scene.weather.vapour_pressure[i]);
        CHECK(dry_room->run.inside->vapour_pressure[i] <= scene.indoor.vapour_pressure[i]);
    }

    const auto no_rain = without(run, Driver::rain);
    REQUIRE(no_rain);
    CHECK(same_run(no_rain->run));
    CHECK(no_rain->run.inside == run.inside);
    CHECK(yearly_rain(no_rain->run) == 0.0);
    CHECK(no_rain->run.outside->solar == scene.weather.solar);
    CHECK(no_rain->run.outside->temperature == scene.weather.temperature);
    CHECK_FALSE(without(no_rain->run, Driver::rain));

    const auto no_sun = without(run, Driver::sun);
    REQUIRE(no_sun);
    CHECK(no_sun->run.outside->driving_rain == scene.weather.driving_rain);
    CHECK(no_sun->run.outside->radiant == scene.weather.radiant);
    CHECK(*std::max_element(no_sun->run.outside->solar.begin(), no_sun->run.outside->solar.end()) == 0.0);

    const auto tight = without(run, Driver::air_leakage);
    REQUIRE(tight);
    CHECK(tight->run.air_flow == 0.0);
    CHECK(*std::max_element(tight->air->begin(), tight->air->end()) == 0.0);
    CHECK_FALSE(without(tight->run, Driver::air_leakage));

    const auto none = without_any(run, true);
    CHECK(without_any(run, false).run.outside->solar == scene.weather.solar);
    CHECK(yearly_rain(none.run) == 0.0);
    CHECK(none.run.start_humidity == dry_start);
    CHECK(none.run.air_flow == 0.0);
    CHECK(none.run.inside->vapour_pressure == dry_room->run.inside->vapour_pressure);
    CHECK(*std::max_element(none.run.outside->solar.begin(), none.run.outside->solar.end()) == 0.0);
}

TEST_CASE("candidates fit the assembly and leave the run's own as it is") {
    Scene scene;
    const auto run = scene.run();
    const auto has = [](const std::vector<Candidate>& all, std::string_view what) {
        return std::any_of(all.begin(), all.end(),
                           [&](const Candidate& c) { return c.what.find(what) != std::string::npos; });
    };
    const auto open = candidates(run);
    CHECK(has(open, "behind the gypsum board"));
    CHECK_FALSE(has(open, "ventilated cavity"));  // it has one
    CHECK_FALSE(has(open, "in place of"));
    CHECK_FALSE(has(open, "half the air leakage"));
    CHECK_FALSE(has(open, "roof"));
    CHECK(has(open, "half the rain leak"));
    for (const auto& each : open) {
        const auto trial = each.apply(run);
        CHECK(trial.run.name == run.name);
        CHECK(trial.run.outside == run.outside);
        if (trial.assembly) CHECK(trial.run.assembly == trial.assembly.get());
        CHECK(scene.wall.layers.size() == 5);
    }

    scene.wall.layers.insert(scene.wall.layers.begin() + 1, sheet("polyethylene"));
    scene.wall.layers.erase(scene.wall.layers.begin() + 4);                     // the cavity
    scene.wall.layers.insert(scene.wall.layers.begin() + 4, board("xps", 50));  // outside the osb
    scene.wall.leak_layer = 3;
    const auto closed = candidates(scene.run());
    CHECK(has(closed, "variable retarder, medium in place of the polyethylene"));
    CHECK(has(closed, "stone wool board in place of the xps outside"));
    CHECK(has(closed, "a ventilated cavity behind the spruce siding"));
    for (const auto& each : closed) {
        const auto trial = each.apply(run);
        if (!trial.assembly) continue;
        // The leak still lands on the osb.
        const auto& layer = trial.assembly->layers[static_cast<std::size_t>(trial.assembly->leak_layer)];
        CHECK(layer.title() == "osb");
    }
}

TEST_CASE("causes do not depend on what else is asked, and a stop is a problem") {
    Scene scene;
    const std::vector<Run> runs{scene.run("w north bay stressed"), scene.run("w north framing stressed")};
    auto framing = runs;
    framing[1].path = Path::framing;
    auto alone = scene.judged(framing), first = alone, second = alone;
    const Inquiry one{&scene.wall, framing, scene.basis, &alone};
    REQUIRE(find_causes({&one, 1}, scene.options));
    std::vector<Inquiry> both{{&scene.wall, framing, scene.basis, &first},
                              {&scene.wall, framing, scene.basis, &second}};
    std::vector<std::size_t> order;
    REQUIRE(find_causes(both, scene.options, {}, [&](std::size_t k) { order.push_back(k); }));
    std::sort(order.begin(), order.end());
    CHECK(order == std::vector<std::size_t>{0, 1});
    for (const auto* other : {&first, &second}) {
        CHECK(other->driver_words == alone.driver_words);
        REQUIRE(other->drivers.size() == alone.drivers.size());
        for (std::size_t i = 0; i < alone.drivers.size(); ++i)
            CHECK(other->drivers[i].value_without == alone.drivers[i].value_without);
        REQUIRE(other->changes.size() == alone.changes.size());
        for (std::size_t i = 0; i < alone.changes.size(); ++i)
            CHECK(other->changes[i].what == alone.changes[i].what);
        CHECK(other->allowance->dry == alone.allowance->dry);
    }
    StopSource source;
    source.stop();
    auto stopped = alone;
    const Inquiry late{&scene.wall, framing, scene.basis, &stopped};
    const auto done = find_causes({&late, 1}, scene.options, {.stop = source.token()});
    REQUIRE_FALSE(done);
    CHECK(done.error().code == Code::stopped);
}
