#include "moisture/simulate.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <mutex>

#include "base/what.h"
#include "moisture/build.h"
#include "moisture/path.h"
#include "moisture/potential.h"
#include "moisture/synthetic.h"

using namespace warmside;
using namespace warmside::moisture;
using assembly::Layer;
using units::Exact;

namespace {

using invented::board;
using invented::framed;
using invented::sheet;
using invented::wall;

struct Scene {
    assembly::Assembly wall = invented::wall();
    climate::FaceWeather weather = invented_weather(1.0, 1.0);
    climate::Indoor indoor = invented_indoor(weather);
    Run run(const char* name, Path path = Path::bay) const {
        Run r;
        r.name = name;
        r.assembly = &wall;
        r.path = path;
        r.outside = &weather;
        r.inside = &indoor;
        r.years = 1;
        return r;
    }
};

double highest(const std::vector<float>& values) {
    return *std::max_element(values.begin(), values.end());
}

const Probe& probe(const History& h, const std::string& name) {
    const auto found =
        std::find_if(h.probes.begin(), h.probes.end(), [&](const Probe& p) { return p.name == name; });
    REQUIRE(found != h.probes.end());
    return *found;
}

struct Columns : CarpetSink {
    std::mutex mutex;
    std::vector<int> seen;
    std::vector<float> last;
    void column(std::size_t run, int column, std::span<const float> humidity) override {
        const std::scoped_lock lock(mutex);
        if (run == 0) {
            seen.push_back(column);
            last.assign(humidity.begin(), humidity.end());
        }
    }
};

}  // namespace

TEST_CASE("a year of one wall: whole histories, closed balances, streamed carpet") {
    const Scene scene;
    const std::vector<Run> runs{scene.run("bay"), scene.run("stud", Path::framing)};
    Columns sink;
    Options options;
    options.carpet_columns = 52;
    const auto done = simulate(runs, options, {}, &sink);
    REQUIRE(done);
    for (const History& h : *done) {
        CHECK(h.balance.water_error < 1e-6);
        CHECK(h.balance.energy_error < 1e-6);
        CHECK(h.balance.leak ==
              doctest::Approx(0.01 * (h.balance.rain_run_off + h.balance.rain_absorbed)).epsilon(0.2));
        for (const Probe& p : h.probes) {
            REQUIRE(p.temperature.size() == 8760);
            REQUIRE(p.relative_humidity.size() == 8760);
            CHECK(highest(p.relative_humidity) <= 1.0F);
            CHECK(p.depth >= 0.0);
        }
        for (const LayerMoisture& layer : h.layers) {
            REQUIRE(layer.moisture.size() == 8760);
            for (std::size_t i = 0; i < 8760; i += 97) CHECK(layer.wettest[i] >= layer.moisture[i] * 0.9999F);
        }
        CHECK(h.carpet.relative_humidity.size() == 52 * 48);
        CHECK(std::all_of(h.carpet.temperature.begin(), h.carpet.temperature.end(),
                          [](float t) { return t > 230.0F; }));
    }
    CHECK(sink.seen.size() == 52);
    CHECK(std::is_sorted(sink.seen.begin(), sink.seen.end()));
    CHECK(std::equal(sink.last.begin(), sink.last.end(), (*done)[0].carpet.relative_humidity.end() - 48));
    CHECK(probe((*done)[0], "inner face of osb").sensitive);
    CHECK_FALSE(probe((*done)[0], "outer face of spruce siding").sensitive);
    CHECK(probe((*done)[1], "outer face of spruce-pine-fir lumber").sensitive);
}

TEST_CASE("more rain leak never makes the sheathing drier") {
    const Scene scene;
    std::vector<Run> runs;
    for (const double leak : {0.0, 0.01, 0.05}) {
        runs.push_back(scene.run("leak"));
        runs.back().rain_leak = leak;
    }
    const auto done = simulate(runs, {});
    REQUIRE(done);
    const auto mean = [&](const History& h) {
        double sum = 0.0;
        for (const float v : probe(h, "outer face of osb").relative_humidity) sum += v;
        return sum / 8760.0;
    };
    CHECK(mean((*done)[1]) >= mean((*done)[0]));
    CHECK(mean((*done)[2]) >= mean((*done)[1]));
    CHECK((*done)[0].balance.leak == 0.0);
}

