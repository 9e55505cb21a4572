#include <doctest/doctest.h>

#include <fmt/format.h>
#include <string>

#include "material/read.h"
#include "units/reader.h"

using namespace warmside;
using namespace warmside::material;

namespace {

struct Reading {
    Catalogue catalogue;
    Problems problems;
};

// A text as a builder would write it in his house file, read on top of the catalogue.
Reading read(const std::string& text) {
    Reading out;
    const auto parsed = units::parse_toml("house.toml", text);
    REQUIRE(parsed);
    if (const auto* group = (*parsed)["material"].as_table()) {
        for (const auto& [name, row] : *group) {
            auto m = read_material(std::string(name.str()), *row.as_table(), built_in(),
                                   Origin::Kind::house_file, out.problems);
            if (m) out.catalogue.materials.push_back(std::move(*m));
        }
    }
    if (const auto* group = (*parsed)["membrane"].as_table()) {
        for (const auto& [name, row] : *group) {
            auto m = read_membrane(std::string(name.str()), *row.as_table(), built_in(),
                                   Origin::Kind::house_file, out.problems);
            if (m) out.catalogue.membranes.push_back(std::move(*m));
        }
    }
    return out;
}

// A whole row, in which one line is replaced or added.
std::string board(const std::string& key = {}, const std::string& line = {}) {
    std::string out = "[material.board]\n";
    const std::pair<const char*, const char*> lines[] = {
        {"family", "family = \"panel\""},
        {"density", "density = \"600 kg/m3\""},
        {"specific_heat", "specific_heat = \"1800 J/(kg K)\""},
        {"conductivity", "conductivity = \"0.12 W/(m K)\""},
        {"porosity", "porosity = \"60 %\""},
        {"sorption", "sorption = [[\"50 %\", \"6 %\"], [\"80 %\", \"12 %\"]]"},
        {"free_saturation", "free_saturation = \"500 kg/m3\""},
        {"permeability", "permeability = \"mu 100\""},
    };
    bool replaced = false;
    for (const auto& [name, text] : lines) {
        if (key == name) {
            replaced = true;
            if (!line.empty()) out += line + "\n";
        } else {
            out += std::string(text) + "\n";
        }
    }
    if (!key.empty() && !replaced) out += line + "\n";
    return out;
}

}  // namespace

TEST_CASE("a whole row of a house file reads, with its places as origin") {
    const auto got = read(board());
    REQUIRE(got.problems.empty());
    const Material& m = got.catalogue.materials.front();
    CHECK(m.density == 600.0);
    CHECK(m.conductivity == 0.12);
    CHECK(m.is_wood);
    CHECK(m.hatch == "sheathing");
    CHECK(moisture_content(m, 0.8) == doctest::Approx(72.0));
    CHECK(vapour_permeability(m, 0.5) == doctest::Approx(2e-12));
    CHECK(origin_of(m, "density").kind == Origin::Kind::house_file);
    CHECK(describe(origin_of(m, "density")) == "house.toml:3");
}

TEST_CASE("based_on changes only what the row states; the rest keeps its source") {
    const auto got = read("[material.\"my board\"]\nbased_on = \"osb\"\nconductivity = \"0.13 W/(m K)\"\n");
    REQUIRE(got.problems.empty());
    const Material& m = got.catalogue.materials.front();
    const Material& osb = *built_in().material("osb");
    CHECK(m.name == "my board");
    CHECK(m.conductivity == 0.13);
    CHECK(m.density == osb.density);
    CHECK(moisture_content(m, 0.9) == moisture_content(osb, 0.9));
    CHECK(describe(origin_of(m, "conductivity")) == "house.toml:3");
    CHECK(origin_of(m, "sorption").source == origin_of(osb, "sorption").source);
    CHECK(origin_of(m, "sorption").kind == Origin::Kind::catalogue);
    CHECK(m.aliases.empty());
}

TEST_CASE("a denser board of the same kind holds the same share of its mass") {
    const auto got = read("[material.b]\nbased_on = \"osb\"\ndensity = \"700 kg/m3\"\n");
    REQUIRE(got.problems.empty());
    const Material& osb = *built_in().material("osb");
    CHECK(moisture_content(got.catalogue.materials.front(), 0.886) ==
          doctest::Approx(moisture_content(osb, 0.886) * 700.0 / 650.0));
}

