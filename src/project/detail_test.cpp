#include "project/detail.h"

#include <doctest/doctest.h>

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <set>

#include "project/fields.h"
#include "project/test_files.h"
#include "units/toml.h"

using namespace warmside;
using namespace warmside::project::test_files;

namespace {

/// A wall of one material, lengths in `unit` with `scale` of it a millimetre.
std::string wall(double scale, const std::string& unit) {
    const auto mm = [&](double value) { return fmt::format("\"{:.10g} {}\"", value * scale, unit); };
    std::string out =
        "[detail]\nname = \"wall\"\n[environment.in]\ntemperature = \"20 degC\"\nfilm = \"0.13 m2 K/W\"\n"
        "[environment.out]\ntemperature = \"-10 degC\"\nfilm = \"0.04 m2 K/W\"\n";
    const auto region = [&](std::string_view name, std::string_view what, double from, double to) {
        out += fmt::format("[region.{}]\n{}\nx = [{}, {}]\ny = [{}, {}]\n", name, what, mm(from), mm(to),
                           mm(0), mm(127));
    };
    region("a", "air = \"in\"", -254, 0);
    region("b", "material = \"concrete\"", 0, 203.2);
    region("c", "air = \"out\"", 203.2, 508);
    return out;
}

}  // namespace

TEST_CASE("each detail of the examples reads without a problem") {
    int files = 0;
    for (const auto& entry : std::filesystem::directory_iterator(source() / "examples/details")) {
        ++files;
        const auto reading = project::read_detail(entry.path().filename().string(), read_file(entry.path()));
        INFO(entry.path().filename().string());
        CHECK(in_one_text(reading.problems).empty());
        REQUIRE(reading.detail);
        CHECK(reading.detail->substances.size() == reading.detail->model.regions.size());
        CHECK(reading.detail->humidity.size() == reading.detail->model.environments.size());
    }
    CHECK(files >= 3);
}

TEST_CASE("inches and millimetres are the same detail") {
    const auto inches = project::read_detail("a", wall(1.0 / 25.4, "in")),
               metric = project::read_detail("b", wall(1.0, "mm"));
    REQUIRE(inches.detail);
    REQUIRE(metric.detail);
    const auto &a = inches.detail->model, &b = metric.detail->model;
    REQUIRE(a.regions.size() == 3);
    REQUIRE(b.regions.size() == 3);
    for (std::size_t r = 0; r < 3; ++r) {
        REQUIRE(a.regions[r].shape.outline.size() == b.regions[r].shape.outline.size());
        for (std::size_t i = 0; i < a.regions[r].shape.outline.size(); ++i) {
            CHECK(a.regions[r].shape.outline[i].x == b.regions[r].shape.outline[i].x);
            CHECK(a.regions[r].shape.outline[i].y == b.regions[r].shape.outline[i].y);
        }
    }
}

TEST_CASE("what the file says is in the model") {
    const auto reading =
        project::read_detail("d.toml", read_file(source() / "examples/details/party-wall.toml"));
    REQUIRE(reading.detail);
    const auto& d = *reading.detail;
    CHECK(d.name == "Party wall at a brick front");
    CHECK_FALSE(d.inch_pound_first);
    CHECK(d.tolerance == 0.002);
    CHECK(d.mean_temperature == doctest::Approx(278.15));
    REQUIRE(d.model.environments.size() == 2);
    CHECK(d.model.environments[0].name == "room");
    CHECK(d.humidity[0] == 0.5);
    CHECK_FALSE(d.humidity[1]);
    const auto region = [&](std::string_view name) -> const conduction::Region& {
        return *std::find_if(d.model.regions.begin(), d.model.regions.end(),
                             [&](const auto& r) { return r.name == name; });
    };
    CHECK(region("front").conductivity == 0.75);
    CHECK(region("outdoor air").film == 0.05);  // its own
    CHECK(region("room air").film == 0.25);     // that of the environment
    CHECK(region("strapping").over);
    CHECK(region("party wall").shape.outline.size() == 4);
    // ISO 6946 annex D (evidence: memory), 20 mm of still air, heat horizontal, at 5 degC: h_a = 1.25 W/(m2
    // K) (0.025/0.02), h_r = E 4 sigma T^3 with E = 1/(2/0.9 - 1).
    const double radiation = 4.0 * 5.67e-8 * 278.15 * 278.15 * 278.15 / (2.0 / 0.9 - 1.0);
    CHECK(region("air behind the drywall").conductivity == doctest::Approx(0.02 * (1.25 + radiation)));
    // What is left out is in no region.
    CHECK(std::none_of(d.model.regions.begin(), d.model.regions.end(),
                       [](const auto& r) { return r.name == "neighbour's room"; }));
    REQUIRE(d.probes.size() == 1);
    CHECK(d.probes[0].at.x == 0.1);
    CHECK(d.probes[0].at.y == 0.007);
    REQUIRE(d.window[0]);
    CHECK(d.window[0]->first == -0.3);
    CHECK_FALSE(d.window[2]);
}

