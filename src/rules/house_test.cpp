#include <doctest/doctest.h>

#include <fmt/format.h>

#include <random>

#include "rules/made_up.h"

using namespace warmside;
using namespace warmside::rules;
using namespace warmside::rules::made_up;

namespace {

Glazing window(const char* name, double area, double u_value, double gain = 0.5) {
    return {.name = name, .area = area, .u = u_value, .solar_gain = gain};
}

double ach(double value) {
    return value / 3600.0;
}

/// A house that draws cannot make impossible, and its sums by the printed figures (Btu, ft2).
struct Drawn {
    Inputs in;
    double proposed = 0.0, asked = 0.0;  // W/K
};

// IECC 2021 Table R402.1.2, zone 6 and Marine 4 (seen), typed here again: W/(m2 K) = 5.678263 x Btu/(h ft2
// degF).
struct Row {
    const char* name;
    double zone_6, marine;
};
constexpr Row rows[] = {{"wall", 0.045, 0.045},
                        {"ceiling", 0.024, 0.024},
                        {"floor", 0.033, 0.033},
                        {"basement wall", 0.05, 0.05}};
constexpr double btu = 5.678263337;

Drawn draw(std::mt19937& random, const char* zone, int edition) {
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    Drawn out{inputs(edition, zone)};
    const bool marine = std::string_view(zone) == "4C";
    for (const Row& row : rows) {
        const int count = std::uniform_int_distribution<int>(1, 3)(random);
        for (int i = 0; i < count; ++i) {
            const double area = between(5.0, 200.0), u_value = between(0.05, 0.6);
            out.in.surfaces.push_back({.part = fmt::format("{}/{}", row.name, i),
                                       .row = row.name,
                                       .area = area,
                                       .code_u = u_value});
            out.proposed += area * u_value;
            double asked = marine ? row.marine : row.zone_6;
            if (edition == 2024 && std::string_view(row.name) == "ceiling") asked = 0.026;
            out.asked += area * asked * btu;
        }
    }
    for (int i = 0; i < 5; ++i) {
        const double area = between(0.3, 4.0), u_value = between(0.6, 2.5);
        out.in.glazing.push_back(window("w", area, u_value));
        out.proposed += area * u_value;
        out.asked += area * (edition == 2024 ? 0.28 : 0.30) * btu;
    }
    if (edition == 2024) {
        // Table R402.1.2 (2024): F of an unheated slab 0.48 in zone 6, 0.51 in zone 5 and Marine 4; 1.730735
        // W/(m K) each.
        const double edge = between(20.0, 60.0), f = between(0.3, 1.5);
        out.in.slabs.push_back({.part = "slab/g", .perimeter = edge, .f = f});
        out.proposed += edge * f;
        out.asked += edge * (marine ? 0.51 : 0.48) * 1.730734666;
    }
    return out;
}

}  // namespace

TEST_CASE("200 random houses: the total is the direct sum over areas, windows and slab edges") {
    std::mt19937 random(20260711);
    int passing = 0;
    for (int i = 0; i < 200; ++i) {
        const Drawn house = draw(random, i % 2 == 0 ? "6A" : "4C", i % 4 < 2 ? 2021 : 2024);
        const Finding f = one(house.in, Subject::total);
        CHECK(f.provided->value == doctest::Approx(house.proposed).epsilon(1e-12));
        CHECK(f.required->value == doctest::Approx(house.asked).epsilon(1e-7));
        const bool within = house.proposed <= house.asked;
        passing += within ? 1 : 0;
        // Caps on the windows' mean may fail a house whose total passes, never the other way.
        if (!within) CHECK(f.outcome == Outcome::fails);
    }
    CHECK(passing < 200);
}

