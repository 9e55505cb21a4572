// Jacks and kings, walls without wood panels, outlines that are no rectangle, evidence that reaches a
// finding.
#include <cmath>
#include <doctest/doctest.h>

#include "structure/bracing.h"
#include "structure/made_up.h"
#include "structure/posts.h"
#include "structure/site.h"

namespace warmside::structure {
namespace {

using made_up::checked;
using made_up::Choice;
using made_up::find;
using made_up::inches;
using made_up::unit;
constexpr double inch = 0.0254, foot = 0.3048;

const Input* input_of(const Finding& finding, std::string_view name) {
    for (const auto& each : finding.inputs) {
        if (each.name.starts_with(name)) return &each;
    }
    return nullptr;
}

Result<Structure> check_with(const assembly::House& house, const Choice& c) {
    return check(house, house.assemblies.front(), made_up::frame(house, c));
}

TEST_CASE("a jack carries half of the header: as a column, under the header's end, on the plate") {
    const Choice c{.storeys = 1, .snow = 50, .opening = 48};
    const auto house = made_up::house(c);
    const auto all = check_with(house, c);
    REQUIRE(all);
    const auto* jacks = find(*all, "jacks", "jack studs as columns");
    REQUIRE(jacks);
    // One jack, a header of two plies over 4 ft; dead and snow and attic as on the wall, worked apart.
    const auto load = Site(house, house.assemblies.front()).line_load(house.faces[0], house.assemblies[0]);
    const double whole = load.dead + std::max(load.snow, 0.75 * (load.snow + load.attic_live));
    const double force = whole * 4 * foot / 2;
    CHECK(input_of(*jacks, "header's end")->value == doctest::Approx(force));
    // The end of the header, 3 in by 1 1/2 in, is the smallest area: Fc across 425 psi.
    const double bearing = force / (3 * inch * 1.5 * inch) / (425 * unit("1 psi", units::pressure));
    CHECK(*jacks->ratio == doctest::Approx(bearing));
    CHECK(jacks->outcome == (bearing <= 1 ? Outcome::passes : Outcome::fails));
}

TEST_CASE("a wider opening loads its jacks and kings more") {
    double jacks = 0.0, kings = 0.0;
    for (double opening = 24; opening <= 120; opening += 12) {
        const auto all = checked({.opening = opening});
        REQUIRE(all);
        const auto* jack = find(*all, "jacks", "jack studs as columns");
        const auto* king = find(*all, "kings", "king studs as beam-columns");
        REQUIRE(jack);
        REQUIRE(king);
        CHECK(*jack->ratio > jacks);
        CHECK(*king->ratio > kings);
        jacks = *jack->ratio;
        kings = *king->ratio;
    }
}

TEST_CASE("kings take the wind from the middle of the opening to half way to the next stud") {
    const auto all = checked({.opening = 48});
    REQUIRE(all);
    const auto* kings = find(*all, "kings", "king studs as beam-columns");
    REQUIRE(kings);
    // 24 in, jack and king of 1 1/2 in, half of 24 - 1 1/2.
    CHECK(input_of(*kings, "width whose wind")->value == doctest::Approx(38.25 * inch));
    const auto calm = checked({.wind = 0});
    REQUIRE(calm);
    const auto* still = find(*calm, "kings", "king studs as columns");
    REQUIRE(still);
    CHECK(*still->ratio < *kings->ratio);
}

TEST_CASE("a header over the plates rests on the kings") {
    const Choice c{.wind = 0, .opening = 48};
    const auto house = made_up::house(c);
    const auto usual = check_with(house, c);
    auto frame = made_up::frame(house, c);
    auto& members = frame.panels.front().members;
    std::erase_if(members, [](const auto& each) { return each.role == framing::Role::jack; });
    const auto plates = frame.panels.front().height, thickness = inches(c.breadth);
    for (auto& each : members) {
        // The kings stand at the opening's sides.
        if (each.role == framing::Role::king) {
            const bool left = each.box.low[0] < inches(96);
            each.box.low[0] = left ? inches(96) - thickness : inches(96 + c.opening);
            each.box.high[0] = each.box.low[0] + thickness;
        }
        if (each.role == framing::Role::header)
            each.box = {{inches(93), plates, inches(0)}, {inches(150), plates + inches(9), inches(1.5)}};
    }
    const auto all = check(house, house.assemblies.front(), frame);
    REQUIRE(usual);
    REQUIRE(all);
    CHECK_FALSE(find(*all, "jacks", ""));
    const auto* kings = find(*all, "kings", "king studs as columns");
    REQUIRE(kings);
    // A foot of wall alone against that and half of 4 ft of header.
    CHECK(*kings->ratio == doctest::Approx(3 * *find(*usual, "kings", "king studs as columns")->ratio));
}

TEST_CASE("uprights of another row of studs are not counted") {
    const Choice c{};
    const auto house = made_up::house(c);
    auto frame = made_up::frame(house, c);
    const auto counted = [&](std::string_view kind) {
        const auto all = check(house, house.assemblies.front(), frame);
        REQUIRE(all);
        return *find(*all, kind, kind == "kings" ? "king studs by table" : "jack studs by table")->capacity;
    };
    auto& members = frame.panels.front().members;
    const auto one = members;
    for (auto each : one) {
        if (each.role != framing::Role::king && each.role != framing::Role::jack) continue;
        each.layer = 0;  // the core is layer 1
        members.push_back(each);
    }
    CHECK(counted("kings") == 1);
    CHECK(counted("jacks") == 1);
    for (auto& each : members) each.layer = 1;
    CHECK(counted("kings") == 2);
    CHECK(counted("jacks") == 2);
}

TEST_CASE("a wall without wood panels: an engineer, and what panels would be asked") {
    for (const bool battens : {false, true}) {
        CAPTURE(battens);
        const Choice c{.storeys = 2, .battens = battens};
        auto house = made_up::house(c);
        const auto plain = check_with(house, c);
        for (auto& layer : house.assemblies.front().layers) {
            if (layer.material && layer.material->name == "osb")
                layer = made_up::layer("gypsum sheathing", 9 / 25.4);
        }
        const auto all = check_with(house, c);
        REQUIRE(plain);
        REQUIRE(all);
        const auto* none = find(*all, "bracing", "bracing of a wall without wood panels", "lower south");
        REQUIRE(none);
        CHECK(none->outcome == Outcome::needs_engineer);
        CHECK_FALSE(none->demand);
        CHECK_FALSE(none->ratio);
        // Studs at 24 in: let-in braces and fibreboard are for 16 in.
        CHECK(none->words.find("DWB") != std::string::npos);
        CHECK(none->words.find("LIB") == std::string::npos);
        CHECK((none->words.find("battens or an inner frame counts neither") != std::string::npos) == battens);
        const auto* panels = find(*all, "bracing", "what wood panels", "lower south");
        REQUIRE(panels);
        CHECK(panels->outcome == Outcome::reminder);
        CHECK_FALSE(panels->capacity);
        // As the same wall with its panels is asked; gypsum on battens does not count.
        CHECK(*panels->demand ==
              doctest::Approx(*find(*plain, "bracing", "braced length", "lower south")->demand));
    }
}

TEST_CASE("a horizontal joint of the sheathing on no wood doubles the braced length") {
    const Choice c{.storeys = 1};
    const auto house = made_up::house(c);
    auto frame = made_up::frame(house, c);
    const auto length = [&] {
        const auto all = check(house, house.assemblies.front(), frame);
        REQUIRE(all);
        return *find(*all, "bracing", "braced length", "lower south")->demand;
    };
    const double whole = length();
    auto& panel = frame.panels.front();
    for (const double low : {0.0, 48.0})
        panel.sheets.push_back(
            {2, {{inches(0), inches(low), inches(0)}, {inches(96), inches(low + 48), inches(1)}}});
    CHECK(length() == doctest::Approx(2 * whole));
    panel.members.push_back(
        {.role = framing::Role::blocking,
         .box = {{inches(0), inches(47.25), inches(0)}, {inches(96), inches(48.75), inches(3.5)}}});
    CHECK(length() == doctest::Approx(whole));
}

TEST_CASE("95 mph takes the row of 110 mph, 94 mph that for less than 95") {
    const double mph = unit("1 mph", units::speed);
    const auto length = [&](double wind) {
        return *braced_length(
                   {.wind = wind * mph, .spacing = 30 * foot, .rise = 10 * foot, .storey = 10 * foot}) /
               foot;
    };
    // IRC Table R602.10.3(1), CS-WSP, roof only, lines 30 ft apart: 3.5 below 95 mph, 4.5 to 110.
    CHECK(length(94) == doctest::Approx(3.5));
    CHECK(length(95) == doctest::Approx(4.5));
    CHECK(length(110) == doctest::Approx(4.5));
}

TEST_CASE("panels begin within 10 ft of an end, with gaps of at most 20 ft") {
    const double wall = 8 * foot;
    const Stretch panel{4 * foot, 48 * inch}, scrap{1 * foot, 48 * inch};
    CHECK(well_placed({panel, panel}, {20 * foot}, wall));
    CHECK_FALSE(well_placed({panel, panel}, {21 * foot}, wall));
    CHECK(well_placed({scrap, panel}, {9 * foot}, wall));
    CHECK_FALSE(well_placed({scrap, panel}, {10 * foot}, wall));
    CHECK_FALSE(well_placed({panel, scrap}, {10 * foot}, wall));
    CHECK_FALSE(well_placed({scrap}, {}, wall));
}

TEST_CASE("studs without a grade hold no furring by a number") {
    for (const Choice& c : {Choice{.battens = true, .stud_grade = "none"},
                            Choice{.stud = 198 / 25.4, .breadth = 48 / 25.4, .battens = true}}) {
        const auto all = checked(c);
        REQUIRE(all);
        const auto* furring = find(*all, "inner furring", "");
        REQUIRE(furring);
        CHECK(furring->outcome == Outcome::needs_engineer);
        CHECK_FALSE(furring->demand);
        CHECK_FALSE(furring->capacity);
    }
    const auto foam = checked({.foam = "xps", .stud_grade = "none"});
    REQUIRE(foam);
    CHECK(find(*foam, "screws", "furring over foam")->outcome == Outcome::needs_engineer);
    CHECK_FALSE(find(*foam, "screws", "furring over foam")->demand);
}

TEST_CASE("every wall of an outline that is no rectangle carries the roof over its box") {
    const Choice c{};
    auto house = made_up::house(c);
    auto& outline = house.storeys.front().outline;
    // 32 by 24 ft less a corner.
    outline = {{inches(0), inches(0)},     {inches(384), inches(0)},   {inches(384), inches(144)},
               {inches(192), inches(144)}, {inches(192), inches(288)}, {inches(0), inches(288)}};
    const Site site(house, house.assemblies.front());
    for (std::size_t i = 0; i < 4; ++i) {
        const auto load = site.line_load(house.faces[i], house.assemblies.front());
        CHECK(load.bears_roof);
        CHECK(load.supports == Supports::roof);
        // The frame is 6 in deep at each side, the eave 16 in.
        const double across = is_east_west(house.faces[i]) ? 24 : 32;
        CHECK(load.roof_width == doctest::Approx(((across + 1) / 2 + 16.0 / 12) * foot));
    }
}

TEST_CASE("each value carries its own evidence into the finding") {
    const auto six = checked({.battens = true}), eight = checked({.stud = 7.25});
    REQUIRE(six);
    REQUIRE(eight);
    const auto evidence = [](const Structure& all, std::string_view subject, std::string_view rule,
                             std::string_view name) {
        const auto* finding = find(all, subject, rule);
        REQUIRE(finding);
        const auto* found = input_of(*finding, name);
        REQUIRE(found);
        return found->origin.evidence;
    };
    // framing-checks: nds-reference-values and nds-cf were read in a library, Stud of 8 in from memory.
    CHECK(evidence(*six, "stud", "stud as beam-column", "compression strength") == Evidence::quoted);
    CHECK(evidence(*eight, "stud", "stud as beam-column", "compression strength") == Evidence::memory);
    CHECK(evidence(*eight, "stud", "stud as beam-column", "size factor") == Evidence::quoted);
    CHECK(evidence(*six, "inner furring", "weight", "specific gravity") == Evidence::quoted);
    CHECK(evidence(*six, "inner furring", "pull", "pull") == Evidence::memory);
    CHECK(evidence(*six, "stud", "stud deflection", "wind for deflection") == Evidence::seen);
    // irc-r602.3.5: the 2x6 cell for a roof alone was not seen, nor the 10 ft.
    CHECK(evidence(*six, "stud", "stud spacing", "largest spacing") == Evidence::memory);
    const auto fir = lumber_of("douglas fir-larch", "No. 2", {1.5 * inch, 5.5 * inch});
    REQUIRE(fir);
    CHECK(fir->origin.evidence == Evidence::quoted);
    CHECK(fir->gravity_origin.evidence == Evidence::memory);
    CHECK(lumber_of("spruce-pine-fir", "Select Structural", {1.5 * inch, 5.5 * inch})->origin.evidence ==
          Evidence::memory);
    CHECK(durations().origin_of(durations().construction).evidence == Evidence::memory);
    CHECK(durations().origin_of(durations().snow).evidence == Evidence::quoted);
}

TEST_CASE("a combination counts the roof's live load with its own duration") {
    const ColumnCase post{.size = {1.5 * inch, 5.5 * inch},
                          .lumber = *lumber_of("spruce-pine-fir", "Stud", {1.5 * inch, 5.5 * inch}),
                          .length = 8 * foot};
    const auto snow = worst_of(post, {.dead = 1000, .snow = 4000, .roof_live = 1000}, false);
    CHECK(snow.name == "D + S");
    CHECK(snow.duration == doctest::Approx(1.15));
    const auto roof = worst_of(post, {.dead = 1000, .snow = 1000, .roof_live = 4000}, false);
    CHECK(roof.name == "D + Lr");
    CHECK(roof.duration == doctest::Approx(1.25));
    CHECK(roof.ratio < snow.ratio);
    CHECK(heaviest({.dead = 1000, .live = 2000, .snow = 3000, .roof_live = 1000}) == doctest::Approx(4750));
}

}  // namespace
}  // namespace warmside::structure
