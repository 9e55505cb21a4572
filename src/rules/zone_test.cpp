#include <doctest/doctest.h>

#include "rules/zone.h"

using namespace warmside;
using namespace warmside::rules;

TEST_CASE("zones read as people write them, and back") {
    for (const char* text : {"0A", "1A", "3C", "4A", "4C", "5B", "6A", "7", "8"}) {
        const auto zone = read_zone(text);
        REQUIRE(zone);
        CHECK(name_of(*zone) == text);
    }
    CHECK(*read_zone("marine 4") == Zone{4, 'C'});
    CHECK(*read_zone("6a") == Zone{6, 'A'});
    CHECK(column_of({4, 'C'}) == columns - 1);
    CHECK(column_of({4, 'A'}) == 4);
    CHECK(column_of({0, 'B'}) == 0);
    CHECK(column_name(columns - 1) == "4C");
}

TEST_CASE("what is no zone is refused: 9, letters, Marine where there is none, zone 4 without a letter") {
    for (const char* text : {"", "9", "6D", "A6", "6AA", "marine", "-1", "7C", "1C"}) {
        CAPTURE(text);
        const auto zone = read_zone(text);
        REQUIRE_FALSE(zone);
        CHECK(zone.error().code == Code::unknown_name);
    }
    CHECK(read_zone("4").error().what ==
          "\"4\" needs its letter (4A, 4B or 4C): Marine 4 has rules of its own");
}

TEST_CASE("a county has its zone by the map of 2021; a state may have one for all") {
    CHECK(zone_of_county("Minnesota", "St. Louis")->zone == Zone{7});
    CHECK(zone_of_county("MN", "hennepin")->zone == Zone{6, 'A'});
    CHECK(zone_of_county("VT", "Washington")->zone == Zone{6, 'A'});
    CHECK(zone_of_county("California", "Humboldt")->zone == Zone{4, 'C'});
    CHECK(zone_of_county("MN", "Hennepin")->origin.evidence == Evidence::seen);
    const auto typo = zone_of_county("Minnesota", "Henepin");
    REQUIRE_FALSE(typo);
    CHECK(typo.error().suggestion == "Hennepin");
    CHECK_FALSE(zone_of_county("Florida", "Dade"));
}

TEST_CASE("the older map of edition 2018 is from memory, and four places differ from the map of 2021") {
    int differ = 0;
    for (const auto& place : climate::places()) {
        const auto old_zone = zone_of(place, 2018), new_zone = zone_of(place, 2021);
        REQUIRE(old_zone);
        REQUIRE(new_zone);
        CHECK(old_zone->origin.evidence == Evidence::memory);
        CHECK(zone_of(place, 2024)->zone == new_zone->zone);
        if (!(old_zone->zone == new_zone->zone)) ++differ;
    }
    // Concord, Madison, Sault Ste. Marie, Fargo: the reference notes, section 0.
    CHECK(differ == 4);
}
