#include "house/money.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace warmside::house {

namespace {

using assembly::Fuel;

double energy_of(const EnergyUse& use) {
    return use.heating + use.cooling + use.fans;
}

const EnergyUse* of(const std::vector<EnergyUse>& uses, Fuel fuel) {
    const auto found =
        std::find_if(uses.begin(), uses.end(), [&](const EnergyUse& use) { return use.fuel == fuel; });
    return found == uses.end() ? nullptr : &*found;
}

std::vector<Fuel> fuels_of(const std::vector<EnergyUse>& a, const std::vector<EnergyUse>& b) {
    std::vector<Fuel> out;
    for (const auto* uses : {&a, &b})
        for (const EnergyUse& use : *uses)
            if (std::find(out.begin(), out.end(), use.fuel) == out.end()) out.push_back(use.fuel);
    return out;
}

double sum(const std::vector<double>& power) {
    double total = 0.0;
    for (const double each : power) total += 3600.0 * each;
    return total;
}

Result<void> check(const assembly::Money& money) {
    const double d = money.discount.value;
    if (!(d > -1.0 && d <= 1.0))
        return fail(Code::out_of_range, fmt::format("a discount rate of {:g} % a year", 100.0 * d),
                    money.discount.origin.where);
    if (money.years.value < 1 || money.years.value > 200)
        return fail(Code::out_of_range, fmt::format("a study period of {} years", money.years.value),
                    money.years.origin.where);
    return {};
}

}  // namespace

Result<Yearly> yearly(const Supply& supply, const assembly::Services& services,
                      const climate::PlaceRow* place) {
    Yearly out;
    std::vector<std::vector<double>> power;
    for (const Stream& stream : supply.streams) {
        std::size_t at = 0;
        while (at < out.uses.size() && out.uses[at].fuel != stream.fuel) ++at;
        if (at == out.uses.size()) {
            out.uses.emplace_back().fuel = stream.fuel;
            power.emplace_back(stream.power.size(), 0.0);
        }
        EnergyUse& use = out.uses[at];
        const double energy = sum(stream.power);
        switch (stream.purpose) {
            case Stream::Purpose::heating: use.heating += energy; break;
            case Stream::Purpose::cooling: use.cooling += energy; break;
            case Stream::Purpose::fans: use.fans += energy; break;
        }
        if (stream.power.size() != power[at].size())
            return fail(Code::incomplete, "streams of unequal length");
        for (std::size_t hour = 0; hour < stream.power.size(); ++hour) power[at][hour] += stream.power[hour];
    }
    for (std::size_t at = 0; at < out.uses.size(); ++at) {
        EnergyUse& use = out.uses[at];
        const auto price = price_of(services, use.fuel, place);
        if (!price) return fail(price.error());
        const auto cost = bill(price->price, power[at]);
        if (!cost) return fail(cost.error());
        use.money = cost->money;
        use.carbon = energy_of(use) * price->carbon.value;
        use.price_from = price->from;
        out.money += use.money;
        out.carbon += use.carbon;
        out.demo = out.demo || price->demo;
        if (price->demo)
            out.notes.push_back(fmt::format("{}: price {}", assembly::name_of(use.fuel), price->from));
    }
    return out;
}

double present_worth(double discount, double rise, int years) {
    const double q = (1.0 + rise) / (1.0 + discount);
    // The closed form loses its digits where q is near 1; the sum never does.
    double sum = 0.0, term = 1.0;
    for (int year = 0; year < years; ++year) sum += term *= q;
    return sum;
}

Result<StepWorth> step_worth(const std::vector<EnergyUse>& below, const std::vector<EnergyUse>& above,
                             std::optional<double> cost, const assembly::Services& services,
                             const climate::PlaceRow* place) {
    const assembly::Money& money = services.money;
    if (auto sound = check(money); !sound) return fail(sound.error());
    StepWorth out;
    double worth = 0.0;
    bool demo = false;
    std::string rises;
    for (const Fuel fuel : fuels_of(below, above)) {
        const EnergyUse none;
        const EnergyUse& from = of(below, fuel) ? *of(below, fuel) : none;
        const EnergyUse& to = of(above, fuel) ? *of(above, fuel) : none;
        const auto price = price_of(services, fuel, place);
        if (!price) return fail(price.error());
        out.energy += energy_of(from) - energy_of(to);
        out.money += from.money - to.money;
        out.carbon += from.carbon - to.carbon;
        worth += (from.money - to.money) *
                 present_worth(money.discount.value, price->price.rise, money.years.value);
        demo = demo || price->demo;
        if (price->price.rise != 0.0)
            rises += fmt::format(", {} rising {:.3g} %", assembly::name_of(fuel), 100.0 * price->price.rise);
    }
    out.words = fmt::format("{} years at {:.3g} % a year, real{}; {} (NIST Handbook 135)", money.years.value,
                            100.0 * money.discount.value,
                            rises.empty() ? ", energy rising as other prices do" : rises,
                            demo ? "demo prices" : "prices of the house file");
    out.cost = cost;
    if (!cost) {
        out.words += "; the cost of the step is not known";
        return out;
    }
    if (!std::isfinite(*cost)) return fail(Code::out_of_range, "the cost of the step is not a number");
    out.present_value = worth - *cost;
    if (out.money > 0.0) out.payback = std::max(0.0, *cost) / out.money;
    return out;
}

}  // namespace warmside::house
