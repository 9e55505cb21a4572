// Checks of loads, money, carbon and the monthly method.
#include <array>
#include <limits>

#include "house/carbon.h"
#include "house/cooling_day.h"
#include "house/loads.h"
#include "house/money.h"
#include "house/monthly.h"
#include "proof/inputs.h"

namespace warmside::proof {
namespace {

namespace h = warmside::house;

/// given: discount, rise, years (list). Present worth of 1 a year.
Result<Outcome> present_worth(const Given& given) {
    Inputs v(given);
    const double discount = v.one("discount", units::fraction), rise = v.one("rise", units::fraction);
    const auto years = v.list("years", units::number);
    return v.then([&]() -> Result<Outcome> {
        Outcome out;
        for (const double each : years)
            out["factor"].push_back(h::present_worth(discount, rise, static_cast<int>(each)));
        return out;
    });
}

/// given: leakage and flue area, height, difference. Air at heating design, m3/s, and its heat at sea level,
/// W.
Result<Outcome> design_infiltration(const Given& given) {
    Inputs v(given);
    const h::LeakageArea leaks{.area = v.one("area", units::area),
                               .flue = v.one("flue", units::area),
                               .height = v.one("height", units::length)};
    const double difference = v.one("difference", units::temperature_difference);
    return v.then([&]() -> Result<Outcome> {
        const auto& data = h::load_data();
        if (!data) return fail(data.error());
        const auto air =
            h::design_air(leaks, {}, 273.15 + difference, 273.15, 101325.0, data->heating, *data);
        return Outcome{{"flow", {air.infiltration}}, {"heat", {air.leaks}}};
    });
}

/// given: exponent a, ratio of gains to losses (list). Share of the gains that is of use.
Result<Outcome> utilisation(const Given& given) {
    Inputs v(given);
    const double exponent = v.one("exponent", units::number);
    const auto ratio = v.list("ratio", units::number);
    return v.then([&]() -> Result<Outcome> {
        Outcome out;
        for (const double each : ratio) out["share"].push_back(h::utilisation(each, exponent));
        return out;
    });
}

/// given: conductance, capacity (J/K), temperatures, days and gains of one month. Its need and what leads to
/// it.
Result<Outcome> monthly_need(const Given& given) {
    Inputs v(given);
    h::MonthlyHouse house;
    house.conductance = v.one("conductance", units::point_transmittance);
    house.capacity = v.one("capacity", units::number);
    house.indoor = v.one("indoor", units::temperature);
    house.outdoor.fill(v.one("outdoor", units::temperature));
    house.gains.fill(v.one("gains", units::energy));
    house.days.fill(v.whole("days", 1, 31));
    return v.then([&]() -> Result<Outcome> {
        const auto made = h::monthly_need(house);
        if (!made) return fail(made.error());
        return Outcome{{"time_constant", {made->time_constant}},
                       {"exponent", {made->exponent}},
                       {"loss", {made->loss[0]}},
                       {"share", {made->use[0]}},
                       {"need", {made->heating[0]}}};
    });
}

/// given: month (1 to 12), altitude of the sun (list), pressure. Direct normal radiation.
Result<Outcome> clear_sky(const Given& given) {
    Inputs v(given);
    const int month = v.whole("month", 1, 12);
    const auto altitude = v.list("altitude", units::angle);
    const double pressure = v.one("pressure", units::pressure);
    return v.then([&]() -> Result<Outcome> {
        const auto& data = h::load_data();
        if (!data) return fail(data.error());
        Outcome out;
        for (const double each : altitude)
            out["direct"].push_back(h::clear_sky(each, month - 1, pressure, *data).direct);
        return out;
    });
}

double price(Inputs& v, std::string_view key) {
    const auto text = v.reader().required(v.reader().text(key), key);
    const auto parsed = units::parse_price(text.value_or(""));
    if (text && !parsed) v.problems().push_back(parsed.error());
    return parsed ? parsed->each() : 0.0;
}

/// given: power all year, limit of the first block a month, price up to and above it, monthly charge. Money.
Result<Outcome> bill(const Given& given) {
    Inputs v(given);
    const double power = v.one("power", units::power);
    assembly::EnergyPrice tariff;
    tariff.blocks = {{v.one("limit", units::energy), price(v, "price")},
                     {std::numeric_limits<double>::infinity(), price(v, "above")}};
    tariff.monthly = price(v, "monthly");
    return v.then([&]() -> Result<Outcome> {
        const auto made = h::bill(tariff, std::vector<double>(climate::hours_in_year, power));
        if (!made) return fail(made.error());
        return Outcome{{"january", {made->months[0]}}, {"year", {made->money}}};
    });
}

/// given: material of the catalogue, volume. Carbon dioxide stored in it and emitted to make it, kg.
Result<Outcome> stored_carbon(const Given& given) {
    Inputs v(given);
    const auto name = v.reader().required(v.reader().text("material"), "material");
    const double volume = v.one("volume", units::volume);
    return v.then([&]() -> Result<Outcome> {
        const auto* material = material::built_in().material(name.value_or(""));
        if (!material) return fail(Code::unknown_name, "no such material in the catalogue");
        const h::Amount amount{.material = material, .volume = volume};
        const auto made = h::embodied({&amount, 1});
        if (!made) return fail(made.error());
        return Outcome{{"stored", {made->stored}}, {"making", {made->carbon}}};
    });
}

constexpr std::array operations{
    Operation{"house.present_worth", present_worth},
    Operation{"house.design_infiltration", design_infiltration},
    Operation{"house.utilisation", utilisation},
    Operation{"house.monthly_need", monthly_need},
    Operation{"house.clear_sky", clear_sky},
    Operation{"house.bill", bill},
    Operation{"house.stored_carbon", stored_carbon},
};

}  // namespace

std::span<const Operation> house_money_operations() {
    return operations;
}

}  // namespace warmside::proof
