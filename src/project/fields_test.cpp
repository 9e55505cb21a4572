#include "project/fields.h"

#include <doctest/doctest.h>

#include <fmt/format.h>

#include <filesystem>
#include <set>

#include "project/test_files.h"
#include "units/toml.h"

using namespace warmside;
using namespace warmside::project::test_files;

namespace {

using Used = std::set<std::string, std::less<>>;

void note_keys(const toml::table& table, std::string_view kind, Used& used) {
    for (const auto& [key, value] : table) used.insert(fmt::format("{}.{}", kind, key.str()));
}

void note_list(const toml::node* node, std::string_view kind, Used& used) {
    if (!node || !node->as_array()) return;
    for (const auto& item : *node->as_array()) {
        const auto* table = item.as_table();
        if (!table) continue;
        note_keys(*table, kind, used);
        for (const auto* inner : {"framing", "fasteners"}) {
            if (const auto* found = (*table)[inner].as_table()) note_keys(*found, inner, used);
        }
    }
}

void note_file(const toml::table& root, Used& used) {
    note_keys(root, "file", used);
    for (const auto* kind : {"house", "indoor", "rain", "air", "details", "loads", "people", "ventilation",
                             "heating", "cooling", "money", "code"}) {
        if (const auto* table = root[kind].as_table()) note_keys(*table, kind, used);
    }
    for (const auto* kind : {"heating", "cooling"}) {
        if (const auto* table = root[kind].as_table()) note_list(table->get("points"), "performance", used);
    }
    if (const auto* table = root["framing"].as_table()) note_keys(*table, "practice", used);
    for (const auto* kind : {"ladder", "assembly", "storey", "face", "partition", "box", "roof", "floor",
                             "foundation", "energy", "room", "appliance", "penetration"}) {
        const auto* named = root[kind].as_table();
        if (!named) continue;
        for (const auto& [name, node] : *named) {
            const auto* table = node.as_table();
            if (!table) continue;
            note_keys(*table, kind, used);
            note_list(table->get("layers"), "layer", used);
            note_list(table->get("openings"), "opening", used);
            note_list(table->get("blocks"), "block", used);
            note_list(table->get("hours"), "hour", used);
        }
    }
}

}  // namespace

TEST_CASE("docs/house-file.md holds the tables of the field table") {
    const auto document = read_file(source() / "docs/house-file.md");
    CHECK(document == with_tables(document, project::chapters()));
}

TEST_CASE("writes the tables into docs/house-file.md" * doctest::skip()) {
    write_tables(source() / "docs/house-file.md", project::chapters());
}

TEST_CASE("each key stands once in the field table, has a meaning, and a chapter") {
    Used seen;
    for (const auto& each : project::fields()) {
        CHECK(seen.insert(fmt::format("{}.{}", each.table, each.key)).second);
        CHECK_FALSE((each.meaning.empty() && each.words.empty()));
        CHECK(project::field(each.table, each.key) == &each);
        bool found = false;
        for (const auto& chapter : project::chapters()) found = found || chapter.table == each.table;
        CHECK(found);
        if (each.required) CHECK_MESSAGE(!each.example.empty(), each.table << "." << each.key);
    }
    CHECK(project::field("layer", "thicknes") == nullptr);
}

TEST_CASE("each key is used by some example that reads without an error") {
    Used used;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(source() / "examples")) {
        if (entry.path().extension() != ".toml") continue;
        const auto parsed = toml::parse(read_file(entry.path()));
        REQUIRE(parsed);
        note_file(parsed.table(), used);
    }
    for (const auto& each : project::fields()) {
        // The examples are priced by the built-in demo book, stand in built-in places and in no town with
        // amendments, and were not tested.
        if (each.table == "house" && each.key == "prices") continue;
        if (each.table == "house" && each.key == "weather") continue;
        if (each.table == "code" && each.key == "amendments") continue;
        if (each.table == "air" && each.key == "test") continue;
        // edge and corners exclude each other; both are in some example.
        CHECK_MESSAGE(used.contains(fmt::format("{}.{}", each.table, each.key)),
                      each.table << "." << each.key);
    }
}