TEST_CASE("the total passes where one part makes up for another, and not where windows pass their cap") {
    Inputs in = inputs(2021, "6A");
    in.surfaces = {{.part = "wall/a", .row = "wall", .area = 100.0, .code_u = u("U-0.060")},
                   {.part = "ceiling/a", .row = "ceiling", .area = 100.0, .code_u = u("U-0.009")}};
    CHECK(one(in, Subject::total).outcome == Outcome::passes);
    CHECK(one(in, Subject::u_row, "wall").outcome == Outcome::fails);
    in.surfaces[1].code_u = u("U-0.010");
    CHECK(one(in, Subject::total).outcome == Outcome::fails);
    in.surfaces[1].code_u = u("U-0.005");
    in.glazing.push_back(window("big", 1.0, u("U-0.45")));
    const Finding capped = one(in, Subject::total);
    CHECK(capped.outcome == Outcome::fails);
    CHECK(capped.notes.front().find("above the cap of U-0.400") != std::string::npos);
}

TEST_CASE("what the total would have to gain is said for the largest surface, and is enough") {
    const Assembly w = frame_wall("", studs("5 1/2 in", "R-20"));
    Inputs in = inputs(2021, "6A");
    in.surfaces = {surface(w, u("U-0.056"), 150.0),
                   {.part = "ceiling/a", .row = "ceiling", .area = 100.0, .code_u = u("U-0.024")}};
    const Finding f = one(in, Subject::total);
    CHECK(f.outcome == Outcome::fails);
    CHECK(f.change.starts_with("wall/w: R-"));
}

TEST_CASE(
    "a house that cannot be summed says what is missing; a part that meets its R row stands at the table's "
    "U") {
    Inputs in = inputs(2021, "6A");
    in.surfaces = {{.part = "wall/a", .row = "wall", .code_u = 0.2}};
    CHECK(one(in, Subject::total).outcome == Outcome::not_covered);
    CHECK(one(in, Subject::total).words == "Not summed: no area of wall/a.");
    Assembly basement = wall({gypsum(), labelled(board("eps", "4 in"), "R-16"), board("concrete", "8 in")});
    basement.part = Part::basement_wall;
    in.surfaces = {surface(basement, {}, 50.0)};
    CHECK(one(in, Subject::total).outcome == Outcome::passes);
    CHECK(one(in, Subject::total).provided->value == doctest::Approx(50.0 * u("U-0.05")));
    basement.layers[1].label_r = r("R-10");
    CHECK(one(in, Subject::total).outcome == Outcome::not_covered);
    in.glazing = {window("w", 1.0, 0.0)};
    CHECK(one(in, Subject::total).words.find("no U of w") != std::string::npos);
}

TEST_CASE("windows: each within passes, only the mean is unconfirmed, a missing U is not covered") {
    Inputs in = inputs(2021, "6A");
    in.glazing = {window("a", 2.0, u("U-0.28")), window("b", 1.0, u("U-0.30"))};
    CHECK(one(in, Subject::fenestration, "U of").outcome == Outcome::passes);
    in.glazing[1].u = u("U-0.33");
    CHECK(one(in, Subject::fenestration, "U of").outcome == Outcome::unconfirmed);
    in.glazing[0].u = u("U-0.33");
    CHECK(one(in, Subject::fenestration, "U of").outcome == Outcome::fails);
    in.high_or_windborne = true;
    CHECK(one(in, Subject::fenestration, "U of").required->text == "U-0.320");
    in.glazing[0].u = 0.0;
    CHECK(one(in, Subject::fenestration, "U of").outcome == Outcome::not_covered);
    in.glazing.clear();
    CHECK(one(in, Subject::fenestration).outcome == Outcome::not_covered);
}

TEST_CASE("SHGC: zone 5 of 2021 contradicts itself and decides nothing; doors have none") {
    Inputs in = inputs(2021, "5A");
    in.glazing = {window("a", 2.0, 1.0, 0.6),
                  {.name = "door", .kind = Glazing::Kind::door, .area = 2.0, .u = 1.0}};
    const Finding f = one(in, Subject::fenestration, "SHGC");
    CHECK(f.outcome == Outcome::information);
    CHECK(f.words.find("ask the official") != std::string::npos);
    in.zone.zone = {4, 'A'};
    CHECK(one(in, Subject::fenestration, "SHGC").outcome == Outcome::fails);
    CHECK(one(in, Subject::fenestration, "SHGC").provided->value == doctest::Approx(0.6));
    in.zone.zone = {4, 'C'};
    CHECK(one(in, Subject::fenestration, "SHGC").outcome == Outcome::information);
    in.zone.zone = {6, 'A'};
    CHECK(one(in, Subject::fenestration, "SHGC").words == "Nothing is asked in this zone.");
}

