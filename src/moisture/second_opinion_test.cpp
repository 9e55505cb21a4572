#include "moisture/second_opinion.h"

#include <doctest/doctest.h>
#include <fmt/ranges.h>

#include <cmath>
#include <numeric>

#include "moisture/potential.h"
#include "moisture/surface.h"
#include "moisture/synthetic.h"

using namespace warmside;
using namespace warmside::moisture;
using assembly::Layer;
using units::Exact;

namespace {

using invented::board;

struct Scene {
    climate::FaceWeather weather = invented_weather();
    climate::Indoor indoor = invented_indoor(weather);
    assembly::Assembly wall;
    Scene() {
        wall.name = "wall with a cavity";
        Layer cavity;
        cavity.kind = Layer::Kind::air;
        cavity.air = assembly::AirKind::ventilated;
        cavity.thickness = Exact::millimetres(19);
        wall.layers = {board("gypsum board", 12.7), board("stone wool batt", 140), board("osb", 11.1), cavity,
                       board("spruce siding", 19)};
        wall.layers[0].finish = material::built_in().membrane("latex paint");
    }
    [[nodiscard]] Run run() const {
        return {.name = "w north bay stressed", .assembly = &wall, .outside = &weather, .inside = &indoor};
    }
    void hold_room_at(double humidity) {
        for (std::size_t i = 0; i < indoor.temperature.size(); ++i)
            indoor.vapour_pressure[i] = humidity * saturation_pressure(indoor.temperature[i]);
    }
};

}  // namespace

TEST_CASE("monthly means of the run's own weather keep the year's mean and stay below saturation") {
    const Scene scene;
    const auto months = monthly_means(scene.weather, scene.indoor);
    constexpr std::array days{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    double mean = 0.0;
    for (std::size_t m = 0; m < 12; ++m) {
        mean += months[m].outside.temperature * days[m] / 365.0;
        CHECK(months[m].outside.vapour_pressure <= saturation_iso13788(months[m].outside.temperature));
    }
    const auto& t = scene.weather.temperature;
    CHECK(mean == doctest::Approx(std::accumulate(t.begin(), t.end(), 0.0) / 8760.0).epsilon(1e-9));
    CHECK(months[0].outside.temperature < months[6].outside.temperature);
}

TEST_CASE("the line of the monthly method ends at the ventilated cavity and carries paint as a sheet") {
    const Scene scene;
    const auto path = steady_path(scene.run());
    REQUIRE(path);
    CHECK(fmt::format("{}", fmt::join(path->names, ", ")) ==
          "room, latex paint, gypsum board, stone wool batt, osb, outside");
    CHECK(path->layers[1].resistance == 0.0);
    CHECK(path->layers[1].vapour_resistance ==
          doctest::Approx(1.0 / material::permeance(*material::built_in().membrane("latex paint"), 0.5)));
    CHECK(path->layers[3].resistance == doctest::Approx(0.14 / scene.wall.layers[1].material->conductivity));
}

TEST_CASE("a humid room wets the inner face of the sheathing in winter, a dry one nothing") {
    Scene scene;
    scene.hold_room_at(0.5);
    const auto humid = monthly_opinion(scene.run());
    REQUIRE(humid);
    CHECK(humid->first_month >= 10);
    CHECK(humid->peak > 0.1);
    CHECK(humid->place == "between stone wool batt and osb");
    CHECK(humid->words.find("kg/m2 between stone wool batt and osb in ") != std::string::npos);
    // By hand from the months: the peak is what the months gave, added up.
    const auto path = steady_path(scene.run());
    const auto year = monthly_condensation(path->layers, monthly_means(scene.weather, scene.indoor));
    REQUIRE(year);
    CHECK(humid->peak == year->peak);
    CHECK(humid->dries_out == year->dries_out);

    scene.hold_room_at(0.1);
    const auto dry = monthly_opinion(scene.run());
    REQUIRE(dry);
    CHECK(dry->words == "no condensation in any month");
    CHECK(dry->peak == 0.0);
}

TEST_CASE("the second opinion never decides, and says why where it has none") {
    Scene scene;
    scene.hold_room_at(0.5);
    const auto run = scene.run();
    Verdict verdict;
    verdict.dryness = Dryness::dry;
    verdict.deciding.run = run.name;
    add_second_opinion({&run, 1}, verdict);
    REQUIRE(verdict.monthly);
    CHECK(verdict.monthly->peak > 0.1);
    CHECK(verdict.dryness == Dryness::dry);

    // A room wetter than its cold face: condensation on a face that no vapour resistance parts from the room.
    scene.wall.layers.assign(1, board("steel", 1));
    Verdict none;
    none.deciding.run = run.name;
    add_second_opinion({&run, 1}, none);
    CHECK_FALSE(none.monthly);
    REQUIRE(none.notes.size() == 1);
    CHECK(none.notes[0].find("no second opinion by ISO 13788: ") == 0);
}
