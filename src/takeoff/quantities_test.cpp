#include "takeoff/quantities.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "assembly/boxes.h"
#include "takeoff/labour.h"
#include "takeoff/order_work.h"

namespace {

using namespace warmside;
using framing::Member;
using framing::Panel;
using framing::Role;
using takeoff::Item;
using takeoff::Order;
using units::Exact;

Exact in(double inches) {
    return Exact::sixty_fourths_of_inch(std::llround(inches * 64.0));
}

/// An 8 ft wall, 97 1/8 in high, of seven studs at 16 in with three plates, worked by hand.
struct Sample {
    assembly::House house;
    framing::Frame frame;

    Sample() {
        house.catalogue = material::built_in();
        assembly::Assembly wall;
        wall.name = "w1";
        wall.layers = {layer("gypsum board", in(0.5)),
                       membrane("polyethylene"),
                       layer("stone wool batt", in(5.5)),
                       layer("osb", in(0.4375)),
                       membrane("housewrap"),
                       layer("stone wool board", in(2)),
                       batten_air(),
                       layer("spruce siding", in(0.75))};
        wall.layers[1].airtight = true;
        wall.layers[4].water = true;
        wall.layers[2].framing = framing_of("2x6", 1.5, 5.5, 16);
        wall.layers[5].fasteners = assembly::Fasteners{4.0, 1.8e-5, 50.0, {}};
        house.assemblies.push_back(std::move(wall));
        house.storeys.push_back({.name = "ground", .height = in(97.125)});
        house.faces.push_back({.name = "south", .storey = "ground", .height = in(97.125)});
        frame.assembly = "w1";
        frame.panels.push_back(panel());
    }
    [[nodiscard]] const assembly::Assembly& wall() const { return house.assemblies.front(); }

    assembly::Layer layer(const char* name, Exact thickness) const {
        assembly::Layer out;
        out.material = house.catalogue.material(name);
        REQUIRE(out.material != nullptr);
        out.thickness = thickness;
        return out;
    }
    assembly::Layer membrane(const char* name) const {
        assembly::Layer out;
        out.kind = assembly::Layer::Kind::membrane;
        out.membrane = house.catalogue.membrane(name);
        REQUIRE(out.membrane != nullptr);
        return out;
    }
    assembly::Framing framing_of(const char* member, double width, double depth, double spacing) const {
        assembly::Framing out;
        out.member = member;
        out.width = in(width);
        out.depth = in(depth);
        out.spacing = in(spacing);
        out.material = house.catalogue.material("spruce-pine-fir lumber");
        return out;
    }
    assembly::Layer batten_air() const {
        assembly::Layer out;
        out.kind = assembly::Layer::Kind::air;
        out.air = assembly::AirKind::ventilated;
        out.thickness = in(0.75);
        out.framing = framing_of("1x3", 2.5, 0.75, 16);
        return out;
    }
    static Member member(Role role, Exact u, Exact v, Exact along_u, Exact along_v, const char* mark) {
        Member out;
        out.role = role;
        out.section = {"2x6", in(1.5), in(5.5)};
        out.lumber = "spruce-pine-fir Stud";
        out.box.low = {u, v, in(0.5)};
        out.box.high = {u + along_u, v + along_v, in(6)};
        out.length = std::max(along_u, along_v);
        out.along = along_u > along_v ? 0 : 1;
        out.layer = 2;
        out.mark = mark;
        return out;
    }
    static Panel panel() {
        Panel out;
        out.name = "south";
        out.assembly = "w1";
        out.storey = "ground";
        out.face = 0;
        out.length = out.opaque_length = in(96);
        out.height = in(97.125);
        out.members.push_back(member(Role::bottom_plate, in(0), in(0), in(96), in(1.5), "B1"));
        out.members.push_back(member(Role::top_plate, in(0), in(94.125), in(96), in(1.5), "T1"));
        out.members.push_back(member(Role::top_plate, in(0), in(95.625), in(96), in(1.5), "T2"));
        for (int n = 0; n < 7; ++n) {
            const Exact at = in(n == 6 ? 94.5 : n == 0 ? 0 : n * 16 - 0.75);
            out.members.push_back(member(Role::stud, at, in(1.5), in(1.5), in(92.625), "S"));
        }
        for (int n = 0; n < 2; ++n) {
            framing::Sheet sheet;
            sheet.layer = 3;
            sheet.box.low = {in(n * 48), in(0), in(6)};
            sheet.box.high = {in(n * 48 + 48), in(96), in(6.4375)};
            out.sheets.push_back(sheet);
        }
        framing::Sheet strip;
        strip.layer = 3;
        strip.box.low = {in(0), in(96), in(6)};
        strip.box.high = {in(96), in(97.125), in(6.4375)};
        strip.long_side_up = false;
        out.sheets.push_back(strip);
        out.seams.push_back({1, framing::Seam::Kind::lap, in(96)});
        out.seams.push_back({1, framing::Seam::Kind::plate, in(96)});
        out.seams.push_back({4, framing::Seam::Kind::lap, in(96)});
        return out;
    }
};

const Item* find(const Order& order, std::string_view key, std::string_view name = {}) {
    for (const Item& item : order.items)
        if (item.price_key == key && (name.empty() || item.name.find(name) != std::string::npos))
            return &item;
    return nullptr;
}

Order order_of(const Sample& sample) {
    auto order = takeoff::order_of(sample.house, sample.wall(), sample.frame);
    REQUIRE_MESSAGE(order.has_value(), (order ? "" : order.error().what));
    return std::move(*order);
}

constexpr double inch = 0.0254;

}  // namespace

