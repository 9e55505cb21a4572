// Keys of [people], [ventilation], [heating], [cooling], [energy.NAME], [money], [room.NAME],
// [appliance.NAME], [penetration.NAME] and [code].
#include "project/fields.h"

namespace warmside::project {

namespace {

using Kind = Field::Kind;

constexpr std::string_view needed = "**needed**";
constexpr std::string_view fuels = "electricity, natural gas, propane, heating oil, wood";
// IECC chapter 3: zones with their moisture letters where a zone has them.
constexpr std::string_view zones = "0A, 0B, 1A, 1B, 2A, 2B, 3A, 3B, 3C, 4A, 4B, 4C, 5A, 5B, 5C, 6A, 6B, 7, 8";

Field row(Kind kind, std::string_view key, std::string_view standard, std::string_view meaning,
          std::string_view example = {}) {
    return {.key = key,
            .kind = kind,
            .required = standard == needed,
            .standard = standard,
            .meaning = meaning,
            .example = example};
}

Field quantity(std::string_view key, const units::Dimension& dimension, units::Limits limits,
               std::string_view standard, std::string_view meaning, std::string_view example = {}) {
    Field out = row(Kind::quantity, key, standard, meaning, example);
    out.dimension = &dimension;
    out.limits = limits;
    return out;
}

Field integer(std::string_view key, units::Limits limits, std::string_view standard,
              std::string_view meaning) {
    Field out = row(Kind::integer, key, standard, meaning);
    out.limits = limits;
    return out;
}

Field word(std::string_view key, std::string_view words, std::string_view standard, std::string_view meaning,
           std::string_view example = {}) {
    Field out = row(Kind::word, key, standard, meaning, example);
    out.words = words;
    return out;
}

Field outline(std::string_view meaning, std::string_view example) {
    Field out = quantity("outline", units::length, {-300.0, 300.0}, needed, meaning, example);
    out.kind = Kind::corners;
    return out;
}

std::vector<Field> people() {
    const units::Limits kept{278.15, 308.15};
    return {
        integer("bedrooms", {0, 20}, "3", "of the house"),
        quantity("people", units::number, {0.0, 40.0}, "bedrooms + 1 (ASHRAE 62.2)", "who live there"),
        quantity("heating", units::temperature, kept, "20 degC", "air temperature that heating keeps"),
        quantity("cooling", units::temperature, kept, "26 degC", "that cooling keeps, where there is any"),
        quantity("night", units::temperature, kept, "as by day", "that heating keeps at night"),
        row(Kind::clock, "night_from", "22:00", "when the night begins, standard time"),
        row(Kind::clock, "night_to", "06:00", "when it ends"),
        quantity("gains", units::power, {0.0, 10000.0}, "by people and floor area",
                 "heat of people, lights and appliances, mean over the year, \"450 W\""),
        quantity("moisture", units::mass_flow, {0.0, 1e-3}, "by bedrooms",
                 "vapour of people, cooking, washing and plants, \"8 kg/day\""),
        quantity("humidifier", units::fraction, {0.05, 0.7}, "none",
                 "relative humidity that a humidifier keeps above in winter"),
        quantity("dehumidifier", units::fraction, {0.2, 0.9}, "none",
                 "relative humidity that a dehumidifier keeps below"),
    };
}

std::vector<Field> ventilation() {
    return {
        word("kind", "none, exhaust, supply, balanced", "exhaust", "which way fans move the air"),
        quantity("flow", units::flow, {0.0, 1.0}, "the required rate", "of outdoor air while it runs"),
        quantity("run", units::fraction, {0.01, 1.0}, "100 %", "share of the time that it runs"),
        quantity("heat_recovery", units::fraction, {0.0, 0.99}, "0 %",
                 "of balanced ventilation: share of the heat given to the air that comes in"),
        quantity("moisture_recovery", units::fraction, {0.0, 0.99}, "0 %", "the same of vapour"),
        quantity("frost", units::temperature, {233.15, 288.15}, "no limit",
                 "outdoors, below which ice would form in the recovery"),
        word("guard", "preheat, bypass", "preheat",
             "what then happens: outdoor air is warmed to `frost`, or nothing is recovered"),
        quantity("fan_power", units::fan_power, {0.0, 10000.0}, "800 W/(m3/s)",
                 "of all fans together, \"0.6 W/cfm\""),
        row(Kind::flag, "ducted", "false", "balanced, with ducts to each bedroom and the living area"),
        quantity("range_hood", units::flow, {0.0, 2.0}, "none", "exhaust of the range hood"),
        quantity("dryer", units::flow, {0.0, 0.5}, "none", "exhaust of a clothes dryer"),
    };
}

std::vector<Field> heating() {
    return {
        word("kind", "furnace, boiler, resistance, heat pump", "furnace", ""),
        word("fuel", fuels, "propane; electricity of resistance and heat pump", "what it uses"),
        quantity("efficiency", units::fraction, {0.3, 1.0}, "95 %", "of furnace and boiler over the season"),
        quantity("capacity", units::power, {100.0, 1e6}, "as large as needed",
                 "most heat that it gives, \"40000 Btu/h\""),
        row(Kind::list, "points", "a demo curve, invented", "of a heat pump, from the maker's sheet"),
        quantity("cut_off", units::temperature, {223.15, 283.15}, "-25 degC",
                 "outdoors, below which the heat pump stops"),
        quantity("distribution", units::fraction, {0.3, 1.0}, "100 %",
                 "share of the heat that reaches the rooms"),
    };
}

std::vector<Field> cooling() {
    return {
        word("kind", "none, air conditioner, heat pump", "none", ""),
        row(Kind::list, "points", "one efficiency", "from the maker's sheet"),
        quantity("efficiency", units::number, {1.0, 12.0}, "3.5",
                 "cooling over electricity, where no points are given"),
        quantity("capacity", units::power, {100.0, 1e6}, "as large as needed", "most that it takes away"),
    };
}

std::vector<Field> performance() {
    return {
        quantity("outdoor", units::temperature, {223.15, 328.15}, needed, "temperature outdoors",
                 "outdoor = \"17 degF\""),
        quantity("capacity", units::power, {100.0, 1e6}, needed, "heat that it gives or takes away there",
                 "capacity = \"24000 Btu/h\""),
        quantity("efficiency", units::number, {0.8, 12.0}, needed,
                 "heat over electricity there (coefficient of performance)", "efficiency = 2.4"),
    };
}

std::vector<Field> energy() {
    return {
        word("fuel", fuels, needed, "", "fuel = \"electricity\""),
        row(Kind::price, "price", "",
            "the same for all, \"0.152 $/kWh\", \"2.46 $/gallon\", \"1.20 $/therm\", "
            "\"14.75 $/1000 ft3\", \"280 $/cord\""),
        row(Kind::list, "blocks", "", "prices by the use of a month"),
        row(Kind::list, "hours", "", "prices by the hour of the day"),
        row(Kind::price, "monthly", "nothing", "whatever is used, \"12 $/month\""),
        quantity("carbon", units::emission, {0.0, 1e-6}, "of the fuel, by data/house/energy.toml",
                 "CO2, \"0.42 kg/kWh\""),
        quantity("rise", units::fraction, {-0.1, 0.2}, "0 %", "a year, above general prices"),
        row(Kind::text, "date", "not stated", "when that was the price"),
        row(Kind::text, "source", "not stated", "who says so"),
    };
}

std::vector<Field> block() {
    return {
        row(Kind::amount, "upto", "without end", "use of a month up to which the price holds, \"500 kWh\""),
        row(Kind::price, "price", needed, "of what is used above the block before", "price = \"0.12 $/kWh\""),
    };
}

std::vector<Field> hour() {
    return {
        row(Kind::clock, "from", needed, "standard time", "from = \"22:00\""),
        row(Kind::clock, "to", needed, "may lie past midnight", "to = \"06:00\""),
        row(Kind::price, "price", needed, "in these hours", "price = \"0.08 $/kWh\""),
    };
}

std::vector<Field> money() {
    return {
        row(Kind::text, "currency", "$", "in which all prices of energy stand"),
        quantity("discount", units::fraction, {-0.05, 0.3}, "3 %", "a year, without general inflation"),
        integer("years", {1, 100}, "30", "over which savings count"),
    };
}

std::vector<Field> room() {
    return {
        row(Kind::text, "storey", needed, "the storey that it is part of", "storey = \"ground\""),
        outline("corners, as of a storey, inside it",
                "outline = [[\"0 ft\", \"0 ft\"], [\"12 ft\", \"0 ft\"], ...]"),
    };
}

std::vector<Field> appliance() {
    return {
        word("fuel", "natural gas, propane, heating oil, wood", needed, "what it burns", "fuel = \"wood\""),
        word(
            "draught", "natural, fan, sealed", needed,
            "natural: open to the room; fan: a fan pushes its smoke out; sealed: air from outdoors by a pipe",
            "draught = \"sealed\""),
    };
}

std::vector<Field> penetration() {
    return {
        word("kind", "pipe, wire, duct, flue, hatch, recessed light, other", needed, "", "kind = \"pipe\""),
        integer("count", {1, 1000}, "1", "how many"),
        word("through", "ceiling, wall", "ceiling", "which part of the airtight layer"),
        quantity("area", units::area, {1e-6, 1.0}, "by its kind", "of one hole; needed for other"),
    };
}

std::vector<Field> code() {
    return {
        integer("edition", {2000, 2100}, "2021", "of IECC and IRC: 2018, 2021 or 2024"),
        word("zone", zones, "of the place", "climate zone"),
        row(Kind::text, "amendments", "none", "local amendments, a file beside the house file"),
    };
}

}  // namespace

std::vector<Field> service_fields() {
    std::vector<Field> out;
    const auto add = [&](std::string_view table, std::vector<Field> rows) {
        for (Field& each : rows) {
            each.table = table;
            out.push_back(each);
        }
    };
    add("people", people());
    add("ventilation", ventilation());
    add("heating", heating());
    add("cooling", cooling());
    add("performance", performance());
    add("energy", energy());
    add("block", block());
    add("hour", hour());
    add("money", money());
    add("room", room());
    add("appliance", appliance());
    add("penetration", penetration());
    add("code", code());
    return out;
}

}  // namespace warmside::project
