// The sun against the International Astronomical Union's own routines (ERFA, BSD-3), where installed.
#include <cmath>
#include <doctest/doctest.h>
#include <numbers>

#include "climate/sun.h"
#ifdef WARMSIDE_ERFA
#include <erfa.h>
#endif

using namespace warmside::climate;

TEST_CASE(
    "right ascension, declination and sidereal time agree with ERFA from 1960 to 2060 to 0.0003 degrees") {
#ifndef WARMSIDE_ERFA
    MESSAGE("skipped: the library liberfa is not installed");
#else
    constexpr double degree = std::numbers::pi / 180.0;
    const double delta_t = 64.3;
    for (double ut = 2436934.5; ut < 2473459.0; ut += 97.31) {
        CAPTURE(ut);
        const double tt = delta_t / 86400.0;
        double heliocentric[2][3], barycentric[2][3];
        eraEpv00(ut, tt, heliocentric, barycentric);
        // The direction to the sun, then annual aberration from the earth's velocity (au/d, light 173.14
        // au/d)
        double direction[3], velocity[3], seen[3], of_date[3], turn[3][3];
        double distance = 0.0, speed = 0.0;
        for (int i = 0; i < 3; ++i) distance += heliocentric[0][i] * heliocentric[0][i];
        distance = std::sqrt(distance);
        for (int i = 0; i < 3; ++i) {
            direction[i] = -heliocentric[0][i] / distance;
            velocity[i] = barycentric[1][i] / 173.1446327;
            speed += velocity[i] * velocity[i];
        }
        eraAb(direction, velocity, distance, std::sqrt(1.0 - speed), seen);
        eraPnm06a(ut, tt, turn);
        eraRxp(turn, seen, of_date);
        double right_ascension = 0.0, declination = 0.0;
        eraC2s(of_date, &right_ascension, &declination);

        const auto sun = geocentric_sun(ut, delta_t);
        CHECK(std::abs(std::remainder(sun.right_ascension - right_ascension, 2.0 * std::numbers::pi)) <
              0.0003 * degree);
        CHECK(std::abs(sun.declination - declination) < 0.0003 * degree);
        CHECK(std::abs(sun.distance - distance) < 2e-6);
        CHECK(std::abs(std::remainder(sun.sidereal_time - eraGst06a(ut, 0.0, ut, tt),
                                      2.0 * std::numbers::pi)) < 0.0003 * degree);
    }
#endif
}
