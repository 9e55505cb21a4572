#include "leakage/blower_door.h"

#include <doctest/doctest.h>

#include <cmath>
#include <random>
#include <string>

#include "leakage/student.h"

using namespace warmside;
using namespace warmside::leakage;

namespace {

using Weight = TestFinding::Weight;

TestSeries series(bool depressurise, double c, double n, std::vector<double> sizes, double baseline = 0.0) {
    TestSeries out{.depressurise = depressurise, .before = {baseline}, .after = {baseline}};
    for (const double size : sizes) {
        const double pressure = (depressurise ? -size : size) + baseline;
        out.points.push_back({pressure, c * std::pow(size, n), {"t.csv", 1, 1}});
    }
    return out;
}
const std::vector<double> usual{10, 20, 30, 40, 50, 60};

TestReadings readings(std::vector<TestSeries> all) {
    TestReadings out{
        .file = "t.csv", .volume = 400.0, .indoor = 293.15, .outdoor = 293.15, .barometric = 101325.0};
    out.series = std::move(all);
    return out;
}

std::string said(const TestResult& test, Weight weight) {
    std::string out;
    for (const TestFinding& f : test.findings)
        if (f.weight == weight) out += f.what + " [" + f.clause + "]\n";
    return out;
}

TestResult tested(const TestReadings& r, TestStandard standard = TestStandard::iso_9972) {
    auto out = blower_door(r, standard);
    REQUIRE(out);
    return std::move(*out);
}

}  // namespace

// Two-sided 95 % and 99 % points of printed t tables (memory).
TEST_CASE("Student's t agrees with the printed table") {
    struct Row {
        int degrees;
        double at_975, at_995;
    };
    for (const Row& row : {Row{1, 12.706, 63.657},
                           {2, 4.303, 9.925},
                           {3, 3.182, 5.841},
                           {4, 2.776, 4.604},
                           {5, 2.571, 4.032},
                           {6, 2.447, 3.707},
                           {7, 2.365, 3.499},
                           {8, 2.306, 3.355},
                           {9, 2.262, 3.250},
                           {10, 2.228, 3.169},
                           {20, 2.086, 2.845},
                           {30, 2.042, 2.750},
                           {120, 1.980, 2.617}}) {
        CAPTURE(row.degrees);
        CHECK(student_quantile(0.975, row.degrees) ==
              doctest::Approx(row.at_975).epsilon(0.0006 / row.at_975));
        CHECK(student_quantile(0.995, row.degrees) ==
              doctest::Approx(row.at_995).epsilon(0.0006 / row.at_995));
        CHECK(student_share_below(student_quantile(0.9, row.degrees), row.degrees) ==
              doctest::Approx(0.9).epsilon(1e-12));
    }
    CHECK(student_share_below(0.0, 5) == 0.5);
    CHECK(student_share_below(-2.0, 4) == doctest::Approx(1.0 - student_share_below(2.0, 4)));
    // One degree is Cauchy's distribution, two has the closed form t / (2 sqrt(2 + t^2)).
    CHECK(student_share_below(1.0, 1) == doctest::Approx(0.75));
    CHECK(student_share_below(2.0, 2) == doctest::Approx(0.5 + 2.0 / (2.0 * std::sqrt(6.0))));
}

TEST_CASE("an exact power law is recovered, with limits that shut on it") {
    for (const bool out : {true, false}) {
        const auto test = tested(readings({series(out, 0.02, 0.63, usual, out ? -1.5 : 0.7)}));
        CHECK(test.directions[0].fit->coefficient.value == doctest::Approx(0.02).epsilon(1e-10));
        CHECK(test.figures.exponent == doctest::Approx(0.63).epsilon(1e-10));
        CHECK(test.directions[0].fit->correlation == doctest::Approx(1.0));
        CHECK(test.figures.at_50_pa.high - test.figures.at_50_pa.low < 1e-6);
        CHECK(test.valid());
        CHECK(said(test, Weight::note).empty());
    }
}

TEST_CASE("figures follow from coefficient and exponent, and back") {
    const auto test = tested(readings({series(true, 0.02, 0.63, usual)}), TestStandard::astm_e779);
    const TestFigures& f = test.figures;
    CHECK(f.coefficient * std::pow(50.0, f.exponent) == doctest::Approx(f.at_50_pa.value));
    CHECK(f.ela * std::sqrt(2.0 * 4.0 / 1.204104) ==
          doctest::Approx(f.coefficient * std::pow(4.0, f.exponent)));
    CHECK(0.611 * f.eqla * std::sqrt(2.0 * 10.0 / 1.204104) ==
          doctest::Approx(f.coefficient * std::pow(10.0, f.exponent)));
    CHECK(test.air_change->value * 400.0 == doctest::Approx(f.at_50_pa.value));
    CHECK_FALSE(test.per_envelope_area);
}