TEST_CASE("conductivities of the catalogue are taken between the warmest and the coldest air") {
    const auto reading = project::read_detail("w", wall(1.0, "mm"));
    REQUIRE(reading.detail);
    CHECK(reading.detail->mean_temperature == doctest::Approx(278.15));
}

TEST_CASE("each broken detail file gets exactly the messages written at its end") {
    int files = 0;
    for (const auto& entry : std::filesystem::directory_iterator(source() / "src/project/broken_details")) {
        ++files;
        const std::string text = read_file(entry.path());
        const auto reading = project::read_detail(entry.path().filename().string(), text);
        INFO(entry.path().filename().string());
        CHECK(in_one_text(reading.problems) == expectation_in(text));
        CHECK((reading.detail != nullptr) == usable(reading.problems));
        CHECK_FALSE(reading.problems.empty());
        for (const Problem& each : reading.problems)
            CHECK(each.where.file == entry.path().filename().string());
    }
    CHECK(files >= 20);
}

TEST_CASE("no text makes the reader of details crash, hang or take up much memory") {
    std::string regions = "[detail]\nname = \"x\"\n",
                corners = regions + "[region.a]\nmaterial = \"osb\"\ncorners = [";
    std::string lattice = wall(1.0, "mm");
    for (int i = 0; i < 3000; ++i)
        regions += fmt::format(
            "[region.r{}]\nmaterial = \"osb\"\nx = [\"{} mm\", \"{} mm\"]\ny = [\"0 mm\", \"1 mm\"]\n", i, i,
            i + 1);
    for (int i = 0; i < 60'000; ++i) corners += fmt::format("['{} mm', '{} mm'], ", i % 7, i % 11);
    // 450 regions in three directions: more cells than any memory holds.
    lattice.replace(lattice.find("name"), 4, "geometry = \"solid\"\nname");
    for (int i = 0; i < 450; ++i)
        lattice += fmt::format(
            "[region.s{0}]\nover = true\nmaterial = \"osb\"\nx = [\"{1} mm\", \"{2} mm\"]\n"
            "y = [\"{1} mm\", \"{2} mm\"]\nz = [\"{1} mm\", \"{2} mm\"]\n",
            i, 0.2 * i, 0.2 * i + 0.1);
    for (const std::string& text :
         {std::string(), std::string("\xff\xfe[\0", 4), std::string(10'000'000, 'x'),
          std::string(100'000, '['), regions, corners + "]\n", lattice}) {
        const auto reading = project::read_detail("f.toml", text);
        CHECK_FALSE(reading.detail);
        CHECK_FALSE(reading.problems.empty());
        CHECK(reading.problems.size() <= 201);
    }
    for (const auto& entry : std::filesystem::directory_iterator(source() / "examples/details")) {
        const std::string text = read_file(entry.path());
        for (std::size_t length = 0; length < text.size(); length += 61)
            static_cast<void>(project::read_detail("f.toml", text.substr(0, length)));
    }
}

TEST_CASE("docs/detail.md holds the tables of the field table") {
    const auto document = read_file(source() / "docs/detail.md");
    CHECK(document == with_tables(document, project::detail_chapters()));
}

TEST_CASE("writes the tables into docs/detail.md" * doctest::skip()) {
    write_tables(source() / "docs/detail.md", project::detail_chapters());
}

TEST_CASE(
    "each key of the detail file stands once, has a meaning and a chapter, and is used by some example") {
    std::set<std::string> used, seen;
    for (const auto& entry : std::filesystem::directory_iterator(source() / "examples/details")) {
        const auto parsed = toml::parse(read_file(entry.path()));
        REQUIRE(parsed);
        for (const auto& [key, node] : parsed.table()) {
            used.insert(fmt::format("detail file.{}", key.str()));
            const std::string kind(key.str());
            const auto note = [&](const toml::table& table, const std::string& name) {
                for (const auto& [inner, value] : table) used.insert(fmt::format("{}.{}", name, inner.str()));
            };
            if (kind == "detail") note(*node.as_table(), "detail");
            if (kind == "picture") note(*node.as_table(), "detail picture");
            if (kind == "detail" || kind == "picture") continue;
            for (const auto& [name, each] : *node.as_table()) note(*each.as_table(), "detail " + kind);
        }
    }
    for (const auto& each : project::detail_fields()) {
        const auto name = fmt::format("{}.{}", each.table, each.key);
        CHECK(seen.insert(name).second);
        CHECK_FALSE(each.meaning.empty());
        CHECK_MESSAGE(used.contains(name), name);
        if (each.required) CHECK_MESSAGE(!each.example.empty(), name);
    }
}
