#include "house/tariff.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>

#include "base/embedded.h"
#include "units/reader.h"

namespace warmside::house {

namespace {

using assembly::EnergyPrice;
using assembly::Fuel;
using units::TableReader;

constexpr std::string_view path = "data/house/tariffs.toml";
constexpr std::array days_in_month{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};

std::optional<units::Price> dollars(TableReader& r, std::string_view key) {
    const auto text = r.required(r.text(key), key);
    if (!text) return std::nullopt;
    const auto price = units::parse_price(*text);
    if (!price || price->currency != "$" || price->money < 0.0) {
        r.complain(key, Code::wrong_unit,
                   price ? fmt::format("{} is not a price in $, not negative", key)
                         : fmt::format("{} {}", key, price.error().what));
        return std::nullopt;
    }
    return *price;
}

double per_joule(TableReader& r, std::string_view key, const assembly::FuelRow& fuel) {
    const auto price = dollars(r, key);
    if (!price) return 0.0;
    const auto joules = assembly::energy_of(price->amount, fuel);
    if (joules) return price->money / *joules;
    r.complain(key, joules.error().code, fmt::format("{} is {}", key, joules.error().what));
    return 0.0;
}

Origin read_origin(TableReader& r) {
    const auto word = r.required(
        r.word("evidence", {"seen", "quoted", "memory", "computed", "practice", "none"}), "evidence");
    return {Origin::Kind::catalogue, r.place(), r.required(r.text("source"), "source").value_or(""),
            evidence_of(word.value_or(""))};
}

DemoTariff read_tariff(TableReader& r, const assembly::FuelRow& fuel, Problems& problems) {
    DemoTariff out;
    out.us = per_joule(r, "us", fuel);
    if (const auto charge = dollars(r, "monthly"); charge && charge->amount.per == units::Per::month)
        out.monthly = charge->each();
    else if (charge)
        r.complain("monthly", Code::wrong_unit, "monthly is not a price by the month");
    out.date = r.required(r.text("date"), "date").value_or("");
    out.origin = read_origin(r);
    if (const toml::table* states = r.table("states")) {
        TableReader each(*states, r.title() + " states", problems);
        for (const auto& [key, node] : *states)
            out.states[std::string(key.str())] = per_joule(each, key.str(), fuel);
    }
    return out;
}

void read_grid(TableReader& file, DemoTariffs& out, Problems& problems) {
    const toml::table* grid = file.table("grid");
    if (!grid) {
        if (!file.has("grid")) file.missing("grid");
        return;
    }
    TableReader r(*grid, "[grid]", problems);
    out.grid = read_origin(r);
    const toml::array* regions = r.array("region");
    if (!regions) r.missing("region");
    for (std::size_t i = 0; regions && i < regions->size(); ++i) {
        const toml::table* table = (*regions)[i].as_table();
        if (!table) continue;
        TableReader one(*table, fmt::format("grid region {}", i + 1), problems);
        GridRegion region;
        region.name = one.required(one.text("name"), "name").value_or("");
        region.carbon =
            one.required(one.quantity("carbon", units::emission, {.least = 0.0}), "carbon").value_or(0.0);
        region.states = one.required(one.texts("states"), "states").value_or(std::vector<std::string>{});
        region.places = one.texts("places").value_or(std::vector<std::string>{});
        one.finish();
        out.regions.push_back(std::move(region));
    }
    r.finish();
}

std::optional<Fuel> fuel_of(std::string_view word) {
    for (std::size_t i = 0; i < assembly::fuel_count; ++i)
        if (word == assembly::name_of(static_cast<Fuel>(i))) return static_cast<Fuel>(i);
    return std::nullopt;
}

const GridRegion* region_of(const DemoTariffs& tariffs, const climate::PlaceRow* place) {
    if (!place) return nullptr;
    const std::string full = place->name + ", " + place->state;
    const auto has = [](const std::vector<std::string>& list, const std::string& word) {
        return std::find(list.begin(), list.end(), word) != list.end();
    };
    for (const GridRegion& region : tariffs.regions)
        if (has(region.places, full)) return &region;
    for (const GridRegion& region : tariffs.regions)
        if (has(region.states, place->state)) return &region;
    return nullptr;
}

FuelPrice demo_price(const DemoTariff& row, Fuel fuel, const climate::PlaceRow* place) {
    FuelPrice out;
    out.demo = true;
    const auto own = place ? row.states.find(place->state) : row.states.end();
    const bool in_state = own != row.states.end();
    out.price.name = fmt::format("demo {}", assembly::name_of(fuel));
    out.price.fuel = fuel;
    out.price.blocks = {{std::numeric_limits<double>::infinity(), in_state ? own->second : row.us}};
    out.price.monthly = row.monthly;
    out.price.date = row.date;
    out.price.source = "demo";
    out.price.origin = row.origin;
    out.from = fmt::format("demo ({}; {}, {})", row.origin.source,
                           in_state ? climate::state_name(place->state) : std::string_view("United States"),
                           row.date == "none" ? "no date" : row.date);
    return out;
}

Result<void> set_carbon(FuelPrice& out, const DemoTariffs& tariffs, const climate::PlaceRow* place) {
    if (out.price.carbon) {
        out.carbon = {*out.price.carbon, out.price.origin};
        return {};
    }
    if (out.price.fuel == Fuel::electricity) {
        if (const GridRegion* region = region_of(tariffs, place)) {
            out.carbon = {region->carbon, tariffs.grid};
            out.carbon.origin.source += "; " + region->name;
            return {};
        }
    }
    const auto& fuels = assembly::fuels();
    if (!fuels) return fail(fuels.error());
    out.carbon = (*fuels)[static_cast<std::size_t>(out.price.fuel)].carbon;
    return {};
}

std::string own_source(const EnergyPrice& price) {
    if (price.source.empty() && price.date.empty()) return "the house file, without date and source";
    if (price.source.empty()) return price.date;
    return price.date.empty() ? price.source : price.source + ", " + price.date;
}

double through_blocks(const EnergyPrice& price, double energy) {
    double money = 0.0, from = 0.0;
    for (const auto& [limit, rate] : price.blocks) {
        money += rate * std::max(0.0, std::min(energy, limit) - from);
        from = limit;
    }
    return money;
}

// Money/J, mean over the clock hour that begins at `hour`: a rate may change within it.
double rate_in(const EnergyPrice& price, double hour) {
    double sum = 0.0;
    for (const auto& [from, to, rate] : price.hours)
        sum += rate * std::max(0.0, std::min(to, hour + 1.0) - std::max(from, hour));
    return sum;
}

}  // namespace

Result<DemoTariffs> read_tariffs(std::string_view name, std::string_view text) {
    const auto& fuels = assembly::fuels();
    if (!fuels) return fail(fuels.error());
    const auto parsed = units::parse_toml(name, text);
    if (!parsed) return fail(parsed.error());
    DemoTariffs out;
    Problems problems;
    TableReader file(*parsed, std::string(name), problems);
    std::array<int, assembly::fuel_count> seen{};
    const toml::array* rows = file.array("tariff");
    for (std::size_t i = 0; rows && i < rows->size(); ++i) {
        const toml::table* table = (*rows)[i].as_table();
        if (!table) continue;
        TableReader r(*table, fmt::format("tariff {}", i + 1), problems);
        const auto word = r.required(r.text("fuel"), "fuel");
        const auto fuel = fuel_of(word.value_or(""));
        if (!fuel) {
            r.complain("fuel", Code::unknown_name, fmt::format("{} is no fuel", word.value_or("")));
            continue;
        }
        const auto index = static_cast<std::size_t>(*fuel);
        out.fuels[index] = read_tariff(r, (*fuels)[index], problems);
        ++seen[index];
        r.finish();
    }
    read_grid(file, out, problems);
    file.finish();
    for (std::size_t i = 0; i < assembly::fuel_count; ++i)
        if (seen[i] != 1)
            file.complain(
                "", Code::incomplete,
                fmt::format("{} tariffs of {}, not one", seen[i], assembly::name_of(static_cast<Fuel>(i))));
    for (const auto& problem : problems)
        if (problem.severity == Severity::error) return fail(problem);
    return out;
}

const Result<DemoTariffs>& demo_tariffs() {
    static const Result<DemoTariffs> parsed = [] {
        const auto text = embedded::find(path);
        if (!text) return Result<DemoTariffs>(fail(Code::missing, fmt::format("{} is not embedded", path)));
        return read_tariffs(path, *text);
    }();
    return parsed;
}

Result<FuelPrice> price_of(const assembly::Services& services, Fuel fuel, const climate::PlaceRow* place) {
    const auto& tariffs = demo_tariffs();
    if (!tariffs) return fail(tariffs.error());
    FuelPrice out;
    const auto own = std::find_if(services.energy.begin(), services.energy.end(),
                                  [&](const EnergyPrice& price) { return price.fuel == fuel; });
    if (own != services.energy.end()) {
        if (const auto sound = check(*own); !sound) return fail(sound.error());
        out.price = *own;
        out.demo = own->source == "demo";
        out.from = out.demo ? std::string("demo, as the house file says") : own_source(*own);
    } else if (services.money.currency != "$") {
        return fail(Code::unsupported,
                    fmt::format("no tariff of {} in {}: the built-in ones are in dollars; add [energy.NAME]",
                                assembly::name_of(fuel), services.money.currency),
                    services.money.origin.where);
    } else {
        out = demo_price(tariffs->fuels[static_cast<std::size_t>(fuel)], fuel, place);
    }
    if (const auto done = set_carbon(out, *tariffs, place); !done) return fail(done.error());
    return out;
}

Result<void> check(const EnergyPrice& price) {
    const auto wrong = [&](Code code, std::string_view text) {
        return fail(code, fmt::format("tariff {}: {}", price.name, text), price.origin.where);
    };
    const auto sound = [](double rate) { return std::isfinite(rate) && rate >= 0.0; };
    if (!sound(price.monthly)) return wrong(Code::out_of_range, "the monthly charge is not a sum of money");
    if (!std::isfinite(price.rise) || price.rise <= -1.0)
        return wrong(Code::out_of_range, "the yearly rise is not a rate");
    if (price.carbon && !sound(*price.carbon)) return wrong(Code::out_of_range, "carbon is below 0");
    if (price.hours.empty() && price.blocks.empty()) return wrong(Code::incomplete, "no price is given");
    double until = 0.0;
    for (const auto& [from, to, rate] : price.hours) {
        if (!sound(rate)) return wrong(Code::out_of_range, "a price is below 0 or not a number");
        if (!(from == until && to > from))
            return wrong(Code::conflict, fmt::format("hours do not follow on each other at {:g} h", until));
        until = to;
    }
    if (!price.hours.empty() && until != 24.0)
        return wrong(Code::incomplete, fmt::format("hours end at {:g}, not at 24", until));
    double limit = 0.0;
    for (const auto& [upper, rate] : price.blocks) {
        if (!sound(rate)) return wrong(Code::out_of_range, "a price is below 0 or not a number");
        if (!(upper > limit)) return wrong(Code::conflict, "the blocks' limits do not rise");
        limit = upper;
    }
    if (!price.blocks.empty() && std::isfinite(limit))
        return wrong(Code::incomplete, "the last block has an upper limit: what is above it costs nothing");
    return {};
}

Result<Bill> bill(const EnergyPrice& price, std::span<const double> power) {
    if (const auto sound = check(price); !sound) return fail(sound.error());
    if (power.size() != static_cast<std::size_t>(climate::hours_in_year))
        return fail(Code::incomplete, fmt::format("{} hours of use, not 8760", power.size()));
    std::array<double, 24> rate{};
    for (std::size_t hour = 0; hour < rate.size(); ++hour)
        rate[hour] = rate_in(price, static_cast<double>(hour));
    Bill out;
    std::size_t hour = 0;
    for (std::size_t month = 0; month < out.months.size(); ++month) {
        double by_hours = 0.0;
        const std::size_t end = hour + 24U * static_cast<std::size_t>(days_in_month[month]);
        for (; hour < end; ++hour) {
            const double energy = 3600.0 * power[hour];
            // Asked this way round so that NaN is refused too.
            if (!(energy >= 0.0) || !std::isfinite(energy))
                return fail(Code::out_of_range, fmt::format("use of {:g} W in hour {}", power[hour], hour));
            out.used[month] += energy;
            by_hours += energy * rate[hour % 24];
        }
        out.months[month] =
            price.monthly + (price.hours.empty() ? through_blocks(price, out.used[month]) : by_hours);
        out.money += out.months[month];
    }
    out.fixed = 12.0 * price.monthly;
    return out;
}

}  // namespace warmside::house
