#include "house/tariff.h"

#include <cmath>
#include <doctest/doctest.h>
#include <limits>

#include "base/what.h"

namespace warmside::house {

namespace {

using assembly::EnergyPrice;
using assembly::Fuel;

constexpr double kwh = 3.6e6;
constexpr double all = std::numeric_limits<double>::infinity();

EnergyPrice blocks() {
    EnergyPrice price;
    price.name = "blocks";
    price.blocks = {{500.0 * kwh, 0.10 / kwh}, {all, 0.20 / kwh}};
    price.monthly = 12.0;
    return price;
}

const climate::PlaceRow* place(std::string_view name) {
    const auto found = climate::find_place(name);
    REQUIRE(found);
    return *found;
}

}  // namespace

TEST_CASE("each month begins again at the first block") {
    const auto done = bill(blocks(), std::vector<double>(8760, 1000.0));
    REQUIRE(done);
    // January 744 kWh: 500 x 0.10 + 244 x 0.20 + 12; February 672: 50 + 34.4 + 12; by hand
    CHECK(done->months[0] == doctest::Approx(110.8));
    CHECK(done->months[1] == doctest::Approx(96.4));
    // 12 x 500 x 0.10 + (8760 - 6000) x 0.20 + 144
    CHECK(done->money == doctest::Approx(600.0 + 552.0 + 144.0));
    CHECK(done->fixed == doctest::Approx(144.0));
    CHECK(done->used[0] == doctest::Approx(744.0 * kwh));
}

TEST_CASE("rates by the hour replace blocks; half an hour counts half") {
    EnergyPrice price = blocks();
    price.hours = {{0.0, 7.0, 0.08 / kwh}, {7.0, 21.5, 0.24 / kwh}, {21.5, 24.0, 0.08 / kwh}};
    price.monthly = 0.0;
    const auto done = bill(price, std::vector<double>(8760, 1000.0));
    REQUIRE(done);
    CHECK(done->money == doctest::Approx(365.0 * (14.5 * 0.24 + 9.5 * 0.08)));
}

TEST_CASE("what is used costs the more, the more is used, and nothing but the charge when none is") {
    const auto none = bill(blocks(), std::vector<double>(8760, 0.0));
    REQUIRE(none);
    CHECK(none->money == none->fixed);
    double before = 0.0;
    for (const double power : {100.0, 600.0, 690.0, 3000.0}) {
        const auto done = bill(blocks(), std::vector<double>(8760, power));
        REQUIRE(done);
        CHECK(done->money > before);
        before = done->money;
    }
}

TEST_CASE("a tariff that does not hold is told at its place") {
    const auto code = [](auto change) {
        EnergyPrice price = blocks();
        price.origin.where = {"house.toml", 7, 1};
        change(price);
        const auto done = check(price);
        REQUIRE_FALSE(done);
        CHECK(done.error().where.line == 7);
        CHECK(done.error().what.find("blocks") != std::string::npos);
        return done.error().code;
    };
    CHECK(code([](auto& p) { p.blocks.clear(); }) == Code::incomplete);
    CHECK(code([](auto& p) { p.blocks.pop_back(); }) == Code::incomplete);
    CHECK(code([](auto& p) { p.blocks[0][0] = all; }) == Code::conflict);
    CHECK(code([](auto& p) { p.blocks[0][1] = -1.0; }) == Code::out_of_range);
    CHECK(code([](auto& p) { p.monthly = std::nan(""); }) == Code::out_of_range);
    CHECK(code([](auto& p) { p.rise = -1.0; }) == Code::out_of_range);
    CHECK(code([](auto& p) { p.hours = {{0.0, 8.0, 1.0}}; }) == Code::incomplete);
    CHECK(code([](auto& p) { p.hours = {{0.0, 8.0, 1.0}, {9.0, 24.0, 1.0}}; }) == Code::conflict);
    CHECK(bill(blocks(), std::vector<double>(10, 0.0)).error().code == Code::incomplete);
    CHECK(bill(blocks(), std::vector<double>(8760, -1.0)).error().code == Code::out_of_range);
    CHECK(bill(blocks(), std::vector<double>(8760, std::nan(""))).error().code == Code::out_of_range);
}

TEST_CASE("the built-in tariffs are read, and say that they are demo") {
    const auto& tariffs = demo_tariffs();
    REQUIRE_MESSAGE(tariffs, what_of(tariffs));
    assembly::Services services;
    const auto duluth = price_of(services, Fuel::electricity, place("Duluth, MN"));
    REQUIRE(duluth);
    CHECK(duluth->demo);
    CHECK(duluth->from.find("demo (US EIA") == 0);
    CHECK(duluth->from.find("Minnesota") != std::string::npos);
    // energy-checks.json, eia-electricity-residential and egrid, MROW
    CHECK(duluth->price.blocks[0][1] == doctest::Approx(0.1519 / kwh));
    CHECK(duluth->carbon.value == doctest::Approx(936.485 * 0.45359237 / 3.6e9));
    const auto nowhere = price_of(services, Fuel::electricity, nullptr);
    REQUIRE(nowhere);
    CHECK(nowhere->price.blocks[0][1] == doctest::Approx(0.1798 / kwh));
    CHECK(nowhere->from.find("United States") != std::string::npos);
    CHECK(nowhere->carbon.value == doctest::Approx(823.149 * 0.45359237 / 3.6e9));
    const auto upper = price_of(services, Fuel::electricity, place("Sault Ste. Marie, MI"));
    REQUIRE(upper);
    CHECK(upper->carbon.origin.source.find("MROE") != std::string::npos);
    const auto oil = price_of(services, Fuel::heating_oil, nullptr);
    REQUIRE(oil);
    CHECK(oil->from.find("invented") != std::string::npos);
    for (const auto& each : climate::places())
        CHECK_MESSAGE(price_of(services, Fuel::electricity, &each)->carbon.origin.source.find("subregion") !=
                          std::string::npos,
                      each.name);
}

TEST_CASE("the house file's tariff goes before the demo one, its carbon before the table's") {
    assembly::Services services;
    EnergyPrice price = blocks();
    price.fuel = Fuel::electricity;
    price.date = "2025";
    price.source = "the utility's sheet";
    services.energy.push_back(price);
    const auto own = price_of(services, Fuel::electricity, place("Duluth, MN"));
    REQUIRE(own);
    CHECK_FALSE(own->demo);
    CHECK(own->from == "the utility's sheet, 2025");
    CHECK(own->carbon.origin.source.find("MROW") != std::string::npos);
    services.energy[0].carbon = 1e-8;
    CHECK(price_of(services, Fuel::electricity, nullptr)->carbon.value == 1e-8);
    services.energy[0].blocks.clear();
    CHECK(price_of(services, Fuel::electricity, nullptr).error().code == Code::incomplete);
    services.money.currency = "EUR";
    CHECK(price_of(services, Fuel::propane, nullptr).error().code == Code::unsupported);
}

TEST_CASE("a bad table of tariffs is told with its line") {
    const auto done =
        read_tariffs("tariffs.toml",
                     "[[tariff]]\nfuel = \"propane\"\ndate = \"2025\"\nsource = \"x\"\nevidence = "
                     "\"none\"\nus = \"2 $/cord\"\nmonthly = \"0 $/month\"\n");
    REQUIRE_FALSE(done);
    CHECK(done.error().code == Code::wrong_unit);
    CHECK(done.error().where.line == 6);
    const auto peat = read_tariffs("tariffs.toml", "[[tariff]]\nfuel = \"peat\"\n");
    REQUIRE_FALSE(peat);
    CHECK(peat.error().code == Code::unknown_name);
}

}  // namespace warmside::house
