#include "takeoff/quantities.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

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

TEST_CASE("batts fill what the members leave, in the width that fits the bay") {
    const Sample sample;
    const Order order = order_of(sample);
    const Item* batt = find(order, "stone wool batt");
    REQUIRE(batt != nullptr);
    const double face = 96 * 97.125, wood = 3 * 96 * 1.5 + 7 * 92.625 * 1.5;
    CHECK(batt->net == doctest::Approx((face - wood) * 5.5 * inch * inch * inch));
    CHECK(batt->name == "stone wool batt, 5 1/2 in x 15 1/4 in");
    CHECK(batt->unit == "m3");
    // 14.5 in wide bays, batts 47 in long.
    CHECK(batt->count == std::ceil((face - wood) * 1.05 / (14.5 * 47)));
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

TEST_CASE("sizes are told as they are sold") {
    CHECK(takeoff::size_text(in(0.4375)) == "7/16 in");
    CHECK(takeoff::size_text(Exact::nearest(0.01826)) == "23/32 in");
    CHECK(takeoff::size_text(Exact::millimetres(50)) == "50 mm");
    CHECK(takeoff::size_text(Exact::nearest(0.0125)) == "12.5 mm");
    CHECK(takeoff::size_text(in(1200)) == "100 ft");
}
