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
                const double wanted =
                    cost->total - before->total + money(step->knock_on) - step->within_rungs;
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

namespace {

constexpr double inch = 0.0254;

/// A step between two rungs of the example, walls alone.
struct Stepped {
    project::Reading reading = example();
    takeoff::Order order;  // of the upper rung
    takeoff::Cost from, to;
    takeoff::StepCost step;

    Stepped(const char* lower, const char* upper, takeoff::Growth growth = takeoff::Growth::outwards) {
        REQUIRE(reading.house);
        from = cost(lower);
        to = cost(upper);
        auto made = takeoff::step_cost(*reading.house, *reading.house->find(lower), from,
                                       *reading.house->find(upper), to, takeoff::demo_prices(), growth);
        REQUIRE(made);
        step = std::move(*made);
    }
    takeoff::Cost cost(const char* rung) {
        const auto& house = *reading.house;
        const auto frame = framing::frame_walls(house, *house.find(rung));
        REQUIRE(frame);
        auto made = takeoff::order_of(house, *house.find(rung), *frame);
        REQUIRE(made);
        order = std::move(*made);
        auto out = takeoff::cost_of(house, *house.find(rung), *frame, order, takeoff::demo_prices());
        REQUIRE(out);
        return std::move(*out);
    }
    const takeoff::CostLine& line(std::string_view name, bool labour = false) const {
        for (const auto& each : step.knock_on)
            if (each.name == name && each.labour == labour) return each;
        FAIL("no line ", name);
        return step.knock_on.front();
    }
    double quantity(std::string_view name) const { return line(name).quantity; }
    double net(std::string_view key) const {
        for (const auto& item : order.items)
            if (item.price_key == key) return item.net;
        return 0.0;
    }
};

}  // namespace

// By hand from the house file: 32 x 24 ft inside, sheathing from 6 7/16 to 7 15/16 in, walls of 7 15/16 and
// 9 7/16 in, eaves 16 in beyond, a slope of 9/12 (5/4 of its plan). Heads and jambs of the ten windows and
// two doors are 1835 in, the windows' sills 468 in.
TEST_CASE("an inner cavity of 1 1/2 in: what follows, by hand") {
    const Stepped s("w2", "w3");
    const auto plan = [](double t) { return (384 + 2 * t) * (288 + 2 * t); };
    CHECK(s.quantity("slab or floor and foundation under a larger house") ==
          doctest::Approx((plan(7.9375) - plan(6.4375)) * inch * inch));
    CHECK(s.quantity("longer foundation edge") == doctest::Approx(8 * 1.5 * inch));
    CHECK(s.quantity("larger roof, overhang kept") ==
          doctest::Approx((plan(9.4375 + 16) - plan(7.9375 + 16)) * 1.25 * inch * inch));
    CHECK(s.quantity("longer eaves and rakes") == doctest::Approx(8 * 1.5 * inch));
    CHECK(s.quantity("deeper inner jambs and heads") == doctest::Approx(1835 * 1.5 * inch * inch));
    CHECK(s.quantity("wider window stools") == doctest::Approx(468 * 1.5 * inch * inch));
    // Demo prices: 38 a foot of edge, 6 a square foot of jamb; 0.12 h a square foot at 58.
    CHECK(s.line("longer foundation edge").money == doctest::Approx(1.0 * 38));
    CHECK(s.line("deeper inner jambs and heads").money == doctest::Approx(1835 * 1.5 / 144 * 6));
    CHECK(s.line("deeper inner jambs and heads", true).money ==
          doctest::Approx(1835 * 1.5 / 144 * 0.12 * 58));
    // New: furring, a quarter more hours the first time.
    for (const auto& line : s.to.lines)
        if (line.group == "furring")
            CHECK(s.line("first time: cut and fasten inner furring", true).hours ==
                  doctest::Approx(0.25 * line.hours));
    CHECK(s.step.within_rungs == 0.0);
}

// 2 in of board outside: foundation and inner jambs stay, the roof follows from 11 3/16 to 13 3/16 in.
// Screws: batten 3/4 + board 2 + sheathing 7/16 + 1 1/2 in the stud = 4 11/16 in, so 5 in, at 0.52, one on 24
// x 16 in.
TEST_CASE("two inches outside: roof, sills, outer jambs and longer screws, by hand") {
    const Stepped s("w4", "w5");
    const auto plan = [](double t) { return (384 + 2 * t) * (288 + 2 * t); };
    CHECK(s.quantity("larger roof, overhang kept") ==
          doctest::Approx((plan(13.1875 + 16) - plan(11.1875 + 16)) * 1.25 * inch * inch));
    CHECK(s.quantity("wider outer sills") == doctest::Approx(468 * 2 * inch * inch));
    CHECK(s.quantity("deeper outer jambs and heads") == doctest::Approx(1835 * 2 * inch * inch));
    const auto& screws = s.line("longer screws through exterior insulation: 5 in instead of none");
    // One a field of 24 x 16 in of the sheathing, rounded up on each of eight walls, and 5 % more.
    const double fields = s.net("osb 7/16 in") / (24 * 16 * inch * inch);
    CHECK(screws.quantity >= 1.05 * fields);
    CHECK(screws.quantity <= 1.05 * (fields + 8));
    CHECK(screws.money == doctest::Approx(0.52 * screws.quantity));
    CHECK(s.step.within_rungs == doctest::Approx(screws.money));
    for (const auto& line : s.step.knock_on) CHECK(line.group != "foundation");
    for (const auto& line : s.to.lines) {
        if (line.group == "long screws")
            CHECK(s.line("first time: drive long screws into studs", true).hours ==
                  doctest::Approx(0.3 * line.hours));
        if (line.group == "insulation boards")
            CHECK(s.line("first time: lay insulation boards outside", true).hours ==
                  doctest::Approx(0.25 * line.hours));
    }
    // Inwards instead, both heated storeys lose it.
    const Stepped inwards("w4", "w5", takeoff::Growth::inwards);
    CHECK(inwards.quantity("floor area given up") ==
          doctest::Approx(2 * (384 * 288 - 380 * 284) * inch * inch));
}
