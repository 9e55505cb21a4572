#include "climate/sun.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <doctest/doctest.h>
#include <numbers>

using namespace warmside::climate;

namespace {

constexpr double degree = std::numbers::pi / 180.0;

// reda-andreas-2004, table A5.1: 17 October 2003, 12:30:30 at UTC-7, delta T 67 s
const Instant nrel_instant{
    .year = 2003, .month = 10, .day = 17, .seconds = (12 + 7) * 3600.0 + 30 * 60.0 + 30.0};
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

TEST_CASE("Julian days of the published table") {
    // reda-andreas-2004, table A4.1 (memory); Meeus, Astronomical Algorithms, chapter 7
    CHECK(julian_day({.year = 2000, .month = 1, .day = 1, .seconds = 43200.0}) == 2451545.0);
    CHECK(julian_day({.year = 1987, .month = 6, .day = 19, .seconds = 43200.0}) == 2446966.0);
    CHECK(julian_day({.year = 1600, .month = 12, .day = 31}) == 2305812.5);
    CHECK(julian_day({.year = 837, .month = 4, .day = 10, .seconds = 0.3 * 86400.0}) ==
          doctest::Approx(2026871.8));
    CHECK(julian_day({.year = -1000, .month = 7, .day = 12, .seconds = 43200.0}) == 1356001.0);
    CHECK(julian_day({.year = -4712, .month = 1, .day = 1, .seconds = 43200.0}) == 0.0);
}

TEST_CASE("the interpolated sun of a year is the computed one to 0.0001 degrees") {
    const SunYear year(nrel_site, -7 * 3600.0);
    double worst = 0.0;
    for (int hour = 0; hour < 8760; hour += 7) {
        const double seconds = hour * 3600.0 + 1234.0;
        const auto exact = sun_position({.year = 2002, .seconds = seconds + 7 * 3600.0}, nrel_site);
        const auto quick = year.at(seconds);
        worst = std::max(worst, std::abs(quick.elevation_airless - exact.elevation_airless));
        worst = std::max(worst, std::abs(std::remainder(quick.azimuth - exact.azimuth, 360.0 * degree)) *
                                    std::sin(exact.zenith));
    }
    CHECK(worst < 0.0001 * degree);
}

TEST_CASE("morning and afternoon mirror each other about solar noon") {
    const SunYear year({.latitude = 46.8 * degree, .longitude = 0.0}, 0.0);
    for (int day = 0; day < 365; day += 13) {
        CAPTURE(day);
        double noon = day * 86400.0 + 43200.0;
        for (int step = 0; step < 4; ++step)
            noon -= year.at(noon).hour_angle / (2.0 * std::numbers::pi) * 86400.0;
        const auto before = year.at(noon - 3 * 3600.0), after = year.at(noon + 3 * 3600.0);
        // The declination moves on by up to 0.1 degrees in the six hours between them.
        CHECK(std::abs(before.elevation_airless - after.elevation_airless) < 0.11 * degree);
        CHECK(std::abs(before.azimuth + after.azimuth - 360.0 * degree) < 0.25 * degree);
    }
}

TEST_CASE("an hour holds the sun for the share that a minute count gives") {
    for (const double latitude : {-30.0, 5.0, 46.8, 64.8, 67.5, 75.0}) {
        const Site site{.latitude = latitude * degree, .longitude = -93.0 * degree};
        const SunYear year(site, -6 * 3600.0);
        for (int hour = 0; hour < 8760; hour += 5) {
            const auto found = year.hour(hour);
            int up = 0;
            for (int minute = 0; minute < 60; ++minute) {
                up += year.at(hour * 3600.0 + minute * 60.0 + 30.0).elevation_airless > 0.0 ? 1 : 0;
            }
            CAPTURE(latitude);
            CAPTURE(hour);
            // Near the polar circles the sun grazes the horizon and the hour angle is a blunt measure.
            const double within = std::abs(latitude) > 60.0 ? 0.15 : 0.02;
            CHECK(std::abs(found.share - up / 60.0) < within);
            if (found.share > within) CHECK(found.position.elevation_airless > -0.2 * degree);
        }
    }
}

TEST_CASE("the day is longest at the June solstice and the sun is due south at noon") {
    const Site duluth{.latitude = 46.833 * degree, .longitude = -92.217 * degree};
    const SunYear year(duluth, -6 * 3600.0);
    std::array<double, 365> length{};
    for (int hour = 0; hour < 8760; ++hour)
        length[static_cast<std::size_t>(hour / 24)] += year.hour(hour).share;
    const auto longest = std::max_element(length.begin(), length.end()) - length.begin();
    CHECK(longest >= 169);  // 19 June
    CHECK(longest <= 174);  // 24 June
    CHECK(year.at(171 * 86400.0 + 43200.0 + 9 * 60.0).azimuth / degree ==
          doctest::Approx(180.0).epsilon(0.03));
}
