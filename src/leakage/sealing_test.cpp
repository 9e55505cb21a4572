#include "leakage/sealing.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "framing/sample_test.h"
#include "leakage/air_flow.h"
#include "leakage/tightness.h"

using namespace warmside;
using namespace warmside::leakage;
namespace sample = framing::sample;

namespace {

// 30 by 20 ft, one storey of 8 ft, one window 3 by 4 ft and one door 3 by 7 ft in the first wall.
assembly::House house(bool airtight = true) {
    auto out = sample::around({{0, 0}, {360, 0}, {360, 240}, {0, 240}}, 96);
    out.details.header.value = 0.18415;  // 7 1/4 in
    if (airtight) {
        auto& layers = out.assemblies[0].layers;
        assembly::Layer sheet{.kind = assembly::Layer::Kind::membrane};
        sheet.membrane = material::built_in().membrane("polyethylene");
        REQUIRE(sheet.membrane);
        sheet.airtight = true;
        layers.insert(layers.begin() + 1, sheet);
    }
    out.faces[0].openings = {sample::window("kitchen", 60, 36, 36, 48), sample::door("front", 160, 36, 84)};
    return out;
}

SealingPlan planned(const assembly::House& h, const std::optional<std::vector<BoxInWall>>& boxes = {}) {
    const auto frame = framing::frame_walls(h, h.assemblies[0]);
    if (!frame) MESSAGE(render(frame.error()));
    REQUIRE(frame);
    auto plan = sealing_plan(h, h.assemblies[0], frame->panels, boxes);
    REQUIRE(plan);
    return std::move(*plan);
}

double sum_of(const SealingPlan& plan, SealKind kind) {
    double out = 0.0;
    for (const auto& item : plan.items)
        if (item.kind == kind) out += item.quantity;
    return out;
}
double area_of(const SealingPlan& plan, SealKind kind) {
    double out = 0.0;
    for (const auto& item : plan.items)
        if (item.kind == kind) out += item.area.typical / 1e-4;
    return out;
}

constexpr double foot = 0.3048;

}  // namespace

TEST_CASE("a plan counts seams by the model: by hand for a small house") {
    const auto plan = planned(house(), std::vector<BoxInWall>{});
    const double around = 100 * foot;
    CHECK(sum_of(plan, SealKind::sole_plate) == doctest::Approx(around - 3 * foot));
    CHECK(sum_of(plan, SealKind::ceiling_joint) == doctest::Approx(around));
    CHECK(sum_of(plan, SealKind::corner) == doctest::Approx(4 * 8 * foot));
    CHECK(sum_of(plan, SealKind::window_frame) == doctest::Approx(12 * foot * foot));
    CHECK(sum_of(plan, SealKind::window) == doctest::Approx(14 * foot));
    CHECK(sum_of(plan, SealKind::door_frame) == doctest::Approx(21 * foot * foot));
    CHECK(sum_of(plan, SealKind::door) == 1.0);
    CHECK(sum_of(plan, SealKind::laps) == doctest::Approx((800 - 33) * foot * foot));
    CHECK(sum_of(plan, SealKind::top_plate) == 0.0);
    CHECK(sum_of(plan, SealKind::rim) == 0.0);
    CHECK(sum_of(plan, SealKind::bare_face) == doctest::Approx(600 * foot * foot));  // no ceiling in the file
    CHECK(area_of(plan, SealKind::sole_plate) == doctest::Approx(0.8 * 97 * foot));
    CHECK(area_of(plan, SealKind::door) == doctest::Approx(12.0));
}

TEST_CASE("laps have the metres that the frame's seams say") {
    const auto h = house();
    const auto frame = framing::frame_walls(h, h.assemblies[0]);
    REQUIRE(frame);
    double laps = 0.0;
    for (const auto& panel : frame->panels)
        for (const auto& seam : panel.seams)
            if (seam.layer == 1 &&
                (seam.kind == framing::Seam::Kind::lap || seam.kind == framing::Seam::Kind::end_lap))
                laps += seam.length.metres();
    REQUIRE(laps > 0.0);
    double told = 0.0;
    for (const auto& item : planned(h).items) told += item.seams;
    CHECK(told == doctest::Approx(laps));
}

