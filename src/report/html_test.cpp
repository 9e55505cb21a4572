#include "report/html.h"

#include <doctest/doctest.h>

#include <regex>
#include <set>

#include "drawing/xml_check.h"
#include "report/live.h"
#include "report/made_up.h"

using namespace warmside;

namespace {

std::vector<std::string> all(const std::string& text, const char* pattern) {
    std::vector<std::string> out;
    const std::regex expression(pattern);
    for (auto it = std::sregex_iterator(text.begin(), text.end(), expression); it != std::sregex_iterator();
         ++it)
        out.push_back((*it)[1]);
    return out;
}

/// The page without its fonts and pictures, which are long and hold no references.
std::string without_data(const std::string& page) {
    std::string out;
    std::size_t from = 0;
    while (true) {
        const auto mark = page.find("base64,", from);
        if (mark == std::string::npos) return out + page.substr(from);
        out += page.substr(from, mark + 7 - from);
        from = page.find_first_of(")\"", mark);
    }
}

}  // namespace

TEST_CASE("a page refers to nothing outside itself") {
    const auto house = made_up::house();
    for (const auto& page : {report::page(house, made_up::answer(house)), report::live_page(house)}) {
        const auto text = without_data(page);
        for (const auto& target : all(text, "(?:src|href)=\"([^\"]*)\""))
            CHECK_MESSAGE(target.starts_with("data:"), target);
        for (const auto& target : all(text, "url\\(([^)]*)\\)"))
            CHECK_MESSAGE((target.starts_with("data:") || target.starts_with("#")), target);
        CHECK(text.find("http:") == std::string::npos);
        CHECK(text.find("https:") == std::string::npos);
        CHECK(text.find("@import") == std::string::npos);
    }
}

TEST_CASE("ids in a page are unique and every reference to one is met") {
    const auto house = made_up::house(10);
    const auto text = without_data(report::page(house, made_up::answer(house)));
    const auto ids = all(text, " id=\"([^\"]*)\"");
    const std::set<std::string> unique(ids.begin(), ids.end());
    CHECK(unique.size() == ids.size());
    for (const char* pattern :
         {"aria-labelledby=\"([^\"]*)\"", "aria-describedby=\"([^\"]*)\"", "url\\(#([^)]*)\\)"}) {
        for (const auto& id : all(text, pattern)) CHECK_MESSAGE(unique.contains(id), id);
    }
}

TEST_CASE("drawings in a page are well-formed and named") {
    const auto house = made_up::house();
    const auto page = report::page(house, made_up::answer(house));
    std::size_t count = 0;
    for (std::size_t at = page.find("<svg"); at != std::string::npos;
         at = page.find("<svg", at + 1), ++count) {
        const auto drawing = page.substr(at, page.find("</svg>", at) + 6 - at);
        CHECK_MESSAGE(made_up::xml_fault(drawing).empty(), made_up::xml_fault(drawing));
        CHECK(drawing.find("<title") != std::string::npos);
    }
    // Section, stair, carpet, cell and framing elevation of each wall; section and stair of each roof.
    CHECK(count == 6 * 5 + 2 * 2);
}

TEST_CASE("what a person wrote is shown as written, never as markup") {
    auto house = made_up::house(1);
    house.assemblies[0].title = "<script>alert(1)</script> & \"quotes\"";
    auto answer = made_up::answer(house);
    answer.house = "</title><b>";
    auto verdict = made_up::verdict(0, 0);
    verdict.reason = "<i>";
    answer.ladders[0].rungs[0].verdict = verdict;
    const auto page = report::page(house, answer);
    CHECK(page.find("<script>alert") == std::string::npos);
    CHECK(page.find("<title>&lt;/title&gt;&lt;b&gt;</title>") != std::string::npos);
    CHECK(page.find("<i>") == std::string::npos);
    CHECK(page.find("&lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;quotes&quot;") != std::string::npos);
}

