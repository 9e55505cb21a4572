#include "takeoff/cost.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "takeoff/labour.h"

using namespace warmside;
using namespace warmside::takeoff;
using assembly::Assembly;
using assembly::House;
using assembly::Layer;
using framing::Panel;
using framing::Role;

namespace {

constexpr Exact inch(std::int64_t n) {
    return Exact::sixty_fourths_of_inch(n * 64);
}
constexpr Exact mm(std::int64_t n) {
    return Exact::millimetres(n);
}

/// 10 m x 8 m inside, one storey, one window of 2 m x 1 m; a gable roof at 45 degrees with 0.5 m overhang.
struct Made {
    material::Material gypsum, osb, wool, board, siding;
    material::Membrane sheet, wrap;
    House house;

    Made() {
        gypsum = {.name = "gypsum board", .family = "gypsum", .hatch = "gypsum"};
        osb = {.name = "osb", .family = "panel", .hatch = "sheathing"};
        wool = {.name = "wool batt", .family = "batt", .is_insulation = true, .hatch = "batt"};
        board = {.name = "wool board", .family = "board insulation", .is_insulation = true, .hatch = "board"};
        siding = {.name = "siding", .family = "siding", .hatch = "wood"};
        sheet.name = "sheet";
        wrap.name = "wrap";
        assembly::Storey storey{.name = "ground", .height = mm(2500)};
        storey.outline = {{mm(0), mm(0)}, {mm(10000), mm(0)}, {mm(10000), mm(8000)}, {mm(0), mm(8000)}};
        house.storeys.push_back(storey);
        assembly::Face face{
            .name = "south", .storey = "ground", .to = {mm(10000), mm(0)}, .height = mm(2500)};
        face.openings.push_back({.name = "window", .width = mm(2000), .height = mm(1000), .left = mm(3000)});
        house.faces.push_back(face);
        house.roofs.push_back({.name = "roof", .pitch = std::numbers::pi / 4.0, .overhang = mm(500)});
        house.details.frame_depth.value = 0.08;
        house.assemblies = {thin(), deep()};
    }

