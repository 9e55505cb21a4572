// No text makes the reader crash, hang or take up much memory.
#include <doctest/doctest.h>

#include <fmt/format.h>

#include <string>

#include "project/model_text.h"
#include "project/read.h"

using namespace warmside;

namespace {

Problems problems_of(const std::string& text) {
    const auto reading = project::read_house("f.toml", text);
    CHECK((reading.house != nullptr) == usable(reading.problems));
    return reading.problems;
}

std::string repeated(std::string_view piece, std::size_t count) {
    std::string out;
    out.reserve(piece.size() * count);
    for (std::size_t i = 0; i < count; ++i) out += piece;
    return out;
}

}  // namespace

TEST_CASE("an empty file, blanks, comments and a byte-order mark are told what is missing") {
    for (const std::string text : {"", " \n\n", "# nothing\n", "\xef\xbb\xbf", "\xef\xbb\xbf# nothing\r\n"}) {
        const auto problems = problems_of(text);
        REQUIRE(problems.size() == 2);
        CHECK(problems[0].what == "the file has no [house] table");
        CHECK(problems[1].what == "the file has no assembly: there is nothing to answer for");
    }
}

TEST_CASE("text that is not UTF-8, zero bytes and UTF-16 are refused with a place") {
    for (const std::string& text :
         {std::string("[house]\nname = \"Fl\xfc\x67\x65l\"\n"), std::string("[house]\nname = \"a\0b\"\n", 22),
          std::string("\xff\xfe[\0h\0", 6), std::string("\0\0\0\0", 4), std::string("name\xc0\xaf = 1\n")}) {
        const auto problems = problems_of(text);
        REQUIRE_FALSE(problems.empty());
        CHECK(problems[0].where.line >= 1);
        CHECK(problems[0].where.file == "f.toml");
    }
}

TEST_CASE("deep nesting is refused") {
    for (const std::string& text :
         {"a = " + repeated("[", 100'000), "a = " + repeated("{ a = ", 100'000),
          "[" + repeated("a.", 100'000) + "a]", repeated("a.", 100'000) + "a = 1",
          "[" + repeated("a . ", 100'000) + "a]\n", "x = { " + repeated("'a'.", 100'000) + "a = 1 }",
          repeated("[a", 50'000), repeated("[[a.b]]\n", 20'000), repeated("[a]\n", 20'000)}) {
        CHECK_FALSE(problems_of(text).empty());
    }
}

TEST_CASE("dotted keys may neither run for ever nor multiply with nesting") {
    CHECK(problems_of(repeated("a.", 1'900'000) + "a = 1").front().what == "more than 100 dots on one line");
    CHECK(problems_of("[" + repeated("a.", 1'900'000) + "a]").size() == 1);
    const std::string row = repeated("a.", 99) + "a = {\n";
    for (const std::size_t depth : {20, 200, 250, 255, 256, 300}) {
        CHECK_FALSE(problems_of(repeated(row, depth) + "b = 1" + repeated("}", depth)).empty());
        CHECK_FALSE(problems_of(repeated(row, depth) + "b = 1").empty());
    }
}

TEST_CASE("large files: junk of 10 MB at once, junk of 3 MB and many problems in the end") {
    CHECK(problems_of(std::string(10'000'000, 'x')).size() == 1);
    CHECK(problems_of(repeated("\"[{#\n", 2'500'000)).front().code == Code::out_of_range);
    CHECK_FALSE(problems_of(std::string(3'000'000, '[')).empty());
    CHECK_FALSE(problems_of(std::string(3'000'000, '"')).empty());
    CHECK_FALSE(problems_of(std::string(3'000'000, '\n')).empty());
    CHECK_FALSE(problems_of(repeated("[house]\n=\n", 100'000)).empty());
}

TEST_CASE("a hundred thousand unknown keys, assemblies, faces or layers end in a short list") {
    std::string keys = "[house]\nname = \"x\"\n", names,
                layers = "[assembly.w]\npart = \"wall\"\nlayers = [\n", rungs = "[ladder.wall]\nrungs = [";
    std::string faces =
        "[storey.s]\nfloor = \"0 m\"\nheight = \"3 m\"\noutline = [['0 m', '0 m'], ['9 m', '0 m'], ['0 m', "
        "'9 m']]\n";
    std::string corners = "[storey.s]\nfloor = \"0 m\"\nheight = \"3 m\"\noutline = [";
    for (int i = 0; i < 60'000; ++i) {
        keys += fmt::format("key{} = 1\n", i);
        names += fmt::format("[assembly.a{}]\npart = \"wall\"\n", i);
        layers += "{ material = \"osb\", thickness = \"1 in\", airtight = true },\n";
        rungs += fmt::format("\"r{}\", ", i);
        faces += fmt::format("[face.f{}]\nstorey = \"s\"\nedge = 1\n", i);
        corners += fmt::format("['{} m', '{} m'], ", i % 7, i % 11);
    }
    for (const auto& text : {keys, names, layers + "]\n", rungs + "]\n", faces, corners + "]\n"}) {
        const auto problems = problems_of(text);
        CHECK_FALSE(problems.empty());
        CHECK(problems.size() <= 201);
    }
}

TEST_CASE("numbers beyond all measure") {
    const std::string head =
        "[house]\nname = \"x\"\nplace = \"Duluth, Minnesota\"\n[assembly.w]\npart = \"wall\"\nlayers = [{ "
        "material = \"osb\", airtight = true, thickness = ";
    for (const std::string value :
         {"\"1e308 m\"", "\"-1e308 m\"", "\"1e999 m\"", "\"nan m\"", "\"inf m\"", "9223372036854775807",
          "1e999", "nan", "inf", "-inf", "\"0.0000000001 mm\"", "\"1/0 in\"", "\"99999999999999999999/3 in\"",
          "0x7fffffffffffffff", "1979-05-27", "\"\"", "\" \""}) {
        CAPTURE(value);
        CHECK_FALSE(usable(problems_of(head + value + " }]\n")));
    }
}

TEST_CASE("ends of lines of any system read to the same model") {
    std::string text(project::starter()), windows;
    for (const char c : text) windows += c == '\n' ? std::string("\r\n") : std::string(1, c);
    const auto a = project::read_house("a", text), b = project::read_house("b", windows),
               c = project::read_house("c", "\xef\xbb\xbf" + text);
    REQUIRE(a.house);
    REQUIRE(b.house);
    REQUIRE(c.house);
    CHECK(project::model_text(*a.house) == project::model_text(*b.house));
    CHECK(project::model_text(*a.house) == project::model_text(*c.house));
}

TEST_CASE("the starter reads without any problem, and any prefix of it without harm") {
    const std::string text(project::starter());
    CHECK(project::read_house("starter.toml", text).problems.empty());
    for (std::size_t length = 0; length < text.size(); length += 97)
        static_cast<void>(problems_of(text.substr(0, length)));
}
