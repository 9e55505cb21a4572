#include "units/quantity.h"

#include <doctest/doctest.h>

using namespace warmside;
using units::parse;

TEST_CASE("builders' lengths are read exactly") {
    CHECK(*parse("5 1/2 in", units::length) == doctest::Approx(0.1397).epsilon(1e-12));
    CHECK(*parse("5-1/2 in", units::length) == doctest::Approx(0.1397).epsilon(1e-12));
    CHECK(*parse("8 ft 1 1/8 in", units::length) == doctest::Approx(97.125 * 0.0254).epsilon(1e-12));
    CHECK(*parse("8' 1 1/8\"", units::length) == doctest::Approx(97.125 * 0.0254).epsilon(1e-12));
    CHECK(*parse("3/4 in", units::length) == doctest::Approx(0.01905).epsilon(1e-12));
    CHECK(*parse("195 mm", units::length) == doctest::Approx(0.195).epsilon(1e-12));
    CHECK(units::parse_exact("1/64 in")->count() == 3175);
    CHECK(units::parse_exact("45 mm")->count() == 360000);
}

TEST_CASE("R, RSI, U, sd and mu carry their unit in front") {
    CHECK(*parse("R-23", units::thermal_resistance) == doctest::Approx(23 * 0.176110184).epsilon(1e-8));
    CHECK(*parse("RSI 4.1", units::thermal_resistance) == 4.1);
    CHECK(*parse("U-0.045", units::transmittance) == doctest::Approx(0.045 * 5.678263341).epsilon(1e-8));
    CHECK(*parse("sd 2 m", units::permeance) == doctest::Approx(1e-10));
    CHECK(*parse("mu 60", units::permeability) == doctest::Approx(2e-10 / 60));
}

TEST_CASE("a wrong unit, a bare number and a half sum are refused in words") {
    CHECK(parse("5.5 W", units::length).error().what == "\"5.5 W\" is not a length (m, mm, in, ft)");
    CHECK_FALSE(parse("5.5", units::length));
    CHECK_FALSE(parse("1/2 mm", units::length));
    CHECK_FALSE(parse("5 mm 2 in", units::length));
    CHECK_FALSE(parse("2 ft 3 ft", units::length));
    CHECK_FALSE(parse("nan m", units::length));
    CHECK_FALSE(parse("1e999 m", units::length));
    CHECK_FALSE(parse("", units::length));
    CHECK_FALSE(parse("R-", units::thermal_resistance));
}

TEST_CASE("a rate is no mixed fraction") {
    CHECK(*parse("0.5 1/h", units::air_change) == doctest::Approx(0.5 / 3600).epsilon(1e-12));
    CHECK(*parse("100 1/h", units::air_change) == doctest::Approx(100.0 / 3600).epsilon(1e-12));
    CHECK(*parse("5 /h", units::air_change) == doctest::Approx(5.0 / 3600).epsilon(1e-12));
    CHECK_FALSE(parse("5 1/2 1/h", units::air_change));
}

TEST_CASE("temperatures have an offset, differences have none") {
    CHECK(*parse("68 degF", units::temperature) == doctest::Approx(293.15).epsilon(1e-12));
    CHECK(*parse("-12.5 degC", units::temperature) == doctest::Approx(260.65).epsilon(1e-12));
    CHECK(*parse("9 degF", units::temperature_difference) == doctest::Approx(5.0).epsilon(1e-12));
}

TEST_CASE("lengths go back to builders' text") {
    CHECK(units::inches(0.1397) == "5 1/2 in");
    CHECK(units::inches(0.0127) == "1/2 in");
    CHECK(units::feet_inches(97.125 * 0.0254) == "8 ft 1 1/8 in");
    CHECK(units::millimetres(0.195) == "195 mm");
}
