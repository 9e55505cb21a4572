#include "climate/generate.h"

#include <fmt/format.h>

#include "air/moist_air.h"
#include "air/saturation.h"
#include "climate/generate_parts.h"

namespace warmside::climate {
namespace {

using generated::Series;

/// The seed of a place: its station number keeps places with like months apart.
std::uint64_t seed_of(const PlaceRow& place, unsigned seed) {
    std::uint64_t hash = 0xcbf29ce484222325ULL;  // FNV-1a
    for (const char c : place.station) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3ULL;
    return hash + 0x9e3779b97f4a7c15ULL * seed;
}

Result<void> check(const PlaceRow& place) {
    for (std::size_t m = 0; m < 12; ++m) {
        const PlaceRow::Month& month = place.months[m];
        const bool plausible = month.temperature > 213.15 && month.temperature < 323.15 &&
                               month.dew_point < month.temperature && month.dew_point > 203.15 &&
                               month.wind_speed > 0.0 && month.rain >= 0.0;
        if (!plausible) {
            return fail(Code::out_of_range,
                        fmt::format("month {} of {} has impossible weather: {:.1f} K, dew point {:.1f} K, "
                                    "wind {:.1f} m/s, rain {:.0f} kg/m2",
                                    m + 1, place.name, month.temperature, month.dew_point, month.wind_speed,
                                    month.rain));
        }
    }
    return {};
}

std::vector<std::string> notes_on(const PlaceRow& place, const Statistics& statistics) {
    std::vector<std::string> notes{
        fmt::format("Generated from the monthly figures of station {}: typical months of 1991 to 2005, not a "
                    "30-year mean.",
                    place.station),
        fmt::format("Day-to-day spread, wet hours, cloud and wind directions: {}.", statistics.from),
        "Rain is liquid only; it falls in cloudy, damp hours above freezing with the wind of the "
        "driving-rain rose.",
        "Air pressure is that of the standard atmosphere at the place's height, constant.",
    };
    if (!statistics.own) {
        // generate_gates_test.cpp prints these limits; docs/methods/generated-weather.md has the table.
        notes.emplace_back(
            "Driving rain is uncertain here: at stations generated without their own file, the wettest face "
            "had 0.3 to 1.3 "
            "times the driving rain of the real file.");
    }
    return notes;
}

}  // namespace

Result<Year> generate_with(const PlaceRow& place, const Statistics& statistics, unsigned seed) {
    if (auto fine = check(place); !fine) return fail(fine.error());
    generated::Draws draws(seed_of(place, seed));
    const generated::Sun sun = generated::sun_of(place);
    auto radiation = generated::radiation_of(place, sun, draws);
    if (!radiation) return fail(radiation.error());
    generated::Temperature temperature = generated::temperature_of(place, statistics, *radiation, draws);
    const Series rough = generated::rough_dew_point(place, statistics, *radiation, temperature, draws);
    Series rain = generated::rain_of(place, statistics, *radiation, temperature.hourly, rough, draws);
    const Series dew = generated::dew_point_of(place, temperature.hourly, rough, rain);
    generated::Wind wind = generated::wind_of(place, statistics, rain, draws);

    Year year{.name = fmt::format("{}, {}", place.name, place.state),
              .latitude = place.latitude,
              .longitude = place.longitude,
              .elevation = place.elevation,
              .utc_offset = place.utc_offset,
              .origin = {.kind = Origin::Kind::computed,
                         .where = place.origin.where,
                         .source = "generated from monthly means: " + place.origin.source,
                         .evidence = Evidence::computed},
              .notes = notes_on(place, statistics)};
    year.cloud = generated::cloud_of(statistics, *radiation, rain);
    year.vapour_pressure.resize(hours_in_year);
    for (std::size_t h = 0; h < dew.size(); ++h) year.vapour_pressure[h] = air::over_water(dew[h]);
    for (double& amount : rain) amount /= 3600.0;
    year.temperature = std::move(temperature.hourly);
    year.pressure.assign(hours_in_year, air::standard_pressure(place.elevation));
    year.wind_speed = std::move(wind.speed);
    year.wind_direction = std::move(wind.direction);
    year.global = std::move(radiation->global);
    year.direct = std::move(radiation->direct);
    year.diffuse = std::move(radiation->diffuse);
    year.rain = std::move(rain);
    return year;
}

Result<Year> generate(const PlaceRow& place, unsigned seed) {
    return generate_with(place, statistics_of(place), seed);
}

}  // namespace warmside::climate
