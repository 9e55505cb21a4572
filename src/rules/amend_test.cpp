#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>
#include <sstream>
#include <string>

#include "rules/made_up.h"

using namespace warmside;
using namespace warmside::rules;
using namespace warmside::rules::made_up;

namespace {

const std::string good_head = "[amendment]\nname = \"Ordinance 12\"\nedition = 2021\n";

std::string row(std::string_view table, std::string_view name, std::string_view zones,
                std::string_view value) {
    return "[[row]]\ntable = \"" + std::string(table) + "\"\nrow = \"" + std::string(name) +
           "\"\nzones = " + std::string(zones) + "\nvalue = " + std::string(value) + "\n";
}

Problems problems_of(const std::string& text, Tables* tables = nullptr) {
    Tables copy = made_up::tables(2021);
    Problems problems;
    amend("local.toml", text, tables ? *tables : copy, problems);
    return problems;
}

}  // namespace

TEST_CASE("an amendment changes its rows in its zones, with its own citation and place, and nothing else") {
    Tables t = made_up::tables(2021);
    const auto problems = problems_of(good_head + row("u", "wall", "[\"6\", \"4C\"]", "\"U-0.040\"") +
                                          row("r", "wall", "[\"6\"]", "\"30&10ci\"") +
                                          row("air", "prescriptive", "[\"all\"]", "\"1.5 ACH\"") +
                                          row("shgc", "window", "[\"4\"]", "\"NR\""),
                                      &t);
    for (const Problem& each : problems) MESSAGE(render(each));
    REQUIRE(problems.empty());
    CHECK(t.find("u", "wall", {6, 'A'})->value == doctest::Approx(u("U-0.040")));
    CHECK(t.find("u", "wall", {4, 'C'})->value == doctest::Approx(u("U-0.040")));
    CHECK(t.find("u", "wall", {5, 'A'})->value == doctest::Approx(u("U-0.045")));
    CHECK(t.find("r", "wall", {6, 'A'})->options.size() == 1);
    CHECK(t.find("air", "prescriptive", {0, 'A'})->value == doctest::Approx(1.5 / 3600));
    CHECK_FALSE(t.find("shgc", "window", {4, 'A'})->asked);
    const Cell& cell = *t.find("u", "wall", {6, 'A'});
    CHECK(cell.citation == "Ordinance 12, amending IECC 2021 Table R402.1.2");
    CHECK(cell.origin.kind == Origin::Kind::house_file);
    CHECK(cell.origin.where.file == "local.toml");
    CHECK(cell.origin.where.line == 4);
    CHECK(t.amendments == std::vector<std::string>{"Ordinance 12"});
}

TEST_CASE("an amended row decides: what came from the user is not unconfirmed") {
    Tables t = made_up::tables(2018);
    Problems problems;
    amend("l.toml", "[amendment]\nname = \"o\"\nedition = 2018\n" + row("u", "wall", "[\"2\"]", "\"U-0.05\""),
          t, problems);
    REQUIRE(problems.empty());
    const Assembly w = frame_wall("", studs("5 1/2 in", "R-23"));
    Inputs in = inputs(2018, "2A");
    in.surfaces.push_back(surface(w, u("U-0.06")));
    CHECK(one(in, Subject::u_row).outcome == Outcome::unconfirmed);
    in.tables = &t;
    CHECK(one(in, Subject::u_row).outcome == Outcome::fails);
    CHECK(one(in, Subject::zone).notes.front() == "Local amendment: o.");
}

