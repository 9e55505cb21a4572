#include <doctest/doctest.h>

#include "rules/layers.h"
#include "rules/made_up.h"

using namespace warmside;
using namespace warmside::rules;
using namespace warmside::rules::made_up;
using As = LayerShare::As;

namespace {

Layer board_outside(const char* thickness, const char* label) {
    return labelled(board("stone wool board", thickness), label);
}

}  // namespace

TEST_CASE("cavity adds to cavity, continuous to continuous; boards, gypsum and cladding add nothing") {
    const Assembly w = frame_wall(
        "polyethylene", studs("5 1/2 in", "R-23"),
        {board_outside("2 in", "R-8"), air(AirKind::ventilated, "3/4 in"), board("spruce siding", "3/4 in")});
    const auto in = insulation_of(w);
    CHECK(in.cavity == doctest::Approx(r("R-23")));
    CHECK(in.continuous == doctest::Approx(r("R-8")));
    CHECK(in.continuous_outside == doctest::Approx(r("R-8")));
    CHECK(in.foam_outside == 0.0);
    CHECK(in.core == Core::two_by_six);
}

TEST_CASE("stone wool between horizontal furring outside is cavity insulation, not continuous") {
    const Assembly w = frame_wall(
        "", studs("5 1/2 in", "R-23"),
        {labelled(framed(board("stone wool batt", "2 in"), lumber("2 in", "2 in", "24 in", Run::horizontal)),
                  "R-8")});
    const auto in = insulation_of(w);
    CHECK(in.continuous == 0.0);
    CHECK(in.cavity == doctest::Approx(r("R-31")));
    CHECK(in.layers.back().why == "crossed by furring, so not continuous");
}

TEST_CASE("screws alone leave a board continuous; battens outside of it too") {
    Layer outside = board_outside("4 in", "R-16");
    outside.fasteners = assembly::Fasteners{.per_area = 6.0, .cross_section = 1.8e-5, .conductivity = 50.0};
    const Assembly w = frame_wall(
        "", studs("3 1/2 in", "R-13"),
        {outside, framed(air(AirKind::ventilated, "3/4 in"), lumber("2 1/2 in", "3/4 in", "24 in"))});
    CHECK(insulation_of(w).continuous_outside == doctest::Approx(r("R-16")));
    CHECK(insulation_of(w).core == Core::two_by_four);
}

TEST_CASE("what lies outside a ventilated gap does not count") {
    const Assembly w = frame_wall("", studs("3 1/2 in", "R-13"),
                                  {air(AirKind::ventilated, "3/4 in"), board_outside("2 in", "R-8")});
    CHECK(insulation_of(w).continuous == 0.0);
}

TEST_CASE("an insulated service cavity takes a 2x6 beyond the stud columns; bare furring does not") {
    const auto cavity = [](Layer inner) {
        return wall({gypsum(), std::move(inner), sheet("variable retarder, medium"),
                     studs("5 1/2 in", "R-23"), osb()});
    };
    const auto furring = lumber("1 1/2 in", "1 1/2 in", "24 in", Run::horizontal);
    const auto wool =
        insulation_of(cavity(labelled(framed(board("stone wool batt", "1 1/2 in"), furring), "R-6")));
    CHECK(wool.core == Core::deeper);
    CHECK(wool.cavity == doctest::Approx(r("R-29")));
    CHECK(insulation_of(cavity(framed(air(AirKind::still, "1 1/2 in"), furring))).core == Core::two_by_six);
}

TEST_CASE("2x8 and deeper studs and double studs are beyond the tables; the gap of a double wall is cavity") {
    CHECK(insulation_of(frame_wall("", studs("7 1/4 in", "R-30"))).core == Core::deeper);
    const Assembly pair =
        wall({gypsum(), studs("3 1/2 in", "R-13"), labelled(board("stone wool batt", "3 1/2 in"), "R-13"),
              studs("3 1/2 in", "R-13"), osb()});
    const auto in = insulation_of(pair);
    CHECK(in.core == Core::deeper);
    CHECK(in.continuous == 0.0);
    CHECK(in.cavity == doctest::Approx(r("R-39")));
}

TEST_CASE("existing insulation counts and is told") {
    Layer old = studs("3 1/2 in", "R-11");
    old.existing = true;
    const Assembly w = frame_wall("", old, {board_outside("4 in", "R-16")});
    CHECK(insulation_of(w).existing(w));
    const Finding f = of_wall(2021, "6A", w, Subject::r_row);
    CHECK(f.outcome == Outcome::fails);
    CHECK(std::ranges::any_of(f.notes,
                              [](const std::string& n) { return n.find("is kept") != std::string::npos; }));
}

TEST_CASE("sheathing is told apart for vented cladding") {
    CHECK(sheathing_of(frame_wall("", studs("3 1/2 in", "R-13")),
                       insulation_of(frame_wall("", studs("3 1/2 in", "R-13")))) == "wood panel");
    const Assembly g = wall({gypsum(), studs("3 1/2 in", "R-13"), board("gypsum sheathing", "1/2 in")});
    CHECK(sheathing_of(g, insulation_of(g)) == "gypsum");
    const Assembly f =
        wall({gypsum(), studs("3 1/2 in", "R-13"), board("wood fibreboard sheathing", "1/2 in")});
    CHECK(sheathing_of(f, insulation_of(f)) == "fibreboard");
    const Assembly none = wall({gypsum(), studs("3 1/2 in", "R-13")});
    CHECK(sheathing_of(none, insulation_of(none)) == "other");
}