TEST_CASE("skylights have rows of their own") {
    Inputs in = inputs(2024, "6A");
    in.glazing = {
        {.name = "s", .kind = Glazing::Kind::skylight, .area = 1.0, .u = u("U-0.55"), .solar_gain = 0.3}};
    CHECK(one(in, Subject::fenestration, "U of skylights").outcome == Outcome::fails);
    CHECK(one(in, Subject::fenestration, "SHGC of skylights").outcome == Outcome::information);
}

TEST_CASE("air leakage: a test decides, an expectation does not; 2024 is stricter from zone 6 on") {
    Inputs in = inputs(2021, "6A");
    CHECK(one(in, Subject::air).outcome == Outcome::not_covered);
    in.leakage.expected = ach(2.8);
    CHECK(one(in, Subject::air).outcome == Outcome::information);
    in.leakage.measured = ach(2.8);
    CHECK(one(in, Subject::air).outcome == Outcome::passes);
    in.tables = &made_up::tables(2024);
    const Finding f = one(in, Subject::air);
    CHECK(f.outcome == Outcome::fails);
    CHECK(f.change == "a test of at most 2.50 ACH50");
    CHECK(one(in, Subject::air, "cap").outcome == Outcome::passes);
    in.zone.zone = {5, 'A'};
    CHECK(one(in, Subject::air).outcome == Outcome::passes);
    // 4.4 ACH50 of 400 m3 through 450 m2 are 0.214 cfm/ft2: below the cap by area, not by volume.
    in.leakage = {.measured = ach(4.4), .volume = 400.0, .enclosure = 450.0};
    CHECK(one(in, Subject::air, "cap").outcome == Outcome::passes);
    in.leakage.enclosure = 300.0;
    CHECK(one(in, Subject::air, "cap").outcome == Outcome::fails);
}

TEST_CASE("heat recovery is mandatory in zones 7 and 8, from 2024 in 6 too") {
    const auto has = [](int edition, const char* zone) {
        const auto list = all(inputs(edition, zone));
        return std::ranges::any_of(list, [](const Finding& f) { return f.subject == Subject::ventilation; });
    };
    CHECK_FALSE(has(2021, "6A"));
    CHECK(has(2024, "6A"));
    Inputs in = inputs(2021, "7");
    CHECK(one(in, Subject::ventilation).outcome == Outcome::fails);
    in.balanced = true;
    in.recovery = 0.65;
    CHECK(one(in, Subject::ventilation).outcome == Outcome::passes);
    in.balanced = false;
    CHECK(one(in, Subject::ventilation).outcome == Outcome::fails);
}

TEST_CASE("the slab meets its edge row by R, depth and what lies under a heated one") {
    Inputs in = inputs(2021, "6A");
    in.slabs = {{.part = "slab/g", .perimeter = 40.0}};
    CHECK(one(in, Subject::r_row).outcome == Outcome::not_covered);
    in.slabs[0].edge = r("R-10");
    in.slabs[0].depth = 1.2192;
    CHECK(one(in, Subject::r_row).outcome == Outcome::passes);
    in.slabs[0].depth = 0.6;
    CHECK(one(in, Subject::r_row).change == "edge insulation reaching 4 ft from the top of the slab");
    in.slabs[0] = {.part = "slab/g", .heated = true, .edge = r("R-10"), .depth = 1.22};
    CHECK(one(in, Subject::r_row).change == "R-5 under the whole slab");
    in.slabs[0].full = r("R-5");
    CHECK(one(in, Subject::r_row).outcome == Outcome::passes);
}