TEST_CASE("a value can carry a source of its own, and does not inherit the row's evidence then") {
    const auto got = read(
        "[material.b]\nbased_on = \"osb\"\nsource = \"a report\"\nevidence = \"seen\"\n"
        "density = { value = \"640 kg/m3\", source = \"the label\" }\nabsorption = \"0.002 kg/(m2 "
        "s^0.5)\"\n");
    REQUIRE(got.problems.empty());
    const Material& m = got.catalogue.materials.front();
    CHECK(origin_of(m, "density").source == "the label");
    CHECK(origin_of(m, "density").evidence == Evidence::none);
    CHECK(origin_of(m, "absorption").source == "a report");
    CHECK(origin_of(m, "absorption").evidence == Evidence::seen);
}

TEST_CASE("permeance of a specimen becomes permeability by its thickness") {
    const auto got = read(board(
        "permeability",
        "permeance = { value = [[\"25 %\", \"1 perm\"], [\"75 %\", \"sd 1 m\"]], thickness = \"1/2 in\" }"));
    REQUIRE(got.problems.empty());
    const Material& m = got.catalogue.materials.front();
    CHECK(vapour_permeability(m, 0.25) == doctest::Approx(57.2135e-12 * 0.0127).epsilon(1e-5));
    CHECK(vapour_permeability(m, 0.75) == doctest::Approx(2e-10 * 0.0127));
}

TEST_CASE("a package label gives label R; a changed conductivity beside an old label is noted") {
    const auto got = read(
        "[material.b]\nbased_on = \"stone wool batt\"\nlabel = [\"R-13 at 3 1/2 in\", \"RSI 4 at 145 "
        "mm\"]\n");
    REQUIRE(got.problems.empty());
    CHECK(*label_resistance(got.catalogue.materials.front(), 0.145) == doctest::Approx(4.0));
    const auto noted =
        read("[material.b]\nbased_on = \"stone wool batt\"\nconductivity = \"0.030 W/(m K)\"\n");
    REQUIRE(noted.problems.size() == 1);
    CHECK(noted.problems[0].severity == Severity::note);
    CHECK(noted.problems[0].what == "label R stays that of \"stone wool batt\", though conductivity differs");
    CHECK(noted.catalogue.materials.size() == 1);
}

TEST_CASE("every missing key of a new material is listed at once") {
    const auto got = read("[material.x]\nsorption = [[\"50 %\", \"5 %\"]]\n");
    std::string all;
    for (const auto& p : got.problems) all += p.what + "\n";
    CHECK(all ==
          "[material.\"x\"] has no family\n[material.\"x\"] has no density\n[material.\"x\"] has no "
          "specific_heat\n"
          "[material.\"x\"] has no conductivity\n[material.\"x\"] has no permeability\n[material.\"x\"] has "
          "no porosity\n"
          "[material.\"x\"] has no free_saturation\n");
    CHECK(got.catalogue.materials.empty());
}

