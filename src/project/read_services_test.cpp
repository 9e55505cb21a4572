// What [people] to [code] come to in the model.
#include <doctest/doctest.h>

#include <cmath>

#include "project/model_text.h"
#include "project/read.h"
#include "project/test_files.h"

using namespace warmside;
using namespace warmside::project::test_files;
using assembly::Fuel;

namespace {

const std::string cottage = "examples/assemblies/heat-pump-cottage.toml";

std::unique_ptr<assembly::House> house_of(const std::string& text) {
    auto reading = project::read_house("h.toml", text);
    INFO(in_one_text(reading.problems));
    REQUIRE(reading.house);
    // A ceiling's joists are shallower than its fill, which a note says.
    for (const Problem& each : reading.problems) CHECK(each.severity == Severity::note);
    return std::move(reading.house);
}

const assembly::EnergyPrice& price_of(const assembly::House& house, Fuel fuel) {
    for (const auto& each : house.services.energy)
        if (each.fuel == fuel) return each;
    REQUIRE(false);
    return house.services.energy.front();
}

// Each edit gives a file that reads, and a model that differs.
void check_edits(const std::string& text, std::initializer_list<std::pair<const char*, const char*>> edits) {
    const auto before = project::model_text(*house_of(text));
    for (const auto& [old_text, new_text] : edits) {
        INFO(std::string(old_text));
        std::string edited = text;
        const auto at = edited.find(old_text);
        REQUIRE(at != std::string::npos);
        edited.replace(at, std::string(old_text).size(), new_text);
        const auto reading = project::read_house("f.toml", edited);
        INFO(in_one_text(reading.problems));
        REQUIRE(reading.house);
        CHECK(project::model_text(*reading.house) != before);
    }
}

}  // namespace

// Exact factors: cfm = 0.3048^3/60 m3/s, Btu = 1055.05585262 J, degF = 5/9 K (NIST SP 811; evidence: memory).
TEST_CASE("people, fans and heating are kept in SI, each with its place") {
    const auto house = house_of(read_file(source() / cottage));
    const auto& s = house->services;
    CHECK(s.people.bedrooms.value == 2);
    CHECK(s.people.heating.value == doctest::Approx((70 + 459.67) / 1.8));
    CHECK(s.people.heating.origin.kind == Origin::Kind::house_file);
    CHECK(s.people.night_from == 22.5);
    CHECK(s.people.night_to == 6.0);
    REQUIRE(s.people.moisture);
    CHECK(s.people.moisture->value == doctest::Approx(7.0 / 86400));
    CHECK(s.ventilation.kind.value == assembly::Ventilation::Kind::balanced);
    REQUIRE(s.ventilation.flow);
    CHECK(s.ventilation.flow->value == doctest::Approx(60 * 0.0004719474432));
    CHECK(s.ventilation.fan_power.value == doctest::Approx(0.7 / 0.0004719474432));
    CHECK(s.ventilation.guard.value == assembly::Ventilation::Guard::bypass);
    CHECK(s.heating.kind.value == assembly::Heating::Kind::heat_pump);
    REQUIRE(s.heating.points.size() == 4);
    CHECK(s.heating.points[1].outdoor == doctest::Approx(258.15));
    CHECK(s.heating.points[1].capacity == doctest::Approx(18000 * 1055.05585262 / 3600));
    CHECK(s.heating.points[1].efficiency == 1.9);
    CHECK(s.heating.efficiency.origin.kind == Origin::Kind::assumed);
    CHECK(s.cooling.kind.value == assembly::Cooling::Kind::heat_pump);
    CHECK(s.code.zone == "6A");
    CHECK(s.money.years.value == 25);
    REQUIRE(s.appliances.size() == 1);
    CHECK(s.appliances[0].fuel == Fuel::wood);
    CHECK(s.appliances[0].draught == assembly::Appliance::Draught::natural);
    REQUIRE(s.penetrations.size() == 2);
    CHECK_FALSE(s.penetrations[1].ceiling);
    CHECK(*s.penetrations[1].area == doctest::Approx(4 * 0.0254 * 0.0254));
    REQUIRE(s.rooms.size() == 2);
    CHECK(s.rooms[0].outline.size() == 4);
}