TEST_CASE("areas, flows and shares add up, worst first") {
    auto h = house();
    h.services.penetrations = {{.name = "stack", .kind = assembly::Penetration::Kind::pipe, .count = 2},
                               {.name = "hatch", .kind = assembly::Penetration::Kind::hatch}};
    const auto plan = planned(h, std::vector<BoxInWall>{});
    Workmanship sum;
    for (const auto& item : plan.items) {
        CHECK(item.area.best <= item.area.typical);
        CHECK(item.area.typical <= item.area.poor);
        sum += item.area;
    }
    CHECK(plan.area.alike.typical == doctest::Approx(sum.typical));
    CHECK(plan.area.independent.typical == doctest::Approx(sum.typical));
    // Independent errors are less wide than all alike, and wider than the widest part.
    CHECK(plan.area.independent.poor < plan.area.alike.poor);
    CHECK(plan.area.independent.best > plan.area.alike.best);
    double share = 0.0, widest = 0.0;
    for (const auto& group : plan.groups) {
        share += group.share;
        widest = std::max(widest, group.area.poor - group.area.typical);
    }
    CHECK(share == doctest::Approx(1.0));
    CHECK(plan.area.independent.poor - sum.typical >= widest * (1.0 - 1e-12));
    for (std::size_t i = 1; i < plan.items.size(); ++i)
        CHECK(plan.items[i - 1].area.typical >= plan.items[i].area.typical);
    for (std::size_t i = 1; i < plan.groups.size(); ++i)
        CHECK(plan.groups[i - 1].area.typical >= plan.groups[i].area.typical);
    CHECK(plan.at_50_pa.alike.typical * 3600 ==
          doctest::Approx(sum.typical / 1e-4 * 4.792).epsilon(0.0002));  // energy-more, computed
    CHECK(plan.air_change.alike.typical * plan.volume == doctest::Approx(plan.at_50_pa.alike.typical));
}

TEST_CASE("boxes that pierce the airtight layer leak; those of an inner cavity do not") {
    const std::vector<BoxInWall> through{{"receptacle 1", "0", "main", true, 1.0, 0.4},
                                         {"receptacle 2", "1", "main", true, 2.0, 0.4}};
    auto inside = through;
    for (auto& box : inside) box.pierces_airtight = false;
    const auto with = planned(house(), through), without = planned(house(), inside);
    CHECK(area_of(with, SealKind::box) == doctest::Approx(2 * 0.15));
    CHECK(area_of(without, SealKind::box) == 0.0);
    CHECK(without.boxes_inside == 2);
    CHECK(with.area.alike.typical - without.area.alike.typical == doctest::Approx(0.3e-4));
    // Without an airtight layer a box is as leaky wherever it stands.
    CHECK(area_of(planned(house(false), inside), SealKind::box) == doctest::Approx(2 * 2.5));
    const auto unknown = planned(house());
    bool said = false;
    for (const auto& note : unknown.notes)
        said = said || note.what.find("boxes are not known") != std::string::npos;
    CHECK(said);
}

TEST_CASE("boxes are taken from panels that have them") {
    struct Box {
        std::array<units::Exact, 3> low, high;
    };
    struct Fixed {
        std::string name;
        bool pierces_airtight;
        Box box;
    };
    struct Panel {
        std::string name, storey;
        std::vector<Fixed> boxes;
    };
    const auto mm = [](int n) { return units::Exact::millimetres(n); };
    const std::vector<Panel> panels{
        {"0", "main", {{"switch", true, {{mm(100), mm(1200), mm(0)}, {mm(150), mm(1300), mm(90)}}}}}};
    const auto boxes = boxes_of(panels);
    REQUIRE(boxes.size() == 1);
    CHECK(boxes[0].face == "0");
    CHECK(boxes[0].from_left == doctest::Approx(0.125));
    CHECK(boxes[0].above_floor == doctest::Approx(1.25));
}

TEST_CASE("a wall without an airtight layer takes the open rows and is told") {
    const auto plan = planned(house(false), std::vector<BoxInWall>{});
    CHECK(area_of(plan, SealKind::sole_plate) == doctest::Approx(4.0 * 97 * foot));
    CHECK(area_of(plan, SealKind::window_frame) == doctest::Approx(1.7 * 12 * foot * foot));
    CHECK(area_of(plan, SealKind::laps) == 0.0);
    CHECK(plan.notes.front().what ==
          "wall w has no airtight layer: the open rows of the table are taken for it");
    CHECK(plan.notes.front().severity == Severity::warning);
    CHECK(plan.area.alike.typical > planned(house()).area.alike.typical);
}