TEST_CASE("room air that leaks out through the wall wets the sheathing in winter") {
    const Scene scene;
    std::vector<Run> runs{scene.run("tight"), scene.run("leaky")};
    runs[1].air_flow = 5e-5;
    const auto done = simulate(runs, {});
    REQUIRE(done);
    CHECK(highest(probe((*done)[1], "inner face of osb").relative_humidity) >
          highest(probe((*done)[0], "inner face of osb").relative_humidity) + 0.02);
}

TEST_CASE("a run among others has the bits of the run alone") {
    const Scene scene;
    std::vector<Run> runs;
    for (int i = 0; i < 9; ++i) {
        runs.push_back(scene.run("many", i % 2 ? Path::framing : Path::bay));
        runs.back().rain_leak = 0.002 * i;
    }
    const auto together = simulate(runs, {});
    const auto alone = simulate(std::span(runs).subspan(3, 1), {});
    REQUIRE(together);
    REQUIRE(alone);
    CHECK((*together)[3].probes[2].relative_humidity == (*alone)[0].probes[2].relative_humidity);
    CHECK((*together)[3].layers[2].moisture == (*alone)[0].layers[2].moisture);
    CHECK((*together)[3].balance.water_in == (*alone)[0].balance.water_in);
}

TEST_CASE(
    "finer cells and tighter steps move the sheathing's humidity by less than half a per cent over a week") {
    const Scene scene;
    const std::vector<Run> runs{scene.run("bay")};
    const auto standard = simulate(runs, {});
    const auto fine = simulate(runs, {.tolerance = 3e-4, .mesh_level = 2});
    REQUIRE(standard);
    REQUIRE(fine);
    const auto& a = probe((*standard)[0], "inner face of osb").relative_humidity;
    const auto& b = probe((*fine)[0], "inner face of osb").relative_humidity;
    double worst = 0.0;
    for (std::size_t week = 0; week < 52; ++week) {
        double difference = 0.0;
        for (std::size_t i = 0; i < 168; ++i) difference += a[168 * week + i] - b[168 * week + i];
        worst = std::max(worst, std::abs(difference / 168.0));
    }
    MESSAGE("largest weekly difference ", 100.0 * worst, " % RH");
    CHECK(worst < 0.005);
}

TEST_CASE("the framing path meets the member and what runs with it") {
    assembly::Assembly a = wall();
    Layer service = framed(board("stone wool batt", 38), 38);
    service.framing->run = assembly::Run::horizontal;
    a.layers.insert(a.layers.begin() + 1, service);
    std::vector<std::string> notes;
    const auto path = path_through(a, Path::framing, notes);
    CHECK(path[1].material->name == "stone wool batt");
    CHECK(path[3].material->name == "spruce-pine-fir lumber");
    a.layers[1].framing->run = assembly::Run::vertical;
    CHECK(path_through(a, Path::framing, notes)[1].material->name == "spruce-pine-fir lumber");
}

TEST_CASE("an I-joist is met as flange, fill, flange; a shallow member stands at the outer side") {
    assembly::Assembly a = wall();
    a.layers[2].framing->kind = assembly::Framing::Kind::i_joist;
    a.layers[2].framing->flange_depth = Exact::millimetres(38);
    std::vector<std::string> notes;
    const auto joist = path_through(a, Path::framing, notes);
    CHECK(joist[2].thickness == doctest::Approx(0.038));
    CHECK(joist[3].material->name == "stone wool batt");
    CHECK(joist[4].thickness == doctest::Approx(0.038));
    a = wall();
    a.layers[2].framing->depth = Exact::millimetres(89);
    const auto shallow = path_through(a, Path::framing, notes);
    CHECK(shallow[2].material->name == "stone wool batt");
    CHECK(shallow[2].thickness == doctest::Approx(0.051));
    CHECK(shallow[3].material->name == "spruce-pine-fir lumber");
}

