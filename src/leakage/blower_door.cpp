#include "leakage/blower_door.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "leakage/blower_door_findings.h"
#include "leakage/components.h"

namespace warmside::leakage {

namespace {

constexpr double gas_constant = 287.055;  // J/(kg K), dry air (iso-9972)
constexpr double standard_pressure = 101325.0, reference_temperature = 293.15;
// Reference air of E779, dry, 20 degC and 101325 Pa: 1.2041 kg/m3; ISO 9972 rounds it to 1.20.
constexpr double ela_density = standard_pressure / (gas_constant * reference_temperature);
constexpr double iso_density = 1.20;
constexpr double canadian_discharge = 0.611;

double mean(const std::vector<double>& values) {
    return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

// Sutherland's formula with the constants of astm-e779 (memory); only ratios are used.
double viscosity(double temperature) {
    return 1.458e-6 * std::sqrt(temperature) / (1.0 + 110.4 / temperature);
}

double baseline_of(const TestSeries& series) {
    const bool before = !series.before.empty(), after = !series.after.empty();
    if (before && after) return 0.5 * (mean(series.before) + mean(series.after));
    return before ? mean(series.before) : after ? mean(series.after) : 0.0;
}

Estimate scaled(const Estimate& e, double factor) {
    return {factor * e.value, factor * e.low, factor * e.high};
}

TestFigures figures_of(double coefficient, double exponent) {
    TestFigures out{.coefficient = coefficient, .exponent = exponent};
    const auto flow = [&](double pressure) { return coefficient * std::pow(pressure, exponent); };
    out.at_50_pa = {flow(50.0), flow(50.0), flow(50.0)};
    out.ela = area_of_flow(flow(4.0), 4.0, exponent, ela_density, 4.0);
    out.eqla = area_of_flow(flow(10.0), 10.0, exponent, ela_density, 10.0) / canadian_discharge;
    out.iso_ela = area_of_flow(flow(10.0), 10.0, exponent, iso_density, 10.0);
    return out;
}

// To reference air, of a coefficient with this exponent.
double air_factor(const TestReadings& r, const TestRules& rules, bool depressurise, double exponent) {
    if (!r.indoor || !r.outdoor) return 1.0;
    const double temperature = depressurise ? *r.outdoor : *r.indoor;
    const double density = r.barometric.value_or(standard_pressure) / (gas_constant * temperature);
    double factor = std::pow(density / rules.density, 1.0 - exponent);
    if (rules.viscosity)
        factor *= std::pow(viscosity(temperature) / viscosity(reference_temperature), 2.0 * exponent - 1.0);
    return factor;
}

Result<TestDirection> direction_of(const TestReadings& r, const TestSeries& series, const TestRules& rules) {
    TestDirection out{.depressurise = series.depressurise, .baseline = baseline_of(series)};
    double through = 1.0;
    if (r.indoor && r.outdoor)
        through = series.depressurise ? *r.outdoor / *r.indoor : *r.indoor / *r.outdoor;
    std::vector<double> size;
    for (const TestPoint& point : series.points) {
        const double pressure = point.pressure - out.baseline;
        // Below 1 Pa nothing is left of the reading.
        if (series.depressurise ? pressure > -1.0 : pressure < 1.0)
            return fail(
                {.code = Code::out_of_range,
                 .what = fmt::format("the baseline of {:.1f} Pa leaves nothing of the pressure of {:.1f} Pa",
                                     out.baseline, point.pressure),
                 .suggestion = "leave the point out, or test on a calmer day",
                 .where = point.where});
        out.pressure.push_back(pressure);
        out.flow.push_back(point.flow * through);
        size.push_back(std::abs(pressure));
    }
    out.single_point = size.size() == 1;
    if (out.single_point) {
        out.air_factor = air_factor(r, rules, series.depressurise, assumed_exponent);
        out.figures =
            figures_of(out.air_factor * out.flow[0] / std::pow(size[0], assumed_exponent), assumed_exponent);
        return out;
    }
    auto fit = fit_power_law(size, out.flow);
    if (!fit) {
        fit.error().where = series.where;
        return fail(fit.error());
    }
    const double n = fit->exponent.value;
    out.air_factor = air_factor(r, rules, series.depressurise, n);
    out.figures = figures_of(out.air_factor * fit->coefficient.value, n);
    out.figures.at_50_pa = scaled(fit->flow_at(50.0), out.air_factor);
    out.fit = std::move(*fit);
    return out;
}

TestFigures mean_of(const TestFigures& a, const TestFigures& b) {
    TestFigures out;
    const auto half = [](double one, double other) { return 0.5 * (one + other); };
    out.exponent = half(a.exponent, b.exponent);
    const auto& p = a.at_50_pa;
    const auto& q = b.at_50_pa;
    out.at_50_pa.value = half(p.value, q.value);
    out.at_50_pa.low = out.at_50_pa.value - 0.5 * std::hypot(p.value - p.low, q.value - q.low);
    out.at_50_pa.high = out.at_50_pa.value + 0.5 * std::hypot(p.high - p.value, q.high - q.value);
    // What is used has to give the flow at 50 Pa that is told.
    out.coefficient = out.at_50_pa.value / std::pow(50.0, out.exponent);
    out.ela = half(a.ela, b.ela);
    out.eqla = half(a.eqla, b.eqla);
    out.iso_ela = half(a.iso_ela, b.iso_ela);
    return out;
}

}  // namespace

bool TestResult::valid() const {
    return std::none_of(findings.begin(), findings.end(),
                        [](const TestFinding& f) { return f.weight == TestFinding::Weight::invalid; });
}

Result<TestResult> blower_door(const TestReadings& readings, TestStandard standard,
                               const TestedHouse& house) {
    const auto& rules = test_rules(standard);
    if (!rules) return fail(rules.error());
    if (readings.series.empty()) return fail(Code::missing, "the test has no points", {readings.file});
    TestResult out{.name = readings.name, .date = readings.date, .standard = rules->title};
    for (const TestSeries& series : readings.series) {
        auto direction = direction_of(readings, series, *rules);
        if (!direction) return fail(direction.error());
        out.single_point = out.single_point || direction->single_point;
        out.directions.push_back(std::move(*direction));
    }
    out.figures = out.directions.size() == 2 ? mean_of(out.directions[0].figures, out.directions[1].figures)
                                             : out.directions[0].figures;
    out.house = {readings.volume.value_or(house.volume), readings.envelope_area.value_or(house.envelope_area),
                 readings.floor_area.value_or(house.floor_area)};
    const auto over = [&](double size) {
        return size > 0.0 ? std::optional(scaled(out.figures.at_50_pa, 1.0 / size)) : std::nullopt;
    };
    out.air_change = over(out.house.volume);
    out.per_envelope_area = over(out.house.envelope_area);
    out.per_floor_area = over(out.house.floor_area);
    out.findings = findings_of(readings, *rules, out, house);
    return out;
}

Result<LimitCheck> against(const TestResult& test, double limit) {
    if (!test.air_change)
        return fail({.code = Code::missing,
                     .what = "the test has no air change: no volume is known",
                     .suggestion = "write volume = 500 m3 in the readings, or storeys in the house file"});
    const Estimate& rate = *test.air_change;
    LimitCheck out{.limit = limit, .measured = rate.value};
    const bool below = rate.value <= limit, valid = test.valid();
    out.passes = below && valid;
    out.certain = valid && !test.single_point && (below ? rate.high <= limit : rate.low > limit);
    out.words = fmt::format("{:.2f} air changes an hour at 50 Pa, {:.2f} allowed: ", 3600.0 * rate.value,
                            3600.0 * limit);
    if (!valid)
        out.words += "the test does not count";
    else
        out.words += below ? "passes" : "does not pass";
    if (valid && test.single_point)
        out.words += "; a single point has no limits of error";
    else if (valid && !out.certain)
        out.words += fmt::format("; the limit lies within the test's own {:.2f} to {:.2f} (95 %)",
                                 3600.0 * rate.low, 3600.0 * rate.high);
    return out;
}

}  // namespace warmside::leakage
