// Sun, sky, rain on a face and indoor air.
#include <array>
#include <cmath>
#include <numbers>

#include "climate/indoor.h"
#include "climate/irradiance.h"
#include "climate/rain.h"
#include "climate/sky.h"
#include "climate/sun.h"
#include "proof/inputs.h"

namespace warmside::proof {
namespace {

/// given: year, month, day, time (s since 0:00 local), utc_offset, delta_t, latitude, longitude, elevation,
/// pressure, temperature. Every intermediate value of the algorithm; rad, au, d.
Result<Outcome> sun_position(const Given& given) {
    Inputs in(given);
    climate::Instant instant{.year = in.whole("year", -2000, 6000),
                             .month = in.whole("month", 1, 12),
                             .day = in.whole("day", 1, 31)};
    instant.seconds = in.one("time", units::duration) - in.one("utc_offset", units::duration);
    const double delta_t = in.one("delta_t", units::duration);
    const climate::Site site{.latitude = in.one("latitude", units::angle),
                             .longitude = in.one("longitude", units::angle),
                             .elevation = in.one("elevation", units::length),
                             .pressure = in.one("pressure", units::pressure),
                             .temperature = in.one("temperature", units::temperature)};
    if (const auto done = in.done(); !done) return fail(done.error());
    const double jd = climate::julian_day(instant);
    const auto sun = climate::geocentric_sun(jd, delta_t);
    const auto seen = climate::topocentric_sun(sun, site);
    constexpr double turn = 2.0 * std::numbers::pi;
    const double true_zenith = 0.25 * turn - seen.elevation_airless;
    return Outcome{
        {"julian_day", {jd}},
        {"heliocentric_longitude", {sun.heliocentric_longitude}},
        {"heliocentric_latitude", {sun.heliocentric_latitude}},
        {"distance", {sun.distance}},
        {"nutation_longitude", {sun.nutation_longitude}},
        {"nutation_obliquity", {sun.nutation_obliquity}},
        {"obliquity", {sun.obliquity}},
        {"apparent_longitude", {sun.apparent_longitude}},
        {"sidereal_time", {sun.sidereal_time}},
        {"right_ascension", {sun.right_ascension}},
        {"declination", {sun.declination}},
        {"sidereal_mean", {sun.sidereal_time - sun.nutation_longitude * std::cos(sun.obliquity)}},
        {"hour_angle", {std::remainder(sun.sidereal_time + site.longitude - sun.right_ascension, turn)}},
        {"topocentric_right_ascension", {sun.sidereal_time + site.longitude - seen.hour_angle}},
        {"elevation", {0.25 * turn - seen.zenith}},
        {"topocentric_declination", {seen.declination}},
        {"topocentric_hour_angle", {seen.hour_angle}},
        {"elevation_without_refraction", {seen.elevation_airless}},
        {"refraction", {true_zenith - seen.zenith}},
        {"zenith", {seen.zenith}},
        {"azimuth", {seen.azimuth}}};
}

/// given: diffuse, direct, extraterrestrial, zenith, azimuth, tilt, facade. Sky diffuse on the plane and its
/// parts; W/m2.
Result<Outcome> perez_diffuse(const Given& given) {
    Inputs in(given);
    const climate::Plane plane{.azimuth = in.one("facade", units::angle),
                               .tilt = in.one("tilt", units::angle)};
    const double diffuse = in.one("diffuse", units::heat_flux), direct = in.one("direct", units::heat_flux),
                 extraterrestrial = in.one("extraterrestrial", units::heat_flux, {.least = 1.0}),
                 zenith = in.one("zenith", units::angle), azimuth = in.one("azimuth", units::angle);
    if (const auto done = in.done(); !done) return fail(done.error());
    const auto sky = climate::perez_diffuse(plane, diffuse, direct, extraterrestrial, zenith, azimuth);
    return Outcome{{"clearness", {sky.clearness}},
                   {"bin", {static_cast<double>(sky.bin)}},
                   {"brightness", {sky.brightness}},
                   {"circumsolar", {sky.circumsolar}},
                   {"horizon", {sky.horizon}},
                   {"sky_diffuse", {sky.on_plane}},
                   {"uniform", {climate::uniform_diffuse(plane, diffuse)}}};
}

/// given: zenith. Relative air mass.
Result<Outcome> air_mass(const Given& given) {
    Inputs in(given);
    const double zenith = in.one("zenith", units::angle);
    if (const auto done = in.done(); !done) return fail(done.error());
    return Outcome{{"air_mass", {climate::air_mass(zenith)}}};
}

/// given: temperature, dew_point, pressure, hour (of the day, h), opaque (0..1). Clear emissivity; sky
/// temperature, K.
Result<Outcome> sky(const Given& given) {
    Inputs in(given);
    const double T = in.one("temperature", units::temperature), dew = in.one("dew_point", units::temperature),
                 pressure = in.one("pressure", units::pressure),
                 hour = in.one("hour", units::duration) / 3600.0,
                 opaque = in.one("opaque", units::fraction, {.least = 0.0, .most = 1.0});
    if (const auto done = in.done(); !done) return fail(done.error());
    const double clear = climate::clear_sky_emissivity(dew, pressure, hour);
    const double emissivity = climate::cloudy_sky_emissivity(clear, opaque);
    return Outcome{{"clear_emissivity", {clear}}, {"temperature", {climate::sky_temperature(T, emissivity)}}};
}

/// given: clearness (global over cloudless global). Cloud cover, 0..1.
Result<Outcome> cloud_cover(const Given& given) {
    Inputs in(given);
    const double clearness = in.one("clearness", units::fraction);
    if (const auto done = in.done(); !done) return fail(done.error());
    return Outcome{{"cover", {climate::cloud_cover(clearness)}}};
}

/// given: wind_speed. Convective film, W/(m2 K).
Result<Outcome> convective_film(const Given& given) {
    Inputs in(given);
    const double wind = in.one("wind_speed", units::speed, {.least = 0.0});
    if (const auto done = in.done(); !done) return fail(done.error());
    return Outcome{{"film", {climate::convective_film(wind)}}};
}

/// given: rain (kg/(m2 h)), wind_speed, angle (wind to the wall's normal), exposure, deposition. Rain on a
/// wall, kg/(m2 s).
Result<Outcome> driving_rain(const Given& given) {
    Inputs in(given);
    const double rain = in.one("rain", units::moisture_flux), wind = in.one("wind_speed", units::speed),
                 angle = in.one("angle", units::angle);
    const climate::RainExposure exposure{.exposure = in.one("exposure", units::number),
                                         .deposition = in.one("deposition", units::number)};
    if (const auto done = in.done(); !done) return fail(done.error());
    return Outcome{{"on_wall", {climate::rain_on({.azimuth = 0.0}, rain, wind, angle, exposure)}}};
}

/// given: outdoor (mean). Indoor temperature and relative humidity of EN 15026; `high` load.
Result<Outcome> en15026_indoor(const Given& given) {
    Inputs in(given);
    const double outdoor = in.one("outdoor", units::temperature);
    const bool high = in.flag("high");
    if (const auto done = in.done(); !done) return fail(done.error());
    return Outcome{{"temperature", {climate::en15026_temperature(outdoor)}},
                   {"relative_humidity", {climate::en15026_humidity(outdoor, high)}}};
}

/// given: outdoor (24 h mean). Design indoor relative humidity of ASHRAE 160, simplified.
Result<Outcome> ashrae160_indoor(const Given& given) {
    Inputs in(given);
    const double outdoor = in.one("outdoor", units::temperature);
    if (const auto done = in.done(); !done) return fail(done.error());
    return Outcome{{"relative_humidity", {climate::ashrae160_humidity(outdoor)}}};
}

/// given: outdoor (monthly mean), class. Vapour pressure indoors above outdoors of ISO 13788, Pa.
Result<Outcome> iso13788_excess(const Given& given) {
    Inputs in(given);
    const double outdoor = in.one("outdoor", units::temperature);
    const int humidity_class = in.whole("class", 1, 5);
    if (const auto done = in.done(); !done) return fail(done.error());
    const double excess = climate::iso13788_excess(humidity_class, outdoor);
    return Outcome{{"excess", {excess}}};
}

constexpr std::array operations{
    Operation{"climate.sun_position", sun_position},
    Operation{"climate.perez_diffuse", perez_diffuse},
    Operation{"climate.air_mass", air_mass},
    Operation{"climate.sky", sky},
    Operation{"climate.cloud_cover", cloud_cover},
    Operation{"climate.convective_film", convective_film},
    Operation{"climate.driving_rain", driving_rain},
    Operation{"climate.en15026_indoor", en15026_indoor},
    Operation{"climate.ashrae160_indoor", ashrae160_indoor},
    Operation{"climate.iso13788_excess", iso13788_excess},
};

}  // namespace

std::span<const Operation> climate_operations() {
    return operations;
}

}  // namespace warmside::proof
