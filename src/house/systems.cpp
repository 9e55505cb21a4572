#include "house/systems.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "units/quantity.h"

namespace warmside::house {

namespace {

using assembly::Fuel;
using assembly::PerformancePoint;
using Purpose = Stream::Purpose;
using Side = Performance::Side;

PerformancePoint along(const PerformancePoint& a, const PerformancePoint& b, double outdoor) {
    const double share = (outdoor - a.outdoor) / (b.outdoor - a.outdoor);
    return {outdoor, std::lerp(a.capacity, b.capacity, share), std::lerp(a.efficiency, b.efficiency, share)};
}

// Goes on along a line where the machine gets worse, and no further than the end point where it would get
// better.
PerformancePoint beyond(const PerformancePoint& end, const PerformancePoint& before, double outdoor) {
    const PerformancePoint on = along(before, end, outdoor);
    return {outdoor, std::clamp(on.capacity, 0.0, end.capacity),
            std::clamp(on.efficiency, std::min(1.0, end.efficiency), end.efficiency)};
}

std::string degrees(double temperature) {
    return fmt::format("{:.0f} degF ({:.1f} degC)", units::fahrenheit(temperature),
                       units::celsius(temperature));
}

double sum(const std::vector<double>& power) {
    double total = 0.0;
    for (const double each : power) total += 3600.0 * each;
    return total;
}

double sum(std::span<const double> power) {
    double total = 0.0;
    for (const double each : power) total += 3600.0 * each;
    return total;
}

Result<void> check_series(const Need& need) {
    const std::size_t hours = need.heating.size();
    if (need.cooling.size() != hours || need.outdoor.size() != hours || need.fans.size() != hours)
        return fail(Code::incomplete,
                    fmt::format("{} hours of heating, {} of cooling, {} of weather, {} of fans", hours,
                                need.cooling.size(), need.outdoor.size(), need.fans.size()));
    for (const auto& series : {need.heating, need.cooling, need.fans})
        for (std::size_t hour = 0; hour < hours; ++hour)
            if (!(series[hour] >= 0.0) || !std::isfinite(series[hour]))
                return fail(Code::out_of_range,
                            fmt::format("a need of {:g} W in hour {}", series[hour], hour));
    return {};
}

Result<void> share(double value, std::string_view name, double most, const Sourced<double>& from) {
    if (value > 0.0 && value <= most) return {};
    return fail(Code::out_of_range, fmt::format("{} {:g} is not above 0 and up to {:g}", name, value, most),
                from.origin.where);
}

// One system under work.
struct Work {
    const Need& need;
    Supply out{};
    std::vector<double>& stream(Fuel fuel, Purpose purpose) {
        for (auto& each : out.streams)
            if (each.fuel == fuel && each.purpose == purpose) return each.power;
        out.streams.push_back({fuel, purpose, std::vector<double>(need.heating.size(), 0.0)});
        return out.streams.back().power;
    }
};

Result<void> burn(Work& work, const assembly::Heating& heating, const SystemData& data) {
    // Condensing appliances are rated by the higher heating value, so none is above 1.
    if (auto good = share(heating.efficiency.value, "efficiency", 1.0, heating.efficiency); !good)
        return good;
    const bool furnace = heating.kind.value == assembly::Heating::Kind::furnace;
    const Sourced<double>& aid = furnace ? data.furnace : data.boiler;
    std::vector<double> fuel(work.need.heating.size()), electricity(fuel.size());
    for (std::size_t hour = 0; hour < fuel.size(); ++hour) {
        double given = work.need.heating[hour] / heating.distribution.value;
        if (heating.capacity && given > heating.capacity->value) {
            work.out.short_heating += 3600.0 * (given - heating.capacity->value) * heating.distribution.value;
            given = heating.capacity->value;
        }
        fuel[hour] = given / heating.efficiency.value;
        electricity[hour] = aid.value * given;
    }
    work.stream(heating.fuel.value, Purpose::heating) = std::move(fuel);
    work.stream(Fuel::electricity, Purpose::fans) = std::move(electricity);
    work.out.notes.push_back(
        fmt::format("{} taken as {:.3g} % of the heat ({}, {})", furnace ? "blower" : "pump",
                    100.0 * aid.value, aid.origin.source,
                    aid.origin.evidence == Evidence::none ? "no source" : name_of(aid.origin.evidence)));
    return {};
}

void resist(Work& work, const assembly::Heating& heating) {
    auto& power = work.stream(Fuel::electricity, Purpose::heating);
    for (std::size_t hour = 0; hour < power.size(); ++hour) {
        double given = work.need.heating[hour] / heating.distribution.value;
        if (heating.capacity && given > heating.capacity->value) {
            work.out.short_heating += 3600.0 * (given - heating.capacity->value) * heating.distribution.value;
            given = heating.capacity->value;
        }
        power[hour] = given;
    }
}

// The demo curve in W: as stated at 8 degC, else so large that it meets every hour above the cut-off alone.
std::vector<PerformancePoint> demo_points(Work& work, const assembly::Heating& heating,
                                          const SystemData& data) {
    double size = heating.capacity ? heating.capacity->value : 0.0;
    for (std::size_t hour = 0; !heating.capacity && hour < work.need.heating.size(); ++hour) {
        if (work.need.outdoor[hour] < heating.cut_off.value) continue;
        const double share = performance(data.demo, work.need.outdoor[hour]).capacity;
        if (share > 0.0) size = std::max(size, work.need.heating[hour] / heating.distribution.value / share);
    }
    work.out.capacity = size;
    work.out.notes.push_back(
        fmt::format("heat pump: a demo curve, invented, of {:.1f} kW at 8 degC{}; type the maker's points",
                    size / 1000.0, heating.capacity ? "" : ", as large as needed"));
    auto points = data.demo;
    for (auto& point : points) point.capacity *= size;
    return points;
}

Result<void> pump(Work& work, const assembly::Heating& heating, const SystemData& data) {
    if (!heating.points.empty())
        if (auto good = check(heating.points, "[heating] points", heating.origin.where); !good) return good;
    const auto points = heating.points.empty() ? demo_points(work, heating, data) : heating.points;
    auto& power = work.stream(Fuel::electricity, Purpose::heating);
    int colder = 0, warmer = 0;
    double cold_heat = 0.0;
    for (std::size_t hour = 0; hour < power.size(); ++hour) {
        const double given = work.need.heating[hour] / heating.distribution.value;
        if (given <= 0.0) continue;
        double pumped = 0.0;
        if (work.need.outdoor[hour] >= heating.cut_off.value) {
            const Performance now = performance(points, work.need.outdoor[hour]);
            pumped = std::min(given, now.capacity);
            power[hour] = pumped / now.efficiency;
            colder += now.side == Side::colder;
            warmer += now.side == Side::warmer;
            if (now.side == Side::colder) cold_heat += 3600.0 * pumped;
        }
        power[hour] += given - pumped;
        work.out.backup += 3600.0 * (given - pumped);
    }
    work.out.beyond += colder + warmer;
    if (colder > 0)
        work.out.notes.push_back(fmt::format(
            "heat pump: {} hours ({:.0f} kWh of heat) are colder than its first point, {}: the line of "
            "the first points is drawn on, a guess",
            colder, cold_heat / 3.6e6, degrees(points.front().outdoor)));
    if (warmer > 0)
        work.out.notes.push_back(
            fmt::format("heat pump: {} hours are warmer than its last point, {}, whose values "
                        "are kept",
                        warmer, degrees(points.back().outdoor)));
    if (work.out.backup > 0.0)
        work.out.notes.push_back(
            fmt::format("heat pump: {:.0f} kWh a year come from resistance, below {} or "
                        "above its capacity",
                        work.out.backup / 3.6e6, degrees(heating.cut_off.value)));
    return {};
}

Result<void> cool(Work& work, const assembly::Cooling& cooling) {
    const bool any = std::any_of(work.need.cooling.begin(), work.need.cooling.end(),
                                 [](double need) { return need > 0.0; });
    if (cooling.kind.value == assembly::Cooling::Kind::none) {
        if (any)
            return fail(Code::conflict, "the rooms are cooled, but [cooling] has no machine",
                        cooling.origin.where);
        return {};
    }
    if (!cooling.points.empty()) {
        if (auto good = check(cooling.points, "[cooling] points", cooling.origin.where); !good) return good;
    } else if (auto good = share(cooling.efficiency.value, "efficiency of cooling", 30.0, cooling.efficiency);
               !good) {
        return good;
    }
    auto& power = work.stream(Fuel::electricity, Purpose::cooling);
    int outside = 0;
    for (std::size_t hour = 0; hour < power.size(); ++hour) {
        double taken = work.need.cooling[hour], efficiency = cooling.efficiency.value;
        if (taken <= 0.0) continue;
        double limit = cooling.capacity ? cooling.capacity->value : taken;
        if (!cooling.points.empty()) {
            const Performance now = performance(cooling.points, work.need.outdoor[hour], false);
            efficiency = now.efficiency;
            limit = now.capacity;
            outside += now.side != Side::inside;
        }
        work.out.short_cooling += 3600.0 * std::max(0.0, taken - limit);
        power[hour] = std::min(taken, limit) / efficiency;
    }
    work.out.beyond += outside;
    if (outside > 0)
        work.out.notes.push_back(fmt::format(
            "cooling: {} hours lie outside of the points' temperatures, {} to {}: in the heat the line is "
            "drawn on, "
            "in the cool the first point is kept",
            outside, degrees(cooling.points.front().outdoor), degrees(cooling.points.back().outdoor)));
    return {};
}

}  // namespace

Result<void> check(std::span<const PerformancePoint> points, std::string_view which, const Place& where) {
    if (points.empty()) return fail(Code::incomplete, fmt::format("{}: none are given", which), where);
    for (std::size_t i = 0; i < points.size(); ++i) {
        const auto& p = points[i];
        if (!(std::isfinite(p.outdoor) && std::isfinite(p.capacity) && std::isfinite(p.efficiency) &&
              p.capacity > 0.0 && p.efficiency > 0.0))
            return fail(Code::out_of_range,
                        fmt::format("{}: capacity and efficiency at {} are not both above 0", which,
                                    degrees(p.outdoor)),
                        where);
        if (i > 0 && !(p.outdoor > points[i - 1].outdoor))
            return fail(Code::conflict,
                        fmt::format("{}: {} comes after {}; outdoor temperatures have to rise", which,
                                    degrees(p.outdoor), degrees(points[i - 1].outdoor)),
                        where);
    }
    return {};
}

Performance performance(std::span<const PerformancePoint> points, double outdoor, bool worse_when_colder) {
    const auto from = [](const PerformancePoint& p, Side side) {
        return Performance{p.capacity, p.efficiency, side};
    };
    const PerformancePoint &first = points.front(), &last = points.back();
    const bool line = points.size() > 1;
    if (outdoor < first.outdoor)
        return from(worse_when_colder && line ? beyond(first, points[1], outdoor) : first, Side::colder);
    if (outdoor > last.outdoor)
        return from(!worse_when_colder && line ? beyond(last, points[points.size() - 2], outdoor) : last,
                    Side::warmer);
    const auto above = std::find_if(points.begin(), points.end(),
                                    [&](const PerformancePoint& p) { return p.outdoor >= outdoor; });
    return from(above == points.begin() ? first : along(*(above - 1), *above, outdoor), Side::inside);
}

Result<Supply> supply(const assembly::Heating& heating, const assembly::Cooling& cooling, const Need& need) {
    const auto& data = system_data();
    if (!data) return fail(data.error());
    if (auto good = check_series(need); !good) return fail(good.error());
    if (auto good = share(heating.distribution.value, "distribution", 1.0, heating.distribution); !good)
        return fail(good.error());
    using Kind = assembly::Heating::Kind;
    Work work{need};
    Result<void> done;
    switch (heating.kind.value) {
        case Kind::furnace:
        case Kind::boiler: done = burn(work, heating, *data); break;
        case Kind::resistance: resist(work, heating); break;
        case Kind::heat_pump: done = pump(work, heating, *data); break;
    }
    if (done) done = cool(work, cooling);
    if (!done) return fail(done.error());
    double bought = 0.0;
    for (const auto& stream : work.out.streams)
        if (stream.purpose == Purpose::heating) bought += sum(stream.power);
    if (bought > 0.0) work.out.efficiency = (sum(need.heating) - work.out.short_heating) / bought;
    auto& fans = work.stream(Fuel::electricity, Purpose::fans);
    for (std::size_t hour = 0; hour < fans.size(); ++hour) fans[hour] += need.fans[hour];
    if (work.out.capacity == 0.0 && heating.capacity) work.out.capacity = heating.capacity->value;
    if (work.out.short_heating > 0.0)
        work.out.notes.push_back(
            fmt::format("heating: {:.0f} kWh a year are beyond the stated capacity of {:.1f} kW",
                        work.out.short_heating / 3.6e6, heating.capacity->value / 1000.0));
    if (work.out.short_cooling > 0.0)
        work.out.notes.push_back(fmt::format("cooling: {:.0f} kWh a year are beyond the capacity",
                                             work.out.short_cooling / 3.6e6));
    return std::move(work.out);
}

}  // namespace warmside::house
