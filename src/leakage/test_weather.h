// Weather, room and house for this room's tests.
#pragma once

#include "climate/calendar.h"
#include "climate/year.h"
#include "leakage/envelope.h"

namespace warmside::leakage {

inline climate::Year steady_year(double temperature, double wind, double direction, double vapour = 300.0) {
    constexpr std::size_t hours = climate::hours_in_year;
    climate::Year year;
    year.temperature.assign(hours, temperature);
    year.vapour_pressure.assign(hours, vapour);
    year.pressure.assign(hours, 101325.0);
    year.wind_speed.assign(hours, wind);
    year.wind_direction.assign(hours, direction);
    return year;
}

inline climate::Indoor steady_room(double temperature, double vapour = 300.0) {
    constexpr std::size_t hours = climate::hours_in_year;
    climate::Indoor in;
    in.temperature.assign(hours, temperature);
    in.vapour_pressure.assign(hours, vapour);
    return in;
}

template <class T>
Sourced<T> stated(T value) {
    return {value, {.kind = Origin::Kind::house_file}};
}

}  // namespace warmside::leakage