    Layer solid(const material::Material& m, Exact thickness) const {
        Layer layer;
        layer.material = &m;
        layer.thickness = thickness;
        return layer;
    }
    Layer framed(const material::Material& m, Exact thickness, assembly::Run run) const {
        Layer layer = solid(m, thickness);
        layer.framing = assembly::Framing{
            .member = "stud", .width = inch(1), .depth = thickness, .run = run, .spacing = inch(24)};
        return layer;
    }
    Layer membrane(const material::Membrane& m, bool airtight) const {
        Layer layer;
        layer.kind = Layer::Kind::membrane;
        layer.membrane = &m;
        layer.airtight = airtight;
        layer.water = !airtight;
        return layer;
    }
    /// 12 + 140 + 11 + 20 = 183 mm; 163 mm to the outer face of the sheathing.
    Assembly thin() const {
        Assembly a{.name = "thin"};
        a.layers = {
            solid(gypsum, mm(12)), membrane(sheet, true), framed(wool, mm(140), assembly::Run::vertical),
            solid(osb, mm(11)),    membrane(wrap, false), solid(siding, mm(20))};
        return a;
    }
    /// 12 + 40 + 190 + 11 + 50 + 20 = 323 mm; 253 mm to the outer face of the sheathing.
    Assembly deep() const {
        Assembly a{.name = "deep"};
        a.layers = {solid(gypsum, mm(12)), framed(wool, mm(40), assembly::Run::horizontal),
                    membrane(sheet, true), framed(wool, mm(190), assembly::Run::vertical),
                    solid(osb, mm(11)),    membrane(wrap, false),
                    solid(board, mm(50)),  solid(siding, mm(20))};
        a.layers[6].fasteners = assembly::Fasteners{.per_area = 4.0};
        return a;
    }
};

framing::Member member(Role role, Exact length) {
    framing::Member out{.role = role};
    out.length = length;
    return out;
}

/// One wall of 10 m x 2.5 m with the window: 23 m2 net.
framing::Frame frame_of(const Assembly& a, bool furred) {
    framing::Frame frame{.assembly = a.name};
    Panel panel{.name = "south", .assembly = a.name, .face = 0};
    panel.length = mm(10000);
    panel.height = mm(2500);
    panel.members = {member(Role::bottom_plate, mm(10000)), member(Role::top_plate, mm(10000)),
                     member(Role::stud, mm(2400)), member(Role::king, mm(2400)),
                     member(Role::header, mm(2100))};
    panel.members.back().opening = 0;
    if (furred) panel.members.push_back(member(Role::furring, mm(10000)));
    panel.seams.push_back({.layer = 1, .length = mm(12500)});
    frame.panels.push_back(panel);
    return frame;
}

Order order_of(bool board) {
    Order order;
    order.items.push_back({.kind = "lumber",
                           .name = "2x6",
                           .price_key = "2x6",
                           .net = 24.0,
                           .gross = 26.0,
                           .unit = "m",
                           .count = 6.0,
                           .package = "stick"});
    order.items.push_back({.kind = "sheet",
                           .name = "osb",
                           .price_key = "osb",
                           .net = 23.0,
                           .gross = 26.8,
                           .unit = "m2",
                           .count = 9.0,
                           .package = "sheet"});
    if (board)
        order.items.push_back({.kind = "insulation",
                               .name = "wool board",
                               .price_key = "wool board",
                               .gross = 1.2,
                               .unit = "m3"});
    return order;
}

PriceBook book_of() {
    PriceBook book{.name = "test", .currency = "USD", .date = "2026", .place = "here"};
    const auto price = [&](std::string key, double value, std::string unit) {
        book.prices[std::move(key)] = {value, std::move(unit), "2026", "here", {.source = "test"}};
    };
    price("2x6", 3.0, "m");
    price("osb", 15.0, "piece");
    price("wool board", 200.0, "m3");
    price("foundation footprint", 100.0, "m2");
    price("foundation edge", 50.0, "m");
    price("roof surface", 80.0, "m2");
    price("eave", 40.0, "m");
    price("floor area", 1000.0, "m2");
    price("jamb extension", 60.0, "m2");
    price("outer jamb", 70.0, "m2");
    price("window stool", 90.0, "m2");
    price("outer sill", 110.0, "m2");
    for (const Operation& each : operations())
        book.labour[std::string(each.key)] = {0.1, std::string(each.unit), 0.0, {.source = "test"}};
    book.labour["furring"].learning = 0.5;
    book.wage = 50.0;
    book.wage_origin.source = "test";
    return book;
}

const CostLine* line_of(const std::vector<CostLine>& lines, std::string_view name) {
    const auto at =
        std::find_if(lines.begin(), lines.end(), [&](const CostLine& l) { return l.name == name; });
    return at == lines.end() ? nullptr : &*at;
}

double money(const std::vector<CostLine>& lines) {
    double sum = 0.0;
    for (const CostLine& line : lines) sum += line.money;
    return sum;
}

double quantity(const std::vector<Work>& all, std::string_view operation) {
    for (const Work& each : all) {
        if (each.operation == operation) return each.quantity;
    }
    return 0.0;
}

}  // namespace

TEST_CASE("operations are counted from members, seams, layers and fasteners of the frame") {
    const Made made;
    const auto work = work_of(made.house, frame_of(made.house.assemblies[1], true));
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
    framing::Frame frame = frame_of(made.house.assemblies[0], false);
    framing::Sheet sheet{.layer = 3};
    sheet.box.high = {mm(2000), mm(2500), mm(11)};
    sheet.cut_outs.push_back({.high = {mm(1000), mm(1000), mm(11)}});
    frame.panels[0].sheets.push_back(sheet);
    CHECK(quantity(work_of(made.house, frame), "sheathing") == doctest::Approx(4.0));
}

TEST_CASE("layers that stay under a retrofit cost nothing") {
    Made made;
    for (Layer& layer : made.house.assemblies[0].layers) layer.existing = true;
    const auto work = work_of(made.house, frame_of(made.house.assemblies[0], false));
    CHECK(quantity(work, "sheathing") == 0.0);
    CHECK(quantity(work, "batts") == 0.0);
}

TEST_CASE("materials cost their gross quantity, or their packages where the price is by the piece") {
    const Made made;
    const auto cost = cost_of(made.house, made.house.assemblies[0], frame_of(made.house.assemblies[0], false),
                              order_of(false), book_of());
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
    const auto cost =
        cost_of(made.house, made.house.assemblies[1], frame_of(made.house.assemblies[1], true), order, book);
    REQUIRE_FALSE(cost);
    CHECK(cost.error().size() == 5);
    for (const Problem& p : cost.error()) CHECK(p.code == Code::missing);
}

TEST_CASE("a price by another measure than the order is refused") {
    const Made made;
    PriceBook book = book_of();
    book.prices.at("2x6").unit = "m3";
    const auto cost = cost_of(made.house, made.house.assemblies[0], frame_of(made.house.assemblies[0], false),
                              order_of(false), book);
    REQUIRE_FALSE(cost);
    REQUIRE(cost.error().size() == 1);
    CHECK(cost.error()[0].code == Code::wrong_unit);
}

