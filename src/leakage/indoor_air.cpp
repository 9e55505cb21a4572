#include "leakage/indoor_air.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>

#include "air/moist_air.h"
#include "assembly/geometry.h"
#include "climate/indoor.h"
#include "leakage/ventilation.h"
#include "leakage/year_columns.h"

namespace warmside::leakage {

namespace {

constexpr double hour = 3600.0;
constexpr std::size_t hours = climate::hours_in_year;
constexpr double of_reference = 293.15;    // K
constexpr double en15026_winter = 293.15;  // K, of a room while it is 10 degC or colder outdoors
using Kind = assembly::Cooling::Kind;

// Mean outdoors over the 24 hours that end with each, the year repeating itself.
std::vector<double> day_mean(const std::vector<double>& values) {
    std::vector<double> out(values.size());
    double sum = 0.0;
    for (std::size_t back = 1; back <= 24; ++back) sum += values[values.size() - back];
    for (std::size_t i = 0; i < values.size(); ++i) {
        sum += values[i] - values[(i + values.size() - 24) % values.size()];
        out[i] = sum / 24.0;
    }
    return out;
}

double set_point(const assembly::Occupancy& people, std::size_t i) {
    if (!people.night) return people.heating.value;
    const double clock = static_cast<double>(i % 24);
    const bool over_midnight = people.night_from > people.night_to;
    const bool after = clock >= people.night_from, before = clock < people.night_to;
    const bool asleep = over_midnight ? after || before : after && before;
    return asleep ? people.night->value : people.heating.value;
}

// One hour of the air that the house takes in, as the vapour balance sees it.
struct Carried {
    double out = 0.0, in = 0.0;  // kg/(s Pa), kg/s
};
Carried carried(const IndoorAir& air, const climate::Year& year, std::size_t i, double room_vapour) {
    const double pressure = year.pressure[i], outdoor = year.vapour_pressure[i];
    // Recovery hands back a share of the difference: the same as moving less air.
    const double dry = air.exchange.leaks_dry[i] +
                       (1.0 - air.exchange.supply.moisture[i]) * air.exchange.supply.dry_flow[i] +
                       air.airing[i] * dry_density(year.temperature[i], outdoor, pressure);
    // W = 0.622 p/(P - p): as a conductance on p, its denominator taken at the start of the hour.
    return {dry * air::molar_mass_ratio / (pressure - room_vapour),
            dry * air::humidity_ratio(outdoor, pressure)};
}

struct Limits {
    double least = 0.0, most = 1.0;  // relative humidity
};

class Balance {
public:
    Balance(const assembly::House& house, const climate::Year& year, const MoistureRules& rules,
            IndoorAir& out)
        : people_(house.services.people),
          cooled_(house.services.cooling.kind.value != Kind::none),
          year_(year),
          rules_(rules),
          day_(day_mean(year.temperature)),
          out_(out) {
        out_.airing.resize(hours);
        for (std::size_t i = 0; i < hours; ++i) {
            const double open =
                std::clamp((day_[i] - rules.airing_none) / (rules.airing_full - rules.airing_none), 0.0, 1.0);
            out_.airing[i] = cooling_at(i) ? 0.0 : open * rules.airing * out.exchange.volume;
        }
    }