TEST_CASE("prices become money per joule of the fuel's heat") {
    const auto house = house_of(read_file(source() / cottage));
    const auto& grid = price_of(*house, Fuel::electricity);
    // The hours that run over midnight stand twice, in order.
    REQUIRE(grid.hours.size() == 4);
    CHECK(grid.hours[0] == std::array<double, 3>{0.0, 9.0, 0.09 / 3.6e6});
    CHECK(grid.hours[3] == std::array<double, 3>{21.0, 24.0, 0.09 / 3.6e6});
    CHECK(grid.hours[2][2] == doctest::Approx(0.26 / 3.6e6));
    CHECK(grid.blocks.empty());
    CHECK(grid.monthly == 11.0);
    CHECK(*grid.carbon == doctest::Approx(936.485 * 0.45359237 / 3.6e9));
    CHECK(grid.rise == doctest::Approx(0.005));
    CHECK(grid.source == "invented");
    const auto& gas = price_of(*house, Fuel::natural_gas);
    REQUIRE(gas.blocks.size() == 2);
    CHECK(gas.blocks[0][0] == doctest::Approx(50 * 105505585.262));
    CHECK(gas.blocks[0][1] == doctest::Approx(1.05 / 105505585.262));
    CHECK(std::isinf(gas.blocks[1][0]));
    CHECK_FALSE(gas.carbon);
    const auto& wood = price_of(*house, Fuel::wood);
    REQUIRE(wood.blocks.size() == 1);
    // A cord holds 20 million Btu (US EIA; memory).
    CHECK(wood.blocks[0][1] == doctest::Approx(280.0 / 20e6 / 1055.05585262));
}

TEST_CASE("a file that says nothing of them has the defaults, and no prices") {
    const auto reading = project::read_house("h.toml", project::starter());
    REQUIRE(reading.house);
    const auto& s = reading.house->services;
    CHECK(s.people.bedrooms.value == 3);
    CHECK(s.people.bedrooms.origin.kind == Origin::Kind::assumed);
    CHECK(s.ventilation.kind.value == assembly::Ventilation::Kind::exhaust);
    CHECK(s.heating.fuel.value == Fuel::propane);
    CHECK(s.energy.empty());
    CHECK(s.rooms.empty());
    CHECK(s.test.empty());
    CHECK(s.code.edition.value == 2021);
}

TEST_CASE("a heat pump and resistance use electricity without being told") {
    for (const char* kind : {"heat pump", "resistance"}) {
        std::string text(project::starter());
        text += fmt::format("\n[heating]\nkind = \"{}\"\n", kind);
        const auto reading = project::read_house("h.toml", text);
        REQUIRE(reading.house);
        CHECK(reading.house->services.heating.fuel.value == Fuel::electricity);
        CHECK(reading.house->services.heating.fuel.origin.kind == Origin::Kind::assumed);
    }
}

