// Junctions of the example house: which there are and how long, by hand from its geometry.
#include "thermal/junction_house.h"

#include <algorithm>
#include <doctest/doctest.h>
#include <set>

#include "answer/answer.h"
#include "base/embedded.h"
#include "project/read.h"

using namespace warmside;

namespace {

std::unique_ptr<assembly::House> example(const std::string& more = {}) {
    const std::string text = std::string(*embedded::find("examples/heron-ridge/house.toml")) + more;
    auto reading = project::read_house("house.toml", text);
    REQUIRE(reading.house);
    return std::move(reading.house);
}

constexpr double foot = 0.3048;
constexpr thermal::Conditions cold{.inside = 294.15, .outside = 260.0};

double length_of(const thermal::HouseJunctions& all, thermal::JunctionKind kind) {
    double sum = 0.0;
    for (const auto& place : all.places) sum += place.drawing.kind == kind ? place.length : 0.0;
    return sum;
}

answer::Ask steady_only(const char* rung) {
    answer::Ask ask;
    ask.dry = false;
    ask.rung = rung;
    return ask;
}

}  // namespace

TEST_CASE("lengths of the example's junctions are those of its outline, storeys, roof and openings") {
    const auto house = example();
    const auto all = thermal::junctions_of(*house, *house->find("w2"), cold);
    REQUIRE(all);
    using Kind = thermal::JunctionKind;
    // 32 by 24 ft, two storeys of 8 ft 1 1/8 in, gable roof with its ridge east-west.
    CHECK(length_of(*all, Kind::outer_corner) == doctest::Approx(8 * 97.125 / 12 * foot));
    CHECK(length_of(*all, Kind::inner_corner) == 0.0);
    CHECK(length_of(*all, Kind::rim_joist) == doctest::Approx(112 * foot));
    CHECK(length_of(*all, Kind::sill_slab) == doctest::Approx(112 * foot));
    CHECK(length_of(*all, Kind::eave) == doctest::Approx(64 * foot));
    CHECK(length_of(*all, Kind::gable) == doctest::Approx(48 * foot));
    // Windows 6 + 5 + 4 + 2 + 4 + 5 + 5 + 3 + 2 + 3 ft wide, two doors of 38 1/2 in.
    CHECK(length_of(*all, Kind::window_sill) == doctest::Approx(39 * foot));
    CHECK(length_of(*all, Kind::window_head) == doctest::Approx((39 + 77.0 / 12) * foot));
    // Heights 5 + 4 + 5 + 3 + 4 + 4 + 4 + 4 + 3 + 4 ft, doors 82 1/2 in.
    CHECK(length_of(*all, Kind::window_jamb) == doctest::Approx(2 * (40 + 165.0 / 12) * foot));
}

TEST_CASE(
    "details reach the junctions: a balcony takes its ledger from the rim, partitions count by storey") {
    const auto house = example("\n[details]\nbalcony = \"12 ft\"\npartitions = 2\n");
    house->partitions.clear();  // those that a house file places come before a number
    const auto all = thermal::junctions_of(*house, *house->find("w2"), cold);
    REQUIRE(all);
    using Kind = thermal::JunctionKind;
    CHECK(length_of(*all, Kind::balcony_ledger) == doctest::Approx(12 * foot));
    CHECK(length_of(*all, Kind::rim_joist) == doctest::Approx(100 * foot));
    CHECK(length_of(*all, Kind::partition) == doctest::Approx(4 * 97.125 / 12 * foot));
}

TEST_CASE("placed members reach the junctions: headers and jambs by kind, partitions where they stand") {
    const auto house = example();
    const auto& wall = *house->find("w3");
    const auto frame = framing::frame(*house, wall);
    REQUIRE(frame);
    const auto all = thermal::junctions_of(*house, wall, cold, &*frame);
    REQUIRE(all);
    using Kind = thermal::JunctionKind;
    // Two partitions of one storey each, 8 ft 1 1/8 in.
    CHECK(length_of(*all, Kind::partition) == doctest::Approx(2 * 97.125 / 12 * foot));
    CHECK(length_of(*all, Kind::window_head) == doctest::Approx((39 + 77.0 / 12) * foot));
    CHECK(length_of(*all, Kind::window_jamb) == doctest::Approx(2 * (40 + 165.0 / 12) * foot));
    // The widest window has the deepest header: its 6 ft are drawn with it.
    int kinds = 0;
    const thermal::PlacedJunction* deepest = nullptr;
    for (const auto& place : all->places) {
        if (place.drawing.kind != Kind::window_head) continue;
        ++kinds;
        REQUIRE(place.drawing.opening_members);
        if (!deepest || place.drawing.opening_members->header > deepest->drawing.opening_members->header)
            deepest = &place;
    }
    CHECK(kinds > 1);
    REQUIRE(deepest);
    CHECK(deepest->length == doctest::Approx(6 * foot));
    CHECK(deepest->drawing.opening_members->header == doctest::Approx(11.25 * foot / 12));
}