TEST_CASE("a raised floor adds rim and sill, unless it is airtight itself; a second storey adds its rim") {
    auto h = house();
    h.floors.push_back({.name = "main", .over = assembly::Floor::Over::crawl_space});
    auto plan = planned(h);
    CHECK(sum_of(plan, SealKind::rim) == doctest::Approx(100 * foot));
    CHECK(sum_of(plan, SealKind::foundation_sill) == doctest::Approx(100 * foot));
    CHECK(sum_of(plan, SealKind::bare_face) == doctest::Approx(1200 * foot * foot));
    h.assemblies.push_back(h.assemblies[0]);
    h.assemblies.back().name = "deck";
    h.floors[0].assembly = "deck";
    plan = planned(h);
    CHECK(sum_of(plan, SealKind::rim) == 0.0);
    CHECK(sum_of(plan, SealKind::bare_face) == doctest::Approx(600 * foot * foot));

    h = house();
    auto upper = h.storeys[0];
    upper.name = "upper";
    upper.floor = sample::inches(110);
    h.storeys.push_back(upper);
    for (std::size_t i = 0; i < 4; ++i) {
        auto face = h.faces[i];
        face.name += " upper";
        face.storey = "upper";
        face.openings.clear();
        h.faces.push_back(face);
    }
    const auto two = sealing_plan(h, h.assemblies[0], {}, {});
    REQUIRE(two);
    CHECK(sum_of(*two, SealKind::rim) == doctest::Approx(100 * foot));
    CHECK(sum_of(*two, SealKind::top_plate) == doctest::Approx(100 * foot));
    CHECK(sum_of(*two, SealKind::ceiling_joint) == doctest::Approx(100 * foot));
}

TEST_CASE("penetrations take the row of their kind, a stated hole its own edge") {
    using Kind = assembly::Penetration::Kind;
    auto h = house();
    h.services.penetrations = {{.name = "wire", .kind = Kind::wire, .count = 3, .ceiling = false},
                               {.name = "flue", .kind = Kind::flue},
                               {.name = "light", .kind = Kind::recessed_light, .count = 4},
                               {.name = "gap", .kind = Kind::other, .ceiling = false, .area = 0.01}};
    h.services.ventilation.kind.value = assembly::Ventilation::Kind::balanced;
    h.services.ventilation.range_hood = assembly::Details::ours(0.1);
    const auto plan = planned(h);
    CHECK(area_of(plan, SealKind::wire) == doctest::Approx(6.0));
    CHECK(area_of(plan, SealKind::flue) == doctest::Approx(31.0));
    CHECK(area_of(plan, SealKind::recessed_light) == doctest::Approx(40.0));
    CHECK(area_of(plan, SealKind::hole) == doctest::Approx(61.1));
    CHECK(area_of(plan, SealKind::vent) == doctest::Approx(5.0));
    for (const auto& item : plan.items) CHECK(std::string(work_of(item.kind)) != "");
}

TEST_CASE("open penetrations, a wide door and an exhaust fan take their rows") {
    using Kind = assembly::Penetration::Kind;
    auto h = house(false);
    h.faces[0].openings[1].width = sample::inches(72);
    h.services.penetrations = {{.name = "pipe", .kind = Kind::pipe, .count = 2},
                               {.name = "duct", .kind = Kind::duct, .ceiling = false},
                               {.name = "hatch", .kind = Kind::hatch},
                               {.name = "hole", .kind = Kind::other}};
    h.services.ventilation.kind.value = assembly::Ventilation::Kind::exhaust;
    h.services.ventilation.dryer = assembly::Details::ours(0.05);
    const auto plan = planned(h);
    CHECK(area_of(plan, SealKind::pipe) == doctest::Approx(12.0));
    CHECK(area_of(plan, SealKind::duct) == doctest::Approx(6.0));
    CHECK(area_of(plan, SealKind::hatch) == doctest::Approx(30.0));
    CHECK(area_of(plan, SealKind::hole) == doctest::Approx(6.0));
    CHECK(area_of(plan, SealKind::vent) == doctest::Approx(13.0));
    CHECK(area_of(plan, SealKind::door) == doctest::Approx(8.0 * 42 * foot * foot));
    CHECK(area_of(plan, SealKind::door_frame) == doctest::Approx(1.7 * 42 * foot * foot));
}

TEST_CASE("a test takes the model's volume and areas: by hand") {
    const auto sizes = tested_house(house());
    CHECK(sizes.volume == doctest::Approx(600 * 8 * std::pow(foot, 3)));
    CHECK(sizes.floor_area == doctest::Approx(600 * foot * foot));
    CHECK(sizes.envelope_area == doctest::Approx((800 + 600 + 600) * foot * foot));
    // A roof of 45 degrees without an attic: two triangles of 100 ft2, slopes of 600 sqrt 2.
    auto open = house();
    open.roofs.push_back(
        {.name = "main", .pitch = std::numbers::pi / 4, .ridge = "east-west", .over_attic = false});
    CHECK(tested_house(open).envelope_area ==
          doctest::Approx((800 + 200 + 600 * std::numbers::sqrt2 + 600) * foot * foot));
}