TEST_CASE("2024 credits: the strictest row that is reached, nothing between") {
    Inputs in = inputs(2024, "6A");
    in.surfaces = {{.part = "wall/a", .row = "wall", .area = 100.0, .code_u = 0.71 * u("U-0.045")}};
    // Table R408.2, zone 6: -20 % 8 credits, -30 % 12 (seen).
    CHECK(one(in, Subject::credit).provided->value == 8.0);
    in.surfaces[0].code_u = 0.70 * u("U-0.045");
    CHECK(one(in, Subject::credit).provided->value == 12.0);
    in.surfaces[0].code_u = u("U-0.045");
    CHECK(std::ranges::none_of(all(in), [](const Finding& f) { return f.subject == Subject::credit; }));
    in.leakage.measured = ach(0.9);
    in.balanced = true;
    in.recovery = 0.8;
    CHECK(one(in, Subject::credit, "1.0 ACH50").provided->value == 12.0);
}

TEST_CASE("an unvented roof needs the R of Table R806.5 above the deck beside air-permeable insulation") {
    const auto roof = [](std::vector<Layer> above) {
        std::vector<Layer> layers{gypsum(), studs("9 1/4 in", "R-38", "24 in"), osb()};
        for (Layer& each : above) layers.push_back(std::move(each));
        Assembly a = wall(std::move(layers));
        a.part = Part::roof;
        a.tilt = 0.5;
        return a;
    };
    const auto boards = [](const char* label) { return labelled(board("polyiso", "4 in"), label); };
    const Assembly none = roof({}), enough = roof({boards("R-25")}),
                   vented = roof({air(AirKind::ventilated, "2 in"), osb()});
    CHECK(of_wall(2021, "6A", none, Subject::roof).outcome == Outcome::fails);
    CHECK(of_wall(2021, "6A", none, Subject::roof).change.starts_with("R-25 more above the deck"));
    CHECK(of_wall(2021, "6A", enough, Subject::roof).outcome == Outcome::passes);
    CHECK(of_wall(2021, "7", enough, Subject::roof).outcome == Outcome::fails);
    // Two boards and a nailing panel over them: both lie above the deck.
    CHECK(of_wall(2021, "6A", roof({boards("R-12"), boards("R-13"), osb()}), Subject::roof).outcome ==
          Outcome::passes);
    CHECK(of_wall(2018, "6A", enough, Subject::roof).outcome == Outcome::unconfirmed);
    Inputs in = inputs(2021, "6A");
    in.surfaces = {surface(vented)};
    CHECK(std::ranges::none_of(all(in), [](const Finding& f) { return f.subject == Subject::roof; }));
    Assembly tight = enough;
    tight.layers.insert(tight.layers.begin() + 1, sheet("polyethylene"));
    CHECK(of_wall(2021, "6A", tight, Subject::roof).outcome == Outcome::fails);
}

TEST_CASE("attic vents: 1/150 passes, 1/300 depends, less fails") {
    Inputs in = inputs(2021, "6A");
    in.attic = true;
    in.attic_vents = 1.0 / 150.0;
    CHECK(one(in, Subject::roof).outcome == Outcome::passes);
    in.attic_vents = 1.0 / 300.0;
    CHECK(one(in, Subject::roof).outcome == Outcome::information);
    Assembly ceiling = wall({gypsum(), studs("9 1/4 in", "R-38", "24 in")});
    ceiling.part = Part::ceiling;
    in.surfaces = {surface(ceiling)};
    CHECK(one(in, Subject::roof).outcome == Outcome::fails);
    ceiling.layers.insert(ceiling.layers.begin() + 1, sheet("polyethylene"));
    CHECK(one(in, Subject::roof).outcome == Outcome::information);
    in.attic_vents = 0.0;
    CHECK(one(in, Subject::roof).outcome == Outcome::fails);
}

TEST_CASE("reminders are shown where the house has what they are about") {
    const auto subjects = [](const Inputs& in) {
        std::vector<std::string> out;
        for (const Finding& f : all(in))
            if (f.subject == Subject::reminder) out.push_back(f.rule);
        return out;
    };
    const auto holds = [](const std::vector<std::string>& list, const char* word) {
        return std::ranges::find(list, word) != list.end();
    };
    Inputs in = inputs(2021, "6A");
    const auto bare = subjects(in);
    CHECK(holds(bare, "certificate"));
    CHECK_FALSE(holds(bare, "foam behind the finish"));
    const Assembly w =
        frame_wall("", studs("5 1/2 in", "R-20"),
                   {labelled(board("xps", "1 in"), "R-5"), air(AirKind::ventilated, "3/4 in")});
    in.surfaces = {surface(w)};
    const auto with_foam = subjects(in);
    CHECK(holds(with_foam, "foam behind the finish"));
    CHECK(holds(with_foam, "cladding over foam"));
    CHECK(holds(with_foam, "rainscreen"));
    CHECK_FALSE(holds(with_foam, "fireblocks of the double wall"));
}

