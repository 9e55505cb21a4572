// Published checks of the verdict: mould, decay, surface humidity, ISO 13788.
#include <array>
#include <cmath>

#include "moisture/criteria.h"
#include "moisture/decay.h"
#include "moisture/monthly.h"
#include "moisture/mould.h"
#include "moisture/surface.h"
#include "proof/inputs.h"

namespace warmside::proof {

namespace {

namespace m = warmside::moisture;

Problem ragged(std::string_view what) {
    return {.code = Code::incomplete, .what = std::string(what) + " do not match in number"};
}

material::MouldClass class_of(std::string_view word) {
    using material::MouldClass;
    for (const auto each : {MouldClass::very_sensitive, MouldClass::sensitive, MouldClass::medium_resistant})
        if (word == m::name_of(each)) return each;
    return MouldClass::resistant;
}

/// Hours of one condition.
struct Spell {
    std::vector<float> temperature, humidity;
    Spell(std::size_t hours, double T, double r)
        : temperature(hours, static_cast<float>(T)), humidity(hours, static_cast<float>(r)) {}
};

Result<Outcome> mould_index(const Given& given) {
    Inputs values(given);
    const auto sensitivity =
        values.word("class", {"very sensitive", "sensitive", "medium resistant", "resistant"});
    const double T = values.one("temperature", units::temperature);
    const double r = values.one("relative_humidity", units::fraction);
    const auto weeks = values.list("weeks", units::number);
    return values.then([&] {
        m::MouldSurface surface({.sensitivity = class_of(sensitivity)});
        Outcome out;
        double done = 0.0;
        for (const double week : weeks) {
            const Spell spell(static_cast<std::size_t>((week - done) * 168.0), T, r);
            surface.march(spell.temperature, spell.humidity, 1.0);
            done = week;
            out["index"].push_back(surface.index());
        }
        return out;
    });
}

/// After growth to a high index, what dry hours take off.
Result<Outcome> mould_decline(const Given& given) {
    Inputs values(given);
    const double share = values.one("decline", units::fraction);
    const auto after = values.list("dry_for", units::duration);
    return values.then([&] {
        m::MouldSurface surface({.sensitivity = material::MouldClass::very_sensitive, .decline = share});
        const Spell growth(2000, 293.15, 0.97);
        surface.march(growth.temperature, growth.humidity, 1.0);
        const double start = surface.index();
        Outcome out;
        double done = 0.0;
        for (const double time : after) {
            const Spell dry(static_cast<std::size_t>(std::lround((time - done) / 3600.0)), 293.15, 0.5);
            surface.march(dry.temperature, dry.humidity, 1.0);
            done = time;
            out["fall"].push_back(start - surface.index());
        }
        return out;
    });
}

Result<Outcome> mould_critical_humidity(const Given& given) {
    Inputs values(given);
    const auto T = values.list("temperature", units::temperature);
    const double least = values.one("least", units::fraction);
    return values.then([&] {
        Outcome out;
        for (const double each : T)
            out["relative_humidity"].push_back(m::mould_critical_humidity(each, least));
        return out;
    });
}

Result<Outcome> mould_times(const Given& given) {
    Inputs values(given);
    const double T = values.one("temperature", units::temperature);
    const double r = values.one("relative_humidity", units::fraction);
    return values.then([&] {
        const auto times = m::mould_times(T, r);
        return Outcome{{"to_index_1", {times.to_index_1}}, {"to_index_3", {times.to_index_3}}};
    });
}

/// Time until the index of the original model passes 1 and 3 under one condition, in steps of six minutes.
Result<Outcome> original_mould(const Given& given) {
    Inputs values(given);
    const double T = values.one("temperature", units::temperature);
    const double r = values.one("relative_humidity", units::fraction);
    return values.then([&]() -> Result<Outcome> {
        m::MouldSurface surface(m::original_mould_model(m::BelowFreezing::hold));
        const Spell step(1, T, r);
        constexpr double hours = 0.1;
        double first = 0.0;
        for (int i = 1; i <= 10 * 8760; ++i) {
            surface.march(step.temperature, step.humidity, hours);
            if (first == 0.0 && surface.index() >= 1.0) first = i * hours * 3600.0;
            if (surface.index() >= 3.0)
                return Outcome{{"to_index_1", {first}}, {"to_index_3", {i * hours * 3600.0}}};
        }
        return fail(Code::out_of_range, "the index does not reach 3 within a year");
    });
}

Result<Outcome> decay(const Given& given) {
    Inputs values(given);
    const double T = values.one("temperature", units::temperature);
    const double r = values.one("relative_humidity", units::fraction);
    return values.then([&] {
        return Outcome{{"start_time", {m::decay_start_time(T, r)}},
                       {"loss_in_1000_h", {m::decay_loss_rate(T, r) * 3.6e6}}};
    });
}

/// 1 when sixty days of one condition break the rule of ASHRAE 160-2009, else 0.
Result<Outcome> surface_humidity(const Given& given) {
    Inputs values(given);
    const double T = values.one("temperature", units::temperature);
    const double r = values.one("relative_humidity", units::fraction);
    return values.then([&] {
        const Spell spell(1440, T, r);
        const auto worst =
            m::worst_surface_humidity(spell.temperature, spell.humidity, 720, 0, 1440, 278.15, 313.15);
        return Outcome{{"broken", {worst.found && worst.value >= 0.8 ? 1.0 : 0.0}}};
    });
}

Result<Outcome> saturation(const Given& given) {
    Inputs values(given);
    const auto T = values.list("temperature", units::temperature);
    return values.then([&] {
        Outcome out;
        for (const double each : T) out["pressure"].push_back(m::saturation_iso13788(each));
        return out;
    });
}

Result<Outcome> humidity_class(const Given& given) {
    Inputs values(given);
    const double row = values.one("class", units::number);
    const auto T = values.list("outdoor", units::temperature);
    return values.then([&] {
        Outcome out;
        for (const double each : T)
            out["excess"].push_back(m::humidity_class_excess(static_cast<int>(row), each));
        return out;
    });
}

Result<Outcome> surface_factor(const Given& given) {
    Inputs values(given);
    const double inside = values.one("indoor", units::temperature);
    const double r = values.one("relative_humidity", units::fraction);
    const double outside = values.one("outdoor", units::temperature);
    const double limit = values.one("limit", units::fraction);
    return values.then([&] {
        const auto need = m::surface_need(inside, r * m::saturation_iso13788(inside), outside, limit);
        return Outcome{{"temperature", {need.temperature}}, {"factor", {need.factor}}};
    });
}

Result<Outcome> steady_profile(const Given& given) {
    Inputs values(given);
    const auto resistance = values.list("resistance", units::thermal_resistance);
    const auto permeance = values.list("permeance", units::permeance);
    const m::SteadyAir inside{values.one("indoor", units::temperature),
                              values.one("indoor_pressure", units::pressure)};
    const m::SteadyAir outside{values.one("outdoor", units::temperature),
                               values.one("outdoor_pressure", units::pressure)};
    return values.then([&]() -> Result<Outcome> {
        if (resistance.size() != permeance.size()) return fail(ragged("resistances and permeances"));
        std::vector<m::SteadyLayer> layers;
        layers.reserve(resistance.size());
        double sum = 0.0;
        for (std::size_t i = 0; i < resistance.size(); ++i) {
            layers.push_back({resistance[i], 1.0 / permeance[i]});
            sum += 1.0 / permeance[i];
        }
        const auto p = m::steady_profile(layers, inside, outside);
        if (!p) return fail(p.error());
        double rate = 0.0, wet_plane = 0.0;
        for (std::size_t i = 0; i < p->rate.size(); ++i) {
            if (p->rate[i] > 0.0) wet_plane = static_cast<double>(i);
            rate += p->rate[i];
        }
        return Outcome{{"temperature", p->temperature},
                       {"saturation", p->saturation},
                       {"uncorrected", p->uncorrected},
                       {"vapour_pressure", p->vapour_pressure},
                       {"flux_uncorrected", {(inside.vapour_pressure - outside.vapour_pressure) / sum}},
                       {"flux_in", {p->flux_in}},
                       {"flux_out", {p->flux_out}},
                       {"water_in_30_days", {rate * 30.0 * 86400.0}},
                       {"wet_plane", {wet_plane}}};
    });
}

Result<Outcome> monthly(const Given& given) {
    Inputs values(given);
    const auto resistance = values.list("resistance", units::thermal_resistance);
    const auto sd = values.list("sd", units::length);
    const double inside = values.one("indoor", units::temperature);
    const auto indoor_pressure = values.list("indoor_pressure", units::pressure);
    const auto outside = values.list("outdoor", units::temperature);
    const auto outdoor_pressure = values.list("outdoor_pressure", units::pressure);
    return values.then([&]() -> Result<Outcome> {
        if (resistance.size() != sd.size()) return fail(ragged("resistances and sd values"));
        std::array<m::MonthlyAir, 12> air;
        if (outside.size() != 12 || indoor_pressure.size() != 12 || outdoor_pressure.size() != 12)
            return fail(ragged("the months"));
        for (std::size_t i = 0; i < 12; ++i)
            air[i] = {{inside, indoor_pressure[i]}, {outside[i], outdoor_pressure[i]}};
        std::vector<m::SteadyLayer> layers;
        layers.reserve(resistance.size());
        for (std::size_t i = 0; i < sd.size(); ++i)
            layers.push_back({resistance[i], sd[i] / units::still_air_permeability});
        const auto year = m::monthly_condensation(layers, air);
        if (!year) return fail(year.error());
        Outcome out{{"peak", {year->peak}},
                    {"first_month", {static_cast<double>(year->first_month)}},
                    {"peak_month", {static_cast<double>(year->peak_month)}},
                    {"dry_month", {static_cast<double>(year->dry_month)}},
                    {"wet_planes", {static_cast<double>(year->plane.size())}}};
        for (std::size_t i = 0; i < 12; ++i) {
            double condensed = 0.0, water = 0.0;
            for (std::size_t k = 0; k < year->plane.size(); ++k) {
                condensed += year->condensed[k][i];
                water += year->water[k][i];
            }
            out["condensed"].push_back(condensed);
            out["water"].push_back(water);
        }
        return out;
    });
}

constexpr std::array<Operation, 12> operations{{
    {"moisture.mould_index", mould_index},
    {"moisture.mould_decline", mould_decline},
    {"moisture.mould_critical_humidity", mould_critical_humidity},
    {"moisture.mould_times", mould_times},
    {"moisture.original_mould", original_mould},
    {"moisture.decay", decay},
    {"moisture.surface_humidity", surface_humidity},
    {"moisture.saturation_iso13788", saturation},
    {"moisture.humidity_class", humidity_class},
    {"moisture.surface_factor", surface_factor},
    {"moisture.steady_profile", steady_profile},
    {"moisture.monthly_condensation", monthly},
}};

}  // namespace

std::span<const Operation> moisture_operations() {
    return operations;
}

}  // namespace warmside::proof