TEST_CASE("walls thrown together from the whole catalogue run to the end with closed balances") {
    const Scene scene;
    const auto& all = material::built_in();
    unsigned state = 12345;
    const auto draw = [&](std::size_t n) {
        state = state * 1664525U + 1013904223U;
        return static_cast<std::size_t>(state >> 8U) % n;
    };
    std::vector<assembly::Assembly> walls(24);
    std::vector<Run> runs;
    for (assembly::Assembly& a : walls) {
        a.name = "thrown";
        const std::size_t count = 3 + draw(5);
        for (std::size_t i = 0; i < count; ++i) {
            const std::size_t kind = i == 0 ? 0 : draw(10);
            if (kind < 6) {
                const auto& m = all.materials[draw(all.materials.size())];
                a.layers.push_back(board(m.name.c_str(), m.density < 200.0
                                                             ? 20.0 + static_cast<double>(draw(220))
                                                             : 1.0 + static_cast<double>(draw(60))));
            } else if (kind < 8) {
                a.layers.push_back(sheet(all.membranes[draw(all.membranes.size())].name.c_str()));
                a.layers.back().water = draw(2) == 0;
            } else {
                Layer air;
                air.kind = Layer::Kind::air;
                air.air = kind == 8 ? assembly::AirKind::ventilated : assembly::AirKind::still;
                air.thickness = Exact::millimetres(10 + static_cast<std::int64_t>(draw(40)));
                a.layers.push_back(air);
            }
        }
        runs.push_back(scene.run("thrown"));
        runs.back().assembly = &a;
        runs.back().air_flow = draw(4) == 0 ? 1e-5 * (static_cast<double>(draw(20)) - 10.0) : 0.0;
        runs.back().rain_leak = draw(2) == 0 ? 0.01 : 0.05;
    }
    const auto done = simulate(runs, {});
    REQUIRE_MESSAGE(done, what_of(done));
    for (const History& h : *done) {
        CHECK(h.balance.water_error < 1e-6);
        CHECK(h.balance.energy_error < 1e-6);
    }
}

TEST_CASE("a run without weather or with half a year is refused by name") {
    Scene scene;
    Run run = scene.run("short");
    run.outside = nullptr;
    auto done = simulate(std::span(&run, 1), {});
    REQUIRE_FALSE(done);
    CHECK(done.error().code == Code::missing);
    scene.weather.solar.resize(4380);
    run = scene.run("short");
    done = simulate(std::span(&run, 1), {});
    REQUIRE_FALSE(done);
    CHECK(done.error().what == "short: a climate column has 4380 hours, not 8760");
}

TEST_CASE("paint on the lining resists vapour as a resistance in series") {
    // Steady isothermal air on both sides of painted wool; the humidity behind the paint follows from
    // resistances in series (room film, paint, wool, outer film), none of which depends on humidity here.
    assembly::Assembly a;
    a.name = "w";
    material::Membrane paint = *material::built_in().membrane("polyethylene");
    paint.permeance = {{0.0, 1.0}, {20e-12, 20e-12}};  // kg/(s m2 Pa), invented
    Layer wool = board("stone wool batt", 100);
    wool.finish = &paint;
    a.layers = {wool};
    climate::FaceWeather still = invented_weather(0.0, 0.0);
    const double T = 293.15, saturated = saturation_pressure(T);
    const std::size_t hours = climate::hours_in_year;
    still.temperature.assign(hours, T);
    still.radiant.assign(hours, T);
    still.solar.assign(hours, 0.0);
    still.driving_rain.assign(hours, 0.0);
    still.vapour_pressure.assign(hours, 0.3 * saturated);
    climate::Indoor room;
    room.temperature.assign(hours, T);
    room.vapour_pressure.assign(hours, 0.6 * saturated);
    Run run;
    run.name = "w painted bay typical";
    run.assembly = &a;
    run.outside = &still;
    run.inside = &room;
    run.years = 1;
    const auto done = simulate(std::span(&run, 1), {});
    REQUIRE(done);
    const double delta = material::vapour_permeability(*wool.material, 0.5);
    const double z_paint = 1.0 / 20e-12, z_wool = 0.1 / delta;  // the films are below 1 % of the paint
    const double expected = 0.6 - 0.3 * z_paint / (z_paint + z_wool);
    CHECK(probe((*done)[0], "inner face of stone wool batt").relative_humidity.back() ==
          doctest::Approx(expected).epsilon(0.01));
}
