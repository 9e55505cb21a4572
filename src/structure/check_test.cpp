#include <doctest/doctest.h>
#include <fmt/format.h>

#include "structure/made_up.h"
#include "structure/site.h"
#include "structure/wind.h"

namespace warmside::structure {
namespace {

using made_up::checked;
using made_up::Choice;
using made_up::find;

TEST_CASE("the loads on a wall are those added by hand") {
    const Choice c{.storeys = 2};
    const auto house = made_up::house(c);
    const Site site(house, house.assemblies.front());
    const double psf = made_up::unit("1 psf", units::pressure), foot = 0.3048;
    const double plf = psf * foot;
    // From lining to outer face of the frame: 0.5 + 5.5 in each side of 24 ft.
    CHECK(site.roof_span(house.roofs.front()) == doctest::Approx(25 * foot));
    const auto south = site.line_load(house.faces[0], house.assemblies.front());
    CHECK(south.snow == doctest::Approx(50 * (12.5 + 16.0 / 12) * plf).epsilon(1e-9));
    // Joists run the short way onto the south wall; the bearing line takes half: 24 ft / 4.
    CHECK(south.floor_live == doctest::Approx(1915.2 * 6 * foot).epsilon(1e-9));
    CHECK(south.attic_live == doctest::Approx(478.8 * 12.5 * foot).epsilon(1e-9));
    CHECK(south.supports == Supports::one_floor_and_roof);
    // Walls: gypsum, batt beside the studs, studs, OSB and boards of two storeys, by hand.
    const auto density = [](const char* name) { return material::built_in().material(name)->density; };
    const double share = 1.5 / 24, inch = 0.0254;
    const double mass = 0.5 * inch * density("gypsum board") +
                        5.5 * inch * ((1 - share) * density("stone wool batt") + share * density("spruce")) +
                        0.4375 * inch * density("osb") + 0.75 * inch * density("spruce");
    const double walls = mass * 9.80665 * 2 * 97.125 * inch;
    const double roof = 718.2 * (12.5 + 16.0 / 12) * foot, floor = 478.8 * 6 * foot;
    CHECK(south.dead == doctest::Approx(walls + roof + floor).epsilon(1e-9));
    const auto east = site.line_load(house.faces[1], house.assemblies.front());
    CHECK(east.supports == Supports::nothing);
    CHECK_FALSE(east.bears_roof);
    const auto upper = site.line_load(house.faces[4], house.assemblies.front());
    CHECK(upper.supports == Supports::roof);
    CHECK(upper.floor_live == 0.0);
}

TEST_CASE("a header in the rim asks for full-height studs in place of jacks; a rim board is for its maker") {
    const Choice c{.storeys = 2};
    const auto house = made_up::house(c);
    auto frame = made_up::frame(house, c);
    for (auto& panel : frame.panels) {
        std::erase_if(panel.members, [](const auto& m) { return m.role == framing::Role::jack; });
        for (auto& m : panel.members) {
            if (m.role != framing::Role::header) continue;
            m.box.low[1] = panel.height;
            m.box.high[1] = panel.height + made_up::inches(c.header);
        }
    }
    auto all = check(house, house.assemblies.front(), frame);
    REQUIRE(all);
    const auto* studs = find(*all, "full-height studs big window", "studs under a header in the rim");
    REQUIRE(studs != nullptr);
    // The kings stand 51 in apart: 25 1/2 in displace two studs of 24 in.
    CHECK(*studs->demand == 2);
    CHECK(*studs->capacity == 1);
    CHECK(studs->outcome == Outcome::fails);
    CHECK(studs->change == "2 full-height studs at each end");
    CHECK(find(*all, "jacks big window", "") == nullptr);
    CHECK(find(*all, "header big window", "header span by table")->citation.starts_with("IRC 2021 R602.7.2"));
    for (auto& panel : frame.panels) {
        for (auto& m : panel.members) {
            if (m.role == framing::Role::header) m.lumber = "rim board";
        }
    }
    all = check(house, house.assemblies.front(), frame);
    REQUIRE(all);
    CHECK(find(*all, "header big window", "header span by table")->outcome == Outcome::needs_engineer);
}

TEST_CASE("a load that the house file does not give leaves no number") {
    const auto all = checked({.snow = 0, .wind = 0});
    REQUIRE(all);
    for (const auto& each : all->findings) {
        CAPTURE(each.rule);
        if (each.rule == "stud spacing by table") continue;
        CHECK(each.outcome == Outcome::not_given);
        CHECK_FALSE(each.ratio);
        CHECK_FALSE(each.demand);
    }
    CHECK(all->worst() == Outcome::not_given);
    const auto calm = checked({.wind = 0});
    REQUIRE(calm);
    CHECK(find(*calm, "stud", "stud as beam-column")->outcome == Outcome::not_given);
    CHECK(find(*calm, "stud", "stud under gravity")->ratio);
}

TEST_CASE("lumber without a recognised grade or size needs an engineer, no number") {
    for (const Choice& c : {Choice{.stud_grade = "none"}, Choice{.stud = 198 / 25.4, .breadth = 48 / 25.4}}) {
        const auto all = checked(c);
        REQUIRE(all);
        const auto* stud = find(*all, "stud", "stud as beam-column");
        REQUIRE(stud);
        CHECK(stud->outcome == Outcome::needs_engineer);
        CHECK_FALSE(stud->ratio);
        CHECK_FALSE(find(*all, "stud", "stud under gravity"));
    }
}

TEST_CASE("outside the tables an engineer decides") {
    const auto snow = checked({.snow = 71});
    REQUIRE(snow);
    CHECK(find(*snow, "stud", "stud as beam-column")->outcome == Outcome::needs_engineer);
    CHECK(find(*snow, "header", "header span")->outcome == Outcome::needs_engineer);
    const auto wind = checked({.wind = 140});
    REQUIRE(wind);
    CHECK(find(*wind, "stud", "stud as beam-column")->outcome == Outcome::needs_engineer);
    CHECK(find(*wind, "bracing", "")->outcome == Outcome::needs_engineer);
    const auto tall = checked({.height = 140});
    REQUIRE(tall);
    CHECK(find(*tall, "stud", "stud as beam-column")->outcome == Outcome::needs_engineer);
}

TEST_CASE("wind for deflection is 0.7 of the allowable-stress load, once") {
    CHECK(for_deflection(1000.0) == doctest::Approx(420.0));
    CHECK(allowable(1000.0) == doctest::Approx(600.0));
    const auto all = checked({});
    REQUIRE(all);
    const auto* sag = find(*all, "stud", "stud deflection", "south");
    const auto* strength = find(*all, "stud", "stud as beam-column", "south");
    REQUIRE(sag);
    REQUIRE(strength);
    const auto value = [](const Finding& f, std::string_view name) {
        for (const auto& each : f.inputs) {
            if (each.name.starts_with(name)) return each.value;
        }
        return 0.0;
    };
    CHECK(value(*sag, "wind for deflection") ==
          doctest::Approx(0.7 * value(*strength, "wind on the wall, allowable stress")));
    // Gypsum inside: a 180th of the stud's length.
    CHECK(*sag->capacity == doctest::Approx((97.125 - 4.5) * 0.0254 / 180));
}

TEST_CASE("gypsum on battens shows both braced lengths, 1.4 apart") {
    const auto plain = checked({.storeys = 2}), battens = checked({.storeys = 2, .battens = true});
    REQUIRE(plain);
    REQUIRE(battens);
    const auto* on_studs = find(*plain, "bracing", "", "lower south");
    const auto* on_battens = find(*battens, "bracing", "", "lower south");
    REQUIRE(on_studs);
    REQUIRE(on_battens);
    CHECK(on_studs->outcome == Outcome::reminder);
    CHECK_FALSE(on_studs->ratio);
    // Rise and line spacing are alike but for the wall's depth, which is outside of the inner battens.
    CHECK(*on_battens->demand > 1.39 * *on_studs->demand);
    CHECK(on_battens->words.find("x 1.4") != std::string::npos);
    // South: 32 ft less the 4 ft window beside which 24 in counts.
    CHECK(*on_studs->capacity == doctest::Approx(28 * 0.3048));
}

TEST_CASE("exterior stone wool never passes by the foam table") {
    const auto wool = checked({.wool = true});
    REQUIRE(wool);
    const auto* screws = find(*wool, "screws", "");
    REQUIRE(screws);
    CHECK(screws->outcome == Outcome::needs_engineer);
    CHECK_FALSE(screws->ratio);
    REQUIRE(screws->demand);
    REQUIRE(screws->capacity);
    // Boards, furring and 2 in of wool on 16 x 24 in.
    const auto density = [](const char* name) { return material::built_in().material(name)->density; };
    const double inch = 0.0254, furring = 2.5 / 24 * 0.75 * inch * density("spruce");
    const double mass = 0.75 * inch * density("spruce") + furring + 2 * inch * density("stone wool board");
    CHECK(*screws->demand == doctest::Approx(mass * 9.80665 * 16 * inch * 24 * inch).epsilon(1e-6));
    CHECK(screws->words.find("maker") != std::string::npos);

    const auto strong = checked({.foam = "xps"});
    REQUIRE(strong);
    CHECK(find(*strong, "screws", "furring over foam")->outcome == Outcome::passes);
    const auto weak = checked({.foam = "eps"});
    REQUIRE(weak);
    CHECK(find(*weak, "screws", "")->outcome == Outcome::needs_engineer);
}

TEST_CASE("more load never lowers a ratio") {
    double stud = 0.0, windy = 0.0, bearing = 0.0;
    for (int snow = 10; snow <= 70; snow += 5) {
        const auto all = checked({.storeys = 2, .snow = static_cast<double>(snow)});
        REQUIRE(all);
        CAPTURE(snow);
        const double next = *find(*all, "stud", "stud under gravity", "lower south")->ratio;
        const double both = *find(*all, "stud", "stud as beam-column", "lower south")->ratio;
        const double plate = *find(*all, "stud", "bearing", "lower south")->ratio;
        CHECK(next >= stud);
        CHECK(both >= windy);
        CHECK(plate >= bearing);
        stud = next;
        windy = both;
        bearing = plate;
    }
    windy = 0.0;
    for (int wind = 90; wind < 140; wind += 5) {
        const auto all = checked({.wind = static_cast<double>(wind)});
        REQUIRE(all);
        const double next = *find(*all, "stud", "stud as beam-column", "south")->ratio;
        CHECK(next > windy);
        windy = next;
    }
}

TEST_CASE("a wider opening never passes where a narrower fails") {
    for (const double header : {5.5, 7.25, 9.25, 11.25}) {
        bool failed = false;
        for (double opening = 24; opening <= 144; opening += 12) {
            const auto all = checked({.opening = opening, .header = header});
            REQUIRE(all);
            const auto* found = find(*all, "header", "header span");
            REQUIRE(found);
            CAPTURE(header);
            CAPTURE(opening);
            if (failed) CHECK(found->outcome == Outcome::fails);
            failed = failed || found->outcome == Outcome::fails;
        }
        CHECK(failed);
    }
}

TEST_CASE("joists, rafters and trusses of a frame are checked") {
    const Choice c{.snow = 50};
    auto house = made_up::house(c);
    auto frame = made_up::frame(house, c);
    const framing::Section ten{"2x10", made_up::inches(1.5), made_up::inches(9.25)};
    framing::Panel floor{.kind = framing::Panel::Kind::floor, .name = "floor", .storey = "lower"};
    floor.members.push_back(
        {.role = framing::Role::joist, .section = ten, .length = made_up::inches(288), .mark = "J1"});
    frame.panels.push_back(floor);
    framing::Panel roof{.kind = framing::Panel::Kind::roof, .name = "roof main south", .storey = "lower"};
    roof.members.push_back(
        {.role = framing::Role::rafter, .section = ten, .length = made_up::inches(200), .mark = "R1"});
    roof.members.push_back(
        {.role = framing::Role::truss, .section = ten, .length = made_up::inches(300), .mark = "T1"});
    frame.panels.push_back(roof);
    const auto all = check(house, house.assemblies.front(), frame);
    REQUIRE(all);
    // A joist over the bearing line spans half of 24 ft; table: 15-5 at 40 and 10 psf, 16 in.
    const auto* joist = find(*all, "joist", "");
    REQUIRE(joist);
    CHECK(*joist->demand == doctest::Approx(12 * 0.3048));
    CHECK(*joist->capacity == doctest::Approx(15 * 0.3048 + 5 * 0.0254).epsilon(0.004));
    // Half of 25 ft; IRC Table R802.4.1(5): 12-4 at dead 10 and 11-5 at 20 psf; 15 psf lies between.
    const auto* rafter = find(*all, "rafter", "");
    REQUIRE(rafter);
    CHECK(*rafter->demand == doctest::Approx(12.5 * 0.3048));
    CHECK(*rafter->capacity < (12 * 12 + 4 + 0.6) * 0.0254);
    CHECK(*rafter->capacity > (11 * 12 + 5 - 0.6) * 0.0254);
    CHECK(rafter->outcome == Outcome::fails);
    CHECK(find(*all, "truss", "")->outcome == Outcome::reminder);
}

TEST_CASE("every finding cites its rule, every number its inputs, and what is not covered is named") {
    const auto all = checked({.storeys = 2, .battens = true, .wool = true});
    REQUIRE(all);
    for (const auto& each : all->findings) {
        CAPTURE(each.subject);
        CHECK_FALSE(each.citation.empty());
        CHECK_FALSE(each.words.empty());
        CHECK_FALSE(each.where.empty());
        if (each.demand || each.ratio) CHECK_FALSE(each.inputs.empty());
        if (each.ratio) CHECK((each.outcome == Outcome::passes) == (*each.ratio <= 1.0));
        if (each.outcome == Outcome::fails) CHECK_FALSE(each.change.empty());
    }
    std::string cautions;
    for (const auto& each : all->cautions) cautions += each;
    for (const char* word : {"anchorage", "uplift", "hold-downs", "seismic", "licensed"}) {
        CAPTURE(word);
        CHECK(cautions.find(word) != std::string::npos);
    }
    CHECK_FALSE(check(made_up::house({}), made_up::wall({}), {}));
}

TEST_CASE("two rows of equal studs: all loads are put on the outer one") {
    auto wall = made_up::wall({.stud = 3.5});
    wall.layers.insert(wall.layers.begin() + 1, wall.layers[1]);
    const auto core = core_of(wall);
    REQUIRE(core);
    CHECK(core->layer == 2);
    CHECK(core->row);
}

}  // namespace
}  // namespace warmside::structure
