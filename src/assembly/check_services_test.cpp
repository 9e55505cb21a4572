#include "assembly/check_services.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

using namespace warmside;
using namespace warmside::assembly;

namespace {

template <class T>
Sourced<T> from_file(T value) {
    return {value, {Origin::Kind::house_file, {"h.toml", 7, 3}}};
}

Room room_of(std::string name, std::initializer_list<std::array<int, 2>> corners) {
    Room room{.name = std::move(name), .storey = "ground"};
    for (const auto& [x, y] : corners) room.outline.push_back({Exact::millimetres(x), Exact::millimetres(y)});
    return room;
}

// An L: 10 m x 8 m without its north-east quarter.
House l_house() {
    House house;
    Storey storey{.name = "ground"};
    for (const auto& [x, y] :
         {std::array{0, 0}, {10000, 0}, {10000, 4000}, {5000, 4000}, {5000, 8000}, {0, 8000}})
        storey.outline.push_back({Exact::millimetres(x), Exact::millimetres(y)});
    house.storeys.push_back(storey);
    return house;
}

Problems rooms_in(House& house, std::vector<Room> rooms) {
    house.services.rooms = std::move(rooms);
    Problems problems;
    check_rooms(house, problems);
    return problems;
}

}  // namespace

TEST_CASE("rooms that fill an L without overlapping are in order") {
    House house = l_house();
    CHECK(rooms_in(house, {room_of("south", {{0, 0}, {10000, 0}, {10000, 4000}, {0, 4000}}),
                           room_of("north", {{0, 4000}, {5000, 4000}, {5000, 8000}, {0, 8000}})})
              .empty());
    // The whole storey is a room; so is a triangle, and one that only shares a corner with another.
    CHECK(
        rooms_in(house,
                 {room_of("all", {{0, 0}, {10000, 0}, {10000, 4000}, {5000, 4000}, {5000, 8000}, {0, 8000}})})
            .empty());
    CHECK(rooms_in(house, {room_of("a", {{0, 0}, {3000, 0}, {0, 3000}}),
                           room_of("b", {{3000, 0}, {6000, 0}, {6000, 3000}})})
              .empty());
}

TEST_CASE("a room across the notch of an L leaves it, though all its corners lie on the outline") {
    House house = l_house();
    const auto problems = rooms_in(house, {room_of("cut", {{5000, 4000}, {10000, 4000}, {5000, 8000}})});
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].what == "room cut reaches outside of storey ground");
}

TEST_CASE("rooms over each other: crossing, one within the other, the same twice") {
    House house = l_house();
    const auto square = room_of("a", {{1000, 1000}, {4000, 1000}, {4000, 4000}, {1000, 4000}});
    const auto crossing = room_of("b", {{3000, 500}, {6000, 500}, {6000, 2000}, {3000, 2000}});
    const auto within = room_of("b", {{2000, 2000}, {3000, 2000}, {3000, 3000}, {2000, 3000}});
    const auto same = room_of("b", {{4000, 1000}, {4000, 4000}, {1000, 4000}, {1000, 1000}});
    const auto half = room_of("b", {{1000, 1000}, {4000, 1000}, {4000, 2500}, {1000, 2500}});
    for (const Room& other : {crossing, within, same, half}) {
        const auto problems = rooms_in(house, {square, other});
        REQUIRE(problems.size() == 1);
        CHECK(problems[0].what == "room b lies over room a");
        CHECK(rooms_in(house, {other, square}).size() == 1);
    }
}

TEST_CASE("random rectangles overlap exactly when their intervals do") {
    // Against the plain test of two rectangles along the axes: independent of the ring code.
    House house = l_house();
    std::mt19937 random(7);
    std::uniform_int_distribution<int> at(0, 39);
    int over = 0;
    for (int i = 0; i < 2000; ++i) {
        std::array<int, 4> a{}, b{};
        for (auto* r : {&a, &b}) {
            for (int k = 0; k < 2; ++k) {
                auto& low = (*r)[static_cast<std::size_t>(2 * k)];
                auto& high = (*r)[static_cast<std::size_t>(2 * k + 1)];
                low = at(random) * 100;
                high = low + 100 + at(random) * 50;
            }
        }
        const auto room = [](const char* name, const std::array<int, 4>& r) {
            return room_of(name, {{r[0], r[2]}, {r[1], r[2]}, {r[1], r[3]}, {r[0], r[3]}});
        };
        const bool expected = a[0] < b[1] && b[0] < a[1] && a[2] < b[3] && b[2] < a[3];
        Problems problems = rooms_in(house, {room("a", a), room("b", b)});
        const bool found = std::any_of(problems.begin(), problems.end(),
                                       [](const Problem& p) { return p.what == "room b lies over room a"; });
        CHECK(found == expected);
        over += expected ? 1 : 0;
    }
    CHECK(over > 100);
    CHECK(over < 1900);
}

TEST_CASE("a house heated past its cooling is refused only where it is cooled") {
    Occupancy people;
    people.heating = from_file(301.15);
    Problems problems;
    check_people(people, false, problems);
    CHECK(problems.empty());
    check_people(people, true, problems);
    REQUIRE(problems.size() == 1);
    CHECK(
        problems[0].what ==
        "heating keeps 82 degF (28.0 degC), cooling 79 degF (26.0 degC): they would work against each other");
    CHECK(problems[0].where.line == 7);
}

TEST_CASE("the defaults of people, fans, heating, cooling and code are in order") {
    Problems problems;
    check_people({}, true, problems);
    check_ventilation({}, problems);
    check_heating({}, problems);
    check_cooling({}, problems);
    check_code({}, problems);
    CHECK(problems.empty());
}

TEST_CASE("hours fill the day once") {
    const auto found = [](std::vector<std::array<double, 3>> hours) {
        Problems problems;
        check_hours("[energy.a]", hours, std::vector<Place>(hours.size()), {}, problems);
        std::string out;
        for (const auto& p : problems) out += p.what + "; ";
        return out;
    };
    CHECK(found({{0, 24, 1}}).empty());
    CHECK(found({{0, 6, 1}, {6, 22, 2}, {22, 24, 1}}).empty());
    CHECK(found({{1, 24, 1}}) == "[energy.a]: no price from 00:00 to 01:00; ");
    CHECK(found({{0, 8, 1}, {7.5, 24, 1}}) == "[energy.a]: two prices from 07:30 to 08:00; ");
    // A short row within a long one does not open a gap behind it.
    CHECK(found({{0, 20, 1}, {3, 4, 1}, {20, 24, 1}}) == "[energy.a]: two prices from 03:00 to 04:00; ");
    CHECK(found({{0, 23.75, 1}}) == "[energy.a]: no price from 23:45 to 24:00; ");
}

TEST_CASE("blocks rise and the last has no end") {
    constexpr double end = std::numeric_limits<double>::infinity();
    const auto count = [](std::vector<std::array<double, 2>> blocks) {
        Problems problems;
        check_blocks("[energy.a]", blocks, std::vector<Place>(blocks.size()), problems);
        return problems.size();
    };
    CHECK(count({{end, 1}}) == 0);
    CHECK(count({{3.6e9, 1}, {7.2e9, 2}, {end, 3}}) == 0);
    CHECK(count({{3.6e9, 1}, {3.6e9, 2}, {end, 3}}) == 1);
    CHECK(count({{3.6e9, 1}}) == 1);
    CHECK(count({{end, 1}, {end, 2}}) == 1);
}
