#include "house/money.h"

#include <cmath>
#include <doctest/doctest.h>
#include <limits>

#include "base/what.h"

namespace warmside::house {

namespace {

using assembly::Fuel;

constexpr double kwh = 3.6e6;

assembly::Services services() {
    assembly::Services out;
    assembly::EnergyPrice electricity;
    electricity.name = "electricity";
    electricity.fuel = Fuel::electricity;
    electricity.blocks = {{std::numeric_limits<double>::infinity(), 0.20 / kwh}};
    electricity.monthly = 10.0;
    electricity.carbon = 0.5 / kwh;
    electricity.source = "the utility";
    assembly::EnergyPrice propane = electricity;
    propane.name = "propane";
    propane.fuel = Fuel::propane;
    propane.blocks[0][1] = 0.08 / kwh;
    propane.monthly = 0.0;
    propane.rise = 0.02;
    out.energy = {electricity, propane};
    return out;
}

Supply supply(double propane, double fans) {
    Supply out;
    out.streams.push_back({Fuel::propane, Stream::Purpose::heating, std::vector<double>(8760, propane)});
    out.streams.push_back({Fuel::electricity, Stream::Purpose::fans, std::vector<double>(8760, fans)});
    return out;
}

}  // namespace

TEST_CASE("a year's uses: one bill a fuel, carbon by its factor, sums over fuels") {
    const auto done = yearly(supply(1000.0, 100.0), services(), nullptr);
    REQUIRE_MESSAGE(done, what_of(done));
    REQUIRE(done->uses.size() == 2);
    CHECK(done->uses[0].heating == doctest::Approx(8760.0 * kwh));
    CHECK(done->uses[0].money == doctest::Approx(8760.0 * 0.08));
    CHECK(done->uses[1].fans == doctest::Approx(876.0 * kwh));
    CHECK(done->uses[1].money == doctest::Approx(876.0 * 0.20 + 120.0));
    CHECK(done->money == doctest::Approx(700.8 + 295.2));
    CHECK(done->carbon == doctest::Approx((8760.0 + 876.0) * 0.5));
    CHECK_FALSE(done->demo);
    const auto demo = yearly(supply(1000.0, 100.0), assembly::Services{}, nullptr);
    REQUIRE(demo);
    CHECK(demo->demo);
    CHECK(demo->notes.size() == 2);
    CHECK(demo->uses[0].price_from.find("demo") == 0);
}

TEST_CASE("present worth is the plain sum, n where prices rise as fast as they are discounted") {
    for (const double d : {0.0, 0.01, 0.03, 0.08})
        for (const double e : {-0.01, 0.0, 0.03, 0.05})
            for (const int n : {0, 1, 7, 30}) {
                double sum = 0.0;
                for (int t = 1; t <= n; ++t) sum += std::pow(1.0 + e, t) / std::pow(1.0 + d, t);
                CHECK(present_worth(d, e, n) == doctest::Approx(sum).epsilon(1e-12));
            }
    CHECK(present_worth(0.04, 0.04, 25) == doctest::Approx(25.0));
    CHECK(present_worth(0.03, 0.0, 30) == doctest::Approx((1.0 - std::pow(1.03, -30)) / 0.03));
}

TEST_CASE("a step: savings by fuel, each with its own rise") {
    const auto all = services();
    const auto below = yearly(supply(1000.0, 100.0), all, nullptr);
    const auto above = yearly(supply(600.0, 120.0), all, nullptr);
    REQUIRE(below);
    REQUIRE(above);
    const auto done = step_worth(below->uses, above->uses, 4000.0, all, nullptr);
    REQUIRE_MESSAGE(done, what_of(done));
    const double propane = 0.4 * 8760.0 * 0.08, electricity = -0.02 * 8760.0 * 0.20;
    CHECK(done->energy == doctest::Approx((0.4 - 0.02) * 8760.0 * kwh));
    CHECK(done->money == doctest::Approx(propane + electricity));
    CHECK(done->carbon == doctest::Approx(0.38 * 8760.0 * 0.5));
    REQUIRE(done->payback);
    CHECK(*done->payback == doctest::Approx(4000.0 / (propane + electricity)));
    // by hand: q = 1.02/1.03; A* = q (1 - q^30)/(1 - q)
    const double q = 1.02 / 1.03, rising = q * (1.0 - std::pow(q, 30)) / (1.0 - q);
    const double flat = (1.0 - std::pow(1.03, -30)) / 0.03;
    CHECK(*done->present_value == doctest::Approx(propane * rising + electricity * flat - 4000.0));
    CHECK(done->words ==
          "30 years at 3 % a year, real, propane rising 2 %; prices of the house file (NIST Handbook 135)");
}

TEST_CASE(
    "no payback of a step that saves nothing, none of an unknown cost, at once where it costs nothing") {
    const auto all = services();
    const auto low = yearly(supply(600.0, 100.0), all, nullptr),
               high = yearly(supply(900.0, 100.0), all, nullptr);
    REQUIRE(low);
    REQUIRE(high);
    const auto loses = step_worth(low->uses, high->uses, 100.0, all, nullptr);
    REQUIRE(loses);
    CHECK_FALSE(loses->payback);
    CHECK(*loses->present_value < -100.0);
    const auto unknown = step_worth(high->uses, low->uses, std::nullopt, all, nullptr);
    REQUIRE(unknown);
    CHECK_FALSE(unknown->payback);
    CHECK_FALSE(unknown->present_value);
    CHECK(unknown->words.find("not known") != std::string::npos);
    CHECK(*step_worth(high->uses, low->uses, -50.0, all, nullptr)->payback == 0.0);
}

TEST_CASE("rates and years out of reach are Problems") {
    auto all = services();
    const std::vector<EnergyUse> none;
    all.money.discount.value = std::nan("");
    CHECK(step_worth(none, none, 1.0, all, nullptr).error().code == Code::out_of_range);
    all = services();
    all.money.years.value = 0;
    CHECK(step_worth(none, none, 1.0, all, nullptr).error().code == Code::out_of_range);
    all = services();
    CHECK(step_worth(none, none, std::nan(""), all, nullptr).error().code == Code::out_of_range);
    Supply uneven = supply(1.0, 1.0);
    uneven.streams[1].fuel = Fuel::propane;
    uneven.streams[1].power.pop_back();
    CHECK(yearly(uneven, all, nullptr).error().code == Code::incomplete);
}

}  // namespace warmside::house
