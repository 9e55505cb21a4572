#include <doctest/doctest.h>

#include <set>

#include "climate/year.h"
#include "units/quantity.h"

using namespace warmside;

TEST_CASE("thirty cold places are built in, each with station, zone and twelve plausible months") {
    REQUIRE(climate::places().size() == 30);
    std::set<std::string> stations;
    for (const auto& place : climate::places()) {
        CAPTURE(place.name);
        CHECK(stations.insert(place.station).second);
        CHECK_FALSE(place.county.empty());
        CHECK_FALSE(place.climate_zone.empty());
        CHECK(place.zone_origin.evidence == Evidence::memory);
        CHECK(place.origin.evidence == Evidence::computed);
        CHECK(place.origin.where.line > 0);
        for (const auto& month : place.months) {
            CHECK(month.temperature > 250.0);
            CHECK(month.temperature < 300.0);
            CHECK(month.dew_point < month.temperature);
            CHECK(month.relative_humidity > 0.2);
            CHECK(month.relative_humidity < 1.0);
            CHECK(month.wind_speed > 0.5);
            CHECK(month.global > 2.0);
            CHECK(month.rain >= 0.0);
        }
    }
}

TEST_CASE("the standard time of a place is within two hours of its sun") {
    for (const auto& place : climate::places()) {
        CAPTURE(place.name);
        const double by_sun = place.longitude * 12.0 * 3600.0 / 3.14159265358979;
        CHECK(std::abs(place.utc_offset - by_sun) < 2.0 * 3600.0);
    }
}

TEST_CASE("a place is found by city, by city and state in words, and by postal code, in any case") {
    for (const char* name : {"Duluth", "duluth", "Duluth, MN", "Duluth, Minnesota", " duluth ,mn"}) {
        CAPTURE(name);
        const auto found = climate::find_place(name);
        REQUIRE(found);
        CHECK((*found)->station == "727450");
    }
    CHECK((*climate::find_place("St Cloud"))->name == "St. Cloud");
    CHECK((*climate::find_place("chicago ohare, illinois"))->state == "IL");
    CHECK((*climate::find_place("Portland, Maine"))->state == "ME");
}

TEST_CASE("an unknown place is refused with the nearest") {
    const auto misspelt = climate::find_place("Dulut, Minnesota");
    REQUIRE_FALSE(misspelt);
    CHECK(misspelt.error().code == Code::unknown_name);
    CHECK(misspelt.error().what == "no built-in weather for \"Dulut, Minnesota\"");
    CHECK(misspelt.error().suggestion == "Duluth, Minnesota");
    CHECK(climate::find_place("fairbank").error().suggestion == "Fairbanks, Alaska");
    CHECK(climate::find_place("Timbuktu").error().suggestion.empty());
    CHECK_FALSE(climate::find_place(""));
}

TEST_CASE("a city in the wrong state is another place") {
    const auto other = climate::find_place("Portland, Oregon");
    REQUIRE_FALSE(other);
    CHECK(other.error().suggestion == "Portland, Maine");
}