TEST_CASE("comparisons are information, by degree days where a country asks by them") {
    Inputs in = inputs(2021, "7");
    in.surfaces = {{.part = "wall/a", .row = "wall", .area = 100.0, .code_u = 0.2}};
    const auto count = [&](std::string_view country) {
        const auto list = all(in);
        return std::ranges::count_if(list, [&](const Finding& f) { return f.citation.starts_with(country); });
    };
    CHECK(count("Canada") == 0);
    CHECK(count("Norway") == 2);
    CHECK(count("Finland") == 1);
    CHECK(count("Sweden") == 1);
    in.winter.degree_days = 5500.0;
    CHECK(count("Canada") == 2);
    for (const Finding& f : all(in))
        if (f.subject == Subject::comparison) CHECK(f.outcome == Outcome::information);
}

TEST_CASE("no finding says that a house meets the code, in any edition and zone") {
    const Assembly w = frame_wall("variable retarder, medium", studs("9 1/4 in", "R-38"),
                                  {labelled(board("xps", "4 in"), "R-20")});
    for (const int edition : {2018, 2021, 2024}) {
        for (const char* zone : {"0A", "1A", "2B", "3C", "4A", "4C", "5A", "6B", "7", "8"}) {
            Inputs in = inputs(edition, zone);
            in.surfaces = {surface(w, 0.1, 100.0)};
            in.glazing = {window("w", 5.0, 0.8, 0.2)};
            in.slabs = {{.part = "slab/g", .perimeter = 30.0, .edge = 5.0, .depth = 2.0}};
            in.leakage = {.measured = ach(0.5), .volume = 300.0, .enclosure = 300.0};
            for (const Finding& f : all(in)) {
                CAPTURE(f.words);
                for (const char* claim : {"meets the code", "complies", "compliant", "code-approved"}) {
                    CHECK(f.words.find(claim) == std::string::npos);
                    CHECK(f.change.find(claim) == std::string::npos);
                }
                CHECK_FALSE(f.words.empty());
                CHECK_FALSE(f.citation.empty());
                if (f.outcome == Outcome::passes) CHECK(f.change.empty());
                if (f.outcome == Outcome::passes || f.outcome == Outcome::fails)
                    CHECK(f.evidence != Evidence::memory);
            }
        }
    }
}

TEST_CASE("impossible inputs are refused") {
    Inputs none = inputs(2021, "6A");
    none.tables = nullptr;
    CHECK(findings(none).error().code == Code::missing);
    const auto refused = [](auto change) {
        Inputs in = inputs(2021, "6A");
        in.surfaces = {{.part = "wall/a", .row = "wall", .area = 1.0, .code_u = 0.2}};
        in.glazing = {window("w", 1.0, 1.0)};
        in.slabs = {{.part = "s", .perimeter = 1.0}};
        REQUIRE(findings(in));
        change(in);
        return !findings(in);
    };
    CHECK(refused([](Inputs& in) { in.surfaces[0].area = -1.0; }));
    CHECK(refused([](Inputs& in) { in.surfaces[0].code_u = 0.0; }));
    CHECK(refused([](Inputs& in) { in.surfaces[0].code_u = std::nan(""); }));
    CHECK(refused([](Inputs& in) { in.surfaces[0].row.clear(); }));
    CHECK(refused([](Inputs& in) { in.surfaces[0].row = "slab"; }));
    CHECK(refused([](Inputs& in) { in.glazing[0].u = -1.0; }));
    CHECK(refused([](Inputs& in) { in.slabs[0].edge = std::nan(""); }));
    CHECK(refused([](Inputs& in) { in.leakage.measured = -1.0; }));
    CHECK(refused([](Inputs& in) { in.zone.zone.number = 9; }));
}
