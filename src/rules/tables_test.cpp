#include <doctest/doctest.h>

#include "base/embedded.h"
#include "rules/practice_data.h"
#include "rules/tables.h"

using namespace warmside;
using namespace warmside::rules;

namespace {

double r(const char* text) {
    return *units::parse(text, units::thermal_resistance);
}

Problems problems_of(std::string_view text) {
    Tables tables;
    Problems problems;
    read_tables("t.toml", text, tables, problems);
    return problems;
}

constexpr std::string_view head = "[code]\nname = \"X\"\nedition = 2021\ncolumns = [\"5\", \"6-8\"]\n";

Problems row_problems(const std::string& values, const std::string& kind = "number") {
    return problems_of(std::string(head) + "[[table]]\nid = \"u\"\nkind = \"" + kind +
                       "\"\ncitation = \"T\"\nsource = \"s\"\nevidence = \"seen\"\n[[table.row]]\nname = "
                       "\"wall\"\nvalues = " +
                       values + "\n");
}

}  // namespace

TEST_CASE("the built-in tables of 2018, 2021 and 2024 read without a problem; other editions are refused") {
    for (const int edition : {2018, 2021, 2024}) {
        const auto tables = tables_of(edition);
        if (!tables) FAIL(render(tables.error()));
        CHECK(tables->edition == edition);
    }
    const auto none = tables_of(2015);
    REQUIRE_FALSE(none);
    CHECK(none.error().code == Code::unsupported);
    CHECK(none.error().expected == "2018, 2021 or 2024");
}

TEST_CASE("every cell has a citation, a source and an evidence word") {
    std::size_t cells = 0;
    for (const int edition : {2018, 2021, 2024}) {
        const auto all = *tables_of(edition);
        for (const auto& [id, table] : all.tables) {
            for (const auto& [name, row] : table.rows) {
                for (const auto& cell : row) {
                    if (!cell) continue;
                    CAPTURE(id);
                    CAPTURE(name);
                    ++cells;
                    CHECK(cell->citation.find(std::to_string(edition)) != std::string::npos);
                    CHECK_FALSE(cell->origin.source.empty());
                    CHECK(cell->origin.evidence != Evidence::none);
                    CHECK(cell->origin.where.line > 0);
                }
            }
        }
    }
    CHECK(cells > 1000);
}

TEST_CASE("Marine 4 reads the column of zone 5, and zones 7 and 8 share theirs") {
    const auto t = *tables_of(2021);
    CHECK(t.find("u", "floor", {4, 'C'})->value == t.find("u", "floor", {5, 'A'})->value);
    CHECK(t.find("u", "floor", {4, 'A'})->value > t.find("u", "floor", {5, 'A'})->value);
    CHECK(t.find("u", "floor", {7})->value == t.find("u", "floor", {8})->value);
    CHECK(t.find("u", "no such row", {6, 'A'}) == nullptr);
    CHECK(t.find("no such table", "wall", {6, 'A'}) == nullptr);
}

TEST_CASE("edition 2018 has no zone 0") {
    CHECK(tables_of(2018)->find("u", "wall", {0, 'A'}) == nullptr);
    CHECK(tables_of(2021)->find("u", "wall", {0, 'A'}) != nullptr);
}

TEST_CASE("an R cell reads as printed: ways, depth, under the slab, mass walls, nothing asked") {
    const auto ways = *read_layers("30 or 20&5ci or 0&20ci");
    REQUIRE(ways.options.size() == 3);
    CHECK(ways.options[0].cavity == doctest::Approx(r("R-30")));
    CHECK(ways.options[0].continuous == 0.0);
    CHECK(ways.options[1].cavity == doctest::Approx(r("R-20")));
    CHECK(ways.options[1].continuous == doctest::Approx(r("R-5")));
    CHECK(ways.options[2].continuous == doctest::Approx(r("R-20")));
    const auto slab = *read_layers("10ci, 4 ft, 5 full");
    CHECK(slab.depth == doctest::Approx(1.2192));
    CHECK(slab.full == doctest::Approx(r("R-5")));
    const auto mass = *read_layers("8/13");
    CHECK(mass.options[0].cavity == doctest::Approx(r("R-8")));
    CHECK(*mass.inside == doctest::Approx(r("R-13")));
    CHECK_FALSE(read_layers("NR")->asked);
}

TEST_CASE("an R cell that is none is refused") {
    for (const char* text : {"", "x", "20&", "5ci&20", "20&5", "20 or", "1/2/3", "-5", "20, deep",
                             "20, -4 ft", "1e9", "nan", "20&5ci&5ci"}) {
        CAPTURE(text);
        const auto cell = read_layers(text);
        REQUIRE_FALSE(cell);
        CHECK(cell.error().what.find("is not an R row") != std::string::npos);
    }
}

TEST_CASE("a table with too few values, a bad value, an odd zone or evidence is told with its place") {
    CHECK(row_problems("[0.1, 0.2]").empty());
    CHECK(row_problems("[0.1]").front().what == "\"wall\" has 1 values and 1 evidence words for 2 columns");
    CHECK(row_problems("[0.1, -0.2]").front().where.line == 13);
    CHECK(row_problems("[0.1, \"x\"]").front().code == Code::wrong_type);
    CHECK(row_problems("[\"30\", \"30 and 5\"]", "layers").front().code == Code::syntax);
    CHECK(row_problems("[true, true]", "layers").front().code == Code::wrong_type);
    CHECK(row_problems("[1, 2]", "words").front().code == Code::wrong_type);
    CHECK(problems_of("x").front().where.line == 1);
    CHECK(problems_of("").front().what == "t.toml has no code");
    CHECK(problems_of(std::string(head)).front().what == "t.toml has no table");
    CHECK_FALSE(problems_of(std::string(head) + "[[table]]\nid = \"u\"\nunit = \"furlong\"\n").empty());
}

TEST_CASE("reminders, practice and comparisons read without a problem") {
    Problems problems;
    const auto list = read_reminders("r", *embedded::find("data/rules/reminders.toml"), problems);
    CHECK(list.size() > 20);
    const auto practice = read_practice("p", *embedded::find("data/rules/practice.toml"), problems);
    for (const Problem& each : problems) MESSAGE(render(each));
    CHECK(problems.empty());
    CHECK(practice.share_origin.evidence == Evidence::practice);
    CHECK_FALSE(practice.comparisons.empty());
    (void)read_reminders("r", "[[reminder]]\nsubject = 1\n", problems);
    CHECK_FALSE(problems.empty());
    problems.clear();
    (void)read_practice("p", "[share]\nmost = \"33 %\"\n", problems);
    CHECK_FALSE(problems.empty());
}
