#include "climate/sun.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <span>

#include "climate/sun_terms.h"

namespace warmside::climate {

namespace {

constexpr double pi = std::numbers::pi;
constexpr double degree = pi / 180.0;
constexpr double arc_second = degree / 3600.0;
constexpr double day = 86400.0;
constexpr double typical_delta_t = 64.3;  // s, 2002

double wrapped(double angle) {
    angle = std::fmod(angle, 2.0 * pi);
    return angle < 0.0 ? angle + 2.0 * pi : angle;
}

double periodic(std::span<const terms::Term> rows, double t) {
    double sum = 0.0;
    for (const auto& row : rows) sum += row.amplitude * std::cos(row.phase + row.rate * t);
    return sum;
}

// Horner over the orders of one quantity, 1e-8 taken off at the end.
double series(std::initializer_list<std::span<const terms::Term>> orders, double t) {
    double sum = 0.0;
    for (auto order = std::rbegin(orders); order != std::rend(orders); ++order)
        sum = sum * t + periodic(*order, t);
    return sum / 1e8;
}

struct Nutation {
    double longitude, obliquity;  // rad
};

// reda-andreas-2004, equations 15 to 23; t in Julian centuries
Nutation nutation_at(double t) {
    const auto cubic = [t](double a, double b, double c, double d) { return a + t * (b + t * (c + t * d)); };
    const std::array argument{cubic(297.85036, 445267.111480, -0.0019142, 1.0 / 189474.0),
                              cubic(357.52772, 35999.050340, -0.0001603, -1.0 / 300000.0),
                              cubic(134.96298, 477198.867398, 0.0086972, 1.0 / 56250.0),
                              cubic(93.27191, 483202.017538, -0.0036825, 1.0 / 327270.0),
                              cubic(125.04452, -1934.136261, 0.0020708, 1.0 / 450000.0)};
    Nutation sum{0.0, 0.0};
    for (const auto& row : terms::nutation) {
        double angle = 0.0;
        for (std::size_t i = 0; i < argument.size(); ++i) angle += row.multiple[i] * argument[i];
        sum.longitude += (row.a + row.b * t) * std::sin(angle * degree);
        sum.obliquity += (row.c + row.d * t) * std::cos(angle * degree);
    }
    return {sum.longitude * 1e-4 * arc_second, sum.obliquity * 1e-4 * arc_second};
}

// reda-andreas-2004, equation 24; u in units of 10000 Julian years, rad
double mean_obliquity(double u) {
    constexpr std::array c{84381.448, -4680.93, -1.55, 1999.25, -51.38, -249.67,
                           -39.05,    7.12,     27.87, 5.79,    2.45};
    double sum = 0.0;
    for (auto i = c.rbegin(); i != c.rend(); ++i) sum = sum * u + *i;
    return sum * arc_second;
}

// reda-andreas-2004, equations 28 and 29, rad
double mean_sidereal_time(double julian_day) {
    const double t = (julian_day - 2451545.0) / 36525.0;
    return wrapped(
        (280.46061837 + 360.98564736629 * (julian_day - 2451545.0) + t * t * (0.000387933 - t / 38710000.0)) *
        degree);
}

// reda-andreas-2004, equation 42, rad; below the horizon by more than the sun's radius and the refraction
// there, none
double refraction(double elevation, const Site& site) {
    const double e = elevation / degree;
    if (e < -(0.26667 + 0.5667)) return 0.0;
    // The source counts kelvin as 273 + t.
    return site.pressure / 101000.0 * 283.0 / (site.temperature - 0.15) * 1.02 /
           (60.0 * std::tan((e + 10.3 / (e + 5.11)) * degree)) * degree;
}

}  // namespace

double julian_day(const Instant& instant) {
    int year = instant.year, month = instant.month;
    if (month <= 2) {
        year -= 1;
        month += 12;
    }
    const double whole =
        std::floor(365.25 * (year + 4716)) + std::floor(30.6001 * (month + 1)) + instant.day - 1524.5;
    const double century = std::floor(year / 100.0);
    const double gregorian = whole > 2299160.0 ? 2.0 - century + std::floor(century / 4.0) : 0.0;
    return whole + gregorian + instant.seconds / day;
}

GeocentricSun geocentric_sun(double julian_day, double delta_t) {
    const double t = (julian_day + delta_t / day - 2451545.0) / 365250.0;  // ephemeris millennia
    using namespace terms;
    GeocentricSun sun;
    sun.heliocentric_longitude =
        wrapped(series({longitude0, longitude1, longitude2, longitude3, longitude4, longitude5}, t));
    sun.heliocentric_latitude = series({latitude0, latitude1}, t);
    sun.distance = series({distance0, distance1, distance2, distance3, distance4}, t);

    const auto turn = nutation_at(10.0 * t);
    sun.nutation_longitude = turn.longitude;
    sun.nutation_obliquity = turn.obliquity;
    sun.obliquity = mean_obliquity(t / 10.0) + turn.obliquity;
    const double aberration = -20.4898 * arc_second / sun.distance;
    sun.apparent_longitude = wrapped(sun.heliocentric_longitude + pi + turn.longitude + aberration);
    sun.sidereal_time = wrapped(mean_sidereal_time(julian_day) + turn.longitude * std::cos(sun.obliquity));

    const double longitude = sun.apparent_longitude, latitude = -sun.heliocentric_latitude;
    sun.right_ascension = wrapped(std::atan2(
        std::sin(longitude) * std::cos(sun.obliquity) - std::tan(latitude) * std::sin(sun.obliquity),
        std::cos(longitude)));
    sun.declination = std::asin(std::sin(latitude) * std::cos(sun.obliquity) +
                                std::cos(latitude) * std::sin(sun.obliquity) * std::sin(longitude));
    return sun;
}

SunPosition topocentric_sun(const GeocentricSun& sun, const Site& site) {
    // reda-andreas-2004, equations 32 to 40
    const double hour_angle = sun.sidereal_time + site.longitude - sun.right_ascension;
    const double parallax = std::sin(8.794 * arc_second / sun.distance);
    const double reduced = std::atan(0.99664719 * std::tan(site.latitude));
    const double x = std::cos(reduced) + site.elevation / 6378140.0 * std::cos(site.latitude);
    const double y = 0.99664719 * std::sin(reduced) + site.elevation / 6378140.0 * std::sin(site.latitude);
    const double away = std::cos(sun.declination) - x * parallax * std::cos(hour_angle);
    const double shift = std::atan2(-x * parallax * std::sin(hour_angle), away);

    SunPosition seen;
    seen.declination = std::atan2((std::sin(sun.declination) - y * parallax) * std::cos(shift), away);
    const double H = std::remainder(hour_angle - shift, 2.0 * pi);
    seen.hour_angle = H;

    // equations 41 to 47
    const double sin_lat = std::sin(site.latitude), cos_lat = std::cos(site.latitude);
    const double sine =
        sin_lat * std::sin(seen.declination) + cos_lat * std::cos(seen.declination) * std::cos(H);
    seen.elevation_airless = std::asin(std::clamp(sine, -1.0, 1.0));
    seen.zenith = pi / 2.0 - seen.elevation_airless - refraction(seen.elevation_airless, site);
    seen.azimuth =
        wrapped(pi + std::atan2(std::sin(H), std::cos(H) * sin_lat - std::tan(seen.declination) * cos_lat));
    return seen;
}

SunPosition sun_position(const Instant& instant, const Site& site, double delta_t) {
    return topocentric_sun(geocentric_sun(julian_day(instant), delta_t), site);
}

SunYear::SunYear(const Site& site, double utc_offset)
    : site_(site), utc_offset_(utc_offset), first_day_(julian_day({.year = 2001, .month = 12, .day = 29})) {
    // Three days of margin at either end: one for the time zone, two for the cubic.
    constexpr int count = 365 + 7;
    days_.reserve(count);
    for (int i = 0; i < count; ++i) {
        const auto sun = geocentric_sun(first_day_ + i, typical_delta_t);
        const double before = days_.empty() ? sun.right_ascension : days_.back().right_ascension;
        days_.push_back({.right_ascension = before + std::remainder(sun.right_ascension - before, 2.0 * pi),
                         .declination = sun.declination,
                         .distance = sun.distance,
                         .sidereal_excess = std::remainder(
                             sun.sidereal_time - mean_sidereal_time(first_day_ + i), 2.0 * pi)});
    }
}

GeocentricSun SunYear::geocentric(double seconds) const {
    const double since = 3.0 + (seconds - utc_offset_) / day;
    const auto i =
        static_cast<std::size_t>(std::clamp(std::floor(since), 1.0, static_cast<double>(days_.size()) - 3.0));
    const double u = since - static_cast<double>(i);
    // Lagrange cubic through the days i - 1 to i + 2
    const std::array weight{-u * (u - 1.0) * (u - 2.0) / 6.0, (u + 1.0) * (u - 1.0) * (u - 2.0) / 2.0,
                            -(u + 1.0) * u * (u - 2.0) / 2.0, (u + 1.0) * u * (u - 1.0) / 6.0};
    const auto mix = [&](double Day::* what) {
        double sum = 0.0;
        for (std::size_t k = 0; k < weight.size(); ++k) sum += weight[k] * (days_[i - 1 + k].*what);
        return sum;
    };
    GeocentricSun sun;
    sun.right_ascension = mix(&Day::right_ascension);
    sun.declination = mix(&Day::declination);
    sun.distance = mix(&Day::distance);
    sun.sidereal_time = mean_sidereal_time(first_day_ + since) + mix(&Day::sidereal_excess);
    return sun;
}

SunPosition SunYear::at(double seconds) const {
    return topocentric_sun(geocentric(seconds), site_);
}

double SunYear::distance(double seconds) const {
    return geocentric(seconds).distance;
}

HourSun SunYear::hour(int hour) const {
    const double middle = (hour + 0.5) * 3600.0;
    HourSun found{.position = at(middle)};
    // The declination moves by at most 0.008 degrees in half an hour, so the horizon is crossed where the
    // hour angle reaches +-half_day; the hour is an interval of hour angles around its middle.
    const double sine = -std::tan(site_.latitude) * std::tan(found.position.declination);
    if (sine >= 1.0) return found;
    const double half_hour = pi / 24.0;
    const double half_day = sine <= -1.0 ? pi : std::acos(sine);
    // Around midnight the hour may touch both the evening and the next morning; the longer part gives the
    // position.
    double offset = 0.0, longest = 0.0;
    for (const double turn : {-2.0 * pi, 0.0, 2.0 * pi}) {
        const double noon = turn - found.position.hour_angle;
        const double begin = std::max(-half_hour, noon - half_day),
                     end = std::min(half_hour, noon + half_day);
        if (end <= begin) continue;
        found.share += (end - begin) / (2.0 * half_hour);
        if (end - begin > longest) {
            longest = end - begin;
            offset = 0.5 * (begin + end);
        }
    }
    found.share = std::min(found.share, 1.0);
    if (found.share > 0.0 && found.share < 1.0) found.position = at(middle + offset / (2.0 * pi) * day);
    return found;
}

}  // namespace warmside::climate