TEST_CASE("every key of [people] to [code] changes the model's text") {
    check_edits(
        read_file(source() / cottage),
        {
            {"bedrooms     = 2", "bedrooms = 3"},
            {"people       = 2", "people = 2.5"},
            {"heating      = \"70 degF\"", "heating = \"71 degF\""},
            {"cooling      = \"77 degF\"", "cooling = \"78 degF\""},
            {"night        = \"65 degF\"", "night = \"64 degF\""},
            {"night_from   = \"22:30\"", "night_from = \"22:45\""},
            {"night_to     = \"6:00\"", "night_to = \"6:01\""},
            {"gains        = \"380 W\"", "gains = \"381 W\""},
            {"moisture     = \"7 kg/day\"", "moisture = \"8 kg/day\""},
            {"humidifier   = \"30 %\"", "humidifier = \"31 %\""},
            {"dehumidifier = \"55 %\"", "dehumidifier = \"56 %\""},
            {"flow              = \"60 cfm\"", "flow = \"61 cfm\""},
            {"run               = \"100 %\"", "run = \"50 %\""},
            {"heat_recovery     = \"78 %\"", "heat_recovery = \"79 %\""},
            {"moisture_recovery = \"45 %\"", "moisture_recovery = \"46 %\""},
            {"frost             = \"14 degF\"", "frost = \"15 degF\""},
            {"guard             = \"bypass\"", "guard = \"preheat\""},
            {"fan_power         = \"0.7 W/cfm\"", "fan_power = \"0.8 W/cfm\""},
            {"ducted            = true", "ducted = false"},
            {"range_hood        = \"200 cfm\"", "range_hood = \"150 cfm\""},
            {"dryer             = \"120 cfm\"", "dryer = \"100 cfm\""},
            {"cut_off      = \"-13 degF\"", "cut_off = \"-10 degF\""},
            {"distribution = \"95 %\"", "distribution = \"90 %\""},
            {"capacity = \"14000 Btu/h\"", "capacity = \"15000 Btu/h\""},
            {"outdoor = \"5 degF\"", "outdoor = \"6 degF\""},
            {"efficiency = 2.4", "efficiency = 2.5"},
            {"kind   = \"heat pump\"\npoints", "kind = \"air conditioner\"\npoints"},
            {"efficiency = 3.6", "efficiency = 3.7"},
            {"to = \"9:00\", price = \"0.09 $/kWh\" },\n  { from = \"9:00\"",
             "to = \"8:00\", price = \"0.09 $/kWh\" },\n  { from = \"8:00\""},
            {"price = \"0.26 $/kWh\"", "price = \"0.27 $/kWh\""},
            {"monthly = \"11 $/month\"", "monthly = \"12 $/month\""},
            {"carbon  = \"936.485 lb/MWh\"", "carbon = \"900 lb/MWh\""},
            {"rise    = \"0.5 %\"", "rise = \"0.6 %\""},
            {"date    = \"2024\"", "date = \"2025\""},
            {"source  = \"invented\"", "source = \"a bill\""},
            {"upto = \"50 therm\"", "upto = \"51 therm\""},
            {"price = \"0.95 $/therm\"", "price = \"0.96 $/therm\""},
            {"fuel   = \"wood\"\nprice  = \"280 $/cord\"", "fuel = \"heating oil\"\nprice = \"4 $/gallon\""},
            {"discount = \"3 %\"", "discount = \"4 %\""},
            {"years    = 25", "years = 26"},
            {"edition = 2021", "edition = 2024"},
            {"zone    = \"6A\"", "zone = \"7\""},
            {"zone    = \"6A\"", "zone = \"6A\"\namendments = \"town.toml\""},
            {"fuel    = \"wood\"\ndraught = \"natural\"", "fuel = \"wood\"\ndraught = \"fan\""},
            {"kind  = \"pipe\"", "kind = \"duct\""},
            {"count = 2", "count = 3"},
            {"through = \"wall\"", "through = \"ceiling\""},
            {"area    = \"4 in2\"", "area = \"5 in2\""},
            {"[\"16 ft\", \"20 ft\"], [\"0 ft\", \"20 ft\"]]",
             "[\"15 ft\", \"20 ft\"], [\"0 ft\", \"20 ft\"]]"},
            {"[people]", "[air]\ntest = \"door.csv\"\n\n[people]"},
            {"[people]", "[indoor]\nmodel = \"from the house\"\n[people]"},
        });
    check_edits(read_file(source() / "examples/assemblies/details.toml"),
                {
                    {"kind       = \"boiler\"", "kind = \"furnace\""},
                    {"fuel       = \"natural gas\"", "fuel = \"wood\""},
                    {"efficiency = \"92 %\"", "efficiency = \"80 %\""},
                    {"capacity   = \"30000 Btu/h\"", "capacity = \"9 kW\""},
                    {"efficiency = 3.4", "efficiency = 3.5"},
                    {"capacity   = \"12000 Btu/h\"", "capacity = \"3 kW\""},
                });
}
