#include <doctest/doctest.h>

#include "air/saturation.h"
#include "climate/year.h"

using namespace warmside;

TEST_CASE("the stressed year is colder, damper and wetter by the stated amounts, and says so") {
    const auto year = climate::generate(**climate::find_place("Duluth"));
    REQUIRE(year);
    const auto stressed = climate::stressed(*year);
    int capped = 0;
    for (std::size_t h = 0; h < year->temperature.size(); ++h) {
        CHECK(year->temperature[h] - stressed.temperature[h] == doctest::Approx(2.0));
        CHECK(stressed.rain[h] == doctest::Approx(1.5 * year->rain[h]));
        const double before = year->vapour_pressure[h] / air::over_water(year->temperature[h]);
        const double after = stressed.vapour_pressure[h] / air::over_water(stressed.temperature[h]);
        CHECK(after == doctest::Approx(std::min(1.0, before + 0.05)));
        CHECK(after <= 1.0 + 1e-12);
        capped += before > 0.95;
    }
    CHECK(capped > 0);
    CHECK(stressed.global == year->global);
    CHECK(stressed.wind_speed == year->wind_speed);
    REQUIRE(stressed.notes.size() == year->notes.size() + 1);
    CHECK(stressed.notes.back() ==
          "Stressed: every hour 2 K colder, relative humidity 5 % higher (at most 100 %), rain times 1.5; "
          "sun, cloud and "
          "wind unchanged.");
    CHECK(climate::check(stressed));
}

TEST_CASE("a stress of nothing changes nothing but the notes") {
    const auto year = climate::generate(**climate::find_place("Helena"));
    REQUIRE(year);
    const auto same = climate::stressed(*year, {.cooling = 0.0, .humidity_rise = 0.0, .rain_factor = 1.0});
    CHECK(same.temperature == year->temperature);
    CHECK(same.rain == year->rain);
    for (std::size_t h = 0; h < same.vapour_pressure.size(); ++h) {
        CHECK(same.vapour_pressure[h] == doctest::Approx(year->vapour_pressure[h]).epsilon(1e-12));
    }
}
