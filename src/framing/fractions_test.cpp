#include "framing/fractions.h"

#include <doctest/doctest.h>

using namespace warmside;
using framing::published_fraction;

TEST_CASE("16 and 24 in o.c. have the handbook's 25 and 22 %, the metric modules too") {
    // ASHRAE Handbook Fundamentals 2021, chapter 27 (seen)
    CHECK(published_fraction(16 * 0.0254)->whole == doctest::Approx(0.25));
    CHECK(published_fraction(0.4)->whole == doctest::Approx(0.25));
    CHECK(published_fraction(24 * 0.0254)->whole == doctest::Approx(0.22));
    CHECK(published_fraction(0.6)->headers == doctest::Approx(0.04));
    CHECK_FALSE(published_fraction(0.6)->interpolated);
}

TEST_CASE("between the published spacings the fraction is interpolated and says so, outside there is none") {
    const auto between = published_fraction(19.2 * 0.0254);
    REQUIRE(between);
    CHECK(between->interpolated);
    CHECK(between->whole < 0.25);
    CHECK(between->whole > 0.22);
    CHECK_FALSE(published_fraction(12 * 0.0254));
    CHECK_FALSE(published_fraction(0.8));
}

TEST_CASE("a fraction above 1, rows out of order and an empty file are refused") {
    const auto row = [](const char* from, const char* share) {
        return std::string("[[fraction]]\nspacing_from = \"") + from +
               "\"\nspacing_to = \"1 m\"\nmembers = " + share +
               "\nheaders = 0.04\nsource = \"x\"\nevidence = \"seen\"\n";
    };
    CHECK(framing::read_fractions("a.toml", row("0.4 m", "0.2")));
    CHECK(framing::read_fractions("a.toml", row("0.4 m", "1.2")).error().code == Code::out_of_range);
    CHECK(framing::read_fractions("a.toml", row("0.4 m", "0.2") + row("0.3 m", "0.2")).error().code ==
          Code::conflict);
    CHECK_FALSE(framing::read_fractions("a.toml", ""));
}
