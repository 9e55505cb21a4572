#include "report/terminal.h"

#include <doctest/doctest.h>

#include <sstream>

#include "report/made_up.h"
#include "report/words.h"

using namespace warmside;

namespace {

std::size_t widest(const std::string& text) {
    std::istringstream in(text);
    std::size_t most = 0;
    for (std::string line; std::getline(in, line);) most = std::max(most, report::visible(line));
    return most;
}

}  // namespace

TEST_CASE("no line of the ladder is wider than the screen, down to 80 columns") {
    const auto house = made_up::house(10);
    for (const bool inch_pound : {true, false}) {
        auto answer = made_up::answer(house);
        answer.inch_pound_first = inch_pound;
        for (const int width : {80, 100, 140}) {
            const report::Style style{.colour = false, .width = width};
            CHECK(widest(report::ladder_text(answer, style)) <= static_cast<std::size_t>(width));
            CHECK(widest(report::heat_text(answer, style)) <= static_cast<std::size_t>(width));
            CHECK(widest(report::dry_text(answer, style)) <= static_cast<std::size_t>(width));
        }
        CHECK(widest(report::ladder_text(answer, {.colour = false, .width = 20})) <= 80);
    }
}

TEST_CASE("without colour there is no escape sequence; with it only the wet verdict is in accent") {
    const auto house = made_up::house();
    const auto answer = made_up::answer(house);
    for (const auto& text :
         {report::ladder_text(answer, {}), report::heat_text(answer, {}), report::dry_text(answer, {})}) {
        CHECK(text.find('\x1b') == std::string::npos);
    }
    const auto coloured = report::ladder_text(answer, {.colour = true, .width = 100});
    std::size_t accents = 0;
    for (auto at = coloured.find("\x1b[1;38;5;166m"); at != std::string::npos;
         at = coloured.find("\x1b[1;38;5;166m", at + 1))
        ++accents;
    CHECK(accents == 1);
}

TEST_CASE("each rung has its row, its stair, its verdict and its reason") {
    const auto house = made_up::house();
    const auto text = report::ladder_text(made_up::answer(house), {});
    for (const char* words :
         {"w1", "2x4, the old minimum", "label R-13.6", "comes to R-13.7", "mould index 3.4",
          "13\u00a0% over the limit of 3", "margin 70\u00a0% to the limit of 1", "all rest on", "built R",
          "most driving rain on the east face", "First-order engineering aid"}) {
        CHECK_MESSAGE(text.find(words) != std::string::npos, words);
    }
}

TEST_CASE("a ladder says how its clear-field values came about, rungs by method, and what ISO 6946 reads") {
    const auto house = made_up::house(3);
    auto ladder = made_up::answer(house).ladders[0];
    for (auto& rung : ladder.rungs) rung.worth.clear_error = 0.0004;
    ladder.rungs[0].worth.clear_dimensions = 2;
    ladder.rungs[0].worth.clear_error = 0.0009;
    ladder.rungs[0].worth.iso_clear_r = 0.98 * ladder.rungs[0].worth.clear_r;
    ladder.rungs[1].worth.clear_dimensions = 0;
    CHECK(report::clear_words(ladder) ==
          "the repeating cell solved in 3D (w3); the repeating cell solved in 2D (w1); the ISO 6946 combined "
          "method, no cell (w2); error up to 0.09 %; ISO 6946 reads 2.0 % lower to 1.0 % higher");
}

TEST_CASE("one rung can be asked for alone") {
    const auto house = made_up::house();
    const auto answer = made_up::answer(house);
    CHECK(report::heat_text(answer, {}, "w2").find("w3") == std::string::npos);
    CHECK(report::dry_text(answer, {}, "w2").find("wood moisture content") != std::string::npos);
    CHECK(report::heat_text(answer, {}, "no such rung").empty());
}

TEST_CASE("why shows equation, source, and each input in both systems with its origin") {
    Derivation d{.path = "ladder/wall/w1/clear_r",
                 .equation = "R = d / k",
                 .source = "a made-up source",
                 .value = 2.0,
                 .unit = "m2 K/W",
                 .note = "made up",
                 .terms = {}};
    d.terms.push_back({.name = "thickness",
                       .value = 0.1397,
                       .unit = "m",
                       .origin = {.kind = Origin::Kind::house_file, .where = {"house.toml", 14, 3}},
                       .path = {}});
    d.terms.push_back(
        {.name = "outside", .value = 263.15, .unit = "K", .origin = {}, .path = "weather/january"});
    const auto text = report::why_text(d, {}, true);
    for (const char* words : {"R = d / k", "R-11.36 (2 m² K/W)", "5 1/2 in (139.7 mm)", "house.toml:14",
                              "14.0 °F (-10.0 °C)", "why weather/january"}) {
        CHECK_MESSAGE(text.find(words) != std::string::npos, words);
    }
}

TEST_CASE("the margin names the limit that it was taken to") {
    moisture::Finding f{.value = 0.25, .watch_limit = 1.0, .wet_limit = 3.0, .margin = 0.75, .unit = "-"};
    CHECK(report::margin(f) == "margin 75 % to the limit of 1");
    f.value = 2.0;
    f.margin = 1.0 / 3.0;
    CHECK(report::margin(f) == "margin 33 % to the limit of 3");
    f.value = 4.5;
    f.margin = -0.5;
    CHECK(report::margin(f) == "50 % over the limit of 3");
    f.margin = std::nan("");
    CHECK(report::margin(f).empty());
}

TEST_CASE("units in plain text are written as people write them, names are left alone") {
    CHECK(report::pretty("191 kg/m2 a year at 5 degC, 20 %") == "191 kg/m² a year at 5 °C, 20\u00a0%");
    CHECK(report::pretty("room2 m2x gm2 (m3)") == "room2 m2x gm2 (m³)");
}

TEST_CASE("lines break at spaces and a long word stands alone") {
    CHECK(report::wrap("a bb ccc", 4) == std::vector<std::string>{"a bb", "ccc"});
    CHECK(report::wrap("abcdefgh x", 4) == std::vector<std::string>{"abcdefgh", "x"});
    CHECK(report::wrap("  ", 4).empty());
}

TEST_CASE("figures are rounded as builders read them") {
    // 1 h ft2 degF/Btu = 0.176110 m2 K/W (NIST SP 811).
    CHECK(report::r_value(0.17611 * 20.0, true).first == "R-20.0");
    CHECK(report::u_value(1.0 / (0.17611 * 20.0), true).first == "U-0.050");
    CHECK(report::thickness(0.1397, true).first == "5 1/2 in");
    CHECK(report::thickness(0.1397, false).first == "140 mm");
    CHECK(report::degree_days(5000.0, true).first == "9,000 °F d");
}
