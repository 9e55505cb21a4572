#include "report/live.h"

#include <doctest/doctest.h>

#include "drawing/svg.h"
#include "report/elevations.h"
#include "report/html.h"
#include "report/json.h"
#include "report/made_up.h"

using namespace warmside;
using report::Json;

namespace {

/// Takes one event apart; fails the test when it is not exactly one.
std::pair<std::string, Json> read(const std::string& text) {
    REQUIRE(text.starts_with("event: "));
    REQUIRE(text.ends_with("\n\n"));
    const auto end = text.find('\n');
    REQUIRE(text.substr(end + 1, 6) == "data: ");
    const auto data = text.substr(end + 7, text.size() - end - 9);
    REQUIRE(data.find('\n') == std::string::npos);
    return {text.substr(7, end - 7), Json::parse(data)};
}

}  // namespace

TEST_CASE("steady figures come all at once, when the last rung has its own") {
    const auto house = made_up::house(2);
    const auto answer = made_up::answer(house);
    report::Feed feed(house, 7, 156);
    const auto [name, start] = read(feed.generation());
    CHECK(name == "generation");
    CHECK(start["generation"] == 7);
    CHECK(start["rungs"].size() == 4);
    std::vector<answer::RungAnswer> rungs;
    for (const auto& ladder : answer.ladders) {
        for (auto rung : ladder.rungs) {
            rung.verdict.reset();
            rung.carpet = {};
            rungs.push_back(rung);
        }
    }
    for (std::size_t i = 0; i + 1 < rungs.size(); ++i) CHECK(feed.steady(rungs[i]).empty());
    const auto [kind, data] = read(feed.steady(rungs.back()));
    CHECK(kind == "steady");
    const std::string html = data["html"];
    CHECK(html.find("<canvas data-rung=\"w1\"") != std::string::npos);
    CHECK(html.find("label R-13.6") != std::string::npos);
    CHECK(html.find("<main") == std::string::npos);
}

TEST_CASE("a column carries palette indices, outermost first") {
    const auto house = made_up::house(1);
    const report::Feed feed(house, 1, 156);
    const float humidity[] = {0.4F, 0.4F, 1.0F};
    const auto [name, data] = read(feed.column("w1", 12, humidity));
    CHECK(name == "column");
    CHECK(data["values"] == drawing::base64(std::string_view("\xff\0\0", 3)));
    CHECK(data["rows"] == 3);
    CHECK(data["columns"] == 156);
    CHECK(data["column"] == 12);
}

TEST_CASE("a finished rung fills cells that the steady page has") {
    const auto house = made_up::house(2);
    const auto answer = made_up::answer(house);
    report::Feed feed(house, 3, 156);
    const auto page = report::live_page(house);
    const auto [name, data] = read(feed.finished(answer.ladders[0].rungs[0]));
    CHECK(name == "finished");
    CHECK(data["rung"] == "w1");
    CHECK(data["cells"].size() == 3);
    for (const auto& [id, html] : data["cells"].items())
        CHECK_MESSAGE(page.find("id=\"" + id + "\"") != std::string::npos, id);
}

TEST_CASE("wood and structure come with the steady figures, cost after them in cells that the page has") {
    const auto house = made_up::house(2);
    auto answer = made_up::answer(house);
    report::Feed feed(house, 5, 156);
    std::string steady;
    for (auto& ladder : answer.ladders) {
        for (auto rung : ladder.rungs) {
            rung.verdict.reset();
            rung.carpet = {};
            rung.priced.reset();
            rung.step_cost.reset();
            steady += feed.steady(rung);
        }
    }
    const std::string html = read(steady).second["html"];
    CHECK(html.find("How much of it is wood?") != std::string::npos);
    CHECK(html.find("<td id=\"wood-wall-w1\"><span class=\"word\">20.0") != std::string::npos);
    CHECK(html.find("<td id=\"carries-wall-w1\"><span class=\"word accent\">fails") != std::string::npos);
    CHECK(html.find("<td id=\"cost-wall-w1\"><span class=\"quiet\">computing") != std::string::npos);
    CHECK(html.find("$12,345") == std::string::npos);
    const auto [name, data] = read(feed.priced(answer.ladders[0].rungs[1]));
    CHECK(name == "priced");
    CHECK(data["generation"] == 5);
    CHECK(data["rung"] == "w2");
    const std::string cost = data["cells"]["cost-wall-w2"];
    CHECK(cost.find("$12,345") != std::string::npos);
    CHECK(cost.find("$1,000 more than the rung below") != std::string::npos);
    for (const auto& [id, inner] : data["cells"].items())
        CHECK_MESSAGE(html.find("id=\"" + id + "\"") != std::string::npos, id);
}

TEST_CASE("a drawing is there for what the page's folds ask for, and for nothing else") {
    const auto house = std::make_shared<const assembly::House>(made_up::house(2));
    const auto answer = made_up::answer(*house);
    report::Elevations drawings;
    CHECK_FALSE(drawings.svg("w1", 0, "frame"));
    drawings.set(house, answer);
    const auto page = report::live_page(*house, &answer);
    CHECK(page.find("data-picture=\"elevation?rung=w1&amp;panel=0&amp;shown=frame\"") != std::string::npos);
    const auto drawing = drawings.svg("w1", 0, "frame");
    REQUIRE(drawing);
    CHECK(drawing->find("<svg") != std::string::npos);
    CHECK(drawing->find("S1") != std::string::npos);
    CHECK(page.find("S1 stud") == std::string::npos);
    CHECK(report::page(*house, answer).find("S1 stud") != std::string::npos);
    CHECK_FALSE(drawings.svg("w9", 0, "frame"));
    CHECK_FALSE(drawings.svg("w1", 1, "frame"));
    CHECK_FALSE(drawings.svg("w1", 0, "battens"));
    CHECK_FALSE(drawings.svg("w1", 0, "roof"));
}

TEST_CASE("the whole answer makes the page the report") {
    const auto house = made_up::house(2);
    const auto answer = made_up::answer(house);
    const auto [name, data] = read(report::Feed(house, 3, 156).finished(answer));
    CHECK(data["rung"].is_null());
    CHECK(data["html"].get<std::string>().find("<canvas") == std::string::npos);
    CHECK(report::live_page(house, &answer).find(data["html"].get<std::string>()) != std::string::npos);
}

TEST_CASE("one rung alone can be asked for") {
    const auto house = made_up::house();
    const auto answer = made_up::answer(house);
    report::Feed feed(house, 1, 156, "w2");
    CHECK_FALSE(feed.steady(answer.ladders[0].rungs[1]).empty());
    CHECK(report::Feed(house, 1, 156, "w2").steady(answer.ladders[0].rungs[0]).empty());
}

TEST_CASE("a problem is told in words and in fields") {
    const Problem problem{.code = Code::unknown_key, .what = "no key <foo>", .where = {"house.toml", 3, 1}};
    const auto [name, data] = read(report::problem_event(4, std::span(&problem, 1)));
    CHECK(name == "problem");
    CHECK(data["generation"] == 4);
    CHECK(data["problems"][0]["line"] == 3);
    CHECK(data["text"].get<std::string>().find("house.toml:3:1") != std::string::npos);
    CHECK(report::live_page(std::span(&problem, 1)).find("no key &lt;foo&gt;") != std::string::npos);
}
