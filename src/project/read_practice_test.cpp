// What [framing], [loads], [partition.NAME] and the carrying of roofs come to in the model.
#include <doctest/doctest.h>

#include "project/model_text.h"
#include "project/read.h"
#include "project/test_files.h"

using namespace warmside;
using namespace warmside::project::test_files;
using units::Exact;

namespace {

std::unique_ptr<assembly::House> house_of(const std::string& path) {
    auto reading = project::read_house(path, read_file(source() / path));
    REQUIRE(reading.house);
    return std::move(reading.house);
}

}  // namespace

TEST_CASE("loads are kept in Pa and m/s, each with its place; what is not given is absent") {
    const auto house = house_of("examples/heron-ridge/house.toml");
    const auto& loads = house->loads;
    // 1 psf = 47.880259 Pa, 1 mph = 0.44704 m/s (NIST SP 811, memory).
    REQUIRE(loads.ground_snow);
    CHECK(loads.ground_snow->value == doctest::Approx(60 * 47.880259));
    CHECK(loads.ground_snow->origin.kind == Origin::Kind::house_file);
    CHECK(loads.ground_snow->origin.where.line > 1);
    REQUIRE(loads.wind_speed);
    CHECK(loads.wind_speed->value == doctest::Approx(115 * 0.44704));
    REQUIRE(loads.exposure);
    CHECK(loads.exposure->value == assembly::Loads::Exposure::b);
    CHECK_FALSE(loads.cladding);
    CHECK(loads.floor_live.origin.kind == Origin::Kind::assumed);
    // The house that says nothing has no loads at all.
    const auto silent = house_of("examples/starter.toml");
    CHECK_FALSE(silent->loads.ground_snow);
    CHECK_FALSE(silent->loads.wind_speed);
    CHECK_FALSE(silent->loads.seismic);
}

TEST_CASE("practice: each key replaces its standard, the rest stay assumed") {
    const auto house = house_of("examples/assemblies/details.toml");
    CHECK(house->practice.stacked.value);
    CHECK(house->practice.stud_grade.value == "No. 2");
    CHECK(house->practice.joist.value == "2x12");
    CHECK(house->practice.lap.value == Exact::sixty_fourths_of_inch(4 * 64));
    CHECK(house->practice.lap.origin.kind == Origin::Kind::house_file);
    const auto heron = house_of("examples/heron-ridge/house.toml");
    CHECK_FALSE(heron->practice.stacked.value);
    CHECK(heron->practice.stacked.origin.evidence == Evidence::practice);
    REQUIRE(heron->partitions.size() == 2);
    CHECK(heron->partitions[1].member == "2x4");
    CHECK(heron->partitions[0].at == Exact::sixty_fourths_of_inch(144 * 64));
}

TEST_CASE("boxes: heights by kind unless the file gives one, each value with its place") {
    const auto house = house_of("examples/assemblies/details.toml");
    REQUIRE(house->boxes.size() == 2);
    const auto& counter = house->boxes[0];
    CHECK(counter.kind == assembly::BoxKind::receptacle);
    CHECK(counter.at.value == Exact::sixty_fourths_of_inch(60 * 64));
    CHECK(counter.height.value == Exact::sixty_fourths_of_inch(44 * 64));
    CHECK(counter.body.value == "square");
    CHECK(counter.at.origin.where.line > counter.origin.where.line);
    const auto& door = house->boxes[1];
    CHECK(door.kind == assembly::BoxKind::wall_switch);
    CHECK(door.height.value == Exact::sixty_fourths_of_inch(48 * 64));  // common practice, no source
    CHECK(door.height.origin.evidence == Evidence::practice);
    CHECK(house->practice.box_height.value == Exact::sixty_fourths_of_inch(18 * 64));
    const auto silent = house_of("examples/starter.toml");
    CHECK(silent->boxes.empty());
    CHECK(silent->practice.boxes.value);
    CHECK(silent->practice.box_reach.origin.evidence == Evidence::memory);
}

