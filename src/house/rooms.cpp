#include "house/rooms.h"

#include <fmt/format.h>

#include "base/embedded.h"
#include "units/reader.h"

namespace warmside::house {

namespace {

using units::TableReader;

template <class Read>
void part(TableReader& file, std::string_view key, Origin& origin, Problems& problems, Read read) {
    const toml::table* table = file.table(key);
    if (!table) {
        if (!file.has(key)) file.missing(key);
        return;
    }
    TableReader r(*table, "[" + std::string(key) + "]", problems);
    read(r);
    origin.kind = Origin::Kind::assumed;
    origin.where = r.place();
    origin.source = r.required(r.text("source"), "source").value_or("");
    const auto word = r.required(
        r.word("evidence", {"seen", "quoted", "memory", "computed", "practice", "none"}), "evidence");
    origin.evidence = evidence_of(word.value_or(""));
    (void)r.required(r.text("why"), "why");
    r.finish();
}

double one(TableReader& r, std::string_view key, const units::Dimension& dimension, units::Limits limits) {
    return r.required(r.quantity(key, dimension, limits), key).value_or(0.0);
}

}  // namespace

Result<RoomData> read_rooms(std::string_view name, std::string_view text) {
    const auto parsed = units::parse_toml(name, text);
    if (!parsed) return fail(parsed.error());
    RoomData out;
    Problems problems;
    TableReader file(*parsed, std::string(name), problems);
    part(file, "gains", out.gains, problems, [&](TableReader& r) {
        out.dwelling = one(r, "dwelling", units::power, {0.0, 1e4});
        out.per_floor = one(r, "floor", units::heat_flux, {0.0, 100.0});
        out.per_bedroom = one(r, "bedroom", units::power, {0.0, 1e3});
    });
    part(file, "day", out.day, problems, [&](TableReader& r) {
        out.day_from = one(r, "from", units::number, {0.0, 24.0});
        out.day_to = one(r, "to", units::number, {0.0, 24.0});
        out.day_ratio = one(r, "ratio", units::number, {0.01, 100.0});
    });
    part(file, "convective", out.convective, problems, [&](TableReader& r) {
        out.convective_gains = one(r, "gains", units::fraction, {0.0, 1.0});
        out.convective_sun = one(r, "sun", units::fraction, {0.0, 1.0});
        out.convective_radiators = one(r, "radiators", units::fraction, {0.01, 1.0});
        out.convective_warm_air = one(r, "warm_air", units::fraction, {0.01, 1.0});
    });
    part(file, "furniture", out.furniture_origin, problems,
         [&](TableReader& r) { out.furniture = one(r, "capacity", units::areal_heat_capacity, {0.0, 1e6}); });
    part(file, "partitions", out.partition_origin, problems, [&](TableReader& r) {
        out.partitions = one(r, "walls", units::number, {0.0, 10.0});
        out.lining = one(r, "lining", units::length, {0.001, 0.5});
        out.deck = one(r, "deck", units::length, {0.001, 0.5});
    });
    part(file, "unheated", out.unheated, problems, [&](TableReader& r) {
        out.basement_air = one(r, "basement", units::air_change, {0.0, 1.0});
        out.closed_air = one(r, "closed", units::air_change, {0.0, 1.0});
    });
    file.finish();
    for (const auto& problem : problems)
        if (problem.severity == Severity::error) return fail(problem);
    return out;
}

const Result<RoomData>& room_data() {
    static const Result<RoomData> parsed = [] {
        constexpr std::string_view path = "data/house/rooms.toml";
        const auto text = embedded::find(path);
        if (!text) return Result<RoomData>(fail(Code::missing, "data/house/rooms.toml is not embedded"));
        return read_rooms(path, *text);
    }();
    return parsed;
}

bool within(int hour, double from, double to) {
    const double middle = hour + 0.5;
    return from <= to ? middle >= from && middle < to : middle >= from || middle < to;
}

Gains gains_of(const assembly::Occupancy& people, double floor, const RoomData& data) {
    Gains out;
    if (people.gains) {
        out.mean = people.gains->value;
        out.origin = people.gains->origin;
        out.words = fmt::format("{:.0f} W of people, light and appliances, as stated", out.mean);
    } else {
        const double bedrooms = people.people ? people.people->value - 1.0 : people.bedrooms.value;
        out.mean = data.dwelling + data.per_floor * floor + data.per_bedroom * bedrooms;
        out.origin = data.gains;
        out.words = fmt::format(
            "{:.0f} W of people, light and appliances by the rule of the IECC (memory) for {:g} bedrooms and "
            "{:.0f} m2 of floor",
            out.mean, bedrooms, floor);
    }
    int by_day = 0;
    for (int h = 0; h < 24; ++h) by_day += within(h, data.day_from, data.day_to) ? 1 : 0;
    const double night = 24.0 * out.mean / (by_day * data.day_ratio + 24 - by_day);
    for (int h = 0; h < hours_in_year; ++h)
        out.heat.hourly.push_back(within(h % 24, data.day_from, data.day_to) ? data.day_ratio * night
                                                                             : night);
    return out;
}

Series heating_kept(const assembly::Occupancy& people) {
    Series out{people.heating.value, {}};
    if (!people.night) return out;
    for (int h = 0; h < hours_in_year; ++h)
        out.hourly.push_back(within(h % 24, people.night_from, people.night_to) ? people.night->value
                                                                                : people.heating.value);
    return out;
}

}  // namespace warmside::house
