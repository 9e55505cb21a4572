#include "house/rooms.h"

#include <doctest/doctest.h>

#include <numeric>

#include "base/embedded.h"

namespace warmside::house {

TEST_CASE("gains by the rule are 17,900 + 23.8 x floor + 4,104 x bedrooms Btu a day") {
    const auto& data = room_data();
    REQUIRE(data);
    assembly::Occupancy people;
    const double floor = 1536.0 * 0.09290304;
    const Gains gains = gains_of(people, floor, *data);
    CHECK(gains.mean ==
          doctest::Approx((17900.0 + 23.8 * 1536.0 + 4104.0 * 3.0) * 1055.056 / 86400.0).epsilon(1e-4));
    CHECK(gains.origin.evidence == Evidence::memory);
    const double mean =
        std::accumulate(gains.heat.hourly.begin(), gains.heat.hourly.end(), 0.0) / hours_in_year;
    CHECK(mean == doctest::Approx(gains.mean));
    CHECK(gains.heat.at(12) == doctest::Approx(2.0 * gains.heat.at(3)));
    people.people = Sourced<double>{2.0, {}};
    CHECK(gains_of(people, floor, *data).mean == doctest::Approx(gains.mean - 2.0 * data->per_bedroom));
    people.gains = Sourced<double>{300.0, {}};
    CHECK(gains_of(people, floor, *data).mean == 300.0);
}

TEST_CASE("the night's set-point holds over midnight") {
    assembly::Occupancy people;
    CHECK(heating_kept(people).at(0) == people.heating.value);
    people.night = Sourced<double>{289.15, {}};
    const Series kept = heating_kept(people);
    CHECK(kept.at(21) == people.heating.value);
    CHECK(kept.at(22) == 289.15);
    CHECK(kept.at(24 + 5) == 289.15);
    CHECK(kept.at(24 + 6) == people.heating.value);
    CHECK(within(12, 9.0, 17.0));
    CHECK_FALSE(within(17, 9.0, 17.0));
}

TEST_CASE("a bad data file says where") {
    const std::string good(*embedded::find("data/house/rooms.toml"));
    const auto refused = [&](const std::string& from, const std::string& to, Code code) {
        std::string text = good;
        const auto at = text.find(from);
        REQUIRE(at != std::string::npos);
        text.replace(at, from.size(), to);
        const auto read = read_rooms("rooms.toml", text);
        REQUIRE_FALSE(read);
        CHECK(read.error().code == code);
        CHECK(read.error().where.line > 0);
    };
    CHECK(read_rooms("rooms.toml", good));
    refused("floor = \"3.1283 W/m2\"", "floor = \"3.1283 W/K\"", Code::wrong_unit);
    refused("ratio = 2.0", "ratio = -2.0", Code::out_of_range);
    refused("[furniture]", "[chairs]", Code::missing);
    refused("evidence = \"memory\"", "evidence = \"hearsay\"", Code::unknown_name);
}

}  // namespace warmside::house
