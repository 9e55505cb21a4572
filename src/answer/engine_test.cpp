// The whole job on the embedded example: stages, stop, and reasons. One rung, to stay quick.
#include <algorithm>
#include <doctest/doctest.h>
#include <map>
#include <mutex>
#include <numbers>

#include "answer/answer.h"
#include "answer/places.h"
#include "answer/runs.h"
#include "answer/stage.h"
#include "base/embedded.h"
#include "moisture/measure.h"
#include "project/read.h"

using namespace warmside;

namespace {

std::unique_ptr<assembly::House> example(std::string_view from = {}, std::string_view to = {}) {
    std::string text(*embedded::find("examples/heron-ridge/house.toml"));
    if (!from.empty()) {
        const auto at = text.find(from);
        REQUIRE(at != std::string::npos);
        text.replace(at, from.size(), to);
    }
    auto reading = project::read_house("house.toml", text);
    REQUIRE(reading.house);
    return std::move(reading.house);
}

answer::Ask one_rung(std::string name) {
    answer::Ask ask;
    ask.rung = std::move(name);
    ask.moisture.mesh_level = 0;
    return ask;
}

struct Counting : answer::Stream {
    int steadies = 0, finishes = 0;
    std::vector<std::string> priced_rungs;
    std::mutex guard;
    std::vector<int> columns;
    void steady(const answer::RungAnswer&) override { ++steadies; }
    void column(const std::string&, int column, std::span<const float> humidity) override {
        const std::lock_guard lock(guard);
        columns.push_back(column);
        CHECK(std::all_of(humidity.begin(), humidity.end(), [](float h) { return h > 0.0F && h <= 1.0F; }));
    }
    void priced(const answer::RungAnswer& rung) override {
        CHECK(steadies > 0);
        CHECK(finishes == 0);
        CHECK_FALSE(rung.verdict);
        CHECK((rung.priced != nullptr || !rung.priced_absent.empty()));
        priced_rungs.push_back(rung.name);
    }
    void finished(const answer::RungAnswer& rung) override {
        CHECK(std::find(priced_rungs.begin(), priced_rungs.end(), rung.name) != priced_rungs.end());
        ++finishes;
    }
};

}  // namespace

TEST_CASE("an edit re-runs only what it changed, and the answer is that of a fresh engine") {
    answer::Engine engine;
    const auto ask = one_rung("w1");
    const auto house = example();
    Counting stream;
    const auto first = engine.answer(*house, ask, {}, &stream);
    REQUIRE(first);
    CHECK(engine.last().run == 3);  // surroundings, worth, dryness
    CHECK(stream.steadies == 1);
    CHECK(stream.finishes == 1);
    CHECK(stream.priced_rungs == std::vector<std::string>{"w1"});
    // The settled year's columns may come more than once.
    std::sort(stream.columns.begin(), stream.columns.end());
    stream.columns.erase(std::unique(stream.columns.begin(), stream.columns.end()), stream.columns.end());
    CHECK(stream.columns.size() == static_cast<std::size_t>(ask.moisture.carpet_columns));

    const auto again = engine.answer(*house, ask);
    REQUIRE(again);
    CHECK(engine.last().run == 0);
    CHECK(engine.last().kept == 3);  // the same three, found
    CHECK(again->key == first->key);

    // Another rung changes: this one's stages stay.
    const auto other = example("label = \"R-30\"", "label = \"R-31\"");
    const auto untouched = engine.answer(*other, ask);
    REQUIRE(untouched);
    CHECK(engine.last().run == 0);
    CHECK(untouched->key != first->key);

    // The steady worth changes, and the hours with it.
    const auto thicker = example("glass wool batt\", thickness = \"3 1/2 in\", label = \"R-13\"",
                                 "glass wool batt\", thickness = \"3 1/2 in\", label = \"R-15\"");
    const auto changed = engine.answer(*thicker, ask);
    REQUIRE(changed);
    CHECK(engine.last().run == 2);
    CHECK(changed->ladders[0].rungs[0].worth.label_r > first->ladders[0].rungs[0].worth.label_r);
    answer::Engine fresh;
    const auto alone = fresh.answer(*thicker, ask);
    REQUIRE(alone);
    CHECK(alone->ladders[0].rungs[0].carpet.relative_humidity ==
          changed->ladders[0].rungs[0].carpet.relative_humidity);
    CHECK(alone->ladders[0].rungs[0].verdict->reason == changed->ladders[0].rungs[0].verdict->reason);
}

