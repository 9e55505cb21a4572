// The example houses: each rung has a sealing plan; the example's readings are a test that counts.
#include <doctest/doctest.h>

#include <cstdlib>
#include <fmt/format.h>
#include <fstream>
#include <sstream>

#include "assembly/geometry.h"
#include "leakage/tightness.h"
#include "project/read.h"

using namespace warmside;
using namespace warmside::leakage;

namespace {

std::string text_of(const std::string& file) {
    const char* path = std::getenv("WARMSIDE_SOURCE");
    std::ostringstream all;
    all << std::ifstream(std::string(path ? path : ".") + "/examples/" + file).rdbuf();
    return all.str();
}

std::unique_ptr<assembly::House> example(const std::string& file) {
    return project::read_house(file, text_of(file)).house;
}

Result<SealingPlan> plan_of(const assembly::House& house, const assembly::Assembly& wall) {
    const auto frame = framing::frame_walls(house, wall);
    return sealing_plan(house, wall, frame ? frame->panels : std::vector<framing::Panel>{}, {});
}

bool shows() {
    return std::getenv("WARMSIDE_SHOW") != nullptr;
}

}  // namespace

TEST_CASE("every wall rung of the example houses has a sealing plan") {
    for (const char* file :
         {"heron-ridge/house.toml", "assemblies/double-stud.toml", "assemblies/l-shaped-house.toml",
          "assemblies/details.toml", "assemblies/roofs.toml", "assemblies/attic-and-crawl-space.toml",
          "assemblies/closed-crawl-space.toml"}) {
        const auto house = example(file);
        REQUIRE(house);
        for (const auto& ladder : house->ladders) {
            if (ladder.part != assembly::Part::wall) continue;
            for (const std::size_t rung : ladder.rungs) {
                const auto& wall = house->assemblies[rung];
                INFO(file, " ", wall.name);
                const auto plan = plan_of(*house, wall);
                if (!plan) {
                    CHECK(house->storeys.empty());
                    continue;
                }
                CHECK(plan->area.alike.best > 0.0);
                CHECK(plan->area.alike.best < plan->area.alike.typical);
                CHECK(plan->area.alike.typical < plan->area.alike.poor);
                const auto tight = tightness(*house, *plan);
                CHECK(tight);
                if (!shows()) continue;
                const auto &a = plan->air_change.alike, &i = plan->air_change.independent;
                MESSAGE(fmt::format(
                    "{} {}: {:.0f} cm2, ACH50 {:.2f}, alike {:.2f} to {:.2f}, independent {:.2f} to "
                    "{:.2f}, {} items",
                    file, wall.name, plan->area.alike.typical * 1e4, 3600 * a.typical, 3600 * a.best,
                    3600 * a.poor, 3600 * i.best, 3600 * i.poor, plan->items.size()));
                for (const auto& g : plan->groups)
                    MESSAGE(fmt::format("  {:32} {:3} {:7.1f} cm2 ({:.1f} to {:.1f}) {:.0f} %",
                                        name_of(g.kind), g.items.size(), g.area.typical * 1e4,
                                        g.area.best * 1e4, g.area.poor * 1e4, 100 * g.share));
                for (const auto& n : plan->notes) MESSAGE(render(n));
            }
        }
    }
}

TEST_CASE("the sheet of the plan covers walls and top of the example house, no more") {
    const auto house = example("heron-ridge/house.toml");
    REQUIRE(house);
    const auto plan = plan_of(*house, house->assemblies[house->ladders[0].rungs[0]]);
    REQUIRE(plan);
    double sheet = 0.0;
    for (const auto& item : plan->items)
        if (item.kind == SealKind::laps) sheet += item.quantity;
    const auto areas = assembly::areas(*house);
    CHECK(sheet == doctest::Approx(areas.walls_net + areas.ceiling));
}

TEST_CASE("the example's readings are read, count, and replace what the plan expects") {
    const auto house = example("heron-ridge/house.toml");
    REQUIRE(house);
    Problems problems;
    const auto readings =
        read_blower_door("blower-door.csv", text_of("heron-ridge/blower-door.csv"), problems);
    for (const auto& p : problems) MESSAGE(render(p));
    REQUIRE(readings);
    const auto test = blower_door(*readings, TestStandard::iso_9972, tested_house(*house));
    REQUIRE(test);
    for (const auto& f : test->findings) MESSAGE(f.what);
    CHECK(test->valid());
    CHECK(test->findings.empty());
    const auto plan = plan_of(*house, house->assemblies[house->ladders[0].rungs[2]]);
    REQUIRE(plan);
    const auto tight = tightness(*house, *plan, &*test);
    REQUIRE(tight);
    CHECK(tight->from == HouseTightness::From::measured);
    CHECK(tight->at_50_pa_low < tight->at_50_pa);
    if (!shows()) return;
    const auto& f = test->figures;
    MESSAGE(fmt::format(
        "n {:.4f}, C {:.2f} m3/(h Pa^n), Q50 {:.1f} ({:.1f} to {:.1f}) m3/h, ACH50 {:.3f}, ELA {:.1f} "
        "cm2, EqLA {:.1f}, ISO {:.1f}",
        f.exponent, 3600 * f.coefficient, 3600 * f.at_50_pa.value, 3600 * f.at_50_pa.low,
        3600 * f.at_50_pa.high, 3600 * test->air_change->value, 1e4 * f.ela, 1e4 * f.eqla, 1e4 * f.iso_ela));
    MESSAGE(compare(*test, *plan).words);
    MESSAGE(against(*test, 3.0 / 3600)->words);
}
