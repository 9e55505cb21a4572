#include "house/systems.h"

#include <cmath>
#include <doctest/doctest.h>

#include "base/what.h"

namespace warmside::house {

namespace {

using assembly::Fuel;
using assembly::Heating;
using assembly::PerformancePoint;

template <class T>
Sourced<T> is(T value) {
    return {value, {}};
}

struct Year {
    std::vector<double> heating, cooling, outdoor, fans;
    explicit Year(std::size_t hours, double heat = 0.0, double out = 273.15)
        : heating(hours, heat), cooling(hours, 0.0), outdoor(hours, out), fans(hours, 0.0) {}
    [[nodiscard]] Need need() const { return {heating, cooling, outdoor, fans}; }
};

double bought(const Supply& supply, Fuel fuel, Stream::Purpose purpose) {
    double total = 0.0;
    for (const auto& stream : supply.streams)
        if (stream.fuel == fuel && stream.purpose == purpose)
            for (const double power : stream.power) total += power;
    return total;
}

// -20, 0, 10 degC
const std::vector<PerformancePoint> points{
    {253.15, 5000.0, 2.0}, {273.15, 7000.0, 3.0}, {283.15, 8000.0, 4.0}};

Heating heat_pump() {
    Heating out;
    out.kind = is(Heating::Kind::heat_pump);
    out.fuel = is(Fuel::electricity);
    out.points = points;
    return out;
}

}  // namespace

TEST_CASE("a furnace burns need over efficiency and distribution, and its blower runs") {
    Heating furnace;
    furnace.efficiency = is(0.95);
    furnace.distribution = is(0.9);
    const Year year(10, 8550.0);
    const auto done = supply(furnace, {}, year.need());
    REQUIRE_MESSAGE(done, what_of(done));
    // by hand: 8550/0.9 = 9500 W to the ducts, 10,000 W of propane
    CHECK(bought(*done, Fuel::propane, Stream::Purpose::heating) == doctest::Approx(10 * 10000.0));
    CHECK(bought(*done, Fuel::electricity, Stream::Purpose::fans) == doctest::Approx(10 * 9500.0 * 0.02));
    CHECK(done->efficiency == doctest::Approx(0.855));
    REQUIRE(!done->notes.empty());
    CHECK(done->notes[0].find("no source") != std::string::npos);
}

TEST_CASE("what is beyond the stated capacity is missing, and said") {
    Heating furnace;
    furnace.efficiency = is(1.0);
    furnace.capacity = is(4000.0);
    Year year(2, 3000.0);
    year.heating[1] = 5000.0;
    const auto done = supply(furnace, {}, year.need());
    REQUIRE(done);
    CHECK(done->short_heating == doctest::Approx(3600.0 * 1000.0));
    CHECK(bought(*done, Fuel::propane, Stream::Purpose::heating) == doctest::Approx(7000.0));
    CHECK(done->notes.back().find("beyond the stated capacity") != std::string::npos);
}

TEST_CASE("resistance buys what the rooms need") {
    Heating resistance;
    resistance.kind = is(Heating::Kind::resistance);
    resistance.fuel = is(Fuel::electricity);
    const auto done = supply(resistance, {}, Year(5, 1000.0).need());
    REQUIRE(done);
    CHECK(bought(*done, Fuel::electricity, Stream::Purpose::heating) == doctest::Approx(5000.0));
    CHECK(done->efficiency == doctest::Approx(1.0));
}

TEST_CASE("between points the line, at points the points") {
    const auto middle = performance(points, 263.15);
    CHECK(middle.capacity == doctest::Approx(6000.0));
    CHECK(middle.efficiency == doctest::Approx(2.5));
    CHECK(middle.side == Performance::Side::inside);
    for (const auto& point : points) {
        CHECK(performance(points, point.outdoor).capacity == doctest::Approx(point.capacity));
        CHECK(performance(points, point.outdoor).efficiency == doctest::Approx(point.efficiency));
        CHECK(performance(points, point.outdoor).side == Performance::Side::inside);
    }
}

TEST_CASE("beyond the points a machine gets worse, never better, and the answer tells") {
    const auto cold = performance(points, 243.15);
    CHECK(cold.side == Performance::Side::colder);
    CHECK(cold.capacity == doctest::Approx(4000.0));
    CHECK(cold.efficiency == doctest::Approx(1.5));
    CHECK(performance(points, 200.0).efficiency == 1.0);
    CHECK(performance(points, 100.0).capacity == 0.0);
    const auto warm = performance(points, 300.0);
    CHECK(warm.side == Performance::Side::warmer);
    CHECK(warm.efficiency == 4.0);
    const std::vector<PerformancePoint> odd{{253.15, 9000.0, 3.0}, {273.15, 7000.0, 2.0}};
    CHECK(performance(odd, 243.15).capacity == 9000.0);
    CHECK(performance(odd, 243.15).efficiency == 3.0);
    const std::vector<PerformancePoint> one{{273.15, 7000.0, 2.0}};
    CHECK(performance(one, 243.15).capacity == 7000.0);
    const std::vector<PerformancePoint> cooling{{293.15, 5000.0, 5.0}, {308.15, 4500.0, 3.5}};
    CHECK(performance(cooling, 313.15, false).efficiency == doctest::Approx(3.0));
    CHECK(performance(cooling, 283.15, false).efficiency == 5.0);
}

TEST_CASE("a heat pump: its efficiency of the hour, resistance above its capacity and below its cut-off") {
    Heating machine = heat_pump();
    machine.cut_off = is(248.15);
    Year year(4, 6000.0, 263.15);  // 6000 W at COP 2.5
    year.heating[1] = 9000.0;      // 6000 at 2.5 and 3000
    year.outdoor[2] = 245.15;      // all by resistance
    year.outdoor[3] = 250.15;      // colder than the points: 4700 W at 1.85, and 1300
    const auto done = supply(machine, {}, year.need());
    REQUIRE_MESSAGE(done, what_of(done));
    const auto& power = done->streams[0].power;
    CHECK(power[0] == doctest::Approx(2400.0));
    CHECK(power[1] == doctest::Approx(5400.0));
    CHECK(power[2] == doctest::Approx(6000.0));
    CHECK(power[3] == doctest::Approx(4700.0 / 1.85 + 1300.0));
    CHECK(done->backup == doctest::Approx(3600.0 * (3000.0 + 6000.0 + 1300.0)));
    CHECK(done->beyond == 1);
    bool told = false;
    for (const auto& note : done->notes)
        told = told || note.find("1 hours (5 kWh of heat) are colder") != std::string::npos;
    CHECK(told);
}

TEST_CASE("without points a demo curve stands in, as large as needed, and says that it is invented") {
    Heating machine = heat_pump();
    machine.points.clear();
    Year year(3, 2000.0, 281.15);
    year.outdoor[1] = 258.15;
    year.heating[1] = 6000.0;
    const auto done = supply(machine, {}, year.need());
    REQUIRE(done);
    CHECK(done->notes[0].find("demo curve, invented") != std::string::npos);
    CHECK(done->capacity == doctest::Approx(6000.0 / 0.75));
    CHECK(done->backup == doctest::Approx(0.0));
    CHECK(done->streams[0].power[1] == doctest::Approx(3000.0));
    CHECK(done->efficiency < 3.6);
    CHECK(done->efficiency > 2.0);
}

TEST_CASE("cooling by its efficiency or points, and ventilation's fans") {
    Year year(2, 0.0, 300.65);
    year.cooling = {3500.0, 7000.0};
    year.fans = {50.0, 70.0};
    assembly::Cooling cooling;
    cooling.kind = is(assembly::Cooling::Kind::air_conditioner);
    cooling.capacity = is(5250.0);
    Heating resistance;
    resistance.kind = is(Heating::Kind::resistance);
    const auto done = supply(resistance, cooling, year.need());
    REQUIRE(done);
    CHECK(bought(*done, Fuel::electricity, Stream::Purpose::cooling) == doctest::Approx(1000.0 + 1500.0));
    CHECK(bought(*done, Fuel::electricity, Stream::Purpose::fans) == doctest::Approx(120.0));
    CHECK(done->short_cooling == doctest::Approx(3600.0 * 1750.0));
    cooling.points = {{293.15, 8000.0, 5.0}, {308.15, 7000.0, 3.0}};
    const auto by_points = supply(resistance, cooling, year.need());
    REQUIRE(by_points);
    CHECK(bought(*by_points, Fuel::electricity, Stream::Purpose::cooling) == doctest::Approx(10500.0 / 4.0));
    CHECK(by_points->short_cooling == 0.0);
}

TEST_CASE("missing and impossible points and needs are Problems") {
    Heating machine = heat_pump();
    machine.origin.where = {"house.toml", 12, 1};
    std::swap(machine.points[0], machine.points[1]);
    const auto turned = supply(machine, {}, Year(2, 1.0).need());
    REQUIRE_FALSE(turned);
    CHECK(turned.error().code == Code::conflict);
    CHECK(turned.error().where.line == 12);
    machine.points = {{273.15, 0.0, 3.0}};
    CHECK(supply(machine, {}, Year(2, 1.0).need()).error().code == Code::out_of_range);
    machine = heat_pump();
    machine.distribution = is(0.0);
    CHECK(supply(machine, {}, Year(2, 1.0).need()).error().code == Code::out_of_range);
    Heating furnace;
    furnace.efficiency = is(1.4);
    CHECK(supply(furnace, {}, Year(2, 1.0).need()).error().code == Code::out_of_range);
    CHECK(supply(heat_pump(), {}, Year(2, std::nan("")).need()).error().code == Code::out_of_range);
    Year uneven(2, 1.0);
    uneven.fans.pop_back();
    CHECK(supply(heat_pump(), {}, uneven.need()).error().code == Code::incomplete);
    Year cooled(2, 1.0);
    cooled.cooling[0] = 10.0;
    CHECK(supply(heat_pump(), {}, cooled.need()).error().code == Code::conflict);
    CHECK(read_systems("a", "", "b", "").error().code == Code::missing);
    CHECK(check({}, "x", {}).error().code == Code::incomplete);
}

}  // namespace warmside::house