TEST_CASE("packages.toml reads, and every row says how it is sold and what is wasted") {
    const auto& rows = takeoff::packages();
    CHECK(rows.materials.at("osb").form == takeoff::Form::sheet);
    CHECK(rows.materials.at("osb").waste_by_area.value == doctest::Approx(0.15));
    CHECK(rows.lumber.kerf == in(0.125));
    for (const auto* group : {&rows.materials, &rows.families, &rows.membranes}) {
        for (const auto& [name, package] : *group) {
            if (package.form == takeoff::Form::none) continue;
            CHECK_MESSAGE(!package.waste.origin.source.empty(), name);
        }
    }
}

TEST_CASE("every material of the catalogue has a package") {
    const auto& catalogue = material::built_in();
    for (const auto& material : catalogue.materials) {
        const bool known = takeoff::packages().materials.contains(material.name) ||
                           takeoff::packages().families.contains(material.family);
        CHECK_MESSAGE(known, material.name);
    }
}

TEST_CASE("a row that repeats a material or lacks its waste is refused with its place") {
    const auto text = [](const char* row) { return std::string(row) + "\n"; };
    const auto twice =
        takeoff::read_packages("p.toml", text("[[package]]\nmaterials = [\"a\", \"a\"]\nform = \"none\""));
    REQUIRE_FALSE(twice);
    CHECK(twice.error().code == Code::duplicate);
    CHECK(twice.error().where.line == 2);
    const auto bare =
        takeoff::read_packages("p.toml", text("[[package]]\nmaterials = [\"a\"]\nform = \"siding\""));
    REQUIRE_FALSE(bare);
    CHECK(bare.error().code == Code::missing);
}

TEST_CASE("a wall counted by hand: seven precut studs, three plates of eight feet") {
    const Sample sample;
    const Order order = order_of(sample);
    REQUIRE(order.lumber.size() == 1);
    CHECK(order.lumber[0].proven);
    const Item* studs = find(order, "2x6", "92 5/8 in");
    const Item* plates = find(order, "2x6", "8 ft");
    REQUIRE(studs != nullptr);
    REQUIRE(plates != nullptr);
    CHECK(studs->count == 7.0);
    CHECK(plates->count == 3.0);
    CHECK(studs->net == doctest::Approx(7 * 92.625 * inch));
    CHECK(plates->gross == doctest::Approx(3 * 96 * inch));
}

