// Writes the made-up pages into the folder $WARMSIDE_LOOK, so that a person can look at them.
#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>

#include "report/html.h"
#include "report/live.h"
#include "report/made_up.h"
#include "report/terminal.h"

namespace {

using namespace warmside;

void write(const std::string& name, const std::string& text) {
    const char* folder = std::getenv("WARMSIDE_LOOK");
    if (!folder) return;
    std::ofstream(std::string(folder) + "/" + name, std::ios::binary) << text;
}

}  // namespace

TEST_CASE("a page of every size of ladder is a whole document under 1.5 MB") {
    for (const int walls : {1, 2, 6, 8, 10}) {
        auto house = made_up::house(walls);
        for (const bool metric : {false, true}) {
            auto answer = made_up::answer(house);
            answer.inch_pound_first = !metric;
            const auto page = report::page(house, answer);
            CHECK(page.size() < 1500000);
            CHECK(page.ends_with("</html>\n"));
            write("page" + std::to_string(walls) + (metric ? "-metric" : "") + ".html", page);
            write("ladder" + std::to_string(walls) + ".txt", report::ladder_text(answer, {}) +
                                                                 report::heat_text(answer, {}, "w1") +
                                                                 report::dry_text(answer, {}, "w1"));
        }
        write("live" + std::to_string(walls) + ".html", report::live_page(house));
    }
}

TEST_CASE("the events of a generation can be played to the live page") {
    const auto house = made_up::house();
    const auto answer = made_up::answer(house);
    report::Feed feed(house, 1, 156);
    std::string events = feed.generation();
    for (const auto& ladder : answer.ladders) {
        for (const auto& rung : ladder.rungs) {
            for (int column = 0; column < rung.carpet.columns; ++column) {
                const auto rows = static_cast<std::size_t>(rung.carpet.rows);
                events += feed.column(rung.name, column,
                                      std::span(rung.carpet.relative_humidity)
                                          .subspan(static_cast<std::size_t>(column) * rows, rows));
            }
        }
    }
    for (const auto& ladder : answer.ladders) {
        for (auto rung : ladder.rungs) {
            if (rung.verdict) rung.carpet = {};
            rung.verdict.reset();
            events += feed.steady(rung);
        }
    }
    for (const auto& ladder : answer.ladders) {
        for (const auto& rung : ladder.rungs) events += feed.finished(rung);
    }
    events += feed.finished(answer);
    CHECK(events.ends_with("\n\n"));
    write("events.txt", events);
}