TEST_CASE("a house of which nothing is framed has no cost, not a cost of zero") {
    const Made made;
    const auto cost = cost_of(made.house, made.house.assemblies[0], {}, {}, book_of());
    REQUIRE_FALSE(cost);
    CHECK(cost.error()[0].code == Code::incomplete);
}

TEST_CASE("a wall that grows outwards makes footprint, roof and eaves larger, by hand") {
    const Made made;
    const auto& from = made.house.assemblies[0];
    const auto& to = made.house.assemblies[1];
    const PriceBook book = book_of();
    const auto a = cost_of(made.house, from, frame_of(from, false), order_of(false), book);
    const auto b = cost_of(made.house, to, frame_of(to, true), order_of(true), book);
    REQUIRE(a);
    REQUIRE(b);
    const auto step = step_cost(made.house, from, *a, to, *b, book);
    REQUIRE(step);
    const auto quantity_of = [&](std::string_view name) {
        const CostLine* line = line_of(step->knock_on, name);
        return line ? line->quantity : 0.0;
    };
    // To the sheathing 163 and 253 mm: (10 + 2 t)(8 + 2 t).
    CHECK(quantity_of("slab or floor and foundation under a larger house") ==
          doctest::Approx(10.506 * 8.506 - 10.326 * 8.326));
    CHECK(quantity_of("longer foundation edge") == doctest::Approx(8.0 * 0.09));
    // Whole walls of 183 and 323 mm and 0.5 m of overhang: 0.683 and 0.823 m; over cos 45 degrees.
    CHECK(quantity_of("larger roof, overhang kept") ==
          doctest::Approx((11.646 * 9.646 - 11.366 * 9.366) * std::numbers::sqrt2));
    CHECK(quantity_of("longer eaves and rakes") == doctest::Approx(8.0 * 0.14));
    // The frame stands flush with the sheathing: 163 - 80 and 253 - 80 mm inside, 20 and 70 mm outside.
    CHECK(quantity_of("deeper inner jambs and heads") == doctest::Approx(4.0 * 0.09));
    CHECK(quantity_of("wider window stools") == doctest::Approx(2.0 * 0.09));
    CHECK(quantity_of("wider outer sills") == doctest::Approx(2.0 * 0.05));
    CHECK(quantity_of("deeper outer jambs and heads") == doctest::Approx(4.0 * 0.05));
    // Furring is new: half more hours the first time, 10 m x 0.1 h/m x 0.5.
    const CostLine* learning = line_of(step->knock_on, "first time: cut and fasten inner furring");
    REQUIRE(learning);
    CHECK(learning->hours == doctest::Approx(0.5));
    CHECK(learning->money == doctest::Approx(25.0));
}

TEST_CASE("a wall that grows inwards gives up floor area instead") {
    const Made made;
    const auto& from = made.house.assemblies[0];
    const auto& to = made.house.assemblies[1];
    const PriceBook book = book_of();
    const auto a = cost_of(made.house, from, frame_of(from, false), order_of(false), book);
    const auto b = cost_of(made.house, to, frame_of(to, true), order_of(true), book);
    REQUIRE(a);
    REQUIRE(b);
    const auto step = step_cost(made.house, from, *a, to, *b, book, Growth::inwards);
    REQUIRE(step);
    const CostLine* lost = line_of(step->knock_on, "floor area given up");
    REQUIRE(lost);
    CHECK(lost->quantity == doctest::Approx(10.0 * 8.0 - 9.72 * 7.72));
    CHECK_FALSE(line_of(step->knock_on, "longer foundation edge"));
    CHECK_FALSE(line_of(step->knock_on, "larger roof, overhang kept"));
}

TEST_CASE("an inner corner takes back what an outer corner adds") {
    Made made;
    made.house.storeys[0].outline = {{mm(0), mm(0)},       {mm(10000), mm(0)},   {mm(10000), mm(4000)},
                                     {mm(6000), mm(4000)}, {mm(6000), mm(8000)}, {mm(0), mm(8000)}};
    const auto& from = made.house.assemblies[0];
    const auto& to = made.house.assemblies[1];
    const PriceBook book = book_of();
    const auto a = cost_of(made.house, from, frame_of(from, false), order_of(false), book);
    const auto b = cost_of(made.house, to, frame_of(to, true), order_of(true), book);
    REQUIRE(a);
    REQUIRE(b);
    const auto step = step_cost(made.house, from, *a, to, *b, book);
    REQUIRE(step);
    // An L grown by t is the outer rectangle grown by t less the notch, whose sides stay 4 m.
    const CostLine* footprint = line_of(step->knock_on, "slab or floor and foundation under a larger house");
    REQUIRE(footprint);
    CHECK(footprint->quantity == doctest::Approx(10.506 * 8.506 - 10.326 * 8.326));
}

