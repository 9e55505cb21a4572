#include "leakage/infiltration.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "air/moist_air.h"
#include "climate/calendar.h"
#include "leakage/ventilation.h"
#include "leakage/year_columns.h"

namespace warmside::leakage {

namespace {

constexpr std::size_t most_storeys = 3, shelters = 5;
std::size_t storey_row(int storeys) {
    return static_cast<std::size_t>(std::clamp(storeys, 1, static_cast<int>(most_storeys)) - 1);
}
std::size_t shelter_row(int shelter) {
    return static_cast<std::size_t>(std::clamp(shelter, 1, static_cast<int>(shelters)) - 1);
}

// sherman-grimsrud-1980 as in ashrae-f16: (L/s)^2/(cm4 K), (L/s)^2/(cm4 (m/s)^2)
constexpr std::array basic_stack{0.000145, 0.000290, 0.000435};
constexpr double basic_wind[most_storeys][shelters]{{0.000319, 0.000246, 0.000174, 0.000104, 0.000032},
                                                    {0.000420, 0.000325, 0.000231, 0.000137, 0.000042},
                                                    {0.000494, 0.000382, 0.000271, 0.000161, 0.000049}};

// walker-wilson-1998 as in ashrae-f16
constexpr std::array wind_multiplier{0.48, 0.59, 0.67};
struct Coefficients {
    std::array<double, most_storeys> stack, wind, wind_crawl;
    std::array<double, shelters> shelter;
};
constexpr Coefficients without_flue{
    {0.054, 0.078, 0.098}, {0.156, 0.170, 0.170}, {0.128, 0.142, 0.151}, {1.00, 0.90, 0.70, 0.50, 0.30}};
constexpr Coefficients with_flue{
    {0.069, 0.089, 0.107}, {0.142, 0.156, 0.167}, {0.128, 0.142, 0.154}, {1.10, 1.02, 0.86, 0.70, 0.54}};

int heated_storeys(const assembly::House& house) {
    const auto heated = std::count_if(house.storeys.begin(), house.storeys.end(),
                                      [](const auto& storey) { return storey.heated; });
    return heated == 0 ? 2 : static_cast<int>(heated);  // the default house has two
}

EnhancedHouse enhanced_house(const assembly::House& house, const HouseLeakage& leakage) {
    EnhancedHouse out{.c = leakage.at(1.0), .n = leakage.exponent};
    out.storeys = heated_storeys(house);
    out.shelter = shelter_of(house.air.terrain);
    for (const auto& floor : house.floors)
        out.crawl = out.crawl || floor.over == assembly::Floor::Over::crawl_space;
    for (const auto& appliance : house.services.appliances)
        out.flue = out.flue || appliance.draught == assembly::Appliance::Draught::natural;
    return out;
}

double winter_mean(const std::vector<double>& hourly) {
    double sum = 0.0;
    int count = 0;
    for (int hour = 0; hour < climate::hours_in_year; ++hour) {
        if (hour >= climate::first_hour_of(2) && hour < climate::first_hour_of(11)) continue;
        sum += hourly[static_cast<std::size_t>(hour)];
        ++count;
    }
    return sum / count;
}

}  // namespace

int shelter_of(assembly::Airtightness::Terrain terrain) {
    using Terrain = assembly::Airtightness::Terrain;
    return terrain == Terrain::open ? 2 : terrain == Terrain::city ? 4 : 3;
}

double basic_infiltration(double area, int storeys, int shelter, double difference, double wind) {
    const std::size_t row = storey_row(storeys);
    const double driving =
        basic_stack[row] * std::abs(difference) + basic_wind[row][shelter_row(shelter)] * wind * wind;
    return 1e4 * area / 1000.0 * std::sqrt(driving);
}

Enhanced enhanced_infiltration(const EnhancedHouse& house, double difference, double wind) {
    const Coefficients& k = house.flue ? with_flue : without_flue;
    const std::size_t row = storey_row(house.storeys);
    const double at_eaves = k.shelter[shelter_row(house.shelter)] * wind_multiplier[row] * wind;
    Enhanced out;
    out.stack = house.c * k.stack[row] * std::pow(std::abs(difference), house.n);
    out.wind = house.c * (house.crawl ? k.wind_crawl : k.wind)[row] * std::pow(at_eaves, 2.0 * house.n);
    out.total = std::hypot(out.stack, out.wind);
    return out;
}

double superposed(double leaks, double supply, double exhaust) {
    return std::min(supply, exhaust) + std::hypot(leaks, supply - exhaust);
}

Result<AirExchange> air_exchange(const assembly::House& house, const climate::Year& year,
                                 const climate::Indoor& indoor, const Pressures& pressures) {
    if (auto good = check_columns("air exchange", year, indoor); !good) return fail(good.error());
    const auto fans = fans_of(house);
    if (!fans) return fail(fans.error());
    auto blown = supply(recovery_of(house.services.ventilation), fans->supply, year, indoor);
    if (!blown) return fail(blown.error());
    AirExchange out{.leaks = pressures.inflow, .supply = std::move(*blown)};
    out.volume = pressures.envelope.volume;
    out.imbalance = pressures.imbalance;
    out.fan_energy = 3600.0 * climate::hours_in_year * fans->power;
    const EnhancedHouse shape = enhanced_house(house, pressures.leakage);
    const double area = pressures.leakage.area();
    // What the fans blow in comes through their duct, not through the leaks.
    const double in = std::max(0.0, out.imbalance), drawn = std::max(0.0, -out.imbalance);
    for (auto* column : {&out.leaks_dry, &out.leaks_heat, &out.basic, &out.enhanced})
        column->reserve(out.leaks.size());
    for (std::size_t i = 0; i < out.leaks.size(); ++i) {
        const double outdoor = year.temperature[i], vapour = year.vapour_pressure[i];
        out.leaks_dry.push_back(out.leaks[i] * dry_density(outdoor, vapour, year.pressure[i]));
        out.leaks_heat.push_back(out.leaks[i] * heat_capacity(outdoor, vapour, year.pressure[i]));
        const double difference = indoor.temperature[i] - outdoor, wind = year.wind_speed[i];
        const double basic = basic_infiltration(area, shape.storeys, shape.shelter, difference, wind);
        const double enhanced = enhanced_infiltration(shape, difference, wind).total;
        out.basic.push_back(superposed(basic, in, drawn) - in);
        out.enhanced.push_back(superposed(enhanced, in, drawn) - in);
    }
    out.winter = winter_mean(out.leaks) / out.volume;
    out.winter_basic = winter_mean(out.basic) / out.volume;
    out.winter_enhanced = winter_mean(out.enhanced) / out.volume;
    return out;
}

}  // namespace warmside::leakage