TEST_CASE("broken rows give one problem each, with its place and the exact words") {
    struct Broken {
        std::string key, line, what, suggestion;
        int at_line, at_column;
    };
    const Broken table[] = {
        {"densty", "densty = \"5 kg/m3\"", "[material.\"board\"] does not know \"densty\"", "density", 10, 1},
        {"density", "density = \"-600 kg/m3\"", "density \"-600 kg/m3\" is outside 1 kg/m3 to 12000 kg/m3",
         "", 3, 11},
        {"density", "density = \"600 kg\"", "density \"600 kg\" is not a density (kg/m3, lb/ft3)", "", 3, 11},
        {"density", "density = 600", "density needs a unit, in quotes (kg/m3, lb/ft3)", "", 3, 11},
        {"density", "density = true", "density is true or false, not a density (kg/m3, lb/ft3)", "", 3, 11},
        {"density", "density = { value = \"600 kg/m3\", sorce = \"x\" }",
         "density of [material.\"board\"] does not know \"sorce\"", "source", 3, 34},
        {"density", "density = { source = \"x\" }", "density of [material.\"board\"] has no value", "", 3,
         11},
        {"conductivity", "conductivity = \"0 W/(m K)\"",
         "conductivity \"0 W/(m K)\" is outside 0.002 W/(m K) to 500 W/(m K)", "", 5, 16},
        {"conductivity", "conductivity = \"R-3\"",
         "conductivity \"R-3\" is not a conductivity (W/(m K), Btu in/(h ft2 degF))", "", 5, 16},
        {"specific_heat", "specific_heat = \"9 kJ/(kg K)\"",
         "specific_heat \"9 kJ/(kg K)\" is outside 100 J/(kg K) to 6000 J/(kg K)", "", 4, 17},
        {"porosity", "porosity = \"120 %\"", "porosity \"120 %\" is outside 0 to 0.999", "", 6, 12},
        {"sorption", "sorption = [[\"50 %\", \"6 %\"], [\"80 %\", \"6 %\"]]",
         "sorption does not rise from 50 % to 80 % humidity", "water held must rise with humidity", 7, 30},
        {"sorption", "sorption = [[\"80 %\", \"6 %\"], [\"50 %\", \"12 %\"]]",
         "sorption is not in rising order of humidity", "", 7, 30},
        {"sorption", "sorption = [[\"100 %\", \"6 %\"]]",
         "humidity of sorption \"100 %\" is outside 1e-05 to 0.99999", "", 7, 14},
        {"sorption", "sorption = [[\"80 %\"]]", "sorption has an entry that is not a pair", "", 7, 13},
        {"sorption", "sorption = \"wod\"", "sorption \"wod\" is neither \"wood\" nor a list of pairs", "", 7,
         12},
        {"free_saturation", "free_saturation = \"700 kg/m3\"",
         "free_saturation 700 kg/m3 does not fit into a porosity of 0.6 (600 kg/m3)", "", 8, 19},
        {"free_saturation", "free_saturation = \"10 %\"",
         "free_saturation 60 kg/m3 is not above the last sorption point, 72 kg/m3", "", 8, 19},
        {"permeability", "permeability = \"mu 0.5\"",
         "permeability \"mu 0.5\" is outside 1e-20 kg/(s m Pa) to 2.2e-10 kg/(s m Pa)", "", 9, 16},
        {"permeability", "permeability = [[\"50 %\", \"mu 9\"], [\"20 %\", \"mu 8\"]]",
         "permeability is not in rising order of humidity", "", 9, 35},
        {"permeability", "permeance = \"1 perm\"",
         "permeance of a material needs the thickness tested: { value = ..., thickness = \"12.5 mm\" }", "",
         9, 13},
        {"permeability", "permeance = { value = \"900 perm\", thickness = \"25 mm\" }",
         "permeance times thickness is 1.29e-09 kg/(s m Pa), more than still air (2e-10)", "", 9, 23},
        {"permeance", "permeance = { value = \"1 perm\", thickness = \"10 mm\" }",
         "permeability and permeance state the same thing; keep one", "", 10, 13},
        {"family", "family = \"pannel\"",
         "family \"pannel\" is not one of: wood, panel, gypsum, cement board, batt, loose fill, board "
         "insulation, "
         "foam, masonry, concrete, plaster, roofing, metal, glass, other",
         "panel", 2, 10},
        {"mould", "mould = \"resistent\"",
         "mould \"resistent\" is not one of: very sensitive, sensitive, medium resistant, resistant",
         "resistant", 10, 9},
        {"hatch", "hatch = \"dots\"",
         "hatch \"dots\" is not one of: batt, board, wood, sheathing, gypsum, concrete, brick, foam, plain",
         "", 10, 9},
        {"evidence", "evidence = \"hearsay\"",
         "evidence \"hearsay\" is not one of: seen, quoted, memory, computed, practice", "", 10, 12},
        {"label", "label = \"R-23\"", "label is not of the form \"R-23 at 5 1/2 in\"", "", 10, 9},
        {"label", "label = \"R-23 at 5 lb\"", "label \"5 lb\" is not a length (m, mm, in, ft)", "", 10, 9},
        {"label", "label = [\"R-23 at 5 in\", \"R-13 at 3 in\"]", "label is not in rising order of thickness",
         "", 10, 26},
        {"absorption", "absorption = \"-1 kg/(m2 s^0.5)\"",
         "absorption \"-1 kg/(m2 s^0.5)\" is outside 0 kg/(m2 s^0.5) to 3 kg/(m2 s^0.5)", "", 10, 14},
        {"start_humidity", "start_humidity = \"105 %\"", "start_humidity \"105 %\" is outside 0 to 0.999", "",
         10, 18},
        {"test_temperature", "test_temperature = \"400 degC\"",
         "test_temperature \"400 degC\" is outside -50 degC to 100 degC", "", 10, 20},
        {"wood", "wood = \"yes\"", "wood is a text, not true or false", "", 10, 8},
        {"based_on", "based_on = \"ozb\"", "based_on \"ozb\" is not a material of the catalogue", "osb", 10,
         12},
    };
    for (const Broken& row : table) {
        CAPTURE(row.line);
        const auto got = read(board(row.key, row.line));
        for (const auto& p : got.problems) CAPTURE(p.what);
        REQUIRE(got.problems.size() == 1);
        CHECK(got.problems[0].what == row.what);
        CHECK(got.problems[0].suggestion == row.suggestion);
        CHECK(got.problems[0].where == Place{"house.toml", row.at_line, row.at_column});
        CHECK(got.catalogue.materials.empty());
    }
}

