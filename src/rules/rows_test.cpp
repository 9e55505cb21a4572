#include <doctest/doctest.h>

#include "rules/change.h"
#include "rules/made_up.h"

using namespace warmside;
using namespace warmside::rules;
using namespace warmside::rules::made_up;

namespace {

Layer foam(const char* thickness, const char* label) {
    return labelled(board("xps", thickness), label);
}

double code_u(const Assembly& assembly) {
    const auto worth = thermal::worth(assembly, thermal::made_up::cold);
    if (!worth) FAIL(render(worth.error()));
    return worth->code_u;
}

Assembly part(Part of, std::vector<Layer> layers) {
    Assembly a = wall(std::move(layers));
    a.part = of;
    return a;
}

}  // namespace

TEST_CASE("the R row is met by any of its ways, and never by cavity and continuous added across") {
    // IECC 2021 Table R402.1.3, zone 6: 30 or 20&5ci or 13&10ci or 0&20ci (seen)
    const auto outcome = [](Layer core, std::vector<Layer> outside) {
        return of_wall(2021, "6A", frame_wall("", std::move(core), std::move(outside)), Subject::r_row)
            .outcome;
    };
    CHECK(outcome(studs("5 1/2 in", "R-20"), {foam("1 in", "R-5")}) == Outcome::passes);
    CHECK(outcome(studs("3 1/2 in", "R-13"), {foam("2 in", "R-10")}) == Outcome::passes);
    CHECK(outcome(studs("7 1/4 in", "R-30"), {}) == Outcome::passes);
    CHECK(outcome(studs("5 1/2 in", "R-23"), {}) == Outcome::fails);
    CHECK(outcome(studs("5 1/2 in", "R-19"), {foam("1 in", "R-5")}) == Outcome::fails);
    CHECK(outcome(studs("3 1/2 in", "R-13"), {foam("1 in", "R-9")}) == Outcome::fails);
}

TEST_CASE("wool between furring outside fails where the same wool unbroken passes") {
    const auto batts = labelled(framed(board("stone wool batt", "1 1/2 in"),
                                       lumber("1 1/2 in", "1 1/2 in", "24 in", Run::horizontal)),
                                "R-6");
    const auto board_ = labelled(board("stone wool board", "1 1/2 in"), "R-6");
    CHECK(of_wall(2021, "6A", frame_wall("", studs("5 1/2 in", "R-21"), {batts}), Subject::r_row).outcome ==
          Outcome::fails);
    CHECK(of_wall(2021, "6A", frame_wall("", studs("5 1/2 in", "R-21"), {board_}), Subject::r_row).outcome ==
          Outcome::passes);
}

TEST_CASE("the nearest way is named, with what it lacks") {
    const Finding f = of_wall(
        2021, "6A", frame_wall("", studs("5 1/2 in", "R-23"), {foam("1/2 in", "R-2.5")}), Subject::r_row);
    CHECK(f.required->text == "R-20 + R-5 ci");
    CHECK(f.provided->text == "R-23 + R-2.5 ci");
    CHECK(f.change.starts_with("R-2.5 (RSI 0.44) more continuous insulation: xps 1 in"));
    CHECK(f.words == "Asked: 30 or 20&5ci or 13&10ci or 0&20ci. There: R-23 + R-2.5 ci.");
    CHECK(f.citation == "IECC 2021 Table R402.1.3");
    CHECK(f.evidence == Evidence::seen);
}

TEST_CASE("a ceiling counts all its insulation; a thinner one may count with a raised heel") {
    const auto ceiling = [](const char* label) {
        return part(Part::ceiling, {gypsum(), labelled(framed(board("loose cellulose", "14 in"),
                                                              lumber("1 1/2 in", "3 1/2 in", "24 in")),
                                                       label)});
    };
    CHECK(of_wall(2021, "7", ceiling("R-60"), Subject::r_row).outcome == Outcome::passes);
    const Finding f = of_wall(2021, "7", ceiling("R-50"), Subject::r_row);
    CHECK(f.outcome == Outcome::fails);
    CHECK(f.change.find("full uncompressed depth over the plate") != std::string::npos);
    CHECK(of_wall(2021, "7", ceiling("R-48"), Subject::r_row).change.find("plate") == std::string::npos);
    CHECK(of_wall(2024, "7", ceiling("R-50"), Subject::r_row).outcome == Outcome::passes);
}

TEST_CASE("a small roof without an attic may do with R-30, and the finding says so; an attic may not") {
    Assembly roof = part(Part::roof, {gypsum(), studs("9 1/4 in", "R-38", "24 in"), osb()});
    CHECK(of_wall(2024, "6A", roof, Subject::r_row).change.find("500 ft2 or 20 %") != std::string::npos);
    roof.part = Part::ceiling;
    CHECK(of_wall(2024, "6A", roof, Subject::r_row).change.find("500 ft2") == std::string::npos);
}

