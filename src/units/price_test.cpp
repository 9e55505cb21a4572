#include "units/price.h"

#include <doctest/doctest.h>

using namespace warmside;
using units::parse_amount;
using units::parse_price;
using units::Per;

// Exact factors: gallon 231 in3, cord 128 ft3, foot 0.3048 m, therm 1e5 Btu of 1055.05585262 J (NIST Handbook
// 44, appendix C; evidence: memory).
TEST_CASE("a price is money for an energy, a volume, a mass or a month") {
    const auto kwh = parse_price("0.152 $/kWh");
    REQUIRE(kwh);
    CHECK(kwh->currency == "$");
    CHECK(kwh->amount.per == Per::joule);
    CHECK(kwh->each() == doctest::Approx(0.152 / 3.6e6).epsilon(1e-12));
    CHECK(parse_price("1.20 $/therm")->each() == doctest::Approx(1.20 / 105505585.262).epsilon(1e-12));
    const auto gallon = parse_price("2.46 $/gallon");
    REQUIRE(gallon);
    CHECK(gallon->amount.per == Per::cubic_metre);
    CHECK(gallon->each() == doctest::Approx(2.46 / (231 * 0.0254 * 0.0254 * 0.0254)).epsilon(1e-12));
    const auto gas = parse_price("14.75 $/1000 ft3");
    REQUIRE(gas);
    CHECK(gas->amount.unit == "ft3");
    CHECK(gas->each() == doctest::Approx(14.75 / 28.316846592).epsilon(1e-12));
    CHECK(parse_price("14.75 $/Mcf")->each() == doctest::Approx(gas->each()).epsilon(1e-12));
    CHECK(parse_price("280 $/cord")->each() == doctest::Approx(280 / 3.624556363776).epsilon(1e-12));
    CHECK(parse_price("300 EUR/tonne")->amount.per == Per::kilogram);
    CHECK(parse_price("12.50 $/month")->each() == 12.5);
}

TEST_CASE("the currency stands before or behind the number and stays as written") {
    CHECK(parse_price("$0.152/kWh")->each() == parse_price("0.152 $/kWh")->each());
    CHECK(parse_price("$ 0.152 / kWh")->money == 0.152);
    CHECK(parse_price("1.9 kr/kWh")->currency == "kr");
    CHECK(parse_price("0.30 €/kWh")->currency == "€");
    // Negative prices are read; whether they may stand is not a question of units.
    CHECK(parse_price("-0.01 $/kWh")->money == -0.01);
}

TEST_CASE("what is no price is refused in words") {
    CHECK(parse_price("0.15 $").error().what ==
          "\"0.15 $\" is not a price (0.15 $/kWh, 2.46 $/gallon, 12 $/month)");
    CHECK(parse_price("0.15 $/ft").error().code == Code::wrong_unit);
    for (const char* text :
         {"", "/", "$/kWh", "0.15/kWh", "0.15 $ $/kWh", "$0.15 $/kWh", "nan $/kWh", "1e999 $/kWh", "0.15 $/",
          "0.15 $/0 kWh", "0.15 $/-1 kWh", "0.15 $/kWh/h", "0.15 dollars of mine/kWh", "0.15 $/1 2 kWh",
          "-inf $/kWh", "--1 $/kWh", "1 $/1e999 kWh", "1e308 $/1e-300 J"}) {
        CAPTURE(text);
        CHECK_FALSE(parse_price(text));
    }
}

TEST_CASE("an amount of fuel has a number and a unit of energy, volume or mass") {
    CHECK(parse_amount("500 kWh")->value == doctest::Approx(1.8e9).epsilon(1e-12));
    CHECK(parse_amount("100 gallons")->per == Per::cubic_metre);
    CHECK(parse_amount("2 short ton")->value == doctest::Approx(1814.36948).epsilon(1e-12));
    CHECK(parse_amount("kWh").error().code == Code::syntax);
    CHECK(parse_amount("5 ft").error().what ==
          "\"5 ft\" is not an amount of fuel (kWh, therm, gallon, ft3, cord, tonne)");
    CHECK_FALSE(parse_amount("1 month"));
    CHECK_FALSE(parse_amount("0 kWh"));
}
