// Every part of a house has its place, and what lies beyond it follows from the file.
#include "answer/setting.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <fmt/format.h>

#include "answer/answer.h"
#include "answer/keys.h"
#include "answer/runs.h"
#include "base/what.h"
#include "project/read.h"

using namespace warmside;

namespace {

// An invented house with one rung of every part.
std::string house_text(const std::string& roof = {}, const std::string& floor = "over = \"crawl space\"",
                       const std::string& foundation = {}) {
    return fmt::format(R"([house]
name = "Test house"
place = "Duluth, Minnesota"

[ladder.ceiling]
rungs = ["c"]
[ladder.floor]
rungs = ["f"]
[ladder.slab]
rungs = ["s"]
[ladder.basement_wall]
rungs = ["b"]
[ladder.roof]
rungs = ["r"]

[assembly.c]
part = "ceiling"
layers = [{{ material = "gypsum board", thickness = "1/2 in", airtight = true }}, {{ material = "loose cellulose", thickness = "14 in" }}]
[assembly.f]
part = "floor"
layers = [{{ material = "osb", thickness = "3/4 in", airtight = true }}, {{ material = "stone wool batt", thickness = "9 1/4 in" }}]
[assembly.s]
part = "slab"
layers = [{{ material = "concrete", thickness = "4 in" }}, {{ material = "eps", thickness = "6 in" }}]
[assembly.b]
part = "basement wall"
layers = [{{ material = "xps", thickness = "3 in" }}, {{ material = "concrete", thickness = "8 in" }}]
[assembly.r]
part = "roof"
pitch = "12/12"
vented = true
layers = [{{ material = "gypsum board", thickness = "1/2 in", airtight = true }}, {{ material = "stone wool batt", thickness = "9 1/4 in" }}]
[assembly.cover]
part = "roof"
pitch = "9/12"
colour = "light"
layers = [{{ material = "plywood", thickness = "1/2 in" }}, {{ material = "steel", thickness = "0.5 mm" }}]

[storey.ground]
floor = "0 ft"
height = "8 ft"
outline = [["0 m", "0 m"], ["10 m", "0 m"], ["10 m", "8 m"], ["0 m", "8 m"]]

[roof.main]
form = "gable"
pitch = "9/12"
ridge = "north-south"
assembly = "c"
deck = "cover"
{}
[floor.main]
assembly = "f"
{}
[foundation.crawl]
kind = "crawl space"
height_above_grade = "0.5 m"
depth = "0.3 m"
{}
[foundation.cellar]
kind = "basement"
depth = "2 m"
height_above_grade = "0.3 m"
)",
                       roof, floor, foundation);
}

std::unique_ptr<assembly::House> house_of(const std::string& text) {
    auto reading = project::read_house("house.toml", text);
    REQUIRE_MESSAGE(reading.house,
                    (reading.problems.empty() ? std::string() : reading.problems.front().what));
    return std::move(reading.house);
}

using answer::Setting;
using answer::setting_of;

}  // namespace

TEST_CASE("a ceiling has the attic of the roof over it") {
    const auto house = house_of(house_text("vents = \"1/150\""));
    const Setting s = setting_of(*house, *house->find("c"));
    CHECK(s.kind == Setting::Kind::attic);
    CHECK(s.vents == doctest::Approx(1.0 / 150.0));
    CHECK(s.pitch == doctest::Approx(std::atan(0.75)));
    CHECK(s.area == doctest::Approx(1.25));
    CHECK(s.slopes == Setting::Slopes::east_west);
    // A ridge that runs north-south spans the 10 m.
    CHECK(s.rise == doctest::Approx(5.0 * 0.75));
    CHECK(s.height == doctest::Approx(0.5 * 3.75));
    REQUIRE(s.deck.size() == 2);
    CHECK(s.deck[0].material->name == "plywood");
    CHECK_FALSE(s.deck[0].water);
    CHECK(s.deck[1].water);  // what sheds water is marked
    CHECK(s.solar_absorptance == doctest::Approx(0.3));
    CHECK(s.words == "an attic vented by 1/150 of the ceiling, half low and half high, under cover");
}

TEST_CASE("a rung that no roof names stands under the roof of the rung in use") {
    auto text = house_text("vents = \"1/150\"");
    text.replace(text.find("rungs = [\"c\"]"), 13, "rungs = [\"c\", \"d\"]");
    text += R"([assembly.d]
part = "ceiling"
layers = [{ material = "gypsum board", thickness = "1/2 in", airtight = true }, { material = "loose cellulose", thickness = "20 in" }]
)";
    const auto house = house_of(text);
    const Setting s = setting_of(*house, *house->find("d"));
    CHECK(s.vents == doctest::Approx(1.0 / 150.0));
    CHECK(s.deck.size() == 2);
}

TEST_CASE("without a deck an attic has OSB, felt and shingles") {
    auto text = house_text();
    text.erase(text.find("deck = \"cover\""), 14);
    const auto house = house_of(text);
    const Setting s = setting_of(*house, *house->find("c"));
    REQUIRE(s.deck.size() == 3);
    CHECK(s.deck[0].material->name == "osb");
    CHECK(s.deck[1].water);
    CHECK(s.deck[2].material->name == "asphalt shingles");
}

