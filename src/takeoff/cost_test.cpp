#include "takeoff/cost.h"

#include "takeoff/sample_test.h"

using namespace warmside;
using namespace warmside::takeoff;
using namespace warmside::takeoff::sample;

TEST_CASE("operations are counted from members, seams, layers and fasteners of the frame") {
    const Made made;
    const auto work = work_of(made.house, frame_of(made.to(), true));
    CHECK(quantity(work, "plates") == doctest::Approx(20.0));
    CHECK(quantity(work, "studs") == 2.0);
    CHECK(quantity(work, "headers and sills") == 1.0);
    CHECK(quantity(work, "furring") == doctest::Approx(10.0));
    CHECK(quantity(work, "openings") == 1.0);
    CHECK(quantity(work, "bucks") == 0.0);
    CHECK(quantity(work, "tape") == doctest::Approx(12.5));
    // By hand: 10 x 2.5 - 2 x 1 = 23 m2 of each layer; two layers of batts; four screws a square metre.
    CHECK(quantity(work, "batts") == doctest::Approx(46.0));
    CHECK(quantity(work, "insulation boards") == doctest::Approx(23.0));
    CHECK(quantity(work, "sheathing") == doctest::Approx(23.0));
    CHECK(quantity(work, "membrane") == doctest::Approx(23.0));
    CHECK(quantity(work, "housewrap") == doctest::Approx(23.0));
    CHECK(quantity(work, "cladding") == doctest::Approx(23.0));
    CHECK(quantity(work, "interior finish") == doctest::Approx(23.0));
    CHECK(quantity(work, "long screws") == doctest::Approx(92.0));
    for (const Work& each : work) CHECK(each.quantity > 0.0);
}

TEST_CASE("sheets that are placed give the area of their layer") {
    const Made made;
    framing::Frame frame = frame_of(made.from(), false);
    framing::Sheet sheet{.layer = 3};
    sheet.box.high = {mm(2000), mm(2500), mm(11)};
    sheet.cut_outs.push_back({.high = {mm(1000), mm(1000), mm(11)}});
    frame.panels[0].sheets.push_back(sheet);
    CHECK(quantity(work_of(made.house, frame), "sheathing") == doctest::Approx(4.0));
}

TEST_CASE("layers that stay under a retrofit cost nothing") {
    Made made;
    for (Layer& layer : made.house.assemblies[0].layers) layer.existing = true;
    const auto work = work_of(made.house, frame_of(made.from(), false));
    CHECK(quantity(work, "sheathing") == 0.0);
    CHECK(quantity(work, "batts") == 0.0);
}

TEST_CASE("materials cost their gross quantity, or their packages where the price is by the piece") {
    const Made made;
    const auto cost =
        cost_of(made.house, made.from(), frame_of(made.from(), false), order_of(false), book_of());
    REQUIRE(cost);
    REQUIRE(line_of(cost->lines, "2x6"));
    CHECK(line_of(cost->lines, "2x6")->money == doctest::Approx(26.0 * 3.0));
    CHECK(line_of(cost->lines, "osb")->money == doctest::Approx(9.0 * 15.0));
    CHECK(cost->material == doctest::Approx(26.0 * 3.0 + 9.0 * 15.0));
    CHECK(cost->labour == doctest::Approx(cost->hours * 50.0));
    CHECK(cost->area == doctest::Approx(23.0));
    CHECK_FALSE(cost->demo);
}

TEST_CASE("every price, operation and the wage that a book lacks is told once, none counts as zero") {
    const Made made;
    PriceBook book = book_of();
    book.prices.erase("2x6");
    book.prices.erase("wool board");
    book.prices["osb 7/16"] = book.prices.at("osb");
    book.prices.erase("osb");
    book.labour.erase("furring");
    book.wage = 0.0;
    Order order = order_of(true);
    order.items.push_back(order.items[0]);
    const auto cost = cost_of(made.house, made.to(), frame_of(made.to(), true), order, book);
    REQUIRE_FALSE(cost);
    CHECK(cost.error().size() == 5);
    for (const Problem& p : cost.error()) CHECK(p.code == Code::missing);
}

TEST_CASE("a price by another measure than the order is refused") {
    const Made made;
    PriceBook book = book_of();
    book.prices.at("2x6").unit = "m3";
    const auto cost = cost_of(made.house, made.from(), frame_of(made.from(), false), order_of(false), book);
    REQUIRE_FALSE(cost);
    REQUIRE(cost.error().size() == 1);
    CHECK(cost.error()[0].code == Code::wrong_unit);
}

TEST_CASE("a house of which nothing is framed has no cost, not a cost of zero") {
    const Made made;
    const auto cost = cost_of(made.house, made.from(), {}, {}, book_of());
    REQUIRE_FALSE(cost);
    CHECK(cost.error()[0].code == Code::incomplete);
}
