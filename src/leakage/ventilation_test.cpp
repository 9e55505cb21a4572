#include "leakage/ventilation.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "leakage/test_weather.h"
#include "units/quantity.h"

using namespace warmside;
using namespace warmside::leakage;

namespace {

using Kind = assembly::Ventilation::Kind;
using Draught = assembly::Appliance::Draught;

double si(const char* text, const units::Dimension& dimension) {
    const auto value = units::parse(text, dimension);
    REQUIRE(value);
    return *value;
}
double cfm(double volume_per_time) {
    return volume_per_time / si("1 cfm", units::flow);
}
const VentilationRules& rules() {
    REQUIRE(ventilation_rules());
    return *ventilation_rules();
}
VentilationCheck checked(const assembly::House& house, double at_50_pa = 0.2) {
    const auto envelope = envelope_of(house);
    REQUIRE(envelope);
    const auto out = check_ventilation(house, *envelope, {.at_50_pa = at_50_pa, .exponent = 0.65});
    REQUIRE(out);
    return *out;
}
bool pressing(const VentilationCheck& check) {
    return std::any_of(check.reminders.begin(), check.reminders.end(),
                       [](const auto& r) { return r.pressing; });
}

}  // namespace

// The project's reference collection, code-more (computed from the code's seen equation and table).
TEST_CASE("2400 ft2 and 3 bedrooms: 54 cfm by equation, 60 by table, 37.8 and 42 with the credit") {
    const Dwelling dwelling{si("2400 ft2", units::area), 3, 5.5};
    CHECK(cfm(irc_rate(rules(), dwelling, false)) == doctest::Approx(54.0).epsilon(1e-9));
    CHECK(cfm(irc_rate(rules(), dwelling, true)) == doctest::Approx(37.8).epsilon(1e-9));
    CHECK(cfm(irc_table_rate(rules(), dwelling, false)) == doctest::Approx(60.0).epsilon(1e-9));
    CHECK(cfm(irc_table_rate(rules(), dwelling, true)) == doctest::Approx(42.0).epsilon(1e-9));
}

TEST_CASE("the table's rows and columns end where the code says") {
    const auto at = [&](const char* area, int bedrooms) {
        return cfm(irc_table_rate(rules(), {si(area, units::area), bedrooms, 5.0}, false));
    };
    CHECK(at("1499 ft2", 1) == doctest::Approx(30.0));
    CHECK(at("1501 ft2", 1) == doctest::Approx(45.0));
    CHECK(at("1499 ft2", 2) == doctest::Approx(45.0));
    CHECK(at("20000 ft2", 8) == doctest::Approx(165.0));
    CHECK(at("900 ft2", 0) == doctest::Approx(30.0));
}

TEST_CASE("a fan that runs a quarter of the time moves four times as much; a shorter run has no factor") {
    CHECK(*intermittent_factor(rules(), 1.0) == 1.0);
    CHECK(*intermittent_factor(rules(), 0.25) == 4.0);
    CHECK(*intermittent_factor(rules(), 0.5) == 2.0);
    CHECK(*intermittent_factor(rules(), 0.58) == doctest::Approx(1.75));  // half way from 50 to 66 %
    CHECK_FALSE(intermittent_factor(rules(), 0.2));
    CHECK_FALSE(intermittent_factor(rules(), std::nan("")));
}

TEST_CASE("an unbalanced fan gets less credit for infiltration, and none gets more than two thirds") {
    const Dwelling dwelling{200.0, 3, 5.5};
    const double tight = 0.6 * 500.0 / 3600.0;
    const auto balanced = total_rate(rules(), dwelling, tight, 0.7, true);
    const auto exhaust = total_rate(rules(), dwelling, tight, 0.7, false);
    CHECK(exhaust.fan > balanced.fan);
    CHECK(total_rate(rules(), dwelling, 0.0, 0.7, true).fan == doctest::Approx(0.044));
    const auto leaky = total_rate(rules(), dwelling, 100.0 * tight, 0.7, true);
    CHECK(leaky.infiltration == doctest::Approx(2.0 / 3.0 * leaky.total));
}

