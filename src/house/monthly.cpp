#include "house/monthly.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace warmside::house {

namespace {

constexpr std::array days_in_month{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};

// iso-13790, 12.2.1.1, table 9, monthly method (memory)
constexpr double exponent_base = 1.0, time_constant_base = 15.0 * 3600.0;

// The cells of an element as seen from its inner surface.
double stored_in(const Element& element) {
    double total = 1.0 / (element.convection + element.radiation);
    for (const double conductance : element.conductance) total += 1.0 / conductance;
    const bool closed = element.beyond == none && element.boundary == none;
    // Between two surfaces of one zone there is no other side that stays cold.
    const bool within = element.beyond == element.zone;
    if (element.beyond != none) total += 1.0 / (element.convection_beyond + element.radiation_beyond);
    double stored = 0.0, reached = 1.0 / (element.convection + element.radiation);
    for (std::size_t cell = 0; cell < element.capacity.size(); ++cell) {
        reached += 1.0 / element.conductance[cell];
        stored += element.capacity[cell] * (closed || within ? 1.0 : 1.0 - reached / total);
    }
    return element.area * stored;
}

template <class Each>
std::array<double, 12> by_month(std::span<const double> hourly, Each each) {
    std::array<double, 12> out{};
    std::size_t hour = 0;
    for (std::size_t month = 0; month < out.size(); ++month) {
        const std::size_t end = hour + 24U * static_cast<std::size_t>(days_in_month[month]);
        for (; hour < end && hour < hourly.size(); ++hour)
            out[month] += each(hourly[hour], days_in_month[month]);
    }
    return out;
}

}  // namespace

double utilisation(double g, double a) {
    if (g < 0.0) return 1.0 / g;
    if (std::abs(g - 1.0) < 1e-9) return a / (a + 1.0);
    // g^a overflows long before the quotient leaves 1/g.
    if (g > 1.0) return (1.0 - std::pow(g, -a)) / (g - std::pow(g, -a));
    return (1.0 - std::pow(g, a)) / (1.0 - std::pow(g, a + 1.0));
}

double utilisation_exponent(double capacity, double conductance) {
    return exponent_base + capacity / conductance / time_constant_base;
}

Result<MonthlyNeed> monthly_need(const MonthlyHouse& house) {
    if (!(house.conductance > 0.0 && house.capacity > 0.0 &&
          std::isfinite(house.conductance + house.capacity)))
        return fail(Code::out_of_range,
                    fmt::format("monthly method: {:g} W/K and {:g} J/K are not both above 0",
                                house.conductance, house.capacity));
    MonthlyNeed out;
    out.time_constant = house.capacity / house.conductance;
    out.exponent = utilisation_exponent(house.capacity, house.conductance);
    for (std::size_t month = 0; month < out.loss.size(); ++month) {
        if (!(house.gains[month] >= 0.0) || !std::isfinite(house.gains[month] + house.outdoor[month]))
            return fail(Code::out_of_range, fmt::format("monthly method: gains of {:g} J in month {}",
                                                        house.gains[month], month + 1));
        const double seconds = 86400.0 * house.days[month];
        out.loss[month] = house.conductance * (house.indoor - house.outdoor[month]) * seconds;
        if (out.loss[month] <= 0.0) continue;
        out.use[month] = utilisation(house.gains[month] / out.loss[month], out.exponent);
        out.heating[month] = std::max(0.0, out.loss[month] - out.use[month] * house.gains[month]);
        out.year += out.heating[month];
    }
    return out;
}

double stored_per_kelvin(const Network& network, std::size_t zone) {
    double stored = network.zones[zone].capacity;
    for (const Element& element : network.elements) {
        if (element.zone == zone) {
            stored += stored_in(element);
        } else if (element.beyond == zone) {
            Element turned = element;
            std::swap(turned.zone, turned.beyond);
            std::swap(turned.convection, turned.convection_beyond);
            std::swap(turned.radiation, turned.radiation_beyond);
            std::reverse(turned.conductance.begin(), turned.conductance.end());
            std::reverse(turned.capacity.begin(), turned.capacity.end());
            stored += stored_in(turned);
        }
    }
    return stored;
}

std::array<double, 12> monthly_mean(std::span<const double> hourly) {
    return by_month(hourly, [](double value, int days) { return value / (24.0 * days); });
}

std::array<double, 12> monthly_energy(std::span<const double> power) {
    return by_month(power, [](double value, int) { return 3600.0 * value; });
}

}  // namespace warmside::house
