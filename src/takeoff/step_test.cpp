#include <cmath>
#include <random>

#include "takeoff/sample_test.h"

using namespace warmside;
using namespace warmside::takeoff;
using namespace warmside::takeoff::sample;

namespace {

/// Adds screws of one length to an order.
void add_screws(Order& order, const char* size, double pieces) {
    const std::string name = std::string("insulation screws ") + size;
    order.items.push_back({.kind = "fastener",
                           .name = name,
                           .price_key = name,
                           .net = pieces,
                           .gross = pieces,
                           .unit = "piece",
                           .count = pieces,
                           .package = "piece"});
}

void check_sums(const StepCost& step, const Cost& from, const Cost& to) {
    const double knock_on = money(step.knock_on);
    const double scale = 1e-12 * (from.total + to.total + std::abs(knock_on));
    CHECK(std::abs(step.total - (money(step.lines) + knock_on)) <= scale);
    CHECK(std::abs(step.total - (to.total - from.total + knock_on - step.within_rungs)) <= scale);
    CHECK(std::abs(step.total - (step.material + step.labour)) <= scale);
}

}  // namespace

TEST_CASE("a wall that grows outwards makes footprint, roof and eaves larger, by hand") {
    const Made made;
    const StepCost step = Priced(made).step();
    // To the sheathing 163 and 253 mm: (10 + 2 t)(8 + 2 t).
    CHECK(quantity_of(step, "slab or floor and foundation under a larger house") ==
          doctest::Approx(10.506 * 8.506 - 10.326 * 8.326));
    CHECK(quantity_of(step, "longer foundation edge") == doctest::Approx(8.0 * 0.09));
    // Whole walls of 183 and 323 mm and 0.5 m of overhang: 0.683 and 0.823 m; over cos 45 degrees.
    CHECK(quantity_of(step, "larger roof, overhang kept") ==
          doctest::Approx((11.646 * 9.646 - 11.366 * 9.366) * std::numbers::sqrt2));
    CHECK(quantity_of(step, "longer eaves and rakes") == doctest::Approx(8.0 * 0.14));
    // The frame stands flush with the sheathing: 163 - 80 and 253 - 80 mm inside, 20 and 70 mm outside.
    CHECK(quantity_of(step, "deeper inner jambs and heads") == doctest::Approx(4.0 * 0.09));
    CHECK(quantity_of(step, "wider window stools") == doctest::Approx(2.0 * 0.09));
    CHECK(quantity_of(step, "wider outer sills") == doctest::Approx(2.0 * 0.05));
    CHECK(quantity_of(step, "deeper outer jambs and heads") == doctest::Approx(4.0 * 0.05));
}

// Prices of the book times the quantities above; hours at 0.1 an m2 and 50 an hour.
TEST_CASE("each knock-on line costs its quantity times its price, by hand") {
    const Made made;
    const StepCost step = Priced(made).step();
    const auto money_of = [&](std::string_view name, bool labour) {
        for (const CostLine& line : step.knock_on)
            if (line.name == name && line.labour == labour) return line.money;
        return 0.0;
    };
    const double roof = (11.646 * 9.646 - 11.366 * 9.366) * std::numbers::sqrt2;
    CHECK(money_of("slab or floor and foundation under a larger house", false) ==
          doctest::Approx((10.506 * 8.506 - 10.326 * 8.326) * 100.0));
    CHECK(money_of("longer foundation edge", false) == doctest::Approx(0.72 * 50.0));
    CHECK(money_of("larger roof, overhang kept", false) == doctest::Approx(roof * 80.0));
    CHECK(money_of("longer eaves and rakes", false) == doctest::Approx(1.12 * 40.0));
    CHECK(money_of("deeper inner jambs and heads", false) == doctest::Approx(0.36 * 60.0));
    CHECK(money_of("deeper inner jambs and heads", true) == doctest::Approx(0.36 * 0.1 * 50.0));
    CHECK(money_of("wider window stools", false) == doctest::Approx(0.18 * 90.0));
    CHECK(money_of("wider window stools", true) == doctest::Approx(0.18 * 0.1 * 50.0));
    CHECK(money_of("wider outer sills", false) == doctest::Approx(0.1 * 110.0));
    CHECK(money_of("deeper outer jambs and heads", false) == doctest::Approx(0.2 * 70.0));
    // Furring is new: half more hours the first time, 10 m x 0.1 h/m x 0.5.
    const CostLine* learning = line_of(step.knock_on, "first time: cut and fasten inner furring");
    REQUIRE(learning);
    CHECK(learning->hours == doctest::Approx(0.5));
    CHECK(learning->money == doctest::Approx(25.0));
    // Eight materials, four with hours, and learning; nothing else follows.
    CHECK(step.knock_on.size() == 13);
}

