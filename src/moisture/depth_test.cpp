#include "moisture/depth.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <mutex>
#include <set>

#include "moisture/series.h"
#include "moisture/synthetic.h"

using namespace warmside;
using namespace warmside::moisture;
using assembly::Layer;
using units::Exact;

namespace {

Layer solid(const char* name, int millimetres) {
    Layer layer;
    layer.material = material::built_in().material(name);
    REQUIRE(layer.material);
    layer.thickness = Exact::millimetres(millimetres);
    return layer;
}

Layer air(assembly::AirKind kind, int millimetres) {
    Layer layer;
    layer.kind = Layer::Kind::air;
    layer.air = kind;
    layer.thickness = Exact::millimetres(millimetres);
    return layer;
}

// An invented wall with a sheet, still air and a ventilated cavity: 12, 20, 140, 11, 19, 19 mm.
struct Scene {
    assembly::Assembly wall;
    climate::FaceWeather weather = invented_weather(1.0, 1.0);
    climate::Indoor indoor = invented_indoor(weather);
    Scene() {
        Layer sheet;
        sheet.kind = Layer::Kind::membrane;
        sheet.membrane = material::built_in().membrane("variable retarder, medium");
        REQUIRE(sheet.membrane);
        wall.name = "w";
        wall.layers = {solid("gypsum board", 12),
                       air(assembly::AirKind::still, 20),
                       sheet,
                       solid("stone wool batt", 140),
                       solid("osb", 11),
                       air(assembly::AirKind::ventilated, 19),
                       solid("spruce siding", 19)};
    }
    [[nodiscard]] Run run() const {
        Run r;
        r.name = "w north bay";
        r.assembly = &wall;
        r.outside = &weather;
        r.inside = &indoor;
        r.years = 1;
        return r;
    }
};

}  // namespace

TEST_CASE("a depth lies between the two nodes around it, in the layer that holds it") {
    const Scene scene;
    Shelf shelf;
    const auto built = build(scene.run(), {}, shelf);
    REQUIRE(built);
    const auto& nodes = built->column.nodes;
    for (double depth = 0.033; depth < 0.182; depth += 0.0037) {
        const auto place = place_at(*built, scene.wall, depth);
        REQUIRE(place);
        CHECK(place->layer == (depth < 0.172 ? 3U : 4U));
        CHECK(place->holds_water);
        const double at =
            (1.0 - place->share) * nodes[place->from].position + place->share * nodes[place->to].position;
        CHECK(at == doctest::Approx(depth));
        CHECK(nodes[place->from].layer == static_cast<int>(place->layer));
        CHECK(nodes[place->to].layer == static_cast<int>(place->layer));
    }
}

TEST_CASE("where layers meet the outer one is read; air holds no water; outside is a Problem") {
    const Scene scene;
    Shelf shelf;
    const auto built = build(scene.run(), {}, shelf);
    REQUIRE(built);
    const auto layer_at = [&](double depth) { return place_at(*built, scene.wall, depth)->layer; };
    CHECK(layer_at(0.0) == 0);
    CHECK(layer_at(0.012) == 1);
    CHECK(layer_at(0.032) == 3);
    CHECK(layer_at(0.172) == 4);
    CHECK(layer_at(0.221) == 6);
    const auto still = place_at(*built, scene.wall, 0.022);
    CHECK_FALSE(still->holds_water);
    CHECK(still->share == doctest::Approx(0.5));
    const auto cavity = place_at(*built, scene.wall, 0.185);
    CHECK_FALSE(cavity->holds_water);
    CHECK(cavity->from == cavity->to);
    CHECK(built->column.nodes[cavity->from].layer == 5);
    for (const double depth : {-0.001, 0.2215, std::numeric_limits<double>::quiet_NaN()}) {
        const auto none = place_at(*built, scene.wall, depth);
        REQUIRE_FALSE(none);
        CHECK(none.error().code == Code::out_of_range);
    }
    auto far = simulate(std::vector{scene.run()}, {.depths = {0.5}});
    REQUIRE_FALSE(far);
    CHECK(far.error().what.find("500.0 mm is outside w, which is 221.0 mm thick") != std::string::npos);
}

