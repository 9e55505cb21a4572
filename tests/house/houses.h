// Houses for the tests of the house model: the example, and small ones written out here.
#pragma once

#include <doctest/doctest.h>

#include <cstdlib>
#include <fmt/format.h>
#include <fstream>
#include <memory>
#include <sstream>
#include <string>

#include "framing/frame.h"
#include "house/build.h"
#include "project/read.h"
#include "thermal/junction_house.h"
#include "thermal/worth.h"

namespace houses {

using namespace warmside;

inline std::string text_of(const std::string& path) {
    const char* folder = std::getenv("WARMSIDE_SOURCE");
    std::ifstream in(std::string(folder ? folder : ".") + "/" + path, std::ios::binary);
    std::ostringstream all;
    all << in.rdbuf();
    return all.str();
}

inline std::unique_ptr<assembly::House> read(const std::string& name, const std::string& text) {
    auto reading = project::read_house(name, text);
    for (const Problem& p : reading.problems)
        if (p.severity == Severity::error) FAIL_CHECK(render(p, text));
    REQUIRE(reading.house);
    return std::move(reading.house);
}

inline std::unique_ptr<assembly::House> example() {
    return read("house.toml", text_of("examples/heron-ridge/house.toml"));
}

/// A cabin of 8 x 6 m, one storey 2.5 m high, a window to the south and a door to the north. `rest` holds its
/// roof, floor and foundation, `window` what the window states besides its size.
inline std::string cabin(const std::string& rest,
                         const std::string& window = "u = \"1.2 W/(m2 K)\", shgc = 0.5") {
    return fmt::format(R"toml(
[house]
name = "cabin"
place = "Duluth, Minnesota"

[ladder.wall]
rungs = ["w1"]

[assembly.w1]
part = "wall"
layers = [
  {{ material = "gypsum board", thickness = "12.5 mm" }},
  {{ material = "stone wool batt", thickness = "140 mm", framing = {{ member = "38x140", spacing = "600 mm" }} }},
  {{ material = "osb", thickness = "11 mm" }},
  {{ material = "spruce siding", thickness = "19 mm" }},
]

[assembly.ceiling]
part = "ceiling"
layers = [
  {{ material = "gypsum board", thickness = "12.5 mm" }},
  {{ material = "loose cellulose", thickness = "400 mm", framing = {{ member = "38x89", spacing = "600 mm" }} }},
]

[assembly.joists]
part = "floor"
layers = [
  {{ material = "osb", thickness = "18 mm" }},
  {{ material = "stone wool batt", thickness = "220 mm", framing = {{ member = "45x220", run = "along", spacing = "600 mm" }} }},
]

[assembly.rafters]
part = "roof"
pitch = "6/12"
layers = [
  {{ material = "gypsum board", thickness = "12.5 mm" }},
  {{ material = "stone wool batt", thickness = "235 mm", framing = {{ member = "38x235", spacing = "600 mm" }} }},
  {{ material = "osb", thickness = "15 mm" }},
  {{ membrane = "asphalt felt", water = true }},
  {{ material = "asphalt shingles", thickness = "6 mm" }},
]

[assembly.slab]
part = "slab"
layers = [
  {{ material = "concrete", thickness = "100 mm" }},
  {{ material = "eps", thickness = "150 mm" }},
]

[assembly.cellar]
part = "basement wall"
layers = [
  {{ material = "concrete", thickness = "200 mm" }},
  {{ material = "xps", thickness = "100 mm" }},
]

[storey.main]
floor = "0 m"
height = "2.5 m"
outline = [["0 m", "0 m"], ["8 m", "0 m"], ["8 m", "6 m"], ["0 m", "6 m"]]

[face.south]
storey = "main"
edge = 1
openings = [{{ name = "view", width = "2 m", height = "1.2 m", left = "1 m", sill = "0.9 m", {} }}]

[face.east]
storey = "main"
edge = 2

[face.north]
storey = "main"
edge = 3
openings = [{{ name = "back", kind = "door", width = "1 m", height = "2.1 m", left = "1 m", u = "1 W/(m2 K)" }}]

[face.west]
storey = "main"
edge = 4
{})toml",
                       window, rest);
}

inline const std::string attic = R"(
[roof.main]
form = "gable"
pitch = "6/12"
ridge = "east-west"
over_attic = true
assembly = "ceiling"
)";
inline const std::string cathedral = R"(
[roof.main]
form = "gable"
pitch = "6/12"
ridge = "east-west"
over_attic = false
assembly = "rafters"
)";
inline const std::string on_slab = R"(
[floor.main]
over = "ground"
assembly = "slab"
[foundation.main]
kind = "slab"
height_above_grade = "200 mm"
assembly = "slab"
)";
inline const std::string over_crawl_space = R"(
[floor.main]
over = "crawl space"
assembly = "joists"
[foundation.main]
kind = "crawl space"
depth = "0.3 m"
height_above_grade = "500 mm"
soil = "clay"
)";
inline const std::string over_basement = R"(
[floor.main]
over = "basement"
assembly = "joists"
[foundation.main]
kind = "basement"
depth = "2 m"
height_above_grade = "300 mm"
assembly = "cellar"
)";
inline const std::string heated_basement = R"(
[floor.main]
over = "ground"
assembly = "slab"
[foundation.main]
kind = "basement"
depth = "2 m"
height_above_grade = "300 mm"
assembly = "cellar"
)";

inline const climate::Year& duluth() {
    static const climate::Year year = *climate::generate(**climate::find_place("Duluth, Minnesota"));
    return year;
}

inline constexpr thermal::Conditions winter{.inside = 294.15, .outside = 262.15};

/// All that build() wants of one rung.
struct Rung {
    const assembly::House& house;
    const assembly::Assembly& wall;
    thermal::Worth worth;
    std::vector<thermal::Junction> junctions;
    double area = 0.0;  // m2, that junctions_of counts
    std::vector<house::KnownWorth> worths;

    [[nodiscard]] house::BuildInput input(std::optional<double> design = {}) const {
        house::BuildInput in{.house = house,
                             .wall = wall,
                             .year = duluth(),
                             .winter = winter,
                             .worths = worths,
                             .junctions = junctions,
                             .air = {},
                             .sun = {},
                             .design = design};
        in.air.leakage.constant = 23.0;
        in.air.ventilation.constant = 12.0;
        return in;
    }
};

inline Rung rung(const assembly::House& house, const assembly::Assembly& wall, bool with_junctions) {
    const auto frame = framing::frame(house, wall);
    REQUIRE(frame);
    auto worth = thermal::worth(wall, winter, {}, &frame->factor);
    REQUIRE(worth);
    Rung out{house, wall, std::move(*worth), {}, 0.0, {}};
    out.worths.push_back(house::known(wall, out.worth));
    if (!with_junctions) return out;
    const auto drawn = thermal::junctions_of(house, wall, winter, &*frame);
    REQUIRE(drawn);
    out.area = drawn->wall_area;
    for (const auto& place : drawn->places) {
        auto solved = thermal::solve(place.drawing, {.factor = false, .plain = true, .accuracy = 0.005});
        REQUIRE(solved);
        solved->length = place.length;
        out.junctions.push_back(std::move(*solved));
    }
    return out;
}

/// The first rung of a house's wall ladder.
inline const assembly::Assembly& wall_of(const assembly::House& house, std::size_t at = 0) {
    for (const auto& ladder : house.ladders)
        if (ladder.part == assembly::Part::wall) return house.assemblies[ladder.rungs[at]];
    FAIL("no wall ladder");
    return house.assemblies.front();
}

}  // namespace houses