TEST_CASE("a membrane of a house file reads, and its class follows from its dry cup") {
    const auto got = read(
        "[membrane.\"my sheet\"]\npermeance = [[\"25 %\", \"0.4 perm\"], [\"75 %\", \"12 perm\"]]\nvariable "
        "= true\n"
        "[membrane.tape]\nbased_on = \"housewrap\"\ndrains_water = false\n");
    REQUIRE(got.problems.empty());
    REQUIRE(got.catalogue.membranes.size() == 2);
    CHECK(got.catalogue.membranes[0].retarder_class == "II");
    CHECK(got.catalogue.membranes[0].variable);
    CHECK_FALSE(got.catalogue.membranes[1].drains_water);
    CHECK(permeance(got.catalogue.membranes[1], 0.5) == permeance(*built_in().membrane("housewrap"), 0.5));
}

TEST_CASE("broken membranes say what is wrong") {
    const std::pair<const char*, const char*> table[] = {
        {"[membrane.m]\nvariable = true\n", "[membrane.\"m\"] has no permeance"},
        {"[membrane.m]\npermeance = \"5 m\"\n",
         "permeance \"5 m\" is not a permeance (perm, ng/(s m2 Pa), sd 2 m)"},
        {"[membrane.m]\npermeance = \"0 perm\"\n",
         "permeance \"0 perm\" is outside 1e-20 kg/(s m2 Pa) to 1e-07 kg/(s m2 Pa)"},
        {"[membrane.m]\npermeance = []\n",
         "permeance needs pairs of humidity and a permeance, such as [[\"50 %\", ...], [\"80 %\", ...]]"},
        {"[membrane.m]\npermeance = \"sd 2 m\"\nairtigth = true\n",
         "[membrane.\"m\"] does not know \"airtigth\""},
        {"[membrane.m]\nbased_on = \"house rap\"\n",
         "based_on \"house rap\" is not a membrane of the catalogue"},
    };
    for (const auto& [text, what] : table) {
        CAPTURE(text);
        const auto got = read(text);
        REQUIRE(got.problems.size() == 1);
        CHECK(got.problems[0].what == what);
        CHECK(got.catalogue.membranes.empty());
    }
}

TEST_CASE("data rows must state source and evidence, names are unique, lumber has three parts") {
    const std::pair<const char*, const char*> table[] = {
        {"[membrane.m]\npermeance = \"1 perm\"\n",
         "[membrane.\"m\"] has no source\n[membrane.\"m\"] has no evidence\n"},
        {"[membrane.housewrap]\nsource = \"x\"\nevidence = \"seen\"\npermeance = \"1 perm\"\n",
         "\"housewrap\" is in the catalogue twice\n"},
        {"[[lumber]]\nregion = \"here\"\nsource = \"x\"\nevidence = \"seen\"\nmembers = [[\"3x3\", \"1 "
         "in\"]]\n",
         "a member is not of the form [\"2x6\", \"1 1/2 in\", \"5 1/2 in\"]\n"},
        {"[[lumber]]\nsource = \"x\"\nevidence = \"seen\"\n",
         "[[lumber]] has no region\n[[lumber]] has no members\n"},
        {"[material]\nx = 3\n", "[material] holds \"x\", which is not a table\n"},
        {"[member]\n", "data.toml does not know \"member\"\n"},
        {"[material\n", "Error while parsing table header: expected ']', saw '\\n'\n"},
    };
    for (const auto& [text, expected] : table) {
        CAPTURE(text);
        Catalogue catalogue = built_in();
        Problems problems;
        read_catalogue("data.toml", text, Origin::Kind::catalogue, catalogue, problems);
        std::string all;
        for (const auto& p : problems) all += p.what + "\n";
        CHECK(all == expected);
        CHECK(catalogue.materials.size() == built_in().materials.size());
        CHECK(catalogue.lumber.size() == built_in().lumber.size());
    }
}
