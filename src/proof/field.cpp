#include "proof/field.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <memory>
#include <numbers>

#include "base/embedded.h"
#include "climate/calendar.h"
#include "moisture/potential.h"
#include "moisture/simulate.h"
#include "moisture/verdict.h"
#include "project/read.h"
#include "proof/inputs.h"

namespace warmside::proof {
namespace {

namespace m = warmside::moisture;

constexpr const char* walls_file = "data/field/walls.toml";

Result<const assembly::House*> walls() {
    static const project::Reading reading = [] {
        const auto file = embedded::find(walls_file);
        return project::read_house(walls_file, file.value_or(""));
    }();
    if (!reading.house) return fail(reading.problems.front());
    return reading.house.get();
}

struct FieldCase {
    const assembly::Assembly* wall = nullptr;
    climate::FaceWeather outside;
    climate::Indoor inside;
    std::size_t layer = 0;  // of the sheathing
    const material::Material* sheathing = nullptr;
    bool by_mould = false;
    int year = 2, start_month = 10;
    double air_flow = 0.0;
};

// Humidity held; in summer the air of the house is that of outdoors, dried to 60 % at most.
climate::Indoor held_humidity(const climate::Year& year, double humidity) {
    constexpr double room = 294.15;
    climate::Indoor in;
    for (const double outdoor : year.vapour_pressure) {
        const double full = m::saturation_pressure(room);
        in.temperature.push_back(room);
        in.vapour_pressure.push_back(std::clamp(outdoor, humidity * full, std::max(humidity, 0.6) * full));
    }
    return in;
}

Result<FieldCase> read_case(const Given& given) {
    Inputs v(given);
    auto& r = v.reader();
    const auto name = r.required(r.text("assembly"), "assembly").value_or("");
    const auto place = r.required(r.text("place"), "place").value_or("");
    const auto face = v.word("face", {"north", "east", "south", "west"});
    const double humidity = v.one("humidity", units::fraction);
    const auto sheathing = r.required(r.text("sheathing"), "sheathing").value_or("");
    FieldCase out;
    out.by_mould = v.word("judge", {"moisture", "mould"}) == "mould";
    out.year = v.whole("year", 1, 2);
    out.start_month = static_cast<int>(r.integer("start", 1, 12).value_or(10));
    out.air_flow = v.one_or("air_flow", units::air_leakage, 0.0);
    if (auto good = v.done(); !good) return fail(good.error());
    const auto house = walls();
    if (!house) return fail(house.error());
    out.wall = (*house)->find(name);
    if (!out.wall)
        return fail(Code::unknown_name, fmt::format("{} has no assembly \"{}\"", walls_file, name));
    const auto& layers = out.wall->layers;
    const auto found = std::find_if(layers.begin(), layers.end(), [&](const assembly::Layer& layer) {
        return layer.material && layer.material->name == sheathing;
    });
    if (found == layers.end()) return fail(Code::unknown_name, fmt::format("{} has no {}", name, sheathing));
    out.layer = static_cast<std::size_t>(found - layers.begin());
    out.sheathing = found->material;
    const auto row = climate::find_place(place);
    if (!row) return fail(row.error());
    const auto year = climate::generate(**row);
    if (!year) return fail(year.error());
    const double quarter = face == "north" ? 0.0 : face == "east" ? 1.0 : face == "south" ? 2.0 : 3.0;
    out.outside = climate::weather_on(*year, {0.5 * std::numbers::pi * quarter, out.wall->tilt},
                                      (*house)->rain_exposure);
    out.inside = held_humidity(*year, humidity);
    return out;
}

constexpr int week = 168;

// Moisture of the sheathing at its inner face, kg/kg, each hour: pins read the wettest wood that they touch.
std::vector<double> at_inner_face(const m::History& history, const FieldCase& c) {
    double depth = 0.0;
    for (std::size_t i = 0; i < c.layer; ++i) depth += c.wall->layers[i].thickness.metres();
    const auto probe = std::min_element(history.probes.begin(), history.probes.end(),
                                        [&](const m::Probe& a, const m::Probe& b) {
                                            return std::abs(a.depth - depth) < std::abs(b.depth - depth);
                                        });
    std::vector<double> out;
    for (const float humidity : probe->relative_humidity)
        out.push_back(material::moisture_content(*c.sheathing, static_cast<double>(humidity)) /
                      c.sheathing->density);
    return out;
}

std::vector<double> whole_panel(const m::History& history, const FieldCase& c) {
    const auto layer = std::find_if(history.layers.begin(), history.layers.end(),
                                    [&](const m::LayerMoisture& l) { return l.layer == c.layer; });
    std::vector<double> out;
    for (const float water : layer->moisture)
        out.push_back(static_cast<double>(water) / c.sheathing->density);
    return out;
}

// Means over the week that ends with each hour.
std::vector<double> weekly(const std::vector<double>& values) {
    std::vector<double> mean(values.size());
    double sum = 0.0;
    for (std::size_t i = 0; i < mean.size(); ++i) {
        sum += values[i];
        if (i >= week) sum -= values[i - week];
        mean[i] = sum / static_cast<double>(std::min<std::size_t>(i + 1, week));
    }
    return mean;
}

double worst_mould(const m::History& history, const FieldCase& c) {
    const auto verdict = m::try_judge(*c.wall, std::span(&history, 1), {});
    double worst = 0.0;
    if (!verdict) return worst;
    for (const m::Finding& f : verdict->findings)
        if (f.judged && f.criterion == "mould index") worst = std::max(worst, f.value);
    return worst;
}

FieldResult result_of(const m::History& history, const FieldCase& c) {
    FieldResult out;
    const auto panel = whole_panel(history, c);
    const auto mean = weekly(at_inner_face(history, c)), mean_panel = weekly(panel);
    const int from = c.year == 1 ? week : climate::hours_in_year;
    for (int i = from; i < c.year * climate::hours_in_year; ++i) {
        const double moisture = mean[static_cast<std::size_t>(i)];
        // The middle of the week tells its month.
        const int month = climate::month_of((history.start_hour + i - week / 2) % climate::hours_in_year);
        out.panel = std::max(out.panel, mean_panel[static_cast<std::size_t>(i)]);
        if (moisture > out.peak) {
            out.peak = moisture;
            out.peak_month = month + 1;
        }
        if (month == 6 || month == 7) out.summer = std::max(out.summer, moisture);
        if ((history.start_hour + i) % climate::hours_in_year == climate::first_hour_of(4) - 1)
            out.april = moisture;
    }
    for (std::size_t i = 24 * 59; i < 24 * 60; ++i) out.early += panel[i] / 24.0;
    out.mould = worst_mould(history, c);
    if (c.by_mould) {
        out.rank = out.mould < 1.0 ? 0 : out.mould < 3.0 ? 1 : 2;
    } else {
        out.rank = out.peak < 0.20 ? 0 : out.peak < 0.28 && out.summer < 0.20 ? 1 : 2;
    }
    return out;
}

/// given: see field.h. Rank, months and moisture.
Result<Outcome> wall(const Given& given) {
    const std::array<const Given*, 1> one{&given};
    return compute_field(one).map([](const std::vector<FieldResult>& results) {
        const FieldResult& r = results.front();
        return Outcome{{"rank", {static_cast<double>(r.rank)}},
                       {"peak_month", {static_cast<double>(r.peak_month)}},
                       {"dry_in_summer", {r.summer < 0.20 ? 1.0 : 0.0}},
                       {"dry_by_end_of_april", {r.april < 0.20 ? 1.0 : 0.0}}};
    });
}

/// given: more, less: tables as for field.wall; by: "peak", "early" (moisture on day 60) or "mould". 1 when
/// the first has more of it.
Result<Outcome> order(const Given& given) {
    Inputs v(given);
    const auto* more = v.reader().table("more");
    if (!more) v.reader().missing("more");
    const auto* less = v.reader().table("less");
    if (!less) v.reader().missing("less");
    const auto by = v.word("by", {"peak", "early", "mould"});
    return v.then([&]() -> Result<Outcome> {
        const std::array<const Given*, 2> two{more, less};
        const auto results = compute_field(two);
        if (!results) return fail(results.error());
        const auto value = [&](const FieldResult& r) {
            return by == "peak" ? r.peak : by == "early" ? r.early : r.mould;
        };
        const double a = value((*results)[0]), b = value((*results)[1]);
        return Outcome{{"as_measured", {a > b ? 1.0 : 0.0}}};
    });
}

constexpr std::array operations{
    Operation{"field.wall", wall},
    Operation{"field.order", order},
};

}  // namespace

const char* rank_name(int rank) {
    return rank == 0 ? "fine" : rank == 1 ? "marginal" : "failed";
}

Result<std::vector<FieldResult>> compute_field(std::span<const Given* const> cases) {
    std::vector<FieldCase> read;
    for (const Given* given : cases) {
        auto one = read_case(*given);
        if (!one) return fail(one.error());
        read.push_back(std::move(*one));
    }
    std::vector<m::Run> runs;
    for (const FieldCase& c : read) {
        m::Run run;
        run.name = c.wall->name + " field bay typical";
        run.assembly = c.wall;
        run.outside = &c.outside;
        run.inside = &c.inside;
        run.years = 2;
        run.start_hour = climate::first_hour_of(c.start_month - 1);
        run.rain_leak = 0.0;
        run.air_flow = c.air_flow;
        runs.push_back(run);
    }
    const auto histories = m::simulate(runs, {.carpet_columns = 2});
    if (!histories) return fail(histories.error());
    std::vector<FieldResult> results;
    for (std::size_t k = 0; k < read.size(); ++k) results.push_back(result_of((*histories)[k], read[k]));
    return results;
}

std::span<const Operation> field_operations() {
    return operations;
}

}  // namespace warmside::proof
