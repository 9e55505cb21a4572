#include "leakage/blower_door_findings.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace warmside::leakage {

namespace {

using Weight = TestFinding::Weight;

// ours: readings and model measured by two people still agree so well.
constexpr double same_volume = 0.05;
// A pressure of "10 Pa" is read as 9.6; the sequence is a target (ours).
constexpr double reading_slack = 0.5;

class Findings {
public:
    Findings(const TestReadings& readings, const TestRules& rules) : readings_(readings), rules_(rules) {}

    void direction(const TestSeries& series, const TestDirection& d) {
        const std::string word = d.depressurise ? "drawing out" : "blowing in";
        baseline(series, word);
        if (d.single_point)
            add(Weight::note,
                fmt::format("{}: one point, so the exponent is assumed: {}", word, assumed_exponent), {},
                "measure five points or more to know it", series.where);
        else
            fit(series, d, word);
        pressures(series, d, word);
    }

    void whole(const TestResult& result, const TestedHouse& stated) {
        if (rules_.both_directions && result.directions.size() < 2)
            add(Weight::breach, "the test goes one way only; the standard asks for both",
                rules_.clause_pressure, "blow in as well as out, and let the mean count",
                result.directions.empty() ? Place{} : readings_.series.front().where);
        weather();
        if (readings_.volume && stated.volume > 0.0 &&
            std::abs(*readings_.volume / stated.volume - 1.0) > same_volume)
            add(Weight::note,
                fmt::format(
                    "the readings have a volume of {:.0f} m3, the house file {:.0f} m3: the readings' counts",
                    *readings_.volume, stated.volume),
                {}, {}, {readings_.file});
        if (!result.air_change)
            add(Weight::note, "no volume is known: no air change", {},
                "write volume = 500 m3 in the readings", {readings_.file});
    }

    std::vector<TestFinding> done() {
        std::stable_sort(out_.begin(), out_.end(),
                         [](const auto& a, const auto& b) { return a.weight > b.weight; });
        return std::move(out_);
    }

private:
    void add(Weight weight, std::string what, const std::string& clause, std::string advice, Place where) {
        TestFinding f{weight, std::move(what), {}, std::move(advice), std::move(where)};
        if (weight != Weight::note) f.clause = clause.empty() ? rules_.title : rules_.title + ", " + clause;
        out_.push_back(std::move(f));
    }

    void baseline(const TestSeries& series, const std::string& word) {
        if (series.before.empty() || series.after.empty())
            add(Weight::breach,
                fmt::format("{}: no baseline {}", word,
                            !series.before.empty()  ? "after the points"
                            : !series.after.empty() ? "before the points"
                                                    : "before or after the points; none is taken off"),
                rules_.clause_baseline, "read the pressure with the fan closed before and after",
                series.where);
        if (!rules_.baseline) return;
        // ISO takes the means of the readings above and below zero apart, before and after.
        double most = 0.0;
        for (const auto* readings : {&series.before, &series.after}) {
            double sum[2] = {0.0, 0.0}, count[2] = {0.0, 0.0};
            for (const double p : *readings) {
                sum[p < 0.0] += std::abs(p);
                count[p < 0.0] += 1.0;
            }
            for (const int side : {0, 1})
                if (count[side] > 0.0) most = std::max(most, sum[side] / count[side]);
        }
        if (most > *rules_.baseline)
            add(Weight::invalid,
                fmt::format("{}: the baseline reaches {:.1f} Pa, over {:g} Pa", word, most, *rules_.baseline),
                rules_.clause_baseline, "wait for calmer or milder weather", series.where);
    }