TEST_CASE("an edited spacing changes wood and cost of its rung before any verdict, and no other rung's") {
    struct Costs : answer::Stream {
        std::map<std::string, std::pair<double, double>> of;  // by rung: framing factor, money
        void steady(const answer::RungAnswer&) override {}
        void column(const std::string&, int, std::span<const float>) override {}
        void priced(const answer::RungAnswer& rung) override {
            REQUIRE(rung.framed);
            REQUIRE(rung.priced);
            of[rung.name] = {rung.framed->frame.factor.whole, rung.priced->cost.total};
        }
        void finished(const answer::RungAnswer&) override {}
    };
    answer::Engine engine;
    answer::Ask ask;
    ask.heat = ask.dry = false;
    const auto house = example();
    Costs before, after;
    REQUIRE(engine.answer(*house, ask, {}, &before));
    const auto closer = example("label = \"R-30\", framing = { member = \"2x8\", spacing = \"24 in\"",
                                "label = \"R-30\", framing = { member = \"2x8\", spacing = \"16 in\"");
    REQUIRE(engine.answer(*closer, ask, {}, &after));
    REQUIRE(before.of.size() == 6);
    REQUIRE(after.of.size() == 6);
    for (const auto& [rung, figures] : before.of) {
        if (rung == "w4") continue;
        CHECK(after.of[rung] == figures);
    }
    // More studs are more wood and more money.
    CHECK(after.of["w4"].first > before.of["w4"].first);
    CHECK(after.of["w4"].second > before.of["w4"].second);
}

TEST_CASE("the balances of the example close to a millionth of the throughput") {
    answer::Engine engine;
    const auto house = example();
    const auto answer = engine.answer(*house, one_rung("w6"));
    REQUIRE(answer);
    const auto& rung = answer->ladders[0].rungs[0];
    CHECK(rung.runs >= 8);  // nine, or ten where the joint has a face of its own
    CHECK(rung.balance.water_error < 1e-6);
    CHECK(rung.balance.energy_error < 1e-6);
}

TEST_CASE("causes come with a verdict when asked for, and do not change it") {
    answer::Engine engine;
    const auto house = example();
    auto ask = one_rung("w2");
    const auto plain = engine.answer(*house, ask);
    REQUIRE(plain);
    ask.causes = true;
    Counting stream;
    const auto full = engine.answer(*house, ask, {}, &stream);
    REQUIRE(full);
    CHECK(engine.last().run == 1);  // another dryness; the rest is kept
    CHECK(stream.finishes == 1);
    const auto& without = *plain->ladders[0].rungs[0].verdict;
    const auto& with = *full->ladders[0].rungs[0].verdict;
    CHECK(without.reason == with.reason);
    CHECK(without.drivers.empty());
    CHECK_FALSE(without.allowance);
    CHECK(with.drivers.size() >= 3);
    CHECK(with.allowance);
    CHECK_FALSE(with.driver_words.empty());
    REQUIRE(without.monthly);
    CHECK(without.monthly->run == without.deciding.run);
    const auto d = answer::why(*house, *full, "ladder/wall/w2/verdict");
    REQUIRE(d);
    CHECK(d->note.find(with.driver_words) != std::string::npos);
    CHECK(std::any_of(d->terms.begin(), d->terms.end(),
                      [](const Term& t) { return t.name == "without rain"; }));
}

TEST_CASE("a stop is a problem, not an answer") {
    StopSource source;
    source.stop();
    answer::Engine engine;
    const auto house = example();
    const auto answer = engine.answer(*house, one_rung("w1"), {.stop = source.token()});
    REQUIRE_FALSE(answer);
    CHECK(answer.error().code == Code::stopped);
}

TEST_CASE("a rung that no ladder has is a problem") {
    answer::Engine engine;
    const auto house = example();
    const auto answer = engine.answer(*house, one_rung("w9"));
    REQUIRE_FALSE(answer);
    CHECK(answer.error().code == Code::unknown_name);
}

TEST_CASE("the wet face is the one that the driving rain favours; eight faces of walls and slopes") {
    const auto house = example();
    const auto year = answer::year_of(*house, {});
    REQUIRE(year);
    const auto around = answer::surroundings(*house, *year);
    REQUIRE(around);
    CHECK(around->walls.front().name == "north");
    const auto rose = climate::driving_rain_rose(*year, house->rain_exposure);
    CHECK(around->wall_rain == *std::max_element(rose.begin(), rose.end()));
    CHECK(around->walls.size() == 16);
    const auto slopes = answer::roof_faces(*house, *around, 0.5);
    CHECK(slopes.size() == 16);
    CHECK(slopes.back().plane.azimuth == doctest::Approx(1.75 * std::numbers::pi));
    CHECK(answer::roof_faces(*house, *around, 0.0).size() == 2);  // a flat roof has one face
}

