// The example house priced with the demo book, rung by rung, walls alone and everything.
#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <optional>

#include "framing/frame.h"
#include "project/read.h"
#include "takeoff/cost.h"
#include "takeoff/quantities.h"

using namespace warmside;

namespace {

project::Reading example() {
    const std::string path = std::string(std::getenv("WARMSIDE_SOURCE")) + "/examples/heron-ridge/house.toml";
    std::ifstream file(path);
    REQUIRE(file);
    return project::read_house("house.toml", std::string(std::istreambuf_iterator<char>(file), {}));
}

double money(const std::vector<takeoff::CostLine>& lines) {
    double sum = 0.0;
    for (const auto& line : lines) sum += line.money;
    return sum;
}

void price_ladder(bool whole) {
    const auto reading = example();
    REQUIRE(reading.house);
    const auto& house = *reading.house;
    const auto& book = takeoff::demo_prices();
    const assembly::Assembly* from = nullptr;
    std::optional<takeoff::Cost> before;
    int rungs = 0;
    for (const assembly::Ladder& ladder : house.ladders) {
        if (ladder.part != assembly::Part::wall) continue;
        for (const std::size_t index : ladder.rungs) {
            const assembly::Assembly& to = house.assemblies[index];
            INFO(to.name);
            const auto frame = whole ? framing::frame(house, to) : framing::frame_walls(house, to);
            REQUIRE(frame);
            const auto order = takeoff::order_of(house, to, *frame);
            REQUIRE(order);
            auto cost = takeoff::cost_of(house, to, *frame, *order, book);
            if (!cost) {
                for (const Problem& p : cost.error()) MESSAGE(p.what);
            }
            REQUIRE(cost);
            CHECK(cost->demo);
            CHECK(cost->total > 0.0);
            CHECK(cost->total == doctest::Approx(money(cost->lines)).epsilon(1e-12));
            for (const auto& line : cost->lines) CHECK(line.money >= 0.0);
            if (before) {
                const auto step = takeoff::step_cost(house, *from, *before, to, *cost, book);
                REQUIRE(step);
                const double wanted = cost->total - before->total + money(step->knock_on);
                CHECK(step->total == doctest::Approx(wanted).epsilon(1e-10));
                CHECK(money(step->lines) + money(step->knock_on) == doctest::Approx(wanted).epsilon(1e-10));
                CHECK_FALSE(step->knock_on.empty());
            }
            from = &to;
            before = std::move(*cost);
            ++rungs;
        }
    }
    CHECK(rungs == 6);
}

}  // namespace

TEST_CASE("the demo book holds every price and operation that the walls of the six rungs ask for") {
    price_ladder(false);
}

TEST_CASE("and those of floors, ceiling and roof") {
    price_ladder(true);
}