TEST_CASE("fans: what is not stated shifts no pressure and moves the code's rate") {
    assembly::House house;
    auto fans = fans_of(house);
    REQUIRE(fans);
    CHECK(fans->rate_assumed);
    CHECK(fans->imbalance() == 0.0);
    const Dwelling dwelling{2.0 * 8.5 * 8.5, 3, 5.3};  // the default house, defaults.toml
    CHECK(fans->supply == doctest::Approx(irc_rate(rules(), dwelling, false)));

    auto& v = house.services.ventilation;
    v.kind = stated(Kind::exhaust);
    v.flow = stated(0.04);
    v.run = stated(0.5);
    fans = fans_of(house);
    CHECK(fans->exhaust == doctest::Approx(0.02));
    CHECK(fans->supply == 0.0);
    CHECK(fans->imbalance() == doctest::Approx(-0.02));
    CHECK(fans->running == doctest::Approx(0.04));
    CHECK(fans->power == doctest::Approx(800.0 * 0.02));
    v.kind = stated(Kind::balanced);
    CHECK(fans_of(house)->imbalance() == 0.0);
    v.kind = stated(Kind::none);
    CHECK(fans_of(house)->supply == 0.0);
}

TEST_CASE("a fan at the code's rate meets it, a weaker one and one that runs too seldom do not") {
    assembly::House house;
    auto& v = house.services.ventilation;
    v.kind = stated(Kind::balanced);
    v.ducted = stated(true);
    auto out = checked(house);
    CHECK(out.credit);
    CHECK(out.meets_irc());
    v.flow = stated(0.9 * out.irc);
    CHECK_FALSE(checked(house).meets_irc());
    v.flow = stated(10.0 * out.irc);
    CHECK(checked(house).meets_irc());
    CHECK(checked(house).meets_total());
    v.run = stated(0.1);
    out = checked(house);
    CHECK_FALSE(out.factor);
    CHECK_FALSE(out.meets_irc());
}

TEST_CASE("make-up air is asked for over 400 cfm beside an appliance that is open to the room") {
    assembly::House house;
    auto& v = house.services.ventilation;
    house.services.appliances.push_back({.name = "water heater", .draught = Draught::natural});
    v.range_hood = stated(si("600 cfm", units::flow));
    auto out = checked(house);
    REQUIRE(out.make_up);
    CHECK(cfm(*out.make_up) == doctest::Approx(600.0));
    CHECK(pressing(out));
    v.range_hood = stated(si("400 cfm", units::flow));
    CHECK_FALSE(checked(house).make_up);
    v.range_hood = stated(si("600 cfm", units::flow));
    house.services.appliances.front().draught = Draught::sealed;
    out = checked(house);
    CHECK_FALSE(out.make_up);
    CHECK_FALSE(pressing(out));
}

TEST_CASE("exhaust fans draw a tight house below outdoors: by hand") {
    assembly::House house;
    auto& v = house.services.ventilation;
    v.kind = stated(Kind::exhaust);
    v.flow = stated(0.02);
    v.range_hood = stated(0.05);
    v.dryer = stated(0.03);
    house.services.appliances.push_back({.name = "stove", .draught = Draught::natural});
    const auto out = checked(house, 0.2);
    CHECK(out.largest_exhaust == doctest::Approx(0.1));
    CHECK(out.depressurised == doctest::Approx(17.213).epsilon(1e-4));  // 50 x 0.5^(1/0.65)
    CHECK(out.reminders.front().words.find("beyond") != std::string::npos);
    CHECK(checked(house, 20.0).reminders.front().words.find("within") != std::string::npos);
    v.kind = stated(Kind::balanced);
    CHECK(checked(house, 0.2).largest_exhaust == doctest::Approx(0.08));
}

TEST_CASE("a broken file of ventilation rules is refused with its place") {
    const auto read = read_ventilation_rules("v.toml", "[irc]\nper_area = \"3 K\"\n");
    REQUIRE_FALSE(read);
    CHECK(read.error().where.file == "v.toml");
    CHECK(read.error().where.line == 2);
}
