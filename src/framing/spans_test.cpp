#include "framing/spans.h"

#include <doctest/doctest.h>

#include "base/embedded.h"

using namespace warmside;
using namespace warmside::framing;

namespace {
constexpr double psf = 47.880259, foot = 0.3048;
}

TEST_CASE("the built-in header table reads, all its rows") {
    const auto text = embedded::find("data/framing/spans/headers.toml");
    REQUIRE(text);
    const auto table = read_headers("headers.toml", *text);
    REQUIRE(table);
    CHECK(table->headers.size() == 46);
    CHECK(table->kings.span.size() == 8);
}

TEST_CASE("outside the header table there is no answer") {
    CHECK_FALSE(header_for(4 * foot, 24 * foot, 71 * psf, Carries::roof, true));
    CHECK_FALSE(header_for(4 * foot, 37 * foot, 30 * psf, Carries::roof, true));
    CHECK_FALSE(header_for(12 * foot, 24 * foot, 30 * psf, Carries::roof, true));
    CHECK_FALSE(header_row(1, "2x10", 24 * foot, 30 * psf, Carries::roof, true));
}

TEST_CASE("room limits the choice: plies that fit, height that is there") {
    const auto deep = header_for(7 * foot, 24 * foot, 30 * psf, Carries::roof, true);
    REQUIRE(deep);
    CHECK(deep->plies == 2);
    CHECK(deep->member == "2x12");
    const auto thick = header_for(7 * foot, 24 * foot, 30 * psf, Carries::roof, true, 3, 0.2);
    REQUIRE(thick);
    CHECK(thick->plies == 3);
    CHECK(thick->member == "2x8");
    CHECK_FALSE(header_for(7 * foot, 24 * foot, 30 * psf, Carries::roof, true, 2, 0.2));
}

TEST_CASE("king studs take the next longer row; above 18 ft there is none") {
    // IRC 2021 Table R602.7.5 (seen): 6 ft 2 / 1, 10 ft 3 / 2.
    CHECK(kings_for(3 * foot, false) == 1);
    CHECK(kings_for(5 * foot, false) == 2);
    CHECK(kings_for(5 * foot, true) == 1);
    CHECK(kings_for(9 * foot, false) == 3);
    CHECK_FALSE(kings_for(19 * foot, false));
}

TEST_CASE("a header row with unequal columns is refused with its place") {
    const auto bad =
        read_headers("x.toml",
                     "[[header]]\ncarries = \"roof\"\nground_snow = \"30 psf\"\nplies = 2\nmember = \"2x8\"\n"
                     "width = [\"24 ft\"]\nspan = [\"5 ft\", \"6 ft\"]\njacks = [1]\nsource = \"s\"\n"
                     "evidence = \"seen\"\n");
    REQUIRE_FALSE(bad);
    CHECK(bad.error().code == Code::conflict);
    CHECK(bad.error().where.line == 1);
}
