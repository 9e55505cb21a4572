#include "drawing/axes.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "climate/year.h"
#include "drawing/made_up.h"

using namespace warmside;
using namespace warmside::drawing;

TEST_CASE("ticks stand at the first moment of each month of the calendar, the years' ends included") {
    // From 1 October (hour 6552) for one year: October has 744 h, November 720 h.
    const TimeAxis axis{0.0, 8760.0, 6552, climate::hours_in_year};
    const auto ticks = month_ticks(axis);
    REQUIRE(ticks.size() == 13);
    CHECK(ticks[0].hour == 0);
    CHECK(ticks[0].month == 9);
    CHECK(ticks[1].hour == 744);
    CHECK(ticks[2].hour == 744 + 720);
    CHECK(ticks[3].month == 0);
    CHECK(ticks[3].hour == 8760 - 6552);
    CHECK(ticks[12].hour == 8760);
    CHECK(ticks[12].month == 9);
    for (const auto& tick : ticks) CHECK(tick.x == doctest::Approx(tick.hour));
}

TEST_CASE("a run that begins within a month has its first tick at the next one; no hours, no ticks") {
    const auto ticks = month_ticks({0.0, 100.0, 100, 1000});
    REQUIRE(ticks.size() == 1);
    CHECK(ticks[0].hour == 644);
    CHECK(ticks[0].month == 1);
    CHECK(month_ticks({0.0, 100.0, 0, 0}).empty());
    CHECK(TimeAxis{7.0, 100.0, 0, 0}.x(5.0) == 7.0);
}

TEST_CASE("round figures cover the range with steps of 1, 2 or 5") {
    CHECK(round_ticks(0.0, 26.0, 3) == std::vector<double>{0.0, 10.0, 20.0});
    CHECK(round_ticks(0.0, 1.0, 5).size() == 6);
    for (const double top : {1e-4, 0.3, 7.0, 40.0, 1234.0}) {
        const auto ticks = round_ticks(0.0, top, 4);
        REQUIRE(ticks.size() >= 2);
        CHECK(ticks.size() <= 6);
        CHECK(ticks.back() <= top * (1.0 + 1e-9));
    }
    CHECK(round_ticks(1.0, 1.0, 4).empty());
    CHECK(round_ticks(0.0, std::numeric_limits<double>::quiet_NaN(), 4).empty());
}

TEST_CASE("labels keep their place where they can, their gap always, and never leave the frame") {
    const auto far = spread({10.0, 50.0, 90.0}, 12.0, 0.0, 100.0);
    CHECK(far == std::vector<double>{10.0, 50.0, 90.0});
    for (const auto& wanted :
         {std::vector<double>{50.0, 50.0, 50.0}, {0.0, 1.0, 2.0, 99.0}, {95.0, 97.0, 100.0}}) {
        const auto places = spread(wanted, 12.0, 0.0, 100.0);
        REQUIRE(places.size() == wanted.size());
        CHECK(places.front() >= -1e-9);
        CHECK(places.back() <= 100.0 + 1e-9);
        for (std::size_t i = 1; i < places.size(); ++i) CHECK(places[i] - places[i - 1] >= 12.0 - 1e-9);
    }
    const auto pooled = spread({50.0, 50.0}, 12.0, 0.0, 100.0);
    CHECK(pooled[0] == doctest::Approx(44.0));
    CHECK(pooled[1] == doctest::Approx(56.0));
    // No room for the gap: squeezed evenly.
    const auto tight = spread(std::vector<double>(11, 5.0), 12.0, 0.0, 10.0);
    CHECK(tight[1] - tight[0] == doctest::Approx(1.0));
    CHECK(spread({}, 12.0, 0.0, 1.0).empty());
}

TEST_CASE("depth runs up from the inside, to scale") {
    const auto house = made_up::house();
    const auto& wall = house.assemblies[2];
    const Box box{0.0, 20.0, 30.0, 200.0};
    CHECK(depth_y(wall, box, 0.0) == 220.0);
    CHECK(depth_y(wall, box, wall.thickness().metres()) == 20.0);
    CHECK(depth_y(wall, box, wall.thickness().metres() / 2.0) == doctest::Approx(120.0));
}