TEST_CASE("a coarse year of each face finds the faces that are worst over the full run") {
    const auto house = example();
    const auto year = answer::year_of(*house, {});
    REQUIRE(year);
    const auto around = answer::surroundings(*house, *year);
    REQUIRE(around);
    const auto& limits = moisture::built_in_thresholds();
    REQUIRE(limits);
    const moisture::Options options{.carpet_columns = 0};
    for (const char* rung : {"w1", "w5"}) {
        const assembly::Assembly* wall = house->find(rung);
        REQUIRE(wall);
        auto plan = answer::Plan::make(*house, *wall, around->walls, *around);
        REQUIRE(plan);
        const auto pilots = moisture::pilot(plan->pilots(), options);
        REQUIRE(pilots);
        plan->choose(*pilots, *limits);
        // The same eight faces in full, by the bay.
        auto all = plan->pilots();
        all.pop_back();
        const auto histories = moisture::simulate(all, options);
        REQUIRE(histories);
        std::vector<double> severity;
        for (const auto& history : *histories)
            severity.push_back(moisture::worst_severity(*wall, history, *limits));
        const auto worst =
            static_cast<std::size_t>(std::max_element(severity.begin(), severity.end()) - severity.begin());
        CAPTURE(rung);
        CHECK(plan->faces_in_words().find(around->walls[2 * worst].name) != std::string::npos);
        const auto runs = plan->runs();
        const auto holds = [&](const char* word) {
            return std::count_if(runs.begin(), runs.end(),
                                 [&](const auto& run) { return moisture::has_word(run.name, word); });
        };
        CHECK(holds("bay") - holds("joint") == 4);  // two faces, two weathers
        CHECK(holds("framing") == 3);               // typical weather on the worse face alone
        CHECK(holds("joint") >= 1);
        CHECK(moisture::has_word(runs.back().name, "stressed"));
        for (const auto& run : runs)
            CHECK((run.air_flow_by_hour == nullptr) == (run.path == moisture::Path::framing));
    }
}

TEST_CASE("a stage drops the result that was not used for longest") {
    answer::Stage<int> stage(2);
    const auto key = [](int i) { return Digest().add(i).key(); };
    (void)stage.keep(key(1), 1);
    (void)stage.keep(key(2), 2);
    CHECK(*stage.find(key(1)) == 1);
    (void)stage.keep(key(3), 3);
    CHECK_FALSE(stage.find(key(2)));
    CHECK(*stage.find(key(1)) == 1);
    CHECK(*stage.find(key(3)) == 3);
}

TEST_CASE("why finds each path that it lists, and the nearest to one that it does not") {
    answer::Engine engine;
    auto ask = one_rung("w3");
    ask.dry = false;
    const auto house = example();
    const auto answer = engine.answer(*house, ask);
    REQUIRE(answer);
    const auto all = answer::paths(*house, *answer);
    CHECK(all.size() > 10);
    for (const auto& path : all) CHECK(answer::why(*house, *answer, path));
    const auto none = answer::why(*house, *answer, "ladder/wall/w3/clear_q");
    REQUIRE_FALSE(none);
    CHECK(none.error().suggestion == "ladder/wall/w3/clear_r");
}

TEST_CASE("a paint of the house file's own counts like a built-in one") {
    const auto text = std::string(*embedded::find("examples/heron-ridge/house.toml"));
    const auto with_paint = [&](const std::string& permeance) {
        auto own = text + "\n[membrane.\"my paint\"]\npermeance = \"" + permeance +
                   "\"\nsource = \"our own, invented\"\n";
        const std::string_view built_in = "finish = \"latex paint\"";
        own.replace(own.find(built_in), built_in.size(), "finish = \"my paint\"");
        auto reading = project::read_house("house.toml", own);
        REQUIRE_MESSAGE(reading.house, reading.problems.front().what);
        answer::Engine engine;
        auto answer = engine.answer(*reading.house, one_rung("w1"));
        REQUIRE(answer);
        return answer->ladders[0].rungs[0].carpet.relative_humidity;
    };
    CHECK(with_paint("20 perm") != with_paint("0.1 perm"));
}

TEST_CASE("a stop leaves the rungs that are judged, and lends their histories once") {
    struct StopAtFirst : answer::Stream {
        StopSource source;
        std::size_t histories = 0;
        void steady(const answer::RungAnswer&) override {}
        void priced(const answer::RungAnswer&) override {}
        void column(const std::string&, int, std::span<const float>) override {}
        void finished(const answer::RungAnswer& rung) override {
            REQUIRE(rung.histories);
            REQUIRE(rung.verdict);
            histories += rung.histories->size();
            CHECK(rung.histories->front().probes.front().temperature.size() == 2 * 8760);
            CHECK(rung.hours == 2 * 8760);
            CHECK(rung.layers.front().moisture.size() == static_cast<std::size_t>(rung.carpet.columns));
            source.stop();
        }
    } stream;
    answer::Engine engine;
    const auto house = example();
    auto ask = one_rung({});
    ask.keep_histories = ask.keep_finished = true;
    ask.years = 2;
    const auto answer = engine.answer(*house, ask, {.stop = stream.source.token()}, &stream);
    REQUIRE(answer);
    CHECK(answer->stopped);
    CHECK(stream.histories >= 8);
    int judged = 0, left = 0;
    for (const auto& ladder : answer->ladders) {
        for (const auto& rung : ladder.rungs) {
            judged += rung.verdict ? 1 : 0;
            left += rung.verdict_absent == "stopped before it was judged" ? 1 : 0;
            CHECK_FALSE(rung.histories);
        }
    }
    CHECK(judged >= 1);
    CHECK(left >= 1);

    // Without the wish a stop is a Problem still.
    ask.keep_finished = false;
    CHECK(engine.answer(*house, ask, {.stop = stream.source.token()}).error().code == Code::stopped);
}