    void run() {
        const std::size_t run_in = 30 * 24;
        VapourLoad load = load_at(hours - run_in, out_.indoor.vapour_pressure[hours - run_in]);
        // A house without any air exchange has no state to settle to.
        state_ = load.carried_out > 0.0 ? settled(load) : VapourState{0.5 * load.saturation, 0.5};
        for (std::size_t i = hours - run_in; i < hours; ++i) one(i);
        out_.carried_in = out_.carried_out = out_.added = out_.removed = 0.0;
        out_.worst_balance = 0.0;
        for (std::size_t i = 0; i < hours; ++i) {
            const VapourStep done = one(i);
            out_.indoor.vapour_pressure[i] = std::min(done.mean, saturation_);
        }
    }

private:
    [[nodiscard]] bool cooling_at(std::size_t i) const { return cooled_ && day_[i] > rules_.balance_point; }
    [[nodiscard]] Limits limits_at(std::size_t i) const {
        Limits out;
        if (people_.humidifier) out.least = people_.humidifier->value;
        if (people_.dehumidifier) out.most = people_.dehumidifier->value;
        if (cooling_at(i)) out.most = std::min(out.most, rules_.cooled_humidity);
        return out;
    }
    [[nodiscard]] VapourLoad load_at(std::size_t i, double room_vapour) const {
        const double saturation = air::over_water(out_.indoor.temperature[i]);
        const Carried air = carried(out_, year_, i, room_vapour);
        const Limits limits = limits_at(i);
        return {
            air.out, air.in, out_.source, saturation, limits.least * saturation, limits.most * saturation};
    }
    VapourStep one(std::size_t i) {
        const VapourLoad load = load_at(i, state_.pressure);
        const VapourStep done = step(out_.store, state_, load, hour);
        const double in = (load.carried_in + load.source) * hour + done.added;
        const double gone = done.carried_out + done.removed;
        const double kept = out_.store.air * (done.end.pressure - state_.pressure) +
                            out_.store.lining * (done.end.lining - state_.lining);
        if (const double residual = std::abs(in - gone - kept); residual > out_.worst_balance) {
            out_.worst_balance = residual;
            out_.turned_over = in + gone;
        }
        out_.carried_in += load.carried_in * hour;
        out_.carried_out += done.carried_out;
        out_.added += done.added;
        out_.removed += done.removed;
        saturation_ = load.saturation;
        state_ = done.end;
        return done;
    }

