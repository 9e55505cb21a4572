#include "report/json.h"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cstdlib>
#include <fstream>
#include <limits>
#include <set>
#include <sstream>

#include "report/building.h"
#include "report/detail.h"
#include "report/made_up.h"

using namespace warmside;
using report::Json;

namespace {

std::vector<std::string> keys(const Json& json) {
    std::vector<std::string> out;
    for (const auto& [key, value] : json.items()) out.push_back(key);
    return out;
}

/// Every field as docs/json.md writes it: `ladders[].rungs[].clear_r`.
void collect(const Json& json, const std::string& prefix, std::set<std::string>& out) {
    if (json.is_object()) {
        for (const auto& [key, value] : json.items()) {
            // Keys of this table are names of values, not fields.
            const std::string path = prefix + (prefix.empty() ? "" : ".") +
                                     (prefix.ends_with("value_origins") ? std::string("*") : key);
            out.insert(path);
            collect(value, path, out);
        }
    }
    if (json.is_array()) {
        for (const auto& value : json) collect(value, prefix + "[]", out);
    }
}

/// A detail with every optional part there, unsolved: only the names count.
Json detail_document() {
    project::Detail detail;
    detail.model.environments = {{"a", 293.15}, {"b", 273.15}};
    detail.model.regions.resize(1);
    detail.substances.resize(1);
    answer::DetailAnswer answer;
    answer.solution.weight.resize(2);
    answer.solution.coupling.assign(4, 1.0);
    answer.surfaces = {{.environment = "a", .touches = true, .factor = 0.9, .critical = 285.0},
                       {.environment = "b"}};
    answer.probes.resize(1);
    return report::detail_json(detail, answer);
}

/// One document of each command, with every optional part there.
std::vector<std::pair<std::string, Json>> documents() {
    const auto house = made_up::house(2);
    const auto answer = made_up::answer(house);
    Derivation why{.path = "p",
                   .equation = "e",
                   .source = "s",
                   .value = 1.0,
                   .unit = "m",
                   .note = {},
                   .terms = {Term{.name = "t", .value = 1.0, .unit = "m", .origin = {}, .path = {}}}};
    auto catalogue = made_up::catalogue();
    catalogue.materials[0].value_origin.emplace_back("density", Origin{});
    catalogue.lumber.push_back(
        {.name = "2x6", .thickness = 0.0381, .depth = 0.1397, .region = "made up", .origin = {}});
    const std::vector<climate::PlaceRow> places(1);
    const std::vector<Problem> problems(1);
    const std::vector<report::CheckRow> checks(1);
    const std::vector<std::string> paths{"p"};
    return {{"answer", report::answer_json(answer)},
            {"heat", report::heat_json(answer)},
            {"dry", report::dry_json(answer)},
            {"frame", report::frame_json(answer)},
            {"takeoff", report::takeoff_json(answer)},
            {"detail", detail_document()},
            {"why", report::why_json(why)},
            {"why, all paths", report::paths_json(paths)},
            {"materials", report::materials_json(catalogue)},
            {"places", report::places_json(places)},
            {"problems", report::problems_json(problems)},
            {"proof", report::proof_json(checks)}};
}

}  // namespace

TEST_CASE("the answer has the names that schema 1 promises, in SI") {
    const auto house = made_up::house();
    const auto answer = made_up::answer(house);
    const auto json = report::answer_json(answer);
    CHECK(json["schema"] == 1);
    CHECK(keys(json["ladders"][0]) == std::vector<std::string>{"part", "rungs"});
    CHECK(json["ladders"][0]["part"] == "wall");
    const auto& rung = json["ladders"][0]["rungs"][0];
    for (const char* name : {"name", "title", "thickness", "label_r", "clear_r", "clear_u", "built_r",
                             "verdict", "reason", "assumes"})
        CHECK_MESSAGE(rung.contains(name), name);
    CHECK(rung["thickness"] == answer.ladders[0].rungs[0].thickness);
    CHECK(rung["clear_r"] == answer.ladders[0].rungs[0].worth.clear_r);
    CHECK(rung["verdict"] == "wet");
    CHECK(rung["path"] == "ladder/wall/w1");
}

TEST_CASE("what is not known is null") {
    const auto house = made_up::house(1);
    auto answer = made_up::answer(house);
    answer.areas.reset();
    auto& rung = answer.ladders[0].rungs[0];
    rung.worth = {};
    rung.verdict.reset();
    rung.runs = 0;
    const auto json = report::answer_json(answer);
    CHECK(json["areas"].is_null());
    const auto& row = json["ladders"][0]["rungs"][0];
    for (const char* name : {"label_r", "clear_r", "clear_u", "built_r", "face_r", "code_u", "verdict",
                             "reason", "margin", "deciding", "balance"})
        CHECK_MESSAGE(row[name].is_null(), name);
    CHECK(row["assumes"].is_array());
}

TEST_CASE("a value that is not finite is null and text that is not UTF-8 does not throw") {
    report::CheckRow row{.id = "\xff", .got = std::numeric_limits<double>::quiet_NaN()};
    const auto json = report::proof_json(std::span(&row, 1));
    CHECK(json["checks"][0]["got"].is_null());
    CHECK(Json::accept(report::dump(json)));
}

TEST_CASE("proof rows have the fields of the issue in its order") {
    const report::CheckRow row{};
    auto have = keys(report::proof_json(std::span(&row, 1))["checks"][0]);
    have.resize(9);
    CHECK(have == std::vector<std::string>{"id", "room", "expected", "got", "tolerance", "unit", "source",
                                           "evidence", "result"});
}

TEST_CASE("a word chooses materials by name, alias or family, letter case ignored") {
    const auto catalogue = made_up::catalogue();
    CHECK(report::materials_json(catalogue, "STONE")["materials"].size() == 2);
    CHECK(report::materials_json(catalogue, "membrane")["membranes"].size() == 3);
    CHECK(report::materials_json(catalogue, "no such thing")["materials"].empty());
}

TEST_CASE("docs/json.md explains every field, and no other") {
    const char* root = std::getenv("WARMSIDE_SOURCE");
    if (!root) {
        MESSAGE("WARMSIDE_SOURCE is not set: docs/json.md is not checked");
        return;
    }
    std::ifstream in(std::string(root) + "/docs/json.md");
    REQUIRE(in);
    std::set<std::string> explained;
    std::string section;
    for (std::string line; std::getline(in, line);) {
        if (line.starts_with("## ")) section = line.substr(3);
        if (!line.starts_with("| `")) continue;
        explained.insert(section + ": " + line.substr(3, line.find('`', 3) - 3));
    }
    std::set<std::string> written;
    for (const auto& [name, json] : documents()) {
        std::set<std::string> fields;
        collect(json, "", fields);
        for (const auto& field : fields) written.insert(fmt::format("{}: {}", name, field));
    }
    for (const auto& field : written) CHECK_MESSAGE(explained.contains(field), "not explained: ", field);
    for (const auto& field : explained)
        CHECK_MESSAGE(written.contains(field), "explained but not written: ", field);
}