TEST_CASE(
    "rafters are those of the roof's assembly, trusses stand over an attic, unless the roof says otherwise") {
    const auto cabin = house_of("examples/assemblies/details.toml");
    CHECK(cabin->roofs.at(0).structure == assembly::Roof::Structure::rafters);
    CHECK(cabin->roofs.at(0).member == "2x12");
    std::string text = read_file(source() / "examples/assemblies/l-shaped-house.toml");
    const auto reading = project::read_house("l.toml", text);
    REQUIRE(reading.house);
    for (const auto& roof : reading.house->roofs) {
        CHECK((roof.structure == assembly::Roof::Structure::truss) == roof.over_attic);
        const auto* built = reading.house->find(roof.assembly);
        REQUIRE(built);
        if (const auto* main = assembly::main_framing(*built)) {
            CHECK(roof.spacing == main->spacing);
            if (!roof.over_attic) CHECK(roof.member == main->member);
        }
    }
}

TEST_CASE(
    "every key of [framing], [loads], [partition], [box] and of a roof's structure changes the model's "
    "text") {
    const std::string path = "examples/assemblies/details.toml";
    const std::string text = read_file(source() / path);
    const auto before = project::model_text(*house_of(path));
    const std::pair<const char*, const char*> edits[] = {
        {"species       = \"spruce-pine-fir\"", "species = \"hem-fir\""},
        {"grade         = \"No. 2\"", "grade = \"No. 1\""},
        {"stud_grade    = \"No. 2\"", "stud_grade = \"none\""},
        {"stacked       = true", "stacked = false"},
        {"sized_headers = true", "sized_headers = false"},
        {"edge_blocking = true", "edge_blocking = false"},
        {"sheet_width   = \"4 ft\"", "sheet_width = \"1200 mm\""},
        {"sheet_length  = \"8 ft\"", "sheet_length = \"10 ft\""},
        {"roll_width    = \"1500 mm\"", "roll_width = \"3 m\""},
        {"roll_length   = \"50 m\"", "roll_length = \"25 m\""},
        {"lap           = \"4 in\"", "lap = \"6 in\""},
        {"joist         = \"2x12\"", "joist = \"2x10\""},
        {"joist_spacing = \"16 in\"", "joist_spacing = \"24 in\""},
        {"joist_run     = \"north-south\"", "joist_run = \"east-west\""},
        {"bearing_line  = true", "bearing_line = false"},
        {"boxes         = true", "boxes = false"},
        {"box_reach     = \"6 ft\"", "box_reach = \"5 ft\""},
        {"box_height    = \"18 in\"", "box_height = \"15 in\""},
        {"box_body      = \"deepest that fits\"", "box_body = \"square\""},
        {"at     = \"5 ft\"\nheight", "at = \"6 ft\"\nheight"},
        {"height = \"44 in\"", "height = \"42 in\""},
        {"body   = \"square\"", "body = \"device\""},
        {"kind = \"switch\"", "kind = \"light\""},
        {"face   = \"west\"", "face = \"north\""},
        {"ground_snow = \"60 psf\"", "ground_snow = \"50 psf\""},
        {"wind_speed  = \"115 mph\"", "wind_speed = \"120 mph\""},
        {"exposure    = \"C\"", "exposure = \"D\""},
        {"seismic     = \"A\"", "seismic = \"D0\""},
        {"floor_live  = \"40 psf\"", "floor_live = \"30 psf\""},
        {"floor_dead  = \"12 psf\"", "floor_dead = \"20 psf\""},
        {"roof_dead   = \"15 psf\"", "roof_dead = \"20 psf\""},
        {"attic_live  = \"10 psf\"", "attic_live = \"20 psf\""},
        {"cladding    = \"3 psf\"", "cladding = \"11 psf\""},
        {"at     = \"7 ft\"", "at = \"6 ft\""},
        {"at     = \"7 ft\"\nmember = \"2x4\"", "at = \"7 ft\"\nmember = \"2x6\""},
        {"structure  = \"rafters\"\nmember     = \"2x12\"", "structure = \"truss\""},
        {"member     = \"2x12\"", "member = \"2x10\""},
        {"spacing    = \"24 in\"", "spacing = \"16 in\""},
        {"name  = \"Alder cabin\"", "name = \"Alder cabin\"\nprices = \"mine.toml\""},
    };
    for (const auto& [old_text, new_text] : edits) {
        INFO(std::string(old_text));
        std::string edited = text;
        const auto at = edited.find(old_text);
        REQUIRE(at != std::string::npos);
        edited.replace(at, std::string(old_text).size(), new_text);
        const auto reading = project::read_house("f.toml", edited);
        INFO(in_one_text(reading.problems));
        REQUIRE(reading.house);
        CHECK(project::model_text(*reading.house) != before);
    }
}