TEST_CASE("a wall rung has junctions and built R, below clear-field R; the stair ends at it") {
    const auto house = example();
    answer::Engine engine;
    const auto answer = engine.answer(*house, steady_only("w5"));
    REQUIRE(answer);
    const auto& rung = answer->ladders.at(0).rungs.at(0);
    REQUIRE(rung.worth.built_r);
    CHECK(rung.built_absent.empty());
    std::set<thermal::JunctionKind> kinds;
    for (const auto& junction : rung.junctions) kinds.insert(junction.kind);
    CHECK(kinds.size() == 9);
    CHECK(*rung.worth.built_r < rung.worth.clear_r);
    CHECK(rung.worth.stair.back().r_after == doctest::Approx(*rung.worth.built_r));
    double sum = 0.0;
    for (const auto& tread : rung.worth.stair) sum += tread.r_change.value_or(0.0);
    CHECK(sum == doctest::Approx(*rung.worth.built_r).epsilon(1e-12));
    for (const auto& j : rung.junctions) CHECK_MESSAGE(j.error <= 0.002, j.name);
    const auto paths = answer::paths(*house, *answer);
    for (const char* path : {"ladder/wall/w5/built_r", "ladder/wall/w5/junctions/rim_joist"})
        CHECK_MESSAGE(std::find(paths.begin(), paths.end(), path) != paths.end(), path);
}

TEST_CASE("without geometry there is no built R, and it says why") {
    std::string text(*embedded::find("examples/heron-ridge/house.toml"));
    text.erase(text.find("[storey.ground]"));
    auto reading = project::read_house("house.toml", text);
    REQUIRE(reading.house);
    answer::Engine engine;
    const auto answer = engine.answer(*reading.house, steady_only("w5"));
    REQUIRE(answer);
    const auto& rung = answer->ladders.at(0).rungs.at(0);
    CHECK_FALSE(rung.worth.built_r);
    CHECK(rung.built_absent == "the house file states no heated storey");
    CHECK(rung.junctions.empty());
}

TEST_CASE("a flat roof has eaves all round, an L one corner that turns inwards") {
    std::string text(*embedded::find("examples/heron-ridge/house.toml"));
    const auto replace = [&](std::string_view from, std::string_view to) {
        for (auto at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
            text.replace(at, from.size(), to);
    };
    // Without its north-eastern quarter: 16 by 12 ft.
    replace("[\"32 ft\", \"24 ft\"], [\"0 ft\"",
            "[\"32 ft\", \"12 ft\"], [\"16 ft\", \"12 ft\"], [\"16 ft\", \"24 ft\"], [\"0 ft\"");
    text.erase(text.find("[face.\"ground south\"]"),
               text.find("[roof.main]") - text.find("[face.\"ground south\"]"));
    text.erase(text.find("[room."));  // a bedroom lies in that quarter
    text.insert(text.find("[roof.main]"), "[face.south]\nstorey = \"ground\"\nedge = 1\n\n");
    // As a gable the west body, 16 by 24 ft, goes through, for the south one is narrower: its eaves are 24 ft
    // in the west and 12 ft in the inner east; of the south edge 16 ft are its end, 16 ft the wing's eave, as
    // in the inner north; the wing ends in the east, 12 ft.
    const auto gabled = project::read_house("house.toml", text);
    REQUIRE(gabled.house);
    const auto ends = thermal::junctions_of(*gabled.house, *gabled.house->find("w2"), cold);
    REQUIRE(ends);
    CHECK(length_of(*ends, thermal::JunctionKind::eave) == doctest::Approx((24 + 12 + 16 + 16) * foot));
    CHECK(length_of(*ends, thermal::JunctionKind::gable) == doctest::Approx((16 + 16 + 12) * foot));
    replace("form       = \"gable\"\npitch      = \"9/12\"\nridge      = \"east-west\"\n",
            "form = \"flat\"\n");
    auto reading = project::read_house("house.toml", text);
    REQUIRE(reading.house);
    const auto all = thermal::junctions_of(*reading.house, *reading.house->find("w2"), cold);
    REQUIRE(all);
    using Kind = thermal::JunctionKind;
    CHECK(length_of(*all, Kind::eave) == doctest::Approx(112 * foot));
    CHECK(length_of(*all, Kind::gable) == 0.0);
    CHECK(length_of(*all, Kind::outer_corner) == doctest::Approx(10 * 97.125 / 12 * foot));
    CHECK(length_of(*all, Kind::inner_corner) == doctest::Approx(2 * 97.125 / 12 * foot));
}