TEST_CASE("bad amendments are told, all at once, and change nothing") {
    const struct {
        const char* why;
        std::string text, what;
    } cases[] = {
        {"no head", row("u", "wall", "[\"6\"]", "\"U-0.04\""), "has no amendment"},
        {"no rows", good_head, "has no row"},
        {"other edition",
         "[amendment]\nname = \"o\"\nedition = 2024\n" + row("u", "wall", "[\"6\"]", "\"U-0.04\""),
         "amends edition 2024, but the findings are for 2021"},
        {"no table", good_head + row("uu", "wall", "[\"6\"]", "\"U-0.04\""), "has no table \"uu\""},
        {"no row of it", good_head + row("u", "wal", "[\"6\"]", "\"U-0.04\""), "has no row \"wal\""},
        {"no zone", good_head + row("u", "wall", "[\"9Z\"]", "\"U-0.04\""), "\"9Z\" is not a climate zone"},
        {"wrong unit", good_head + row("u", "wall", "[\"6\"]", "\"R-30\""), "value"},
        {"a bare number", good_head + row("u", "wall", "[\"6\"]", "0.04"), "value"},
        {"negative", good_head + row("u", "wall", "[\"6\"]", "\"-0.04 W/(m2 K)\""), "value"},
        {"bad way", good_head + row("r", "wall", "[\"6\"]", "\"thirty\""), "is not an R row"},
        {"number for ways", good_head + row("r", "wall", "[\"6\"]", "30"), "value is a text here"},
        {"number for words", good_head + row("retarder", "I", "[\"6\"]", "1"),
         "value is a text in quotes here"},
        {"unknown key", good_head + row("u", "wall", "[\"6\"]", "\"U-0.04\"") + "colour = \"red\"\n",
         "colour"},
        {"not TOML", "[amendment\n", ""}};
    for (const auto& each : cases) {
        CAPTURE(each.why);
        Tables t = made_up::tables(2021);
        const auto problems = problems_of(each.text, &t);
        REQUIRE_FALSE(problems.empty());
        CHECK(std::ranges::any_of(
            problems, [&](const Problem& p) { return p.what.find(each.what) != std::string::npos; }));
        CHECK(problems.front().where.line > 0);
        CHECK(t.find("u", "wall", {6, 'A'})->value == doctest::Approx(u("U-0.045")));
        CHECK(t.amendments.empty());
    }
    CHECK(problems_of(good_head + row("u", "wal", "[\"9\"]", "\"x\"") + row("q", "wall", "[\"6\"]", "1"))
              .size() >= 2);
    const auto near = problems_of(good_head + row("u", "wal", "[\"6\"]", "\"U-0.04\""));
    CHECK(near.front().suggestion == "wall");
}

namespace {

std::string document() {
    const char* root = std::getenv("WARMSIDE_SOURCE");
    if (!root) return {};
    std::ifstream file(std::string(root) + "/docs/local-amendments.md");
    std::stringstream text;
    text << file.rdbuf();
    return text.str();
}

/// The lines set in by four blanks.
std::string example_in(const std::string& text) {
    std::istringstream lines(text);
    std::string out;
    for (std::string line; std::getline(lines, line);)
        if (line.starts_with("    ")) out += line.substr(4) + "\n";
    return out;
}

}  // namespace

TEST_CASE("the example of docs/local-amendments.md reads, and the page names every table and row") {
    const std::string text = document();
    if (text.empty()) return;  // run from elsewhere
    Tables t = made_up::tables(2021);
    const auto problems = problems_of(example_in(text), &t);
    for (const Problem& each : problems) MESSAGE(render(each));
    CHECK(problems.empty());
    CHECK(t.find("u", "wall", {7})->value == doctest::Approx(u("U-0.040")));
    for (const int edition : {2018, 2021, 2024}) {
        for (const auto& [id, table] : made_up::tables(edition).tables) {
            CAPTURE(id);
            if (id == "shgc of the R table") continue;  // a contradiction of one printing, nothing to amend
            CHECK(text.find("`" + id + "`") != std::string::npos);
            for (const auto& [name, cells] : table.rows) {
                CAPTURE(name);
                if (id != "credit") CHECK(text.find("`" + name + "`") != std::string::npos);
            }
        }
    }
}

TEST_CASE("a torn amendment never changes a table and never crashes") {
    const std::string whole = good_head + row("r", "wall", "[\"6\"]", "\"30&10ci or 0&40ci\"");
    for (std::size_t cut = 0; cut + 1 < whole.size(); ++cut) {
        Tables t = made_up::tables(2021);
        const auto problems = problems_of(whole.substr(0, cut), &t);
        CAPTURE(cut);
        CHECK_FALSE(problems.empty());
        CHECK(t.find("r", "wall", {6, 'A'})->options.size() == 4);
    }
}
