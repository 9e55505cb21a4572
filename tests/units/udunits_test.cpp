// Every conversion factor of the units room against the public unit library udunits2 (UCAR).
#include <array>
#include <cmath>
#include <doctest/doctest.h>
#include <map>
#include <string>
#include <udunits2.h>

#include "units/quantity.h"

namespace {

// Our spelling -> the library's, where they differ. Left out on purpose: forms that are no unit but a
// convention.
const std::map<std::string, std::string>& translations() {
    static const std::map<std::string, std::string> words{
        {"in.", "inch"},
        {"inches", "inch"},
        {"\"", "inch"},
        {"in", "inch"},
        {"ft.", "foot"},
        {"'", "foot"},
        {"ft", "foot"},
        {"mil", "0.001 inch"},
        {"m2", "m^2"},
        {"mm2", "mm^2"},
        {"cm2", "cm^2"},
        {"ft2", "foot^2"},
        {"sq ft", "foot^2"},
        {"in2", "inch^2"},
        {"m3", "m^3"},
        {"ft3", "foot^3"},
        {"ccf", "100 foot^3"},
        {"Mcf", "1000 foot^3"},
        {"gallon", "US_liquid_gallon"},
        {"gallons", "US_liquid_gallon"},
        {"gal", "US_liquid_gallon"},
        // The library has no cord: 4 x 4 x 8 ft, NIST Handbook 44, appendix C (memory).
        {"cord", "128 foot^3"},
        {"cords", "128 foot^3"},
        {"short ton", "short_ton"},
        {"deg", "degree"},
        {"°", "degree"},
        {"days", "day"},
        {"weeks", "week"},
        {"mph", "mile/hour"},
        {"lb", "pound"},
        {"kg/m3", "kg/m^3"},
        {"g/m3", "g/m^3"},
        {"lb/ft3", "pound/foot^3"},
        {"pcf", "pound/foot^3"},
        {"kg/m2", "kg/m^2"},
        {"g/m2", "g/m^2"},
        {"lb/ft2", "pound/foot^2"},
        {"degC", "degC"},
        {"C", "degC"},
        {"°C", "degC"},
        {"F", "degF"},
        {"°F", "degF"},
        {"lbf", "pound*standard_free_fall"},
        {"lbf/ft", "pound*standard_free_fall/foot"},
        {"lbf/in", "pound*standard_free_fall/inch"},
        {"psf", "pound*standard_free_fall/foot^2"},
        {"psi", "pound*standard_free_fall/inch^2"},
        {"inHg", "inch_Hg"},
        {"W/(m K)", "W m^-1 K^-1"},
        {"W/mK", "W m^-1 K^-1"},
        {"Btu/(h ft degF)", "Btu hour^-1 foot^-1 (K/1.8)^-1"},
        {"Btu in/(h ft2 degF)", "Btu inch hour^-1 foot^-2 (K/1.8)^-1"},
        {"m2 K/W", "m^2 K W^-1"},
        {"m2K/W", "m^2 K W^-1"},
        {"h ft2 degF/Btu", "hour foot^2 (K/1.8) Btu^-1"},
        {"W/(m2 K)", "W m^-2 K^-1"},
        {"W/m2K", "W m^-2 K^-1"},
        {"Btu/(h ft2 degF)", "Btu hour^-1 foot^-2 (K/1.8)^-1"},
        {"Btu/(h degF)", "Btu hour^-1 (K/1.8)^-1"},
        {"W/m2", "W m^-2"},
        {"Btu/(h ft2)", "Btu hour^-1 foot^-2"},
        {"Btu/h", "Btu hour^-1"},
        {"kWh", "kW hour"},
        {"MWh", "MW hour"},
        {"therm", "1e5 Btu"},
        {"therms", "1e5 Btu"},
        {"MMBtu", "1e6 Btu"},
        {"W/(m3/s)", "W m^-3 s"},
        {"kW/(m3/s)", "kW m^-3 s"},
        {"W/(L/s)", "W liter^-1 s"},
        {"W/(m3/h)", "W m^-3 hour"},
        {"W/cfm", "W foot^-3 minute"},
        {"kg/d", "kg/day"},
        {"kg/h", "kg/hour"},
        {"g/h", "g/hour"},
        {"lb/day", "pound/day"},
        {"kg/kWh", "kg kW^-1 hour^-1"},
        {"g/kWh", "g kW^-1 hour^-1"},
        {"kg/MMBtu", "kg/(1e6 Btu)"},
        {"lb/MMBtu", "pound/(1e6 Btu)"},
        {"lb/MWh", "pound MW^-1 hour^-1"},
        {"J/(kg K)", "J kg^-1 K^-1"},
        {"J/kgK", "J kg^-1 K^-1"},
        {"kJ/(kg K)", "kJ kg^-1 K^-1"},
        {"Btu/(lb degF)", "Btu pound^-1 (K/1.8)^-1"},
        {"J/(m2 K)", "J m^-2 K^-1"},
        {"kJ/(m2 K)", "kJ m^-2 K^-1"},
        {"kg/(s m2 Pa)", "kg s^-1 m^-2 Pa^-1"},
        {"ng/(s m2 Pa)", "ng s^-1 m^-2 Pa^-1"},
        {"ng/(Pa s m2)", "ng s^-1 m^-2 Pa^-1"},
        {"perm", "pound/7000 hour^-1 foot^-2 inch_Hg^-1"},
        {"perms", "pound/7000 hour^-1 foot^-2 inch_Hg^-1"},
        {"kg/(s m Pa)", "kg s^-1 m^-1 Pa^-1"},
        {"ng/(s m Pa)", "ng s^-1 m^-1 Pa^-1"},
        {"perm in", "pound/7000 hour^-1 foot^-2 inch_Hg^-1 inch"},
        {"kg/(s m2)", "kg s^-1 m^-2"},
        {"g/(m2 h)", "g m^-2 hour^-1"},
        {"kg/(m2 h)", "kg m^-2 hour^-1"},
        {"ng/(s m2)", "ng s^-1 m^-2"},
        {"kg/(m2 s^0.5)", ""},
        {"kg/(m2 h^0.5)", ""},
        {"m2/s", "m^2/s"},
        {"m3/s", "m^3/s"},
        {"L/s", "liter/s"},
        {"m3/h", "m^3/hour"},
        {"cfm", "foot^3/minute"},
        {"1/s", "s^-1"},
        {"1/h", "hour^-1"},
        {"/h", "hour^-1"},
        {"ACH", "hour^-1"},
        {"m3/(s m2)", "m^3 s^-1 m^-2"},
        {"L/(s m2)", "liter s^-1 m^-2"},
        {"m3/(h m2)", "m^3 hour^-1 m^-2"},
        {"cfm/ft2", "foot^3/minute foot^-2"},
        {"L", "liter"},
        {"h", "hour"},
        {"d", "day"},
        {"km/h", "km/hour"}};
    return words;
}

struct Library {
    ut_system* system = nullptr;
    Library() {
        ut_set_error_message_handler(ut_ignore);
        system = ut_read_xml(nullptr);
    }
    ~Library() { ut_free_system(system); }
    Library(const Library&) = delete;
    Library& operator=(const Library&) = delete;
};

}  // namespace