// By hand: 20 degC indoors, -10 degC outdoors; n 0.6, C 0.02.
TEST_CASE("flows and coefficients are brought to reference air") {
    auto r = readings({series(true, 0.02, 0.6, usual), series(false, 0.02, 0.6, usual)});
    r.outdoor = 263.15;
    const auto test = tested(r);
    const double cold = 101325.0 / (287.055 * 263.15), warm = 101325.0 / (287.055 * 293.15);
    CHECK(test.directions[0].figures.coefficient ==
          doctest::Approx(0.02 * (263.15 / 293.15) * std::pow(cold / 1.20, 0.4)));
    CHECK(test.directions[1].figures.coefficient ==
          doctest::Approx(0.02 * (293.15 / 263.15) * std::pow(warm / 1.20, 0.4)));
    // E779 also corrects for viscosity: colder air is thinner, by T^0.7 or so.
    const auto e779 = tested(r, TestStandard::astm_e779);
    const double ratio = e779.directions[0].air_factor / std::pow(cold / 1.2041, 0.4);
    CHECK(ratio == doctest::Approx(std::pow(263.15 / 293.15, 0.2 * 0.77)).epsilon(0.001));
}

TEST_CASE("both directions are averaged") {
    const auto test = tested(readings({series(true, 0.02, 0.6, usual), series(false, 0.022, 0.66, usual)}));
    const auto &a = test.directions[0].figures, &b = test.directions[1].figures;
    CHECK(test.figures.at_50_pa.value == doctest::Approx(0.5 * (a.at_50_pa.value + b.at_50_pa.value)));
    CHECK(test.figures.exponent == doctest::Approx(0.63));
    CHECK(test.figures.ela == doctest::Approx(0.5 * (a.ela + b.ela)));
    CHECK(test.figures.coefficient * std::pow(50.0, 0.63) == doctest::Approx(test.figures.at_50_pa.value));
}

TEST_CASE("a single point stands on the assumed exponent, and says so") {
    const auto test = tested(readings({series(true, 0.02, 0.6, {50})}));
    CHECK(test.single_point);
    CHECK(test.figures.exponent == 0.65);
    CHECK(test.figures.at_50_pa.value ==
          doctest::Approx(0.02 * std::pow(50.0, 0.6) * test.directions[0].air_factor));
    CHECK(said(test, Weight::note).find("0.65") != std::string::npos);
    CHECK(against(test, 1.0)->words.find("single point") != std::string::npos);
    CHECK_FALSE(against(test, 1.0)->certain);
}

TEST_CASE("an exponent outside the standard's range makes the test count for nothing") {
    const auto low = tested(readings({series(true, 0.02, 0.47, usual)}));
    CHECK_FALSE(low.valid());
    CHECK(said(low, Weight::invalid).find("0.470, outside 0.5 to 1 [ISO 9972:2015, 6.2") !=
          std::string::npos);
    // The code's quotation of E3158 takes 0.45 and more.
    CHECK(tested(readings({series(true, 0.02, 0.47, usual)}), TestStandard::astm_e3158).valid());
    CHECK_FALSE(tested(readings({series(true, 0.02, 0.44, usual)}), TestStandard::astm_e3158).valid());
    CHECK_FALSE(tested(readings({series(true, 0.02, 1.05, usual)})).valid());
    CHECK_FALSE(against(low, 100.0)->passes);
}

TEST_CASE("scatter, pressures, baseline and weather are told with their clause") {
    auto r = readings({series(true, 0.02, 0.65, {12, 40, 44})});
    r.series[0].points[1].flow *= 1.8;
    r.wind = 7.0;
    r.height = 9.0;
    r.outdoor = 263.15;
    auto test = tested(r);
    CHECK(said(test, Weight::invalid).find("r2 is 0.") != std::string::npos);
    const auto breaches = said(test, Weight::breach);
    CHECK(breaches.find("3 points, fewer than 5") != std::string::npos);
    CHECK(breaches.find("28.0 Pa lie between") != std::string::npos);
    CHECK(breaches.find("highest pressure is 44.0 Pa, below 50 Pa [ISO 9972:2015, 5.3.4]") !=
          std::string::npos);
    CHECK(breaches.find("wind of 7.0 m/s") != std::string::npos);
    CHECK(breaches.find("270 K m") != std::string::npos);

    test = tested(readings({series(true, 0.02, 0.65, {12, 16, 20, 22, 24})}));
    CHECK(said(test, Weight::invalid).find("highest pressure is 24.0 Pa, below 25 Pa") != std::string::npos);

    test = tested(readings({series(true, 0.02, 0.65, {4, 12, 20, 30, 40, 50})}));
    CHECK(said(test, Weight::breach).find("lowest pressure is 4.0 Pa") != std::string::npos);
    test = tested(readings({series(true, 0.02, 0.65, {12, 20, 30, 40, 50}, -3.0)}));
    CHECK(said(test, Weight::breach).find("lowest pressure is 12.0 Pa, below 15.0 Pa") != std::string::npos);

    // Gusts that cancel in the mean still count: each side by itself.
    r = readings({series(true, 0.02, 0.65, {30, 35, 40, 45, 50})});
    r.series[0].before = {-6.0, 6.0};
    CHECK(
        said(tested(r), Weight::invalid).find("baseline reaches 6.0 Pa, over 5 Pa [ISO 9972:2015, 5.3.3]") !=
        std::string::npos);
    r.series[0].before.clear();
    CHECK(said(tested(r), Weight::breach).find("no baseline before") != std::string::npos);
    r.series[0].after.clear();
    CHECK(said(tested(r), Weight::breach).find("none is taken off") != std::string::npos);
    CHECK(said(tested(r, TestStandard::astm_e779), Weight::breach).find("both") != std::string::npos);
}