TEST_CASE("sheets: two whole ones, and a strip out of a third; the siding covers what they cover") {
    const Sample sample;
    const Order order = order_of(sample);
    const Item* osb = find(order, "osb 7/16 in");
    REQUIRE(osb != nullptr);
    CHECK(osb->net == doctest::Approx(96 * 97.125 * inch * inch));
    REQUIRE(order.sheets.size() == 1);
    CHECK(order.sheets[0].sheets == 3);
    CHECK(find(order, "spruce siding")->net == doctest::Approx(96 * 97.125 * inch * inch));
    // No gypsum sheets are placed: by area, a rule of thumb for waste.
    CHECK(find(order, "gypsum board 1/2 in")->waste == doctest::Approx(0.12));
}

// By hand: studs at 16 in leave four bays of 14 1/2 in and, at the ends, two of 13 3/4 in, all 92 5/8 in
// high. A batt of 15 1/4 x 47 in goes whole into each wide bay, with a cut of 45 5/8 in over it; the narrow
// bays take 14 1/4 in wide cuts of 47 and 45 5/8 in. No two of the eight cuts come out of one batt: 4 + 8
// batts, 2 % more is 13, in bags of eight (44 in / 5 1/2 in) two.
TEST_CASE("batts fill what the members leave, bay by bay, in the width that fits the bay") {
    const Sample sample;
    const Order order = order_of(sample);
    const Item* batt = find(order, "stone wool batt");
    REQUIRE(batt != nullptr);
    const double face = 96 * 97.125, wood = 3 * 96 * 1.5 + 7 * 92.625 * 1.5;
    CHECK(batt->net == doctest::Approx((face - wood) * 5.5 * inch * inch * inch));
    CHECK(batt->name == "stone wool batt, 5 1/2 in x 15 1/4 in");
    CHECK(batt->unit == "m3");
    CHECK(batt->gross == doctest::Approx(13 * 15.25 * 47 * 5.5 * inch * inch * inch));
    CHECK(batt->waste == doctest::Approx(batt->gross / batt->net - 1.0));
    CHECK(batt->count == 2.0);
    CHECK(batt->package == "bag of 8, 47 in long (13 batts)");
    CHECK(batt->waste_source.starts_with("6 bays: 4 batts whole, 8 pieces cut from 8 more"));
}

TEST_CASE("where no members are placed batts go by volume, and a note says so") {
    Sample sample;
    std::erase_if(sample.frame.panels[0].members, [](const Member& m) { return m.role != Role::top_plate; });
    for (Member& m : sample.frame.panels[0].members) m.layer = -1;
    const Order order = order_of(sample);
    const Item* batt = find(order, "stone wool batt");
    REQUIRE(batt != nullptr);
    // The face less the share of studs of 1 1/2 in at 16 in.
    const double volume = 96 * 97.125 * (1.0 - 1.5 / 16.0) * 5.5;
    CHECK(batt->net == doctest::Approx(volume * inch * inch * inch));
    const double batts = std::ceil(volume * 1.05 / (15.25 * 47 * 5.5));
    CHECK(batt->gross == doctest::Approx(batts * 15.25 * 47 * 5.5 * inch * inch * inch));
    CHECK(std::count(order.notes.begin(), order.notes.end(),
                     "stone wool batt, 5 1/2 in x 15 1/4 in: no members are placed in south; there it is "
                     "counted by volume") == 1);
}

