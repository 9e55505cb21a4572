#include "answer/places.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <numbers>
#include <numeric>

#include "climate/calendar.h"
#include "leakage/indoor_air.h"

namespace warmside::answer {

namespace {

constexpr std::array<const char*, 8> compass{"north", "northeast", "east", "southeast",
                                             "south", "southwest", "west", "northwest"};
constexpr double base_of_degree_days = 291.4833333333333;  // 65 degF

double mean(const std::vector<double>& values, std::size_t from, std::size_t to) {
    return std::accumulate(values.begin() + static_cast<std::ptrdiff_t>(from),
                           values.begin() + static_cast<std::ptrdiff_t>(to), 0.0) /
           static_cast<double>(to - from);
}

double degree_days(const climate::Year& year) {
    double sum = 0.0;
    for (std::size_t day = 0; day < 365; ++day) {
        sum += std::max(0.0, base_of_degree_days - mean(year.temperature, 24 * day, 24 * day + 24));
    }
    return sum;
}

void describe(const climate::Year& year, Weather& weather) {
    weather.place = year.name;
    weather.mean_temperature = mean(year.temperature, 0, year.temperature.size());
    weather.january = 1e9;
    for (int month = 0; month < 12; ++month) {
        weather.january = std::min(
            weather.january, mean(year.temperature, static_cast<std::size_t>(climate::first_hour_of(month)),
                                  static_cast<std::size_t>(climate::first_hour_of(month + 1))));
    }
    weather.heating_degree_days = degree_days(year);
    weather.notes = year.notes;
}

}  // namespace

thermal::Conditions winter_of(const assembly::House& house, const Weather& weather) {
    return {.inside = house.indoor.temperature, .outside = weather.january};
}

Result<climate::Year> year_of(const assembly::House& house, const Ask& ask) {
    if (ask.weather) return *ask.weather;
    if (!house.weather_file.empty()) {
        return fail(Code::missing, fmt::format("the weather file \"{}\" was not read", house.weather_file),
                    house.origin.where);
    }
    return climate::find_place(house.place)
        .map_error([&](Problem problem) {
            if (problem.where.file.empty()) problem.where = house.origin.where;
            return problem;
        })
        .and_then([](const climate::PlaceRow* place) { return climate::generate(*place); });
}

Result<Surroundings> surroundings(const assembly::House& house, climate::Year typical) {
    Surroundings around;
    around.typical = std::move(typical);
    around.stressed = climate::stressed(around.typical);
    describe(around.typical, around.summary);
    if (const auto place = climate::find_place(house.place); place && house.weather_file.empty()) {
        around.summary.climate_zone = (*place)->climate_zone;
        around.summary.kind = "built in: an hourly year made from monthly means, and the same year stressed";
    } else {
        around.summary.kind = fmt::format("file {}, and the same year stressed", house.weather_file);
    }
    for (const auto& note : around.stressed.notes) {
        auto& notes = around.summary.notes;
        if (std::find(notes.begin(), notes.end(), note) == notes.end()) notes.push_back(note);
    }
    const auto placed = [&](Problem problem) {
        problem.where = house.indoor_origin.where;
        return fail(std::move(problem));
    };
    auto inside = leakage::indoor_air(house, around.typical);
    if (!inside) return placed(std::move(inside).error());
    around.indoor_typical = *std::move(inside);
    auto under_stress = leakage::indoor_air(house, around.stressed);
    if (!under_stress) return placed(std::move(under_stress).error());
    around.indoor_stressed = *std::move(under_stress);
    auto typically = leakage::pressures(house, around.typical, around.indoor_typical);
    if (!typically) return fail(std::move(typically).error());
    auto harshly = leakage::pressures(house, around.stressed, around.indoor_stressed);
    if (!harshly) return fail(std::move(harshly).error());
    around.pressures_typical = std::move(*typically);
    around.pressures_stressed = std::move(*harshly);

    const auto rose = climate::driving_rain_rose(around.typical, house.rain_exposure);
    const auto wettest = static_cast<std::size_t>(std::max_element(rose.begin(), rose.end()) - rose.begin());
    around.summary.wettest_face = compass[wettest];
    around.wall_rain = rose[wettest];
    for (std::size_t face = 0; face < compass.size(); ++face) {
        const climate::Plane plane{static_cast<double>(face) * std::numbers::pi / 4.0,
                                   std::numbers::pi / 2.0};
        for (const bool stress : {false, true}) {
            const auto& year = stress ? around.stressed : around.typical;
            around.walls.push_back({compass[face], plane, stress,
                                    climate::weather_on(year, plane, house.rain_exposure), nullptr});
        }
    }
    return around;
}

std::vector<FaceCase> roof_faces(const assembly::House& house, const Surroundings& around, double tilt) {
    std::vector<FaceCase> faces;
    const bool flat = tilt < 0.05;  // one face
    for (std::size_t face = 0; face < (flat ? 1 : compass.size()); ++face) {
        const climate::Plane plane{static_cast<double>(face) * std::numbers::pi / 4.0, tilt};
        for (const bool stress : {false, true}) {
            const auto& year = stress ? around.stressed : around.typical;
            faces.push_back({flat ? "flat" : fmt::format("{} slope", compass[face]), plane, stress,
                             climate::weather_on(year, plane, house.rain_exposure), nullptr});
        }
    }
    return faces;
}

}  // namespace warmside::answer
