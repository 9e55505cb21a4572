#include "numerics/table.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace warmside::numerics;

TEST_CASE("a curve through rising points never falls between them") {
    const MonotoneCurve curve({0.0, 1.0, 2.0, 3.0, 4.0}, {0.0, 0.1, 5.0, 5.1, 9.0});
    double last = -1.0;
    for (double x = 0.0; x <= 4.0; x += 0.01) {
        CHECK(curve(x) >= last);
        last = curve(x);
    }
}

TEST_CASE("a table with given slopes is exact for cubics, and its slope is the derivative of its value") {
    const auto f = [](double x) { return 1.0 + x * (2.0 + x * (-3.0 + 0.5 * x)); };
    const auto df = [](double x) { return 2.0 + x * (-6.0 + 1.5 * x); };
    Tables tables(-1.0, 2.0, 6);
    std::vector<double> y, dy;
    for (int i = 0; i <= 6; ++i) {
        y.push_back(f(-1.0 + 0.5 * i));
        dy.push_back(df(-1.0 + 0.5 * i));
    }
    tables.set(3, y, dy);
    for (double x = -1.0; x < 2.0; x += 0.07) {
        CHECK(tables.at(3, x).value == doctest::Approx(f(x)).epsilon(1e-13));
        CHECK(tables.at(3, x).slope == doctest::Approx(df(x)).epsilon(1e-12));
    }
}

TEST_CASE("halving the spacing of a smooth table divides its error by at least eight") {
    const auto worst = [](int intervals) {
        Tables tables(0.0, 1.5, intervals);
        std::vector<double> y;
        for (int i = 0; i <= intervals; ++i) y.push_back(std::exp(1.5 * i / intervals));
        tables.set(0, y);
        double error = 0.0;
        for (double x = 0.2; x < 1.3; x += 0.003)
            error = std::max(error, std::abs(tables.at(0, x).value - std::exp(x)));
        return error;
    };
    CHECK(worst(40) / worst(80) > 7.5);
}

TEST_CASE("a bent function keeps both sides straight") {
    Tables tables(0.0, 4.0, 4);
    const std::vector<double> y{0.0, 1.0, 2.0, 102.0, 202.0};
    tables.set_bent(0, y, 2);
    CHECK(tables.at(0, 1.5).value == doctest::Approx(1.5));
    CHECK(tables.at(0, 2.25).value == doctest::Approx(27.0));
    CHECK(tables.at(0, 2.25).slope == doctest::Approx(100.0));
}
