// The generated years of built-in places against the figures that they are made from and against the hourly
// files.
#include <array>

#include "climate/generate.h"
#include "climate/statistics.h"
#include "proof/inputs.h"

namespace warmside::proof {
namespace {

Result<std::string> place_of_case(const Given& given) {
    Inputs in(given);
    auto place = in.reader().required(in.reader().text("place"), "place");
    if (auto good = in.done(); !good) return fail(std::move(good).error());
    return place.value_or(std::string{});
}

Result<climate::YearFigures> figures_of_case(const Given& given) {
    const auto name = place_of_case(given);
    if (!name) return fail(name.error());
    const auto place = climate::find_place(*name);
    if (!place) return fail(place.error());
    const auto year = climate::generate(**place);
    if (!year) return fail(year.error());
    return climate::figures_of(*year);
}

template <std::size_t n>
std::vector<double> list(const std::array<double, n>& values) {
    return {values.begin(), values.end()};
}

/// given: place. Monthly means of temperature (K) and global radiation (W/m2), monthly rain (kg/m2), HDD65 (K
/// d).
Result<Outcome> generated_months(const Given& given) {
    const auto figures = figures_of_case(given);
    if (!figures) return fail(figures.error());
    return Outcome{{"temperature", list(figures->temperature)},
                   {"global", list(figures->global)},
                   {"rain", list(figures->rain)},
                   {"hdd65_kelvin_days", {figures->heating_degree_days}}};
}

/// given: place. Figures of the whole year; spreads in K.
Result<Outcome> generated_year(const Given& given) {
    const auto figures = figures_of_case(given);
    if (!figures) return fail(figures.error());
    return Outcome{{"temperature", {figures->mean_temperature}},
                   {"hdd65_kelvin_days", {figures->heating_degree_days}},
                   {"daily_spread", {figures->daily_spread}},
                   {"hourly_spread", {figures->hourly_spread}},
                   {"daily_spread_in_month", {figures->daily_spread_in_month}},
                   {"hourly_spread_in_month", {figures->hourly_spread_in_month}},
                   {"global", {figures->mean_global}},
                   {"rain", {figures->rain_sum}}};
}

constexpr std::array operations{
    Operation{"climate.generated_months", generated_months},
    Operation{"climate.generated_year", generated_year},
};

}  // namespace

std::span<const Operation> climate_generator_operations() {
    return operations;
}

}  // namespace warmside::proof
