#include "moisture/frost.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "moisture/criteria.h"
#include "moisture/measure.h"
#include "moisture/potential.h"
#include "moisture/synthetic.h"
#include "moisture/verdict.h"

using namespace warmside;
using namespace warmside::moisture;
using assembly::Layer;
using units::Exact;

namespace {

using invented::board;

/// Years of one condition, with the condition of some hours set apart.
struct Hours {
    std::vector<float> temperature, saturation;
    explicit Hours(std::size_t n) : temperature(n, 278.15F), saturation(n, 0.5F) {}
    void put(std::size_t from, std::size_t hours, double celsius, double s) {
        std::fill_n(temperature.begin() + static_cast<std::ptrdiff_t>(from), hours,
                    static_cast<float>(celsius + 273.15));
        std::fill_n(saturation.begin() + static_cast<std::ptrdiff_t>(from), hours, static_cast<float>(s));
    }
    [[nodiscard]] FrostCount count(std::size_t begin, std::size_t end, FrostCount from = {}) const {
        count_cycles(temperature, saturation, {}, begin, end, from);
        return from;
    }
};

}  // namespace

TEST_CASE(
    "a freeze-thaw cycle goes under -2 degC and back over 0 degC, and counts as wet above critical "
    "saturation") {
    Hours h(400);
    h.put(10, 5, -1.9, 0.95);  // not cold enough
    CHECK(h.count(0, 400).all == 0);
    h.put(30, 5, -3.0, 0.7);   // too dry
    h.put(35, 3, -1.0, 0.95);  // wet, but no longer under -2 degC
    CHECK(h.count(0, 400).all == 1);
    CHECK(h.count(0, 400).wet == 0);
    CHECK(h.count(0, 400).fullest == doctest::Approx(0.7));
    h.put(60, 5, -3.0, 0.85);
    CHECK(h.count(0, 400).wet == 1);
    CHECK(h.count(0, 400).hard_and_wet == 0);
    h.put(100, 5, -6.0, 0.85);
    CHECK(h.count(0, 400).wet == 2);
    CHECK(h.count(0, 400).hard_and_wet == 1);
    CHECK(h.count(0, 400).fullest_sample == 60);
    // Between -2 and 0 degC nothing ends: one cycle.
    h.put(150, 4, -4.0, 0.85);
    h.put(154, 4, -0.5, 0.85);
    h.put(158, 4, -4.0, 0.85);
    CHECK(h.count(0, 400).wet == 3);
    // A frost that has not thawed is not yet a cycle.
    CHECK(h.count(0, 160).wet == 2);
}

TEST_CASE("a frost over the turn of the year counts in the year in which it thaws") {
    Hours h(200);
    h.put(90, 20, -8.0, 0.9);
    const auto first = h.count(0, 100);
    CHECK(first.wet == 0);
    CHECK(first.frozen);
    const auto second = h.count(100, 200, first);
    CHECK(second.wet == 1);
    CHECK(second.hard_and_wet == 1);
}

