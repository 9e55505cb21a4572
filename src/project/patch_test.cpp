#include "project/patch.h"

#include <doctest/doctest.h>

#include <algorithm>

#include "project/model_text.h"
#include "project/read.h"

using namespace warmside;

namespace {

std::string starter() {
    return std::string(project::starter());
}

}  // namespace

TEST_CASE("one thickness changes, every other byte stays") {
    const auto text = starter();
    const auto patched = project::with_thickness("starter.toml", text, "better", 3, "7 1/4 in");
    // A 2x6 is 5 1/2 in deep; in a layer of 7 1/4 in it is shallower, which is a note, not an error.
    REQUIRE(patched);
    const auto old_value = text.find("\"5 1/2 in\"", text.find("[assembly.better]"));
    REQUIRE(old_value != std::string::npos);
    CHECK(patched->substr(0, old_value) == text.substr(0, old_value));
    CHECK(patched->substr(old_value, 10) == "\"7 1/4 in\"");
    CHECK(patched->substr(old_value + 10) == text.substr(old_value + 10));
}

TEST_CASE("the patched text reads to a model that differs in that layer only") {
    const auto text = starter();
    const auto patched = project::with_thickness("starter.toml", text, "today", 0, "15.9 mm");
    REQUIRE(patched);
    const auto before = project::model_text(*project::read_house("a", text).house);
    const auto after = project::model_text(*project::read_house("a", *patched).house);
    REQUIRE(before.size() == after.size());
    int changed = 0;
    for (std::size_t i = 0; i < before.size(); ++i) {
        if (before[i] == after[i]) continue;
        ++changed;
        CHECK(after[i] == "assembly.today.layers.0.thickness = 127200");  // 15.9 mm in 1/8 um
    }
    CHECK(changed == 1);
}

TEST_CASE("there and back gives the same bytes") {
    const auto text = starter();
    const auto there = project::with_thickness("f", text, "today", 0, "5/8 in");
    REQUIRE(there);
    const auto back = project::with_thickness("f", *there, "today", 0, "1/2 in");
    REQUIRE(back);
    CHECK(*back == text);
}

TEST_CASE("places count code points: a patch behind letters of two bytes hits its value") {
    const std::string text =
        "[house]\nname = \"Übung\"\nplace = \"Duluth, Minnesota\"\n[ladder.wall]\nrungs = [\"w1\"]\n"
        "[material.\"Überputz, weiß\"]\nbased_on = \"gypsum board\"\n[assembly.w1]\npart = \"wall\"\n"
        "layers = [{ material = \"Überputz, weiß\", thickness = \"12 mm\", airtight = true }] # Öl\n";
    const auto patched = project::with_thickness("f", text, "w1", 0, "13 mm");
    REQUIRE(patched);
    std::string expected = text;
    expected.replace(expected.find("12 mm"), 2, "13");
    CHECK(*patched == expected);
}

TEST_CASE("a value that does not fit is refused with the reader's own message") {
    const auto text = starter();
    const auto refused = project::with_thickness("f", text, "today", 2, "3 1/2 in");
    REQUIRE_FALSE(refused);
    CHECK(refused.error().what ==
          "layer 3 of today: the 2x6 is 5 1/2 in (139.7 mm) deep, its layer only 3 1/2 in (88.9 mm)");
    CHECK(refused.error().where.line > 0);
    const auto power = project::with_thickness("f", text, "today", 2, "5 W");
    REQUIRE_FALSE(power);
    CHECK(power.error().what == "thickness \"5 W\" is not a length (m, mm, in, ft)");
}

TEST_CASE("nothing else can be slipped in with a thickness") {
    const auto text = starter();
    CHECK_FALSE(project::with_thickness("f", text, "today", 0, "1 in\", water = true, finish = \""));
    CHECK_FALSE(project::with_thickness("f", text, "today", 0, "1 in\\"));
    CHECK_FALSE(project::with_thickness("f", text, "today", 0, "1 in\n"));
}

TEST_CASE("layers and assemblies that are not there, and membranes, are refused") {
    const auto text = starter();
    const auto name = project::with_thickness("f", text, "todya", 0, "1 in");
    REQUIRE_FALSE(name);
    CHECK(name.error().suggestion == "today");
    const auto layer = project::with_thickness("f", text, "today", 7, "1 in");
    REQUIRE_FALSE(layer);
    CHECK(layer.error().what == "today has 7 layers, there is no layer 8");
    const auto membrane = project::with_thickness("f", text, "today", 1, "1 in");
    REQUIRE_FALSE(membrane);
    CHECK(membrane.error().code == Code::missing);
    CHECK_FALSE(project::with_thickness("f", "[house", "today", 0, "1 in"));
}
