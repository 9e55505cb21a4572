// Checks of wind, stack, the law of leaks, component areas and blower-door tests.
#include <array>
#include <cmath>

#include "air/moist_air.h"
#include "leakage/air_flow.h"
#include "leakage/blower_door.h"
#include "leakage/components.h"
#include "leakage/student.h"
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
};

}  // namespace

std::span<const Operation> leakage_operations() {
    return operations;
}

}  // namespace warmside::proof
