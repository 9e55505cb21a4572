#include "leakage/ventilation.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

#include "assembly/geometry.h"
#include "leakage/defaults.h"
#include "leakage/pressures.h"
#include "units/quantity.h"

namespace warmside::leakage {

namespace {

using Kind = assembly::Ventilation::Kind;
using Draught = assembly::Appliance::Draught;

// Cubic feet a minute, for words.
double cfm(double volume_per_time) {
    static const double one = units::parse("1 cfm", units::flow).value_or(1.0);
    return volume_per_time / one;
}

std::size_t row_of(const std::vector<double>& limits, double value) {
    return static_cast<std::size_t>(std::lower_bound(limits.begin(), limits.end(), value) - limits.begin());
}

Result<double> floor_area_of(const assembly::House& house) {
    const double stated = assembly::areas(house).floor;
    if (stated > 0.0) return stated;
    const auto& given = defaults();
    if (!given) return fail(given.error());
    return 2.0 * given->side * given->side;  // the default house has two storeys
}

bool credited(const assembly::Ventilation& v) {
    return v.kind.value == Kind::balanced && v.ducted.value;
}

std::string names_of(const assembly::House& house, Draught draught) {
    std::string out;
    for (const auto& a : house.services.appliances)
        if (a.draught == draught) out += fmt::format("{}{}", out.empty() ? "" : ", ", a.name);
    return out;
}

void remind_of_air(const assembly::House& house, const VentilationRules& rules, VentilationCheck& out) {
    const std::string open = names_of(house, Draught::natural);
    const auto& hood = house.services.ventilation.range_hood;
    const auto& dryer = house.services.ventilation.dryer;
    const double strongest = std::max(hood ? hood->value : 0.0, dryer ? dryer->value : 0.0);
    const bool strong = strongest > rules.make_up_over;
    if (strong && !open.empty()) {
        out.make_up = strongest;
        out.reminders.push_back(
            {fmt::format("an exhaust of {:.0f} cfm (over {:.0f}) beside {}, open to the room: make-up air of "
                         "about as much, with a damper that opens with the fan",
                         cfm(*out.make_up), cfm(rules.make_up_over), open),
             rules.make_up, true});
    } else if (strong) {
        out.reminders.push_back(
            {fmt::format(
                 "an exhaust over {:.0f} cfm: no make-up air is asked for while nothing burns open to "
                 "the room; a tight house still throttles the fan",
                 cfm(rules.make_up_over)),
             rules.make_up, false});
    }
    if (open.empty()) return;
    const bool beyond = out.depressurised > rules.natural_draught;
    out.reminders.push_back(
        {fmt::format("{} draws its air from the room and vents by buoyancy: with all exhaust fans on ({:.0f} "
                     "cfm) the house would stand {:.1f} Pa below outdoors in still air, {} the {:.0f} Pa of "
                     "practice; sealed combustion or a test of the worst case by a licensed contractor",
                     open, cfm(out.largest_exhaust), out.depressurised, beyond ? "beyond" : "within",
                     rules.natural_draught),
         rules.draught, true});
}

void remind_of_rest(const assembly::House& house, const VentilationRules& rules, VentilationCheck& out) {
    if (const auto fan = names_of(house, Draught::fan); !fan.empty()) {
        Origin practice{.source = "common practice, no source", .evidence = Evidence::practice};
        out.reminders.push_back(
            {fmt::format("{} takes its air from the room with a fan in its flue: ask its "
                         "maker how far the house may stand below outdoors ({:.1f} Pa with "
                         "all exhaust fans on)",
                         fan, out.depressurised),
             practice, false});
    }
    out.reminders.push_back(
        {fmt::format("radon: the county's zone is not known here; test the finished house "
                     "and act from {:g} pCi/L; a pipe and a gas-permeable layer under the "
                     "slab cost little while it is open",
                     rules.radon_action),
         rules.radon, false});
}

}  // namespace

double irc_rate(const VentilationRules& rules, const Dwelling& dwelling, bool credit) {
    const double rate = rules.irc_area * dwelling.floor_area + rules.irc_person * (dwelling.bedrooms + 1);
    return credit ? rate * (1.0 - rules.irc_credit) : rate;
}

double irc_table_rate(const VentilationRules& rules, const Dwelling& dwelling, bool credit) {
    const double rate = rules.table[row_of(rules.table_area, dwelling.floor_area)]
                                   [row_of(rules.table_bedrooms, dwelling.bedrooms)];
    return credit ? rate * (1.0 - rules.irc_credit) : rate;
}

std::optional<double> intermittent_factor(const VentilationRules& rules, double run) {
    if (!(run >= rules.run.front())) return std::nullopt;  // asked this way round so that NaN is refused too
    if (run >= rules.run.back()) return rules.factor.back();
    const std::size_t above = std::max<std::size_t>(1, row_of(rules.run, run));
    const double share = (run - rules.run[above - 1]) / (rules.run[above] - rules.run[above - 1]);
    return rules.factor[above - 1] + share * (rules.factor[above] - rules.factor[above - 1]);
}

TotalRate total_rate(const VentilationRules& rules, const Dwelling& dwelling, double at_50_pa, double weather,
                     bool balanced) {
    TotalRate out;
    out.total = rules.total_area * dwelling.floor_area + rules.total_person * (dwelling.bedrooms + 1);
    out.infiltration = std::min(rules.credit_most * out.total,
                                rules.credit_factor * at_50_pa * weather *
                                    std::pow(dwelling.height / rules.credit_height, rules.credit_exponent));
    const double phi = balanced ? 1.0 : out.infiltration / out.total;
    out.fan = out.total - phi * out.infiltration;
    return out;
}

Result<Fans> fans_of(const assembly::House& house) {
    const auto& rules = ventilation_rules();
    if (!rules) return fail(rules.error());
    const auto& v = house.services.ventilation;
    Fans out{.stated = v.kind.origin.kind == Origin::Kind::house_file};
    if (v.kind.value == Kind::none) return out;
    if (v.flow) {
        out.running = v.flow->value;
    } else {
        const auto floor = floor_area_of(house);
        if (!floor) return fail(floor.error());
        const Dwelling dwelling{.floor_area = *floor, .bedrooms = house.services.people.bedrooms.value};
        const double factor = intermittent_factor(*rules, v.run.value).value_or(rules->factor.front());
        out.running = factor * irc_rate(*rules, dwelling, credited(v));
        out.rate_assumed = true;
    }
    const double mean = out.running * v.run.value;
    // A kind that nobody stated shifts no pressure: an exhaust fan that is only assumed would dry the walls.
    if (!out.stated || v.kind.value != Kind::exhaust) out.supply = mean;
    if (!out.stated || v.kind.value != Kind::supply) out.exhaust = mean;
    out.power = v.fan_power.value * mean;
    return out;
}

Result<VentilationCheck> check_ventilation(const assembly::House& house, const Envelope& envelope,
                                           const HouseLeakage& leakage) {
    const auto& rules = ventilation_rules();
    if (!rules) return fail(rules.error());
    const auto fans = fans_of(house);
    if (!fans) return fail(fans.error());
    const auto floor = floor_area_of(house);
    if (!floor) return fail(floor.error());
    const auto& v = house.services.ventilation;
    VentilationCheck out{.fans = *fans};
    out.dwelling = {*floor, house.services.people.bedrooms.value, envelope.top_height};
    out.credit = credited(v);
    out.factor = intermittent_factor(*rules, v.run.value);
    const double factor = out.factor.value_or(rules->factor.front());
    out.irc = factor * irc_rate(*rules, out.dwelling, out.credit);
    out.irc_table = factor * irc_table_rate(*rules, out.dwelling, out.credit);
    out.total =
        total_rate(*rules, out.dwelling, leakage.at_50_pa, rules->weather, v.kind.value == Kind::balanced);
    const double running = v.kind.value == Kind::exhaust  ? out.fans.running
                           : v.kind.value == Kind::supply ? -out.fans.running
                                                          : 0.0;
    out.largest_exhaust = std::max(
        0.0, running + (v.range_hood ? v.range_hood->value : 0.0) + (v.dryer ? v.dryer->value : 0.0));
    if (out.largest_exhaust > 0.0 && leakage.at_50_pa > 0.0)
        out.depressurised = -fan_pressure(leakage, -out.largest_exhaust);
    remind_of_air(house, *rules, out);
    remind_of_rest(house, *rules, out);
    return out;
}

}  // namespace warmside::leakage