TEST_CASE("the U row takes code U as it is: a hair above fails, and rounding is told, not used") {
    const Assembly w = frame_wall("", studs("5 1/2 in", "R-23"));
    CHECK(of_wall(2021, "6A", w, Subject::u_row, u("U-0.045")).outcome == Outcome::passes);
    const Finding f = of_wall(2021, "6A", w, Subject::u_row, u("U-0.0452"));
    CHECK(f.outcome == Outcome::fails);
    CHECK(f.notes.front().starts_with("Rounded to three decimals"));
    CHECK(of_wall(2021, "6A", w, Subject::u_row).outcome == Outcome::not_covered);
}

TEST_CASE("the least insulation that would pass does pass, and a hundredth less does not") {
    for (const char* core : {"3 1/2 in", "5 1/2 in"}) {
        const Assembly w =
            frame_wall("", studs(core, "R-15"), {labelled(board("stone wool board", "1 in"), "R-4")});
        const double now = code_u(w), asked = u("U-0.045");
        REQUIRE(now > asked);
        const auto more = least_added(surface(w, now), asked);
        REQUIRE(more);
        const auto with = [&](double added) {
            Assembly thicker = w;
            thicker.layers.back().label_r = *w.layers.back().label_r + added;
            return code_u(thicker);
        };
        // The handbook way takes a board's package R for its resistance: added R is added in every path.
        CHECK(with(*more) == doctest::Approx(asked).epsilon(1e-6));
        CHECK(with(0.99 * *more) > asked);
        // A parallel path gains more than it is given.
        CHECK(*more < 1.0 / asked - 1.0 / now);
    }
    CHECK(*least_added({.part = "x", .row = "wall", .code_u = 0.5}, 0.25) == doctest::Approx(2.0));
    CHECK_FALSE(least_added({.part = "x", .row = "wall"}, 0.25));
    CHECK(*least_added({.part = "x", .row = "wall", .code_u = 0.2}, 0.25) == 0.0);
}

TEST_CASE("a requirement known from memory only is unconfirmed, passed or not") {
    const Assembly w = frame_wall("", studs("5 1/2 in", "R-23"));
    CHECK(of_wall(2018, "2A", w, Subject::u_row, u("U-0.01")).outcome == Outcome::unconfirmed);
    CHECK(of_wall(2018, "2A", w, Subject::u_row, u("U-0.9")).outcome == Outcome::unconfirmed);
    CHECK(of_wall(2018, "6A", w, Subject::u_row, u("U-0.9")).outcome == Outcome::fails);
}

TEST_CASE("a zone known from memory only leaves nothing confirmed") {
    const Assembly w = frame_wall("", studs("5 1/2 in", "R-23"));
    Inputs in = inputs(2018, "7");
    in.zone = *zone_of(**climate::find_place("Duluth, MN"), 2018);
    in.surfaces.push_back(surface(w, u("U-0.01")));
    CHECK(one(in, Subject::u_row).outcome == Outcome::unconfirmed);
    CHECK(one(in, Subject::zone).evidence == Evidence::memory);
}

TEST_CASE("a zone without a column and a row without a table are not covered") {
    const Assembly w = frame_wall("", studs("5 1/2 in", "R-23"));
    CHECK(of_wall(2018, "0A", w, Subject::r_row).outcome == Outcome::not_covered);
    CHECK(of_wall(2018, "0A", w, Subject::u_row, 0.2).outcome == Outcome::not_covered);
    Inputs in = inputs(2021, "6A");
    in.surfaces.push_back(
        {.part = "roof/r1", .row = "roof, insulated above the deck", .assembly = &w, .code_u = 0.1});
    CHECK(one(in, Subject::u_row).outcome == Outcome::not_covered);
    in.tables = &made_up::tables(2024);
    CHECK(one(in, Subject::u_row).outcome == Outcome::passes);
}

TEST_CASE("a basement wall meets its row by continuous or by cavity insulation") {
    const auto basement = [](std::vector<Layer> layers) {
        return part(Part::basement_wall, std::move(layers));
    };
    const Assembly boards =
        basement({gypsum(), labelled(board("eps", "4 in"), "R-15"), board("concrete", "8 in")});
    CHECK(of_wall(2021, "6A", boards, Subject::r_row).outcome == Outcome::passes);
    const Assembly batts = basement({gypsum(), studs("3 1/2 in", "R-13"), board("concrete", "8 in")});
    const Finding f = of_wall(2021, "6A", batts, Subject::r_row);
    CHECK(f.outcome == Outcome::fails);
    CHECK_FALSE(f.change.empty());
}

TEST_CASE("a mass wall insulated inside meets the second figure") {
    const Assembly inside =
        wall({gypsum(), labelled(board("eps", "4 in"), "R-16"), board("concrete", "8 in")});
    Inputs in = inputs(2021, "6A");
    in.surfaces.push_back({.part = "wall/m", .row = "mass wall", .assembly = &inside});
    const Finding f = one(in, Subject::r_row);
    // Zone 6 of Table R402.1.3: 15/20 (seen), the second where over half of the insulation is inside.
    CHECK(f.required->text == "R-20");
    CHECK(f.outcome == Outcome::fails);
    const Assembly outside = wall({board("concrete", "8 in"), labelled(board("eps", "4 in"), "R-16")});
    in.surfaces.front().assembly = &outside;
    CHECK(one(in, Subject::r_row).required->text == "R-15");
    CHECK(one(in, Subject::r_row).outcome == Outcome::passes);
}