// By hand: a wall 20 m long and 2.4 m high takes two courses of a roll 1.5 m wide; the upper one, 1 m with
// its lap, comes off a roll of 50 m with the lower one: 40 m. A second wall of 8 m takes 2 x 8 m more, of
// which 8 m fit on the first roll and 8 m begin a second: 56 m x 1.5 m in all.
TEST_CASE("membranes come off rolls in strips, short ones where a roll has room") {
    Sample sample;
    Panel& panel = sample.frame.panels[0];
    const auto mm = [](std::int64_t n) { return Exact::millimetres(n); };
    const auto lay = [&](std::int64_t length, std::int64_t low, std::int64_t high) {
        panel.runs.push_back({1, {{mm(0), mm(low), {}}, {mm(length), mm(high), {}}}, {}});
    };
    for (const std::int64_t length : {20000, 8000}) {
        lay(length, 0, 1500);
        lay(length, 1400, 2400);
    }
    const Order order = order_of(sample);
    const Item* sheet = find(order, "polyethylene");
    REQUIRE(sheet != nullptr);
    CHECK(sheet->gross == doctest::Approx(56.0 * 1.5 * 1.05));
    CHECK(sheet->count == 2.0);
    CHECK(sheet->waste == doctest::Approx(sheet->gross / sheet->net - 1.0));
    CHECK(
        sheet->waste_source.starts_with("4 strips with laps and openings, 56.0 m off 2 rolls (2 at least)"));
    // The housewrap has no runs: by area.
    CHECK(find(order, "housewrap")->waste_source.find("by area") != std::string::npos);
}

TEST_CASE("narrow strips of a membrane lie side by side in the roll; one longer than the roll is lapped on") {
    Sample sample;
    Panel& panel = sample.frame.panels[0];
    const auto mm = [](std::int64_t n) { return Exact::millimetres(n); };
    // Three strips of 0.5 m fill the width of 1.5 m; 60 m is a roll of 50 m and 10.1 m with a lap of 0.1 m.
    for (int n = 0; n < 3; ++n)
        panel.runs.push_back({1, {{mm(0), mm(500 * n), {}}, {mm(60000), mm(500 * n + 500), {}}}, {}});
    const Item* sheet = find(order_of(sample), "polyethylene");
    REQUIRE(sheet != nullptr);
    CHECK(sheet->gross == doctest::Approx(60.1 * 1.5 * 1.05));
    CHECK(sheet->count == 2.0);
}

TEST_CASE(
    "joints: tape, sealant and gasket by the placed seams; screws through the insulation by area and "
    "length") {
    const Sample sample;
    const Order order = order_of(sample);
    CHECK(find(order, "membrane tape")->net == doctest::Approx(96 * inch));
    CHECK(find(order, "housewrap tape")->net == doctest::Approx(96 * inch));
    CHECK(find(order, "sealant")->net == doctest::Approx(96 * inch));
    CHECK(find(order, "sill gasket")->net == doctest::Approx(96 * inch));
    // 3/4 batten + 2 insulation + 7/16 sheathing + 1 1/2 in the stud = 4 11/16 in: the next length is 5 in.
    const Item* screws = find(order, "insulation screws 5 in");
    REQUIRE(screws != nullptr);
    CHECK(screws->net == std::ceil(4.0 * 96 * 97.125 * inch * inch));
    // Seven studs with two nails at each end; three plates at 16 in: 7 each.
    CHECK(find(order, "framing nails")->net == 7 * 4 + 3 * 7);
}

TEST_CASE("joints of top plates: steel plates with their nails, or the nails of a lap") {
    using framing::PlateJoint;
    Sample sample;
    const double nails = find(order_of(sample), "framing nails")->net;
    sample.frame.panels[0].plate_joints = {{PlateJoint::Kind::corner, in(0), true, in(6), 6},
                                           {PlateJoint::Kind::straight, in(48), true, in(12), 12},
                                           {PlateJoint::Kind::straight, in(24), false, in(24), 8}};
    const Order order = order_of(sample);
    CHECK(find(order, "splice plate 3 x 6 in")->net == 1);
    CHECK(find(order, "splice plate 3 x 12 in")->net == 1);
    CHECK(find(order, "splice plate nails")->net == 2 * 6 + 2 * 12);
    CHECK(find(order, "framing nails")->net == nails + 2 * 8);
}