TEST_CASE("the same answer gives the same page") {
    const auto house = made_up::house();
    CHECK(report::page(house, made_up::answer(house)) == report::page(house, made_up::answer(house)));
}

TEST_CASE("built R is said to be missing while junctions are not computed, and shown once they are") {
    const auto house = made_up::house(1);
    auto answer = made_up::answer(house);
    CHECK(report::page(house, answer).find("Built R: none, junctions are not counted") != std::string::npos);
    for (auto& ladder : answer.ladders) {
        for (auto& rung : ladder.rungs) rung.worth.built_r = 2.0;
    }
    const auto page = report::page(house, answer);
    CHECK(page.find("Built R: none") == std::string::npos);
    CHECK(page.find("built R-11.4") != std::string::npos);  // 2 / 0.17611 = 11.36 h ft2 degF/Btu
}

TEST_CASE("a wet verdict is in accent and its word is there; rungs without a verdict say why") {
    const auto house = made_up::house();
    const auto page = report::page(house, made_up::answer(house));
    CHECK(page.find("<span class=\"word accent\">wet</span>") != std::string::npos);
    CHECK(page.find("<span class=\"word\">watch</span>") != std::string::npos);
    CHECK(page.find("roofs are made up without a transient run") != std::string::npos);
}

TEST_CASE("assumptions that differ stand with their rung, common ones stand once") {
    const auto house = made_up::house(2);
    auto answer = made_up::answer(house);
    CHECK(report::page(house, answer).find("class=\"rests\"") != std::string::npos);
    auto verdict = made_up::verdict(1, 0);
    verdict.assumes = {"something else"};
    answer.ladders[0].rungs[1].verdict = verdict;
    const auto page = report::page(house, answer);
    CHECK(page.find("class=\"rests\"") == std::string::npos);
    CHECK(page.find("<li>something else</li>") != std::string::npos);
}

TEST_CASE("an answer without figures or ladders still makes a page") {
    const auto house = made_up::house(1);
    answer::Answer nothing;
    nothing.house = "empty";
    CHECK(report::page(house, nothing).ends_with("</html>\n"));
    const auto blank = report::page(house, report::blank(house));
    CHECK(blank.find("nan") == std::string::npos);
    CHECK(blank.find("Clear-field") == std::string::npos);
}

TEST_CASE("each finding of structure has its outcome in words, its inputs and its source") {
    const auto house = made_up::house(1);
    const auto page = report::page(house, made_up::answer(house));
    for (const char* outcome : {"passes", "fails", "needs an engineer", "not given", "reminder"})
        CHECK_MESSAGE(page.find(std::string(">") + outcome + "</td><td>stud") != std::string::npos, outcome);
    CHECK(page.find("<li>snow: 41.8 psf (2000 Pa)") !=
          std::string::npos);  // 2000 / 47.880, NIST SP 811 (memory)
    CHECK(page.find("a code</td>") != std::string::npos);
    const auto caution = page.find("local code and a licensed professional decide.</p><table");
    CHECK(caution != std::string::npos);
}

TEST_CASE("a figure of wood or cost is not said again in the words below it") {
    const auto house = made_up::house(2);
    auto answer = made_up::answer(house);
    answer::Priced priced = made_up::priced();
    priced.cost.material = 9000.0;
    priced.cost.labour = 3345.0;
    answer.ladders[0].rungs[0].priced = std::make_shared<const answer::Priced>(priced);
    const auto page = report::page(house, answer);
    for (const auto& [row, figure] : {std::pair{"wood", "20.0"}, std::pair{"cost", "$12,345"}}) {
        const auto from = page.find(std::string("<td id=\"") + row + "-wall-w1\">");
        REQUIRE(from != std::string::npos);
        const auto text = page.substr(from, page.find("</td>", from) - from);
        std::size_t times = 0;
        for (auto at = text.find(figure); at != std::string::npos; at = text.find(figure, at + 1)) ++times;
        CHECK_MESSAGE(times == 1, text);
    }
}
