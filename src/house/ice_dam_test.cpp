#include "house/ice_dam.h"

#include <cmath>
#include <doctest/doctest.h>
#include <vector>

#include "base/what.h"

namespace warmside::house {

TEST_CASE("the deck lies between attic and air by the resistances, and only its hours above freezing count") {
    const auto& snow = snow_cover();
    REQUIRE_MESSAGE(snow, what_of(snow));
    // by hand: 0.138 - 1.01 x 0.2 + 3.233 x 0.04 = 0.06532; 0.2/0.06532 + 0.04 = 3.10186; film and deck 0.1 +
    // 0.2
    const double share = 3.10186 / (3.10186 + 0.3);
    const std::vector<double> attic{280.15, 271.15, 283.15, 280.15}, air{263.15, 263.15, 274.15, 273.10};
    const auto done = ice_dam(attic, air, 0.2);
    REQUIRE(done);
    CHECK(done->hours == 2);  // the second attic is cold, the third hour's air is above freezing
    const double first = 263.15 + 17.0 * share - 273.15, last = 273.10 + 7.05 * share - 273.15;
    CHECK(done->degree_hours == doctest::Approx(first + last).epsilon(1e-4));
    CHECK(done->words.find("our own index") != std::string::npos);
}

TEST_CASE("a colder attic, a better deck and thinner snow never make it worse") {
    std::vector<double> attic, air;
    for (int hour = 0; hour < 500; ++hour) {
        air.push_back(273.15 - 20.0 * std::abs(std::sin(0.05 * hour)));
        attic.push_back(air.back() + 9.0 + 4.0 * std::cos(0.03 * hour));
    }
    const auto index = [&](double colder, double deck, double depth) {
        auto snow = *snow_cover();
        snow.depth.value = depth;
        auto under = attic;
        for (double& each : under) each -= colder;
        return ice_dam(under, air, deck, true, snow)->degree_hours;
    };
    const double base = index(0.0, 0.2, 0.2);
    CHECK(base > 0.0);
    CHECK(index(2.0, 0.2, 0.2) < base);
    CHECK(index(0.0, 1.0, 0.2) < base);
    CHECK(index(0.0, 0.2, 0.05) < base);
    CHECK(index(30.0, 0.2, 0.2) == 0.0);
}

TEST_CASE("an attic above 30 degF with air below 22 degF is counted for an attic alone") {
    const std::vector<double> attic{274.0, 274.0, 270.0}, air{265.0, 270.0, 265.0};
    CHECK(ice_dam(attic, air, 0.2)->words.find("in 1 hours") != std::string::npos);
    CHECK(ice_dam(attic, air, 5.0, false)->words.find("field work") == std::string::npos);
}

TEST_CASE("what cannot be is refused") {
    const std::vector<double> two{270.0, 270.0}, one{270.0};
    CHECK(ice_dam(two, one, 0.2).error().code == Code::incomplete);
    CHECK(ice_dam(two, two, -1.0).error().code == Code::out_of_range);
    CHECK(ice_dam(two, two, std::nan("")).error().code == Code::out_of_range);
    CHECK(read_snow("s.toml", "[snow]\n").error().code == Code::missing);
}

}  // namespace warmside::house