TEST_CASE("a floor over a crawl space has its vents, walls and ground") {
    const auto house =
        house_of(house_text({}, "over = \"crawl space\"", "soil = \"clay\"\nground_cover = \"bare\""));
    const Setting s = setting_of(*house, *house->find("f"));
    CHECK(s.kind == Setting::Kind::crawl_space);
    CHECK(s.vents == doctest::Approx(1.0 / 150.0));
    CHECK(s.height == doctest::Approx(0.8));
    CHECK(s.cover.empty());
    CHECK(s.soil.conductivity == 1.5);
    CHECK(s.floor.area == doctest::Approx(80.0));
    CHECK(s.floor.perimeter == doctest::Approx(36.0));
    CHECK(s.wall_loss == doctest::Approx(36.0 / 80.0 * 0.5 * 3.5));
    const auto closed =
        house_of(house_text({}, "over = \"crawl space\"", "vents = \"none\"\nair_change = \"0.3 1/h\""));
    const Setting shut = setting_of(*closed, *closed->find("f"));
    CHECK(shut.vents == 0.0);
    CHECK(shut.air_change == doctest::Approx(0.3 / 3600.0));
    CHECK(shut.cover.size() == 1);
}

TEST_CASE("only a floor between rooms has no verdict") {
    const auto open = house_of(house_text({}, "over = \"outside\""));
    CHECK(setting_of(*open, *open->find("f")).kind == Setting::Kind::open_air);
    for (const char* over : {"over = \"heated\"", "over = \"basement\""}) {
        const auto house = house_of(house_text({}, over));
        CHECK_FALSE(answer::outside_the_model(*house, *house->find("f")).empty());
    }
    const auto house = house_of(house_text());
    for (const char* name : {"c", "f", "s", "b", "r"})
        CHECK(answer::outside_the_model(*house, *house->find(name)).empty());
}

TEST_CASE("each part is run in the cases that its place has, both weathers") {
    const auto house = house_of(house_text());
    const auto year = answer::year_of(*house, {});
    REQUIRE(year);
    const auto around = answer::surroundings(*house, *year);
    REQUIRE(around);
    const auto names = [&](const char* assembly) {
        const auto faces = answer::faces_of(*house, *around, setting_of(*house, *house->find(assembly)));
        REQUIRE_MESSAGE(faces, (faces ? std::string() : faces.error().what));
        std::string out;
        for (const auto& face : *faces) {
            if (!face.stressed) out += (out.empty() ? "" : ", ") + face.name + (face.beyond ? " +" : "");
        }
        CHECK(2 * std::count_if(faces->begin(), faces->end(), [](const auto& f) { return f.stressed; }) ==
              static_cast<std::ptrdiff_t>(faces->size()));
        return out;
    };
    CHECK(names("c") == "east slope +, west slope +");
    CHECK(names("f") == "crawl space +");
    CHECK(names("s") == "middle +, edge +");
    CHECK(names("r").starts_with(
        "north slope +, northeast slope +"));  // vented, nothing listed over its insulation
    CHECK(names("b").starts_with("north above grade, "));
    CHECK(names("b").ends_with("above grade, half-way down +, at the bottom +"));
}

TEST_CASE("a change of the vents or the soil changes the key of what is run, a change of the name does not") {
    const auto key = [](const std::string& text, const char* name) {
        const auto house = house_of(text);
        return answer::key_of(setting_of(*house, *house->find(name)));
    };
    CHECK(key(house_text(), "c") != key(house_text("vents = \"1/150\""), "c"));
    CHECK(key(house_text(), "f") != key(house_text({}, "over = \"crawl space\"", "soil = \"clay\""), "f"));
    CHECK(key(house_text(), "s") == key(house_text("vents = \"1/150\""), "s"));
}

TEST_CASE("every part of a house gets a verdict that says what lies beyond, with closed balances") {
    const auto house = house_of(house_text());
    answer::Engine engine;
    answer::Ask ask;
    ask.moisture.mesh_level = 0;
    const auto answer = engine.answer(*house, ask);
    REQUIRE_MESSAGE(answer, (answer ? std::string() : answer.error().what));
    CHECK(answer->ladders.size() == 5);
    for (const auto& ladder : answer->ladders) {
        const auto& rung = ladder.rungs.front();
        REQUIRE(rung.verdict);
        CHECK(rung.balance.water_error < 1e-6);
        CHECK(rung.balance.energy_error < 1e-6);
        CHECK(
            std::any_of(rung.verdict->assumes.begin(), rung.verdict->assumes.end(), [](const std::string& a) {
                return a.starts_with("an attic") || a.starts_with("a crawl space") ||
                       a.starts_with("ground") || a.starts_with("a vent space");
            }));
    }
    CHECK(std::any_of(answer->cautions.begin(), answer->cautions.end(),
                      [](const std::string& c) { return c.find("radon") != std::string::npos; }));
}