TEST_CASE("a plate longer than every stick is spliced, a stud is refused by its mark") {
    Sample sample;
    Member plate = Sample::member(Role::top_plate, in(0), in(0), in(32 * 12), in(1.5), "T9");
    sample.frame.panels[0].members = {plate};
    const Order order = order_of(sample);
    int pieces = 0;
    Exact sum;
    for (const auto& piece : order.lumber.at(0).pieces) {
        pieces += piece.count;
        sum += piece.length * piece.count;
        CHECK(piece.length <= in(240));
    }
    CHECK(pieces == 2);
    CHECK(sum == in(32 * 12));
    sample.frame.panels[0].members = {Sample::member(Role::stud, in(0), in(0), in(1.5), in(21 * 12), "S9")};
    const auto refused = takeoff::order_of(sample.house, sample.wall(), sample.frame);
    REQUIRE_FALSE(refused);
    CHECK(refused.error().what.find("S9 (south)") != std::string::npos);
}

TEST_CASE("materials that nobody knows how to buy are a problem with a list, never zero") {
    Sample sample;
    material::Material odd, odder;
    odd.name = "sea grass";
    odder.name = "felted hair";
    sample.house.assemblies[0].layers[0].material = &odd;
    sample.house.assemblies[0].layers[2].material = &odder;
    const auto order = takeoff::order_of(sample.house, sample.wall(), sample.frame);
    REQUIRE_FALSE(order);
    CHECK(order.error().code == Code::missing);
    CHECK(order.error().what == "nothing tells how these are sold: felted hair, sea grass");
}

TEST_CASE("an existing layer is not bought") {
    Sample sample;
    sample.house.assemblies[0].layers[7].existing = true;
    CHECK(find(order_of(sample), "spruce siding") == nullptr);
    CHECK(find(order_of(sample), "siding nails") == nullptr);
}

TEST_CASE("boxes: by their body, a cover for each that comes through the sheet, none in an existing layer") {
    Sample sample;
    auto& boxes = sample.frame.panels[0].boxes;
    for (const bool pierces : {true, true, false}) {
        framing::WallBox box;
        box.body = pierces ? "device" : "square";
        box.title = box.body + " box, by hand";
        box.layer = 2;
        box.pierces_airtight = pierces;
        boxes.push_back(box);
    }
    const auto work = [&](const char* operation) {
        double sum = 0.0;
        for (const auto& each : takeoff::work_of(sample.house, sample.frame))
            if (each.operation == operation) sum += each.quantity;
        return sum;
    };
    const Order order = order_of(sample);
    CHECK(find(order, "device box")->net == 2.0);
    // 2 and 5 % more, in whole pieces.
    CHECK(find(order, "device box")->count == 3.0);
    CHECK(find(order, "square box")->net == 1.0);
    CHECK(find(order, "airtight box cover")->net == 2.0);
    CHECK(work("boxes") == 3.0);
    CHECK(work("box covers") == 2.0);
    CHECK(std::count(order.notes.begin(), order.notes.end(), assembly::box_caution) == 1);
    sample.house.assemblies[0].layers[2].existing = true;
    CHECK(find(order_of(sample), "device box") == nullptr);
    CHECK(work("boxes") == 0.0);
    sample.house.assemblies[0].layers[2].existing = false;
    boxes.clear();
    const Order none = order_of(sample);
    CHECK(find(none, "airtight box cover") == nullptr);
    CHECK(std::count(none.notes.begin(), none.notes.end(), assembly::box_caution) == 0);
}

TEST_CASE("a section that no yard keeps is sawn from one that it does, of the wall's own system") {
    Sample sample;
    Member filler = Sample::member(Role::header_filler, in(0), in(0), in(60), in(5.5), "F1");
    filler.section = {"7/8 in x 5 1/2 in", in(0.875), in(5.5)};
    Member header = Sample::member(Role::header, in(0), in(0), in(60), in(9.25), "H1");
    header.section = {"38x235", Exact::nearest(0.0381), Exact::nearest(0.2350)};
    auto& members = sample.frame.panels[0].members;
    members.push_back(filler);
    members.push_back(header);
    const Order order = order_of(sample);
    CHECK(find(order, "2x10") != nullptr);
    CHECK(std::count(order.notes.begin(), order.notes.end(), "7/8 in x 5 1/2 in is ripped from 2x6") == 1);
    CHECK(std::none_of(order.items.begin(), order.items.end(),
                       [](const Item& item) { return item.name.find("7/8") != std::string::npos; }));
}

