#include "house/energy.h"

#include <algorithm>
#include <fmt/format.h>
#include <numeric>

namespace warmside::house {

namespace {

constexpr double overheated_above = 299.15;  // K

std::vector<double> over_zones(const std::vector<std::vector<double>>& zones) {
    std::vector<double> out(zones.empty() ? 0 : zones.front().size(), 0.0);
    for (const auto& zone : zones)
        for (std::size_t hour = 0; hour < zone.size() && hour < out.size(); ++hour) out[hour] += zone[hour];
    return out;
}

double joules(const std::vector<double>& power) {
    return 3600.0 * std::accumulate(power.begin(), power.end(), 0.0);
}

Result<void> check(const EnergyInput& in) {
    constexpr std::size_t hours = hours_in_year;
    if (in.rooms >= in.run.air.size())
        return fail(Code::incomplete, fmt::format("energy: the run has no zone {}", in.rooms));
    for (const auto* zones : {&in.run.air, &in.run.radiant, &in.run.heating, &in.run.cooling})
        for (const auto& zone : *zones)
            if (zone.size() != hours)
                return fail(Code::incomplete,
                            fmt::format("energy: a run of {} hours, not 8760", zone.size()));
    if (in.run.radiant.size() != in.run.air.size() || in.run.heating.empty() || in.run.cooling.empty())
        return fail(Code::incomplete, "energy: the run lacks temperatures or loads");
    if (!in.fans.hourly.empty() && in.fans.hourly.size() != hours)
        return fail(Code::incomplete,
                    fmt::format("energy: fans of {} hours, not 8760", in.fans.hourly.size()));
    return {};
}

int overheated_hours(const Run& run, std::size_t zone) {
    int out = 0;
    for (std::size_t hour = 0; hour < run.air[zone].size(); ++hour)
        out += 0.5 * (run.air[zone][hour] + run.radiant[zone][hour]) > overheated_above;
    return out;
}

}  // namespace

Result<Energy> energy_of(const EnergyInput& input) {
    if (auto good = check(input); !good) return fail(good.error());
    const auto heating = over_zones(input.run.heating), cooling = over_zones(input.run.cooling);
    std::vector<double> fans(heating.size());
    for (std::size_t hour = 0; hour < fans.size(); ++hour) fans[hour] = input.fans.at(static_cast<int>(hour));
    auto bought = supply(input.services.heating, input.services.cooling,
                         {.heating = heating, .cooling = cooling, .outdoor = input.outdoor, .fans = fans});
    if (!bought) return fail(bought.error());
    auto year = yearly(*bought, input.services, input.place);
    if (!year) return fail(year.error());
    Energy out;
    out.heating_need = joules(heating);
    out.cooling_need = joules(cooling);
    out.heating_peak = *std::max_element(heating.begin(), heating.end());
    out.cooling_peak = *std::max_element(cooling.begin(), cooling.end());
    out.uses = std::move(year->uses);
    out.money = year->money;
    out.carbon = year->carbon;
    out.overheated = overheated_hours(input.run, input.rooms);
    out.unmet = input.run.unmet;
    const auto months = monthly_energy(heating);
    out.monthly_heating.assign(months.begin(), months.end());
    if (input.monthly) {
        const auto second = monthly_need(*input.monthly);
        if (!second) return fail(second.error());
        out.second_opinion = second->year;
    }
    out.notes = std::move(bought->notes);
    out.notes.insert(out.notes.end(), year->notes.begin(), year->notes.end());
    return out;
}

}  // namespace warmside::house
