// Checks of wind, stack, the law of leaks, infiltration models, ventilation rates, component areas,
// blower-door tests.
#include <array>
#include <cmath>

#include "air/moist_air.h"
#include "leakage/air_flow.h"
#include "leakage/blower_door.h"
#include "leakage/components.h"
#include "leakage/infiltration.h"
#include "leakage/student.h"
#include "leakage/ventilation.h"
#include "leakage/wind.h"
#include "proof/inputs.h"

namespace warmside::proof {
namespace {

namespace l = warmside::leakage;

/// given: face (wall, roof), pitch of a roof, angle (list). Pressure coefficients.
Result<Outcome> pressure_coefficient(const Given& given) {
    Inputs v(given);
    const bool wall = v.word("face", {"wall", "roof"}) == "wall";
    const double pitch = wall ? 0.0 : v.one("pitch", units::angle);
    const auto angle = v.list("angle", units::angle);
    return v.then([&]() -> Result<Outcome> {
        Outcome out;
        for (const double a : angle)
            out["coefficient"].push_back(wall ? l::wall_pressure_coefficient(a)
                                              : l::roof_pressure_coefficient(a, pitch));
        return out;
    });
}

/// given: leakages m3/(s m2) (list) at a pressure, exponent, pressure. Flow m3/(s m2) there.
Result<Outcome> power_law(const Given& given) {
    Inputs v(given);
    const auto leakage = v.list("leakage", units::air_leakage);
    const double at = v.one("at", units::pressure), pressure = v.one("pressure", units::pressure);
    const double exponent = v.one("exponent", units::number);
    return v.then([&]() -> Result<Outcome> {
        Outcome out;
        for (const double each : leakage)
            out["flow"].push_back(l::flow_at(pressure, each * std::pow(50.0 / at, exponent), exponent));
        return out;
    });
}

/// given: outdoor and indoor temperature and vapour pressure. Gradient of the pressure difference in still
/// air, Pa/m, as the balance of a house gives it.
Result<Outcome> stack(const Given& given) {
    Inputs v(given);
    const double outdoor = v.one("outdoor", units::temperature), indoor = v.one("indoor", units::temperature);
    const double out_vapour = v.one("outdoor_vapour", units::pressure);
    const double in_vapour = v.one("indoor_vapour", units::pressure);
    return v.then([&]() -> Result<Outcome> {
        climate::Year year;
        climate::Indoor room;
        constexpr std::size_t hours = climate::hours_in_year;
        for (auto* column : {&year.wind_speed, &year.wind_direction}) column->assign(hours, 0.0);
        year.pressure.assign(hours, 101325.0);
        year.temperature.assign(hours, outdoor);
        year.vapour_pressure.assign(hours, out_vapour);
        room.temperature.assign(hours, indoor);
        room.vapour_pressure.assign(hours, in_vapour);
        const assembly::House house;
        const auto made = l::pressures(house, year, room);
        if (!made) return fail(made.error());
        const climate::Plane wall;
        return Outcome{{"gradient", {l::across(*made, wall, 1.0)[0] - l::across(*made, wall, 0.0)[0]}}};
    });
}

/// given: terrain, height. Wind over the station's.
Result<Outcome> wind_share(const Given& given) {
    using Terrain = assembly::Airtightness::Terrain;
    Inputs v(given);
    const std::string word = v.word("terrain", {"open", "suburban", "city"});
    const double height = v.one("height", units::length);
    const Terrain terrain = word == "open"   ? Terrain::open
                            : word == "city" ? Terrain::city
                                             : Terrain::suburban;
    return v.then([&]() -> Result<Outcome> { return Outcome{{"share", {l::wind_share(terrain, height)}}}; });
}

/// given: rule (irc, total), floor_area, bedrooms; total: height, flow at 50 Pa, weather factor, balanced.
/// Rates, m3/s.
Result<Outcome> ventilation(const Given& given) {
    Inputs v(given);
    const bool irc = v.word("rule", {"irc", "total"}) == "irc";
    l::Dwelling dwelling{.floor_area = v.one("floor_area", units::area),
                         .bedrooms = v.whole("bedrooms", 0, 20)};
    double at_50_pa = 0.0, weather = 0.0;
    bool balanced = false;
    if (!irc) {
        dwelling.height = v.one("height", units::length);
        at_50_pa = v.one("at_50_pa", units::flow);
        weather = v.one("weather", units::number);
        balanced = v.flag("balanced");
    }
    return v.then([&]() -> Result<Outcome> {
        const auto& rules = l::ventilation_rules();
        if (!rules) return fail(rules.error());
        if (irc)
            return Outcome{{"equation", {l::irc_rate(*rules, dwelling, false)}},
                           {"credited", {l::irc_rate(*rules, dwelling, true)}},
                           {"table", {l::irc_table_rate(*rules, dwelling, false)}}};
        const auto rate = l::total_rate(*rules, dwelling, at_50_pa, weather, balanced);
        return Outcome{{"total", {rate.total}}, {"infiltration", {rate.infiltration}}, {"fan", {rate.fan}}};
    });
}

/// given: model (basic: area; enhanced: c, n), storeys, shelter, difference, wind. m3/s.
Result<Outcome> infiltration(const Given& given) {
    Inputs v(given);
    const bool basic = v.word("model", {"basic", "enhanced"}) == "basic";
    const double area = basic ? v.one("area", units::area) : 0.0;
    l::EnhancedHouse house;
    if (!basic) {
        house.c = v.one("c", units::number);
        house.n = v.one("n", units::number);
    }
    house.storeys = v.whole("storeys", 1, 3);
    house.shelter = v.whole("shelter", 1, 5);
    const double difference = v.one("difference", units::temperature_difference);
    const double wind = v.one("wind", units::speed);
    return v.then([&]() -> Result<Outcome> {
        if (basic)
            return Outcome{
                {"total", {l::basic_infiltration(area, house.storeys, house.shelter, difference, wind)}}};
        const auto flow = l::enhanced_infiltration(house, difference, wind);
        return Outcome{{"stack", {flow.stack}}, {"wind", {flow.wind}}, {"total", {flow.total}}};
    });
}

/// given: pressure (list, baseline off), flow (list), volume; no temperatures, so nothing is corrected.
Result<Outcome> blower_door(const Given& given) {
    Inputs v(given);
    const auto pressure = v.list("pressure", units::pressure), flow = v.list("flow", units::flow);
    const double volume = v.one("volume", units::volume);
    return v.then([&]() -> Result<Outcome> {
        if (pressure.size() != flow.size() || pressure.empty())
            return fail(Code::conflict, "as many flows as pressures are needed");
        l::TestSeries series{.depressurise = pressure.front() < 0.0};
        for (std::size_t i = 0; i < flow.size(); ++i) series.points.push_back({pressure[i], flow[i], {}});
        l::TestReadings readings{.volume = volume};
        readings.series.push_back(std::move(series));
        const auto test = l::blower_door(readings, l::TestStandard::iso_9972);
        if (!test) return fail(test.error());
        const auto& fit = test->directions.front().fit;
        if (!fit) return fail(Code::incomplete, "a fit needs three points");
        const l::TestFigures& f = test->figures;
        return Outcome{{"exponent", {f.exponent}},
                       {"exponent_limits", {fit->exponent.low, fit->exponent.high}},
                       {"coefficient", {f.coefficient}},
                       {"coefficient_limits", {fit->coefficient.low, fit->coefficient.high}},
                       {"correlation", {fit->correlation}},
                       {"flow_at_50_pa", {f.at_50_pa.value}},
                       {"air_change", {test->air_change->value}},
                       {"ela", {f.ela}},
                       {"eqla", {f.eqla}}};
    });
}

/// given: parts (list of rows of the component table), counts (list). Areas, and flows at 50 Pa.
Result<Outcome> component_list(const Given& given) {
    Inputs v(given);
    const auto parts = v.reader().required(v.reader().texts("parts"), "parts");
    const auto counts = v.list("counts", units::number);
    return v.then([&]() -> Result<Outcome> {
        const auto& table = l::components();
        if (!table) return fail(table.error());
        if (parts->size() != counts.size()) return fail(Code::conflict, "as many counts as parts are needed");
        l::Workmanship sum;
        for (std::size_t i = 0; i < counts.size(); ++i) {
            const l::Component* row = table->find((*parts)[i]);
            if (!row) return fail(Code::unknown_name, "there is no component " + (*parts)[i]);
            sum += counts[i] * row->area;
        }
        const auto flow = [&](double area) {
            return l::flow_of_area(area, 50.0, table->exponent, table->density, table->pressure);
        };
        return Outcome{{"best", {sum.best}},
                       {"typical", {sum.typical}},
                       {"poor", {sum.poor}},
                       {"flow_best", {flow(sum.best)}},
                       {"flow_typical", {flow(sum.typical)}}};
    });
}

/// given: share, degrees (list). The t below which that share lies.
Result<Outcome> student(const Given& given) {
    Inputs v(given);
    const double share = v.one("share", units::fraction, {0.5, 0.9999});
    const auto degrees = v.list("degrees", units::number);
    return v.then([&]() -> Result<Outcome> {
        Outcome out;
        for (const double each : degrees) {
            if (!(each >= 1.0 && each <= 1e6)) return fail(Code::out_of_range, "degrees are 1 to a million");
            out["t"].push_back(l::student_quantile(share, static_cast<int>(each)));
        }
        return out;
    });
}

constexpr std::array operations{
    Operation{"leakage.blower_door", blower_door},
    Operation{"leakage.component_list", component_list},
    Operation{"leakage.pressure_coefficient", pressure_coefficient},
    Operation{"leakage.power_law", power_law},
    Operation{"leakage.stack", stack},
    Operation{"leakage.student", student},
    Operation{"leakage.wind_share", wind_share},
    Operation{"leakage.ventilation", ventilation},
    Operation{"leakage.infiltration", infiltration},
};

}  // namespace

std::span<const Operation> leakage_operations() {
    return operations;
}

}  // namespace warmside::proof