TEST_CASE("the history of a depth: at a face that of the probe there, between two depths between theirs") {
    const Scene scene;
    Options options;
    options.depths = {0.0, 0.172, 0.0925, 0.102, 0.1115};
    options.probe_moisture = true;
    const auto done = simulate(std::vector{scene.run()}, options);
    REQUIRE(done);
    const History& h = done->front();
    REQUIRE(h.depths.size() == 5);
    for (const auto& d : h.depths) {
        REQUIRE(d.temperature.size() == 8760);
        REQUIRE(d.relative_humidity.size() == 8760);
        REQUIRE(d.moisture.size() == 8760);
    }
    const auto probe = [&](const char* name) -> const Probe& {
        for (const auto& p : h.probes)
            if (p.name == name) return p;
        FAIL(name);
        return h.probes.front();
    };
    CHECK(h.depths[0].temperature == probe("inner face of gypsum board").temperature);
    CHECK(h.depths[0].moisture == probe("inner face of gypsum board").moisture);
    CHECK(h.depths[1].relative_humidity == probe("inner face of osb").relative_humidity);
    // Steady in the mean: temperature runs straight through one layer, to what storage and moisture bend it.
    double off = 0.0, span = 0.0;
    for (std::size_t i = 0; i < 8760; ++i) {
        const auto a = static_cast<double>(h.depths[2].temperature[i]),
                   b = static_cast<double>(h.depths[3].temperature[i]),
                   c = static_cast<double>(h.depths[4].temperature[i]);
        off += b - 0.5 * (a + c);
        span += std::abs(a - c);
    }
    CHECK(std::abs(off) < 0.05 * span);
}

TEST_CASE("recording depths changes no result") {
    const Scene scene;
    const auto with = simulate(std::vector{scene.run()}, {.depths = {0.05, 0.1}, .probe_moisture = true});
    const auto without = simulate(std::vector{scene.run()}, {});
    REQUIRE(with);
    REQUIRE(without);
    CHECK(with->front().carpet.relative_humidity == without->front().carpet.relative_humidity);
    CHECK(without->front().depths.empty());
    CHECK(without->front().probes.front().moisture.empty());
}

TEST_CASE("histories are handed over one by one, each once and whole") {
    struct Sink : HistorySink {
        std::mutex guard;
        std::multiset<std::size_t> runs;
        void finished(std::size_t run, History history) override {
            const std::scoped_lock lock(guard);
            runs.insert(run);
            CHECK(history.probes.front().temperature.size() == 8760);
            CHECK(history.balance.water_error < 1e-6);
        }
    } sink;
    const Scene scene;
    const std::vector<Run> runs(3, scene.run());
    REQUIRE(simulate_each(runs, {.mesh_level = 0}, {}, sink));
    CHECK(sink.runs == std::multiset<std::size_t>{0, 1, 2});
}

TEST_CASE("means of stretches: by hand, the last one shorter") {
    const std::vector<float> values{1, 3, 5, 7, 20};
    CHECK(means_of_each(values, 2) == std::vector<float>{2, 6, 20});
    CHECK(means_of_each(values, 1) == values);
    CHECK(means_of_each(values, 9) == std::vector<float>{7.2F});
    CHECK(means_of_each(std::vector<float>{}, 3).empty());
    History h;
    h.layers = {{.layer = 2, .moisture = {1, 3, 5, 7}, .wettest = {2, 2, 8, 8}}};
    const auto halves = layer_means(h, 2);
    REQUIRE(halves.size() == 1);
    CHECK(halves[0].layer == 2);
    CHECK(halves[0].moisture == std::vector<float>{2, 6});
    CHECK(halves[0].wettest == std::vector<float>{2, 8});
    CHECK(layer_means(h, 0).empty());
    CHECK(layer_means(h, 99)[0].moisture.size() == 4);
}
