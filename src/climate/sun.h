// Where the sun stands.
#pragma once

#include <array>
#include <vector>

namespace warmside::climate {

/// An instant, proleptic Gregorian, Universal Time.
struct Instant {
    int year = 2002, month = 1, day = 1;
    double seconds = 0.0;  ///< s since 0:00 UT of that day; may be negative or above 86400
};

/// Julian day of an instant, d. Years from -4712; the Gregorian calendar holds from 15 October 1582.
[[nodiscard]] double julian_day(const Instant& instant);

/// The sun seen from the centre of the earth.
struct GeocentricSun {
    double heliocentric_longitude = 0.0;  ///< rad, of the earth, 0 to 2 pi
    double heliocentric_latitude = 0.0;   ///< rad
    double distance = 0.0;                ///< astronomical units
    double nutation_longitude = 0.0;      ///< rad
    double nutation_obliquity = 0.0;      ///< rad
    double obliquity = 0.0;               ///< rad, true
    double apparent_longitude = 0.0;      ///< rad
    double sidereal_time = 0.0;           ///< rad, apparent, at Greenwich
    double right_ascension = 0.0;         ///< rad
    double declination = 0.0;             ///< rad
};

/// The sun seen from a place.
struct SunPosition {
    double zenith = 0.0;             ///< rad from overhead, refraction included
    double azimuth = 0.0;            ///< rad from north, clockwise, 0 to 2 pi
    double elevation_airless = 0.0;  ///< rad above the horizon without refraction
    double hour_angle = 0.0;         ///< rad, topocentric, -pi to pi, positive in the afternoon
    double declination = 0.0;        ///< rad, topocentric
};

/// What the place adds: site and state of the air for parallax and refraction.
struct Site {
    double latitude = 0.0;        ///< rad, north positive
    double longitude = 0.0;       ///< rad, east positive
    double elevation = 0.0;       ///< m
    double pressure = 101325.0;   ///< Pa, yearly mean
    double temperature = 283.15;  ///< K, yearly mean
};

/// Sun from the earth's centre by the solar position algorithm: heliocentric series of 64, 34, 20, ... terms,
/// nutation of 63 terms, aberration.
///
/// julian_day  d, Universal Time; the source's range is the years -2000 to 6000
/// delta_t     s, terrestrial minus universal time
/// Source      reda-andreas-2004, sections 3.1 to 3.10, error 0.0003 degrees; check: proof/climate/sun.toml
[[nodiscard]] GeocentricSun geocentric_sun(double julian_day, double delta_t);

/// Topocentric position with parallax and refraction.
///
/// Source  reda-andreas-2004, sections 3.11 to 3.14; check: proof/climate/sun.toml
[[nodiscard]] SunPosition topocentric_sun(const GeocentricSun& sun, const Site& site);

/// Both steps for one instant. delta_t in s.
[[nodiscard]] SunPosition sun_position(const Instant& instant, const Site& site, double delta_t = 64.3);

/// Mean sun of one hour of a typical year: the position at the middle of the part of the hour in which its
/// centre is above the horizon.
struct HourSun {
    SunPosition position;
    double share = 0.0;  ///< 0..1 of the hour with the sun up; 0 leaves `position` at the middle of the hour
};

/// The sun of a typical year, hour by hour of local standard time. A typical year has no calendar year; 2002
/// stands for it, midway between leap days (delta T 64.3 s). The geocentric sun is computed once a day and
/// interpolated by cubics, which moves the position by less than 0.0001 degrees (sun_test.cpp) and needs 24
/// times fewer evaluations.
class SunYear {
public:
    /// utc_offset in s, local standard time minus UTC.
    SunYear(const Site& site, double utc_offset);
    /// hour 0 is 1 January 0:00 to 1:00 local standard time; 0 to 8759.
    [[nodiscard]] HourSun hour(int hour) const;
    /// Position at `seconds` since 1 January 0:00 local standard time.
    [[nodiscard]] SunPosition at(double seconds) const;
    /// Sun-earth distance at `seconds`, astronomical units.
    [[nodiscard]] double distance(double seconds) const;

private:
    struct Day {
        double right_ascension, declination, distance, sidereal_excess;  // unwrapped rad, rad, au, rad
    };
    [[nodiscard]] GeocentricSun geocentric(double seconds) const;
    Site site_;
    double utc_offset_;
    double first_day_;
    std::vector<Day> days_;
};

}  // namespace warmside::climate