    const assembly::Occupancy& people_;
    bool cooled_;
    const climate::Year& year_;
    const MoistureRules& rules_;
    std::vector<double> day_;
    IndoorAir& out_;
    VapourState state_;
    double saturation_ = 0.0;
};

std::string words_of(const assembly::House& house, const Fans& fans, const IndoorAir& air) {
    const auto& v = house.services.ventilation;
    std::string out = fmt::format("indoor air of the house: {:.3g} kg of vapour a day", air.source * 86400.0);
    const double moved = std::max(fans.supply, fans.exhaust);
    if (moved > 0.0) {
        out += fmt::format(", {:.3g} L/s by fans{}", 1000.0 * moved,
                           !fans.stated        ? " (assumed)"
                           : fans.rate_assumed ? " (the code's rate)"
                                               : "");
        if (const double kept = recovery_of(v).moisture; kept > 0.0)
            out += fmt::format(" with {:.0f} % of the vapour kept", 100.0 * kept);
    } else {
        out += ", no fans";
    }
    out += fmt::format(", {:.2g} air changes an hour by leaks in winter", 3600.0 * air.exchange.winter);
    out += ", windows opened as it warms";
    const auto& people = house.services.people;
    if (people.humidifier) out += fmt::format(", humidified to {:.0f} %", 100.0 * people.humidifier->value);
    if (people.dehumidifier) out += fmt::format(", dried to {:.0f} %", 100.0 * people.dehumidifier->value);
    return out;
}

}  // namespace

Result<Sourced<double>> moisture_source(const assembly::House& house) {
    const auto& people = house.services.people;
    if (people.moisture) return *people.moisture;
    const auto& rules = moisture_rules();
    if (!rules) return fail(rules.error());
    return Sourced<double>{rules->rate(people.bedrooms.value), rules->sources};
}

std::vector<double> room_temperature(const assembly::House& house, const climate::Year& year) {
    const auto& people = house.services.people;
    const bool cooled = house.services.cooling.kind.value != Kind::none;
    const auto day = day_mean(year.temperature);
    std::vector<double> out(day.size());
    for (std::size_t i = 0; i < day.size(); ++i) {
        const double heated = set_point(people, i), floating = climate::en15026_temperature(day[i]);
        // In the cold the standard's room stands at 20 degC: there the house's own set-point holds.
        out[i] = floating > en15026_winter ? std::max(heated, floating) : heated;
        if (cooled) out[i] = std::max(heated, std::min(out[i], people.cooling.value));
    }
    return out;
}

Result<VapourStore> vapour_store(const assembly::House& house, const Envelope& envelope, double temperature) {
    const auto& rules = moisture_rules();
    if (!rules) return fail(rules.error());
    const material::Material* lining = nullptr;
    const material::Membrane* paint = nullptr;
    double thickness = std::numeric_limits<double>::infinity();
    if (const auto* wall = outer_wall(house); wall && !wall->layers.empty()) {
        const assembly::Layer& inner = wall->layers.front();
        if (inner.kind == assembly::Layer::Kind::material && inner.material->free_saturation > 0.0 &&
            !inner.material->is_insulation) {
            lining = inner.material;
            paint = inner.finish;
            thickness = inner.thickness.metres();
        }
    }
    if (!lining) lining = material::built_in().material(rules->lining);
    if (!lining)
        return fail(Code::unknown_name, fmt::format("no material \"{}\" for the lining", rules->lining),
                    rules->buffer.where);
    const auto areas = assembly::areas(house);
    double walls = areas.walls_net;
    if (walls <= 0.0) walls = leaky_area(envelope) - envelope.top_area;
    const double floor = areas.floor > 0.0 ? areas.floor : 2.0 * envelope.top_area;  // the default house
    const double area = walls + envelope.top_area + rules->partitions * floor;
    const double permeability = material::vapour_permeability(*lining, rules->humidity);
    const double slope = material::moisture_capacity(*lining, rules->humidity);
    const double depth = std::min(
        thickness, penetration_depth(permeability, slope, air::over_water(temperature), rules->period));
    double resistance = 1.0 / vapour_film(rules->convection, temperature, air::standard_pressure(0.0)) +
                        depth / (2.0 * permeability);
    if (paint) resistance += 1.0 / material::permeance(*paint, rules->humidity);
    return VapourStore{.air = envelope.volume / (air::vapour_gas_constant * temperature),
                       .lining = area * depth * slope,
                       .conductance = area / resistance};
}

Result<IndoorAir> air_of_house(const assembly::House& house, const climate::Year& year,
                               const std::vector<double>& temperature) {
    const auto& rules = moisture_rules();
    if (!rules) return fail(rules.error());
    auto guess = climate::indoor_air({.model = climate::IndoorModel::en15026_normal}, year);
    if (!guess) return fail(guess.error());
    IndoorAir out{.indoor = *std::move(guess)};
    out.indoor.temperature = temperature.empty() ? room_temperature(house, year) : temperature;
    if (auto good = check_columns("indoor air", year, out.indoor); !good) return fail(good.error());
    const auto source = moisture_source(house);
    if (!source) return fail(source.error());
    out.source = source->value;
    const auto fans = fans_of(house);
    if (!fans) return fail(fans.error());
    for (int pass = 0; pass < 2; ++pass) {
        const auto balanced = pressures(house, year, out.indoor);
        if (!balanced) return fail(balanced.error());
        auto exchange = air_exchange(house, year, out.indoor, *balanced);
        if (!exchange) return fail(exchange.error());
        out.exchange = *std::move(exchange);
        const auto store = vapour_store(house, balanced->envelope, of_reference);
        if (!store) return fail(store.error());
        out.store = *store;
        Balance(house, year, *rules, out).run();
    }
    out.indoor.assumes = words_of(house, *fans, out);
    const auto compared = compare(out.indoor, year);
    if (!compared) return fail(compared.error());
    out.compared = *compared;
    return out;
}

Result<climate::Indoor> indoor_air(const assembly::House& house, const climate::Year& year,
                                   const std::vector<double>& temperature) {
    if (house.indoor.model != climate::IndoorModel::house) return climate::indoor_air(house.indoor, year);
    return air_of_house(house, year, temperature).map([](IndoorAir&& air) { return std::move(air.indoor); });
}

}  // namespace warmside::leakage
