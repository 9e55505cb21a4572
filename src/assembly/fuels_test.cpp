#include "assembly/fuels.h"

#include <doctest/doctest.h>

using namespace warmside;
using assembly::Fuel;

namespace {

const assembly::FuelRow& row(Fuel fuel) {
    REQUIRE(assembly::fuels());
    return (*assembly::fuels())[static_cast<std::size_t>(fuel)];
}

double kilograms_a_kilowatt_hour(Fuel fuel) {
    return row(fuel).carbon.value * 3.6e6;
}

double joules(const char* amount, Fuel fuel) {
    const auto parsed = units::parse_amount(amount);
    REQUIRE(parsed);
    const auto energy = assembly::energy_of(*parsed, row(fuel));
    REQUIRE(energy);
    return *energy;
}

}  // namespace

TEST_CASE("the built-in fuels read, each with its source") {
    for (std::size_t i = 0; i < assembly::fuel_count; ++i) {
        const auto& each = row(static_cast<Fuel>(i));
        CHECK(each.fuel == static_cast<Fuel>(i));
        CHECK_FALSE(each.carbon.origin.source.empty());
        CHECK(each.carbon.origin.where.line > 0);
        CHECK(each.sold_by.empty() == (each.fuel == Fuel::electricity));
    }
    CHECK(row(Fuel::propane).carbon.origin.evidence == Evidence::memory);
    CHECK(row(Fuel::natural_gas).carbon.origin.evidence == Evidence::seen);
}

// The same table of EPA (Emission Factors for Greenhouse Gas Inventories 2024, table 1) turned into kg/kWh by
// hand: kg/MMBtu / 293.0711 kWh/MMBtu. Evidence: computed.
TEST_CASE("carbon a kilowatt hour of heat") {
    CHECK(kilograms_a_kilowatt_hour(Fuel::natural_gas) == doctest::Approx(0.18105).epsilon(5e-5));
    CHECK(kilograms_a_kilowatt_hour(Fuel::heating_oil) == doctest::Approx(0.25236).epsilon(5e-5));
    CHECK(kilograms_a_kilowatt_hour(Fuel::propane) == doctest::Approx(0.21452).epsilon(5e-5));
    // 823.149 lb/MWh x 0.45359237 kg/lb.
    CHECK(kilograms_a_kilowatt_hour(Fuel::electricity) == doctest::Approx(0.373374).epsilon(1e-5));
}

// US customary heat contents: a gallon of propane 91 000 Btu, of no. 2 oil 138 000 Btu, a cubic foot of gas
// 1026 Btu, a cord 20 million Btu (evidence: memory; gas seen). 1 Btu = 1055.05585262 J.
TEST_CASE("fuel as sold is energy by its heat content") {
    constexpr double btu = 1055.05585262;
    CHECK(joules("1 gallon", Fuel::propane) == doctest::Approx(91000 * btu));
    CHECK(joules("100 gal", Fuel::heating_oil) == doctest::Approx(13.8e6 * btu));
    CHECK(joules("1000 ft3", Fuel::natural_gas) == doctest::Approx(1.026e6 * btu));
    CHECK(joules("1 cord", Fuel::wood) == doctest::Approx(20e6 * btu));
    CHECK(joules("1 short ton", Fuel::wood) == doctest::Approx(17.48e6 * btu));
    CHECK(joules("1 kWh", Fuel::wood) == 3.6e6);
}

TEST_CASE("a fuel in a unit by which it is not sold is refused") {
    const auto no = [](const char* amount, Fuel fuel) {
        const auto parsed = units::parse_amount(amount);
        REQUIRE(parsed);
        const auto energy = assembly::energy_of(*parsed, row(fuel));
        REQUIRE_FALSE(energy);
        return energy.error().what;
    };
    CHECK(no("1 gallon", Fuel::electricity) == "by the gallon; electricity is sold by kWh, therm");
    CHECK(no("1 gallon", Fuel::natural_gas) ==
          "by the gallon; natural gas is sold by kWh, therm, ft3, ccf, Mcf, m3");
    CHECK(no("1 ft3", Fuel::propane) == "by the ft3; propane is sold by kWh, therm, gallon, L");
    CHECK(no("1 tonne", Fuel::heating_oil) == "by the tonne; heating oil is sold by kWh, therm, gallon, L");
}

TEST_CASE("a faulty table of fuels is refused with its place") {
    const auto problem = [](const char* text) {
        const auto read = assembly::read_fuels("fuels.toml", text);
        REQUIRE_FALSE(read);
        return read.error();
    };
    CHECK(problem("[[fuel]]\nname = \"peat\"\n").code == Code::unknown_name);
    CHECK(problem("").code == Code::incomplete);
    const auto sold = problem(
        "[[fuel]]\nname = \"wood\"\nsold_by = [\"cord\"]\ncarbon = \"0 kg/kWh\"\ncarbon_source = \"x\"\n"
        "carbon_evidence = \"seen\"\n");
    CHECK(sold.what == "no heat content of what is sold by cord");
    CHECK(sold.where.line == 3);
}