TEST_CASE("plywood plates come from sheets, in layers where they are thicker, joined where longer") {
    Sample sample;
    Member plate = Sample::member(Role::top_plate, in(0), in(0), in(144), in(1.5), "T1");
    plate.section = {"1 1/2 in x 12 in", in(1.5), in(12)};
    plate.lumber = "plywood";
    sample.frame.panels[0].members = {plate};
    const Order order = order_of(sample);
    const Item* plywood = find(order, "plywood 3/4 in");
    REQUIRE(plywood != nullptr);
    // Two layers of 12 in x 12 ft, as strips of 96 and 48 in. With 1/8 in of saw three strips of 12 in come
    // out of a width of 48 in: two of 96 in, and the two of 48 in one after the other, 96 1/8 in, which takes
    // a sheet of 48 x 108 in (48 x 96 in would take two).
    CHECK(plywood->net == doctest::Approx(2 * 12 * 144 * inch * inch));
    CHECK(plywood->waste_source.starts_with("sheet plan, 1 sheets"));
    CHECK(plywood->package == "sheet 48 in x 9 ft");
    CHECK(order.lumber.empty());
    CHECK(std::count(order.notes.begin(), order.notes.end(),
                     "plates of 1 1/2 in are 2 layers of plywood, 3/4 in each") == 1);
}

TEST_CASE("I-joists, rim board and laminated veneer are sold in depths and lengths of their own") {
    Sample sample;
    const auto stick = [](const char* lumber, double thickness, double depth, double feet) {
        Member out = Sample::member(Role::joist, in(0), in(0), in(feet * 12), in(thickness), "J1");
        out.section = {"odd", in(thickness), in(depth)};
        out.lumber = lumber;
        return out;
    };
    sample.frame.panels[0].members = {stick("I-joist", 2.3125, 9.5, 25), stick("rim board", 1.125, 9.5, 10),
                                      stick("laminated veneer lumber", 1.5, 13.125, 24)};
    const Order order = order_of(sample);
    const Item* joist = find(order, "I-joist 9 1/2 in");
    REQUIRE(joist != nullptr);
    CHECK(joist->name == "I-joist 9 1/2 in, 26 ft");
    CHECK(find(order, "rim board 9 1/2 in") != nullptr);
    // The next depth that is sold.
    CHECK(find(order, "laminated veneer lumber 14 in") != nullptr);
}

TEST_CASE("trusses of a wall are ordered whole, apart from those of a roof") {
    Sample sample;
    Member truss = Sample::member(Role::stud, in(0), in(0), in(1.5), in(96), "S1");
    truss.lumber = "truss";
    sample.frame.panels[0].members = {truss, truss};
    const Order order = order_of(sample);
    const Item* item = find(order, "wall truss");
    REQUIRE(item != nullptr);
    CHECK(item->count == 2.0);
    CHECK(item->net == doctest::Approx(2 * 96 * inch));
    CHECK(item->name == "wall truss, 8 ft");
    CHECK(order.lumber.empty());
}

TEST_CASE("sizes are told as they are sold") {
    CHECK(takeoff::size_text(in(0.4375)) == "7/16 in");
    CHECK(takeoff::size_text(Exact::nearest(0.01826)) == "23/32 in");
    CHECK(takeoff::size_text(Exact::millimetres(50)) == "50 mm");
    CHECK(takeoff::size_text(Exact::nearest(0.0125)) == "12.5 mm");
    CHECK(takeoff::size_text(in(1200)) == "100 ft");
}