TEST_CASE("a step to the same rung changes nothing") {
    const Made made;
    const auto& rung = made.house.assemblies[1];
    const PriceBook book = book_of();
    const auto cost = cost_of(made.house, rung, frame_of(rung, true), order_of(true), book);
    REQUIRE(cost);
    const auto step = step_cost(made.house, rung, *cost, rung, *cost, book);
    REQUIRE(step);
    CHECK(step->total == 0.0);
    CHECK(step->hours == 0.0);
    CHECK(step->knock_on.empty());
    CHECK(step->lines.empty());
}

TEST_CASE("prices that only the knock-on costs ask for are told as missing too") {
    const Made made;
    const auto& from = made.house.assemblies[0];
    const auto& to = made.house.assemblies[1];
    PriceBook book = book_of();
    const auto a = cost_of(made.house, from, frame_of(from, false), order_of(false), book);
    const auto b = cost_of(made.house, to, frame_of(to, true), order_of(true), book);
    REQUIRE(a);
    REQUIRE(b);
    book.prices.erase("eave");
    book.prices.erase("window stool");
    book.labour.erase("jamb extensions");
    const auto step = step_cost(made.house, from, *a, to, *b, book);
    REQUIRE_FALSE(step);
    CHECK(step.error().size() == 3);
}

TEST_CASE(
    "whatever the prices: lines are not negative, sums are sums, a price put in place of itself is nothing, "
    "a step is a difference and its knock-on costs") {
    const Made made;
    const auto& from = made.house.assemblies[0];
    const auto& to = made.house.assemblies[1];
    std::mt19937 random(20260101);
    const auto draw = [&](double most) {
        return most * static_cast<double>(random()) / static_cast<double>(std::mt19937::max());
    };
    for (int round = 0; round < 500; ++round) {
        PriceBook book = book_of();
        for (auto& [key, price] : book.prices) price.value = draw(500.0);
        for (auto& [key, labour] : book.labour) {
            labour.hours = draw(2.0);
            labour.learning = draw(1.0);
        }
        book.wage = 1.0 + draw(100.0);
        Order order = order_of(true);
        for (Item& item : order.items) {
            item.gross = draw(100.0);
            item.count = 1.0 + std::floor(draw(50.0));
        }
        const auto a = cost_of(made.house, from, frame_of(from, false), order_of(false), book);
        const auto b = cost_of(made.house, to, frame_of(to, true), order, book);
        REQUIRE(a);
        REQUIRE(b);
        double material = 0.0, labour = 0.0, hours = 0.0;
        for (const CostLine& line : b->lines) {
            CHECK(line.money >= 0.0);
            (line.labour ? labour : material) += line.money;
            hours += line.hours;
        }
        CHECK(b->material == doctest::Approx(material).epsilon(1e-12));
        CHECK(b->labour == doctest::Approx(labour).epsilon(1e-12));
        CHECK(b->hours == doctest::Approx(hours).epsilon(1e-12));
        CHECK(b->total == doctest::Approx(money(b->lines)).epsilon(1e-12));

        PriceBook same = book;
        const std::string key = round % 2 == 0 ? "2x6" : "osb";
        same.prices[key] = book.prices.at(key);
        CHECK(cost_of(made.house, to, frame_of(to, true), order, same)->total == b->total);

        const Growth growth = round % 3 == 0 ? Growth::inwards : Growth::outwards;
        const auto step = step_cost(made.house, from, *a, to, *b, book, growth);
        REQUIRE(step);
        const double scale = 1e-12 * (a->total + b->total + std::abs(money(step->knock_on)));
        CHECK(std::abs(step->total - (b->total - a->total + money(step->knock_on))) <= scale);
        CHECK(std::abs(step->total - (money(step->lines) + money(step->knock_on))) <= scale);
        // Down again: geometry gives back what it took; only learning is paid each way.
        const auto back = step_cost(made.house, to, *b, from, *a, book, growth);
        REQUIRE(back);
        double geometry = 0.0;
        for (const CostLine& line : step->knock_on) geometry += line.group == "learning" ? 0.0 : line.money;
        for (const CostLine& line : back->knock_on) geometry += line.group == "learning" ? 0.0 : line.money;
        if (growth == Growth::outwards) CHECK(std::abs(geometry) <= 1e-9 * (1.0 + money(step->knock_on)));
    }
}