TEST_CASE("longer fasteners are a line of their own and leave the difference of the rungs") {
    const Made made;
    Priced priced(made);
    priced.book.prices["insulation screws 5 in"] = {0.5, "piece", "2026", "here", {.source = "test"}};
    priced.book.prices["insulation screws 8 in"] = {1.25, "piece", "2026", "here", {.source = "test"}};
    add_screws(priced.from_order, "5 in", 80.0);
    add_screws(priced.to_order, "8 in", 92.0);
    priced.price();
    const StepCost step = priced.step();
    // 92 x 1.25 - 80 x 0.50 = 75.
    const CostLine* line =
        line_of(step.knock_on, "longer screws through exterior insulation: 8 in instead of 5 in");
    REQUIRE(line);
    CHECK(line->money == doctest::Approx(75.0));
    CHECK(line->quantity == 92.0);
    CHECK(step.within_rungs == doctest::Approx(75.0));
    CHECK(line_of(step.lines, "fastener") == nullptr);
    check_sums(step, priced.from, priced.to);
    // Back again it is saved.
    const auto back = step_cost(made.house, made.to(), priced.to, made.from(), priced.from, priced.book);
    REQUIRE(back);
    CHECK(back->within_rungs == doctest::Approx(-75.0));
    check_sums(*back, priced.to, priced.from);
}

TEST_CASE("the first screws through exterior insulation follow too; equal ones are no line") {
    const Made made;
    Priced priced(made);
    priced.book.prices["insulation screws 5 in"] = {0.5, "piece", "2026", "here", {.source = "test"}};
    add_screws(priced.to_order, "5 in", 92.0);
    priced.price();
    const CostLine* line =
        line_of(priced.step().knock_on, "longer screws through exterior insulation: 5 in instead of none");
    REQUIRE(line);
    CHECK(line->money == doctest::Approx(46.0));
    add_screws(priced.from_order, "5 in", 92.0);
    priced.price();
    const StepCost equal = priced.step();
    CHECK(equal.within_rungs == 0.0);
    for (const CostLine& each : equal.knock_on) CHECK(each.group != "fasteners");
}

TEST_CASE("a wall that grows inwards gives up floor area instead") {
    const Made made;
    const StepCost step = Priced(made).step(Growth::inwards);
    CHECK(quantity_of(step, "floor area given up") == doctest::Approx(10.0 * 8.0 - 9.72 * 7.72));
    CHECK_FALSE(line_of(step.knock_on, "longer foundation edge"));
    CHECK_FALSE(line_of(step.knock_on, "larger roof, overhang kept"));
}

TEST_CASE("an inner corner takes back what an outer corner adds") {
    Made made;
    made.house.storeys[0].outline = {{mm(0), mm(0)},       {mm(10000), mm(0)},   {mm(10000), mm(4000)},
                                     {mm(6000), mm(4000)}, {mm(6000), mm(8000)}, {mm(0), mm(8000)}};
    // An L grown by t is the outer rectangle grown by t less the notch, whose sides stay 4 m.
    CHECK(quantity_of(Priced(made).step(), "slab or floor and foundation under a larger house") ==
          doctest::Approx(10.506 * 8.506 - 10.326 * 8.326));
}