TEST_CASE("every accepted spelling converts as udunits2 does") {
    const Library library;
    REQUIRE(library.system);
    int compared = 0;
    for (const auto* dimension : warmside::units::dimensions()) {
        // Rain in mm is a mass per area of water at 1000 kg/m3, a convention; % and plain numbers have no
        // unit.
        if (dimension->si == "-" || dimension == &warmside::units::rain ||
            dimension == &warmside::units::absorption)
            continue;
        const bool difference = dimension == &warmside::units::temperature_difference;
        const auto translate = [&](std::string_view ours) {
            if (difference && ours != "K") return ours == "degC" ? std::string("K") : std::string("K/1.8");
            const auto found = translations().find(std::string(ours));
            return found == translations().end() ? std::string(ours) : found->second;
        };
        ut_unit* si = ut_parse(library.system, translate(dimension->si).c_str(), UT_UTF8);
        CAPTURE(dimension->name);
        REQUIRE(si);
        for (const auto& spelling : dimension->spellings) {
            CAPTURE(spelling.text);
            ut_unit* unit = ut_parse(library.system, translate(spelling.text).c_str(), UT_UTF8);
            REQUIRE(unit);
            cv_converter* converter = ut_get_converter(unit, si);
            REQUIRE(converter);
            const double theirs = cv_convert_double(converter, 7.25);
            const double ours = 7.25 * spelling.factor + spelling.offset;
            // The library's Btu and inch of mercury are rounded in the seventh digit (1055.056 J; 3386.389
            // Pa).
            CHECK(std::abs(ours - theirs) <= 1e-6 * std::abs(theirs));
            cv_free(converter);
            ut_free(unit);
            ++compared;
        }
        ut_free(si);
    }
    CHECK(compared > 100);
}