TEST_CASE("a baseline that leaves nothing of a pressure is a problem at that point") {
    auto r = readings({series(true, 0.02, 0.65, usual)});
    r.series[0].before = r.series[0].after = {-9.5};
    const auto test = blower_door(r, TestStandard::iso_9972);
    REQUIRE_FALSE(test);
    CHECK(test.error().where.file == "t.csv");
    CHECK(test.error().what.find("-9.5 Pa") != std::string::npos);
}

TEST_CASE("one wrong reading among good ones is told as an outlier, and no good one is") {
    auto r = readings({series(true, 0.02, 0.65, {10, 15, 20, 25, 30, 35, 40, 45, 50})});
    std::mt19937 random(5);
    std::uniform_real_distribution<double> error(-0.005, 0.005);
    for (auto& point : r.series[0].points) point.flow *= 1.0 + error(random);
    CHECK(said(tested(r), Weight::note).find("off the line") == std::string::npos);
    r.series[0].points[5].flow *= 1.06;
    const auto notes = said(tested(r), Weight::note);
    CHECK(notes.find("the point at -35.0 Pa lies off the line") != std::string::npos);
    CHECK(notes.find("-30.0 Pa") == std::string::npos);
}

// 95 % limits have to hold the true value in 95 of 100 tests: 2000 tests with normal errors; 4 standard
// deviations of the binomial are 1.9 %.
TEST_CASE("the limits hold the true exponent, coefficient and flow as often as they say") {
    std::mt19937 random(11);
    std::normal_distribution<double> error(0.0, 0.02);
    int n = 0, c = 0, q = 0;
    constexpr int tests = 2000;
    std::vector<double> pressure{12, 18, 24, 30, 36, 42, 48, 54, 60}, flow(9);
    for (int i = 0; i < tests; ++i) {
        for (std::size_t k = 0; k < 9; ++k)
            flow[k] = 0.02 * std::pow(pressure[k], 0.65) * std::exp(error(random));
        const auto fit = fit_power_law(pressure, flow);
        REQUIRE(fit);
        const auto holds = [](const Estimate& e, double value) { return e.low <= value && value <= e.high; };
        n += holds(fit->exponent, 0.65);
        c += holds(fit->coefficient, 0.02);
        q += holds(fit->flow_at(50.0), 0.02 * std::pow(50.0, 0.65));
    }
    for (const int count : {n, c, q}) CHECK(std::abs(count / double{tests} - 0.95) < 0.0195);
}

TEST_CASE("the check against a limit passes by the value and says when the limits reach over it") {
    auto r = readings({series(true, 0.02, 0.65, {10, 20, 30, 40, 50})});
    r.series[0].points[2].flow *= 1.03;
    const auto test = tested(r);
    const double rate = test.air_change->value;
    CHECK(against(test, 2.0 * rate)->passes);
    CHECK(against(test, 2.0 * rate)->certain);
    CHECK(against(test, 1.001 * rate)->passes);
    CHECK_FALSE(against(test, 1.001 * rate)->certain);
    CHECK(against(test, 1.001 * rate)->words.find("within the test's own") != std::string::npos);
    CHECK_FALSE(against(test, 0.5 * rate)->passes);
    CHECK(against(test, 0.5 * rate)->certain);
    r.volume.reset();
    CHECK(against(tested(r), 1.0).error().code == Code::missing);
    CHECK(said(tested(r), Weight::note).find("no volume") != std::string::npos);
    const auto with_house = blower_door(r, TestStandard::iso_9972, {.volume = 400.0, .envelope_area = 380.0});
    REQUIRE(with_house);
    CHECK(with_house->air_change->value == doctest::Approx(rate));
    CHECK(with_house->per_envelope_area->value == doctest::Approx(rate * 400.0 / 380.0));
}