TEST_CASE("exposed faces of frost-sensitive layers are kept, and no others") {
    climate::FaceWeather weather = invented_weather(1.0, 3.0);
    climate::Indoor indoor = invented_indoor(weather);
    assembly::Assembly a;
    a.name = "w";
    Layer cavity;
    cavity.kind = Layer::Kind::air;
    cavity.air = assembly::AirKind::ventilated;
    cavity.thickness = Exact::millimetres(25);
    a.layers = {board("gypsum board", 12.7), board("stone wool batt", 140), board("osb", 11.1), cavity,
                board("brick", 90)};
    Run run{
        .name = "w north bay stressed", .assembly = &a, .outside = &weather, .inside = &indoor, .years = 2};
    run.rain_leak = 0.0;
    const auto done = simulate({&run, 1}, {.mesh_level = 0});
    REQUIRE(done);
    const History& h = done->front();
    REQUIRE(h.frost.size() == 2);
    CHECK(h.frost[0].name == "5 to 10 mm below the inner face of brick");
    CHECK(h.frost[1].name == "5 to 10 mm below the outer face of brick");
    for (const FrostLayer& f : h.frost) {
        REQUIRE(f.temperature.size() == 2 * 8760);
        CHECK(*std::max_element(f.saturation.begin(), f.saturation.end()) <= 1.0F);
        CHECK(*std::min_element(f.saturation.begin(), f.saturation.end()) >= 0.0F);
    }
    // Rain fills the outer face; the inner one only sees what comes through.
    const auto fullest = [&](std::size_t k) {
        return *std::max_element(h.frost[k].saturation.begin(), h.frost[k].saturation.end());
    };
    CHECK(fullest(1) > 0.8F);
    CHECK(fullest(1) > fullest(0));

    Basis basis{.stressed_year_run = true};
    const auto verdict = try_judge(a, *done, basis);
    REQUIRE(verdict);
    const auto found = std::find_if(verdict->findings.begin(), verdict->findings.end(),
                                    [](const Finding& f) { return f.criterion == "freeze-thaw"; });
    REQUIRE(found != verdict->findings.end());
    CHECK_FALSE(found->judged);  // the cladding is reported
    CHECK(found->unit == "cycles");
    CHECK(found->dryness != Dryness::wet);
    CHECK(found->detail.find("critical 80 %, assumed") != std::string::npos);

    a.layers.back() = board("spruce siding", 19);
    const auto wood = simulate({&run, 1}, {.mesh_level = 0});
    REQUIRE(wood);
    CHECK(wood->front().frost.empty());
}

TEST_CASE("the share of full pores is the water between 5 and 10 mm over the pores there") {
    // A column whose nodes all hold the same water has the same share everywhere, whatever the mesh.
    climate::FaceWeather weather = invented_weather();
    climate::Indoor indoor = invented_indoor(weather);
    assembly::Assembly a;
    a.name = "w";
    a.layers = {board("brick", 90)};
    Run run{.name = "w north bay", .assembly = &a, .outside = &weather, .inside = &indoor, .years = 1};
    Shelf shelf;
    for (const int level : {0, 1, 2}) {
        const auto built = build(run, {.mesh_level = level}, shelf);
        REQUIRE(built);
        FrostWatch watch(run, *built, 1);
        std::vector<double> t, w;
        for (const Node& node : built->column.nodes) {
            t.push_back(260.0 + 100.0 * node.position);
            w.push_back(120.0 * node.volume);
        }
        watch.sample({.temperature = t.data(), .stored_water = w.data(), .stride = 1, .nodes = t.size()});
        const auto kept = watch.take();
        REQUIRE(kept.size() == 1);
        CHECK(kept[0].saturation[0] == doctest::Approx(120.0 / (1000.0 * a.layers[0].material->porosity)));
        // 7.5 mm below the outer face, to the width of a node.
        CHECK(std::abs(kept[0].temperature[0] - (260.0 + 100.0 * 0.0825)) < 0.3);
    }
}

TEST_CASE(
    "a wall of aerated concrete faces the weather and is judged; a board of 8 mm keeps its outer half") {
    climate::FaceWeather weather = invented_weather();
    climate::Indoor indoor = invented_indoor(weather);
    assembly::Assembly a;
    a.name = "w";
    a.layers = {board("aerated concrete", 300)};
    Run run{
        .name = "w north bay stressed", .assembly = &a, .outside = &weather, .inside = &indoor, .years = 2};
    const auto block = simulate({&run, 1}, {.mesh_level = 0});
    REQUIRE(block);
    REQUIRE(block->front().frost.size() == 1);
    const auto verdict = try_judge(a, *block, {.stressed_year_run = true});
    REQUIRE(verdict);
    CHECK(std::any_of(verdict->findings.begin(), verdict->findings.end(),
                      [](const Finding& f) { return f.criterion == "freeze-thaw" && f.judged; }));

    a.layers = {board("stone wool batt", 100), board("fibre-cement board", 8)};
    const auto thin = simulate({&run, 1}, {.mesh_level = 0});
    REQUIRE(thin);
    REQUIRE(thin->front().frost.size() == 1);
    CHECK(thin->front().frost[0].name == "4 to 8 mm below the outer face of fibre-cement board");
}

