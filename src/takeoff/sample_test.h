// One small house, two walls of it, their frames and orders, and a price book: what the tests of cost and
// steps share. Made up; every figure is chosen so that it can be followed by hand.
#pragma once

#include <doctest/doctest.h>

#include <algorithm>
#include <numbers>
#include <string>
#include <vector>

#include "takeoff/cost.h"
#include "takeoff/labour.h"

namespace warmside::takeoff::sample {

using assembly::Assembly;
using assembly::House;
using assembly::Layer;
using framing::Panel;
using framing::Role;

inline constexpr Exact inch(std::int64_t n) {
    return Exact::sixty_fourths_of_inch(n * 64);
}
inline constexpr Exact mm(std::int64_t n) {
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

    [[nodiscard]] const Assembly& from() const { return house.assemblies[0]; }
    [[nodiscard]] const Assembly& to() const { return house.assemblies[1]; }

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

inline framing::Member member(Role role, Exact length) {
    framing::Member out{.role = role};
    out.length = length;
    return out;
}

/// One wall of 10 m x 2.5 m with the window: 23 m2 net.
inline framing::Frame frame_of(const Assembly& a, bool furred) {
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

inline Order order_of(bool board) {
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

inline PriceBook book_of() {
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

inline const CostLine* line_of(const std::vector<CostLine>& lines, std::string_view name) {
    const auto at =
        std::find_if(lines.begin(), lines.end(), [&](const CostLine& l) { return l.name == name; });
    return at == lines.end() ? nullptr : &*at;
}

inline double money(const std::vector<CostLine>& lines) {
    double sum = 0.0;
    for (const CostLine& line : lines) sum += line.money;
    return sum;
}

inline double quantity(const std::vector<Work>& all, std::string_view operation) {
    for (const Work& each : all) {
        if (each.operation == operation) return each.quantity;
    }
    return 0.0;
}

/// Both walls priced, and the step between them.
struct Priced {
    const Made& made;
    PriceBook book;
    Order from_order = order_of(false), to_order = order_of(true);
    Cost from, to;

    explicit Priced(const Made& house, PriceBook prices = book_of()) : made(house), book(std::move(prices)) {
        price();
    }
    void price() {
        from = cost(made.from(), false, from_order);
        to = cost(made.to(), true, to_order);
    }
    [[nodiscard]] Cost cost(const Assembly& wall, bool furred, const Order& order) const {
        auto made_of = cost_of(made.house, wall, frame_of(wall, furred), order, book);
        REQUIRE(made_of);
        return std::move(*made_of);
    }
    [[nodiscard]] tl::expected<StepCost, Problems> try_step(Growth growth = Growth::outwards) const {
        return step_cost(made.house, made.from(), from, made.to(), to, book, growth);
    }
    [[nodiscard]] StepCost step(Growth growth = Growth::outwards) const {
        auto out = try_step(growth);
        REQUIRE(out);
        return std::move(*out);
    }
};

/// Of a knock-on line; 0 where there is none.
inline double quantity_of(const StepCost& step, std::string_view name) {
    const CostLine* line = line_of(step.knock_on, name);
    return line ? line->quantity : 0.0;
}

}  // namespace warmside::takeoff::sample
