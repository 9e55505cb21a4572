#include "assembly/check_services.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <string_view>

#include "assembly/check_words.h"

namespace warmside::assembly {

namespace {

template <class T>
bool given(const Sourced<T>& value) {
    return value.origin.kind == Origin::Kind::house_file;
}
template <class T>
bool given(const std::optional<Sourced<T>>& value) {
    return value.has_value();
}

template <class T>
const Origin& origin_of(const Sourced<T>& value) {
    return value.origin;
}
template <class T>
const Origin& origin_of(const std::optional<Sourced<T>>& value) {
    return value->origin;
}

void error(Problems& problems, std::string what, const Place& where, std::string suggestion = {}) {
    add(problems, Severity::error, Code::conflict, std::move(what), where, std::move(suggestion));
}

void warn(Problems& problems, std::string what, const Place& where, std::string suggestion = {}) {
    add(problems, Severity::warning, Code::conflict, std::move(what), where, std::move(suggestion));
}

std::string degrees(double temperature) {
    return fmt::format("{:.0f} degF ({:.1f} degC)", units::fahrenheit(temperature),
                       units::celsius(temperature));
}

const char* name_of(Ventilation::Kind kind) {
    switch (kind) {
        case Ventilation::Kind::none: return "none";
        case Ventilation::Kind::exhaust: return "exhaust";
        case Ventilation::Kind::supply: return "supply";
        case Ventilation::Kind::balanced: return "balanced";
    }
    return "";
}

const char* name_of(Heating::Kind kind) {
    switch (kind) {
        case Heating::Kind::furnace: return "furnace";
        case Heating::Kind::boiler: return "boiler";
        case Heating::Kind::resistance: return "resistance";
        case Heating::Kind::heat_pump: return "heat pump";
    }
    return "";
}

std::string clock(double hours) {
    const auto minutes = std::lround(hours * 60.0);
    return fmt::format("{:02}:{:02}", minutes / 60, minutes % 60);
}

}  // namespace

void check_people(const Occupancy& people, bool cooled, Problems& problems) {
    if ((cooled || given(people.cooling)) && people.heating.value >= people.cooling.value) {
        error(problems,
              fmt::format("heating keeps {}, cooling {}: they would work against each other",
                          degrees(people.heating.value), degrees(people.cooling.value)),
              given(people.cooling) ? people.cooling.origin.where : people.heating.origin.where,
              "heating below cooling");
    }
    if (people.night && people.night->value > people.heating.value) {
        warn(problems,
             fmt::format("the night is kept at {}, warmer than the day at {}", degrees(people.night->value),
                         degrees(people.heating.value)),
             people.night->origin.where);
    }
    if (people.night && people.night_from == people.night_to)
        error(problems, "the night has no length: night_from and night_to are the same", people.origin.where);
    if (people.humidifier && people.dehumidifier && people.humidifier->value >= people.dehumidifier->value) {
        error(problems,
              fmt::format(
                  "the humidifier keeps above {:.3g} %, the dehumidifier below {:.3g} %: they would work "
                  "against each other",
                  100.0 * people.humidifier->value, 100.0 * people.dehumidifier->value),
              people.dehumidifier->origin.where, "humidifier below dehumidifier");
    }
}

void check_ventilation(const Ventilation& v, Problems& problems) {
    using Kind = Ventilation::Kind;
    const Kind kind = v.kind.value;
    const bool recovers = v.sensible.value > 0.0 || v.moisture.value > 0.0;
    if (recovers && kind != Kind::balanced) {
        const auto& which = v.sensible.value > 0.0 ? v.sensible : v.moisture;
        error(problems,
              fmt::format("recovery needs air that goes out and air that comes in; ventilation is of kind {}",
                          name_of(kind)),
              which.origin.where, "kind = \"balanced\", or no recovery");
        return;
    }
    const auto idle = [&](std::string_view key, const auto& value, bool used, std::string_view why) {
        if (given(value) && !used)
            warn(problems, fmt::format("{} has no effect {}", key, why), origin_of(value).where);
    };
    idle("frost", v.frost, recovers, "without recovery");
    idle("guard", v.guard, recovers && v.frost, "without recovery and a frost limit");
    idle("ducted", v.ducted, kind == Kind::balanced, "unless ventilation is balanced");
    const bool runs = kind != Kind::none;
    idle("flow", v.flow, runs, "with kind = \"none\"");
    idle("run", v.run, runs, "with kind = \"none\"");
    idle("fan_power", v.fan_power, runs, "with kind = \"none\"");
}

void check_heating(const Heating& h, Problems& problems) {
    using Kind = Heating::Kind;
    const Kind kind = h.kind.value;
    const bool pump = kind == Kind::heat_pump;
    const bool burns = kind == Kind::furnace || kind == Kind::boiler;
    if (!burns && h.fuel.value != Fuel::electricity) {
        error(problems,
              fmt::format("{} heating uses electricity, not {}", name_of(kind), name_of(h.fuel.value)),
              given(h.fuel) ? h.fuel.origin.where : h.kind.origin.where, "fuel = \"electricity\"");
        return;
    }
    const auto idle = [&](std::string_view key, const auto& value, bool used, const std::string& why) {
        if (given(value) && !used)
            warn(problems, fmt::format("{} has no effect {}", key, why), origin_of(value).where);
    };
    const std::string of_kind = fmt::format("with kind = \"{}\"", name_of(kind));
    idle("efficiency", h.efficiency, burns, of_kind);
    idle("cut_off", h.cut_off, pump, of_kind);
    idle("capacity", h.capacity, h.points.empty() || !pump, "beside points");
    if (!h.points.empty() && !pump)
        warn(problems, "points have no effect " + of_kind, h.origin.where, "kind = \"heat pump\"");
}

void check_cooling(const Cooling& c, Problems& problems) {
    const bool none = c.kind.value == Cooling::Kind::none;
    const auto idle = [&](std::string_view key, const auto& value) {
        if (!given(value) || (!none && c.points.empty())) return;
        warn(problems,
             fmt::format("{} has no effect {}", key, none ? "with kind = \"none\"" : "beside points"),
             origin_of(value).where);
    };
    idle("efficiency", c.efficiency);
    idle("capacity", c.capacity);
    if (none && !c.points.empty())
        warn(problems, "points have no effect with kind = \"none\"", c.origin.where,
             "kind = \"air conditioner\" or \"heat pump\"");
}

void check_points(const std::string& title, const std::vector<PerformancePoint>& points,
                  const std::vector<Place>& places, Problems& problems) {
    for (std::size_t i = 1; i < points.size(); ++i) {
        const double before = points[i - 1].outdoor, here = points[i].outdoor;
        if (here > before) continue;
        if (here == before) {
            add(problems, Severity::error, Code::duplicate,
                fmt::format("{}: points {} and {} are both for {}", title, i, i + 1, degrees(here)),
                places[i], "one point a temperature");
        } else {
            error(problems,
                  fmt::format("{}: point {}, {}, is colder than the one before, {}", title, i + 1,
                              degrees(here), degrees(before)),
                  places[i], "list the points from the coldest to the warmest");
        }
    }
}

void check_blocks(const std::string& title, const std::vector<std::array<double, 2>>& blocks,
                  const std::vector<Place>& places, Problems& problems) {
    const auto kilowatt_hours = [](double joules) { return fmt::format("{:.4g} kWh", joules / 3.6e6); };
    for (std::size_t i = 0; i < blocks.size(); ++i) {
        const double end = blocks[i][0];
        const bool last = i + 1 == blocks.size();
        if (!last && !std::isfinite(end)) {
            error(problems, fmt::format("{}: block {} has no upto; only the last has no end", title, i + 1),
                  places[i], "upto = \"500 kWh\"");
        } else if (last && std::isfinite(end)) {
            add(problems, Severity::error, Code::incomplete,
                fmt::format("{}: no price for use above {} a month", title, kilowatt_hours(end)), places[i],
                "a last block without upto");
        }
        if (i > 0 && std::isfinite(blocks[i - 1][0]) && end <= blocks[i - 1][0]) {
            error(problems,
                  fmt::format("{}: block {} ends at {}, not above block {} at {}", title, i + 1,
                              kilowatt_hours(end), i, kilowatt_hours(blocks[i - 1][0])),
                  places[i], "blocks from small to large use");
        }
    }
}

void check_hours(const std::string& title, const std::vector<std::array<double, 3>>& hours,
                 const std::vector<Place>& places, const Place& where, Problems& problems) {
    double end = 0.0;
    for (std::size_t i = 0; i < hours.size(); ++i) {
        const double from = hours[i][0], to = hours[i][1];
        if (from > end) {
            add(problems, Severity::error, Code::incomplete,
                fmt::format("{}: no price from {} to {}", title, clock(end), clock(from)), where,
                "hours that fill the day");
        } else if (from < end) {
            error(problems,
                  fmt::format("{}: two prices from {} to {}", title, clock(from), clock(std::min(to, end))),
                  places[i], "each hour once");
        }
        end = std::max(end, to);
    }
    if (end < 24.0) {
        add(problems, Severity::error, Code::incomplete,
            fmt::format("{}: no price from {} to 24:00", title, clock(end)), where,
            "hours that fill the day");
    }
}

void check_code(const CodeChoice& code, Problems& problems) {
    const int edition = code.edition.value;
    if (edition == 2018 || edition == 2021 || edition == 2024) return;
    constexpr std::array known{2018, 2021, 2024};
    const auto near = *std::min_element(known.begin(), known.end(), [&](int a, int b) {
        return std::abs(a - edition) < std::abs(b - edition);
    });
    add(problems, Severity::error, Code::unknown_name,
        fmt::format("edition {} is not one of: 2018, 2021, 2024", edition), code.edition.origin.where,
        fmt::format("{}", near));
}

}  // namespace warmside::assembly