TEST_CASE("frost and loose water are whole in a run that ends settled") {
    climate::FaceWeather weather = invented_weather(1.0, 2.0);
    climate::Indoor indoor = invented_indoor(weather);
    for (std::size_t i = 0; i < indoor.temperature.size(); ++i)
        indoor.vapour_pressure[i] = 0.5 * saturation_pressure(indoor.temperature[i]);
    assembly::Assembly a;
    a.name = "w";
    a.layers = {board("stone wool batt", 140), board("concrete", 60)};
    const Run run{
        .name = "w north bay stressed", .assembly = &a, .outside = &weather, .inside = &indoor, .years = 3};
    const auto done = simulate({&run, 1}, {.mesh_level = 0});
    REQUIRE(done);
    const History& h = done->front();
    REQUIRE(h.frost.size() == 1);
    CHECK(h.frost[0].temperature.size() == 3 * 8760);
    CHECK(h.frost[0].saturation.size() == 3 * 8760);
    bool any = false;
    for (const FreeWater& f : h.free_water) {
        any = any || !f.mass.empty();
        if (!f.mass.empty()) CHECK(f.mass.size() == 3 * 8760);
    }
    CHECK(any);
    CHECK(try_judge(a, *done, {.stressed_year_run = true}));
}

TEST_CASE("water that condenses behind sheet steel is weighed, and no water is weighed where none is free") {
    climate::FaceWeather weather = invented_weather(0.0, 0.0);
    climate::Indoor indoor = invented_indoor(weather);
    for (std::size_t i = 0; i < indoor.temperature.size(); ++i)
        indoor.vapour_pressure[i] = 0.5 * saturation_pressure(indoor.temperature[i]);
    assembly::Assembly a;
    a.name = "w";
    a.layers = {board("gypsum board", 12.7), board("stone wool batt", 140), board("steel", 1)};
    Run run{
        .name = "w north bay stressed", .assembly = &a, .outside = &weather, .inside = &indoor, .years = 2};
    const auto done = simulate({&run, 1}, {.mesh_level = 0});
    REQUIRE(done);
    const auto& free_water = done->front().free_water;
    const auto outer = std::find_if(free_water.begin(), free_water.end(), [](const FreeWater& f) {
        return f.name == "outer half of stone wool batt";
    });
    REQUIRE(outer != free_water.end());
    REQUIRE(outer->mass.size() == 2 * 8760);
    const float most = *std::max_element(outer->mass.begin(), outer->mass.end());
    CHECK(most > 0.5F);
    // What is free cannot be more than what came in and what the layers held from the start.
    CHECK(static_cast<double>(most) < done->front().balance.water_in + 5.0);
    const auto verdict = try_judge(a, *done, {.stressed_year_run = true});
    REQUIRE(verdict);
    const auto found = std::find_if(verdict->findings.begin(), verdict->findings.end(),
                                    [](const Finding& f) { return f.criterion == "condensed water"; });
    REQUIRE(found != verdict->findings.end());
    CHECK(found->judged);
    CHECK(found->dryness == Dryness::wet);
    CHECK(found->value == doctest::Approx(static_cast<double>(most)).epsilon(0.2));
    CHECK(found->detail.find("would run off") != std::string::npos);

    for (std::size_t i = 0; i < indoor.temperature.size(); ++i)
        indoor.vapour_pressure[i] = 0.5 * weather.vapour_pressure[i];  // clear nights cool the steel
    run.start_humidity = 0.3;
    const auto dry = simulate({&run, 1}, {.mesh_level = 0});
    REQUIRE(dry);
    for (const FreeWater& f : dry->front().free_water)
        if (f.layer < 2)
            CHECK_MESSAGE(f.mass.empty(), f.name);  // dew falls on the steel's outer face all the same
}