    void fit(const TestSeries& series, const TestDirection& d, const std::string& word) {
        const int count = static_cast<int>(series.points.size());
        if (count < rules_.points)
            add(Weight::breach, fmt::format("{}: {} points, fewer than {}", word, count, rules_.points),
                rules_.clause_pressure, {}, series.where);
        const PowerFit& fit = *d.fit;
        const double n = fit.exponent.value;
        if (n < rules_.exponent_least || n > rules_.exponent_most)
            add(Weight::invalid,
                fmt::format("{}: the exponent is {:.3f}, outside {:g} to {:g}", word, n,
                            rules_.exponent_least, rules_.exponent_most),
                rules_.clause_fit,
                n < rules_.exponent_least ? "a flap or damper closed as the pressure rose, or a window stood "
                                            "open for a part: look and repeat"
                                          : "something opened as the pressure rose, or wind disturbed the "
                                            "readings: look and repeat",
                series.where);
        if (rules_.correlation && fit.correlation < *rules_.correlation)
            add(Weight::invalid,
                fmt::format("{}: the points scatter, r2 is {:.4f}, below {:g}", word, fit.correlation,
                            *rules_.correlation),
                rules_.clause_fit, "average longer at each pressure, or wait for calmer weather",
                series.where);
        for (std::size_t i = 0; i < fit.outlier.size(); ++i) {
            if (!fit.outlier[i]) continue;
            add(Weight::note,
                fmt::format(
                    "{}: the point at {:.1f} Pa lies off the line, studentised residual {:.1f}; it is kept",
                    word, series.points[i].pressure, fit.studentised[i]),
                {}, "read it again, or strike it out and say why", series.points[i].where);
        }
    }

    void pressures(const TestSeries& series, const TestDirection& d, const std::string& word) {
        std::vector<double> size;
        for (const double p : d.pressure) size.push_back(std::abs(p));
        std::sort(size.begin(), size.end());
        const double least =
            std::max(rules_.lowest, rules_.lowest_over_baseline.value_or(0.0) * std::abs(d.baseline));
        if (size.front() < least - reading_slack)
            add(Weight::breach,
                fmt::format("{}: the lowest pressure is {:.1f} Pa, below {:.1f} Pa", word, size.front(),
                            least),
                rules_.clause_pressure, "strike it out: wind and stack disturb it most", series.where);
        if (rules_.least_highest && size.back() < *rules_.least_highest - reading_slack)
            add(Weight::invalid,
                fmt::format("{}: the highest pressure is {:.1f} Pa, below {:g} Pa", word, size.back(),
                            *rules_.least_highest),
                rules_.clause_pressure, "use a stronger fan, or look for what stands open", series.where);
        else if (size.back() < rules_.highest - reading_slack)
            add(Weight::breach,
                fmt::format("{}: the highest pressure is {:.1f} Pa, below {:g} Pa", word, size.back(),
                            rules_.highest),
                rules_.clause_pressure, "the flow at 50 Pa is stretched beyond the readings", series.where);
        for (std::size_t i = 1; rules_.step && i < size.size(); ++i) {
            if (size[i] - size[i - 1] <= *rules_.step + reading_slack) continue;
            add(Weight::breach,
                fmt::format("{}: {:.1f} Pa lie between two points, over {:g} Pa", word, size[i] - size[i - 1],
                            *rules_.step),
                rules_.clause_pressure, {}, series.where);
            break;
        }
    }

    void weather() {
        const Place file{readings_.file};
        if (!readings_.indoor || !readings_.outdoor)
            add(Weight::breach, "a temperature is missing: flows are not corrected for the air's density",
                rules_.clause_weather, "write indoor temperature = 20 degC and outdoor temperature = 0 degC",
                file);
        else if (!readings_.barometric)
            add(Weight::note,
                "no barometric pressure: 101325 Pa is taken, 1 % too much each 85 m above the sea", {},
                "write barometric pressure = 97.2 kPa", file);
        if (rules_.wind && readings_.wind && *readings_.wind > *rules_.wind)
            add(Weight::breach,
                fmt::format("wind of {:.1f} m/s, over {:g} m/s", *readings_.wind, *rules_.wind),
                rules_.clause_weather, "wait for calmer weather", file);
        if (rules_.warmth_height && readings_.indoor && readings_.outdoor && readings_.height) {
            const double product = std::abs(*readings_.indoor - *readings_.outdoor) * *readings_.height;
            if (product > *rules_.warmth_height)
                add(Weight::breach,
                    fmt::format("temperature difference times height is {:.0f} K m, over {:g}", product,
                                *rules_.warmth_height),
                    rules_.clause_weather, "wait for milder weather: the stack effect disturbs the test",
                    file);
        }
    }

    const TestReadings& readings_;
    const TestRules& rules_;
    std::vector<TestFinding> out_;
};

}  // namespace

std::vector<TestFinding> findings_of(const TestReadings& readings, const TestRules& rules,
                                     const TestResult& result, const TestedHouse& stated) {
    Findings out(readings, rules);
    for (std::size_t i = 0; i < result.directions.size(); ++i)
        out.direction(readings.series[i], result.directions[i]);
    out.whole(result, stated);
    return out.done();
}

}  // namespace warmside::leakage
