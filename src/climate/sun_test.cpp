#include "climate/sun.h"

#include <cmath>
#include <doctest/doctest.h>
#include <numbers>

using namespace warmside::climate;

namespace {

constexpr double degree = std::numbers::pi / 180.0;

// reda-andreas-2004, table A5.1: 17 October 2003, 12:30:30 at UTC-7, delta T 67 s
const Instant nrel_instant{.year = 2003, .month = 10, .day = 17, .seconds = (12 + 7) * 3600.0 + 30 * 60.0 + 30.0};
const Site nrel_site{.latitude = 39.742476 * degree,
                     .longitude = -105.1786 * degree,
                     .elevation = 1830.14,
                     .pressure = 82000.0,
                     .temperature = 284.15};

}  // namespace

TEST_CASE("the published case is met with every intermediate value, to the digits printed") {
    const double jd = julian_day(nrel_instant);
    CHECK(std::abs(jd - 2452930.312847) < 5e-7);
    const auto sun = geocentric_sun(jd, 67.0);
    CHECK(std::abs(sun.heliocentric_longitude / degree - 24.0182616917) < 5e-11);
    CHECK(std::abs(sun.heliocentric_latitude / degree - -0.0001011219) < 5e-11);
    CHECK(std::abs(sun.distance - 0.9965422974) < 5e-11);
    CHECK(std::abs(sun.nutation_longitude / degree - -0.00399840) < 5e-9);
    CHECK(std::abs(sun.nutation_obliquity / degree - 0.00166657) < 5e-9);
    CHECK(std::abs(sun.obliquity / degree - 23.440465) < 5e-7);
    CHECK(std::abs(sun.apparent_longitude / degree - 204.0085519281) < 5e-11);
    CHECK(std::abs(sun.sidereal_time / degree - 318.511910) < 5e-6);
    CHECK(std::abs(sun.right_ascension / degree - 202.227408) < 5e-7);
    CHECK(std::abs(sun.declination / degree - -9.31434) < 5e-6);
    const auto seen = topocentric_sun(sun, nrel_site);
    CHECK(std::abs(seen.hour_angle / degree - 11.10627) < 5e-6);
    CHECK(std::abs(seen.declination / degree - -9.316179) < 5e-7);
    CHECK(std::abs(seen.elevation_airless / degree - 39.872046) < 5e-7);
    CHECK(std::abs(seen.zenith / degree - 50.11162) < 5e-6);
    CHECK(std::abs(seen.azimuth / degree - 194.340241) < 5e-7);
}