TEST_CASE("a step to the same rung changes nothing") {
    const Made made;
    const Priced priced(made);
    const auto step = step_cost(made.house, made.to(), priced.to, made.to(), priced.to, priced.book);
    REQUIRE(step);
    CHECK(step->total == 0.0);
    CHECK(step->hours == 0.0);
    CHECK(step->knock_on.empty());
    CHECK(step->lines.empty());
}

TEST_CASE("prices that only the knock-on costs ask for are told as missing too") {
    const Made made;
    Priced priced(made);
    priced.book.prices.erase("eave");
    priced.book.prices.erase("window stool");
    priced.book.labour.erase("jamb extensions");
    const auto step = priced.try_step();
    REQUIRE_FALSE(step);
    CHECK(step.error().size() == 3);
}

TEST_CASE(
    "whatever the prices: lines are not negative, sums are sums, a price put in place of itself is nothing, "
    "a step is a difference and its knock-on costs") {
    const Made made;
    std::mt19937 random(20260101);
    const auto draw = [&](double most) {
        return most * static_cast<double>(random()) / static_cast<double>(std::mt19937::max());
    };
    for (int round = 0; round < 500; ++round) {
        PriceBook book = book_of();
        for (const char* size : {"5 in", "8 in"})
            book.prices[std::string("insulation screws ") + size] = {
                1.0, "piece", "2026", "here", {.source = "test"}};
        for (auto& [key, price] : book.prices) price.value = draw(500.0);
        for (auto& [key, labour] : book.labour) {
            labour.hours = draw(2.0);
            labour.learning = draw(1.0);
        }
        book.wage = 1.0 + draw(100.0);
        Priced priced(made, std::move(book));
        for (Item& item : priced.to_order.items) {
            item.gross = draw(100.0);
            item.count = 1.0 + std::floor(draw(50.0));
        }
        if (round % 2 == 0) add_screws(priced.from_order, "5 in", std::floor(draw(500.0)));
        add_screws(priced.to_order, "8 in", std::floor(draw(500.0)));
        priced.price();
        const Cost &a = priced.from, &b = priced.to;
        double material = 0.0, labour = 0.0, hours = 0.0;
        for (const CostLine& line : b.lines) {
            CHECK(line.money >= 0.0);
            (line.labour ? labour : material) += line.money;
            hours += line.hours;
        }
        CHECK(b.material == doctest::Approx(material).epsilon(1e-12));
        CHECK(b.labour == doctest::Approx(labour).epsilon(1e-12));
        CHECK(b.hours == doctest::Approx(hours).epsilon(1e-12));
        CHECK(b.total == doctest::Approx(money(b.lines)).epsilon(1e-12));

        Priced same = priced;
        const std::string key = round % 2 == 0 ? "2x6" : "osb";
        same.book.prices[key] = priced.book.prices.at(key);
        same.price();
        CHECK(same.to.total == b.total);

        const Growth growth = round % 3 == 0 ? Growth::inwards : Growth::outwards;
        const StepCost step = priced.step(growth);
        check_sums(step, a, b);
        // Down again: geometry and screws give back what they took; only learning is paid each way.
        const auto back = step_cost(made.house, made.to(), b, made.from(), a, priced.book, growth);
        REQUIRE(back);
        check_sums(*back, b, a);
        double geometry = 0.0;
        for (const CostLine& line : step.knock_on) geometry += line.group == "learning" ? 0.0 : line.money;
        for (const CostLine& line : back->knock_on) geometry += line.group == "learning" ? 0.0 : line.money;
        if (growth == Growth::outwards)
            CHECK(std::abs(geometry) <= 1e-9 * (1.0 + std::abs(money(step.knock_on))));
    }
}