TEST_CASE("no heated storey, no plan") {
    assembly::House empty;
    const auto plan = sealing_plan(empty, {}, {}, {});
    REQUIRE_FALSE(plan);
    CHECK(plan.error().code == Code::missing);
}

TEST_CASE("a test that counts replaces the plan; one that does not is passed over and says why") {
    auto h = house();
    const auto plan = planned(h, std::vector<BoxInWall>{});
    const auto expected = tightness(h, plan);
    REQUIRE(expected);
    CHECK(expected->from == HouseTightness::From::expected);
    CHECK(expected->at_50_pa == doctest::Approx(plan.at_50_pa.alike.typical));
    CHECK(expected->at_50_pa_low < expected->at_50_pa);

    TestReadings readings{.file = "t.csv", .date = "2025-03-14", .volume = 140.0};
    TestSeries series{.before = {0.0}, .after = {0.0}};
    for (const double p : {10.0, 20.0, 30.0, 40.0, 50.0})
        series.points.push_back({-p, 0.004 * std::pow(p, 0.7), {}});
    readings.series = {series};
    auto test = blower_door(readings, TestStandard::iso_9972);
    REQUIRE(test);
    const auto measured = tightness(h, plan, &*test);
    REQUIRE(measured);
    CHECK(measured->from == HouseTightness::From::measured);
    CHECK(measured->words == "measured on 2025-03-14");
    CHECK(measured->exponent == doctest::Approx(0.7));
    CHECK(measured->coefficient == doctest::Approx(0.004));

    h.air.blower_door = 2.0 / 3600.0;
    const auto stated = tightness(h, plan);
    REQUIRE(stated);
    CHECK(stated->from == HouseTightness::From::stated);
    CHECK(stated->air_change == doctest::Approx(2.0 / 3600.0));
    CHECK(tightness(h, plan, &*test)->from == HouseTightness::From::measured);

    for (auto& p : readings.series[0].points) p.flow = 0.03 * std::pow(-p.pressure, 0.3);
    test = blower_door(readings, TestStandard::iso_9972);
    REQUIRE(test);
    const auto over = tightness(h, plan, &*test);
    REQUIRE(over);
    CHECK(over->from == HouseTightness::From::stated);
    CHECK(over->words.find("as stated; the test does not count: drawing out: the exponent is 0.300") == 0);
}

TEST_CASE("the house's leak goes on to walls and top with its exponent") {
    const auto h = house();
    const auto envelope = envelope_of(h);
    REQUIRE(envelope);
    const HouseTightness whole{
        .coefficient = 0.004, .exponent = 0.7, .at_50_pa = 0.004 * std::pow(50.0, 0.7)};
    const auto part = tightness_of(h, h.assemblies[0], *envelope, &whole);
    REQUIRE(part);
    CHECK(part->exponent == 0.7);
    // 800 ft2 of wall and 600 ft2 of top; 53 % of it (data/leakage/defaults.toml).
    CHECK(part->at_50_pa == doctest::Approx(0.53 * whole.at_50_pa / (1400 * foot * foot)));
    auto stated = house();
    stated.air.leakage = 1e-4;
    CHECK(tightness_of(stated, stated.assemblies[0], *envelope, &whole)->at_50_pa == 1e-4);
}

TEST_CASE("a measured house is compared with its plan") {
    const auto plan = planned(house(), std::vector<BoxInWall>{});
    TestResult test;
    const auto standing = [&](double flow) {
        test.figures.at_50_pa.value = flow;
        return compare(test, plan).standing;
    };
    CHECK(standing(plan.at_50_pa.independent.typical) == PlanCheck::Standing::within);
    CHECK(standing(0.95 * plan.at_50_pa.independent.best) == PlanCheck::Standing::better);
    CHECK(standing(0.95 * plan.at_50_pa.alike.best) == PlanCheck::Standing::tighter_than_all_best);
    CHECK(standing(1.05 * plan.at_50_pa.independent.poor) == PlanCheck::Standing::worse);
    CHECK(standing(1.05 * plan.at_50_pa.alike.poor) == PlanCheck::Standing::leakier_than_all_poor);
    CHECK(compare(test, plan).measured == doctest::Approx(1.05 * plan.area.alike.poor));
    CHECK(compare(test, plan).words.find("not in the plan") != std::string::npos);
}
