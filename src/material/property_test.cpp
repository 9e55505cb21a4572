#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "material/material.h"

using namespace warmside;
using namespace warmside::material;

namespace {

constexpr int grid = 2000;

// Humidity over the grid, dense near saturation where curves are steep.
std::vector<double> humidities() {
    std::vector<double> out;
    for (int i = 0; i <= grid / 2; ++i) out.push_back(static_cast<double>(i) / (grid / 2) * 0.98);
    for (int i = 1; i <= grid / 2; ++i) {
        const double t = static_cast<double>(i) / (grid / 2);
        out.push_back(1.0 - 0.02 * std::pow(1.0 - t, 3.0));
    }
    return out;
}

}  // namespace

TEST_CASE("water held rises strictly from nothing to free saturation, capacity is positive") {
    for (const Material& m : built_in().materials) {
        CAPTURE(m.name);
        CHECK(moisture_content(m, 0.0) == 0.0);
        CHECK(moisture_content(m, 1.0) == doctest::Approx(std::max(m.free_saturation, 0.01)).epsilon(1e-12));
        double before = -1.0;
        bool rises = true;
        bool positive = true;
        for (const double rh : humidities()) {
            const double w = moisture_content(m, rh);
            rises = rises && w > before;
            positive = positive && moisture_capacity(m, rh) > 0.0 && std::isfinite(moisture_capacity(m, rh));
            before = w;
        }
        CHECK(rises);
        CHECK(positive);
    }
}

TEST_CASE("capacity is the derivative of water held") {
    for (const Material& m : built_in().materials) {
        CAPTURE(m.name);
        double worst = 0.0;
        for (const double rh : humidities()) {
            const double step = 1e-4 * (1.0 - rh + 1e-3);
            if (rh - step < 0.0 || rh + step > 1.0) continue;
            const double slope =
                (moisture_content(m, rh + step) - moisture_content(m, rh - step)) / (2.0 * step);
            // The second derivative jumps at the points; a central difference then errs by a half step of it.
            worst = std::max(worst, std::abs(slope / moisture_capacity(m, rh) - 1.0));
        }
        CHECK(worst < 2e-3);
    }
}

TEST_CASE("capacity does not jump at the points") {
    for (const Material& m : built_in().materials) {
        CAPTURE(m.name);
        for (const double rh : m.sorption.x) {
            if (rh <= 0.0 || rh >= 1.0) continue;
            const double left = moisture_capacity(m, std::nextafter(rh, 0.0));
            const double right = moisture_capacity(m, std::nextafter(rh, 1.0));
            CHECK(left == doctest::Approx(right).epsilon(1e-9));
        }
    }
}

TEST_CASE("relative humidity undoes moisture content") {
    for (const Material& m : built_in().materials) {
        CAPTURE(m.name);
        double worst = 0.0;
        for (const double rh : humidities()) {
            worst = std::max(worst, std::abs(relative_humidity(m, moisture_content(m, rh)) - rh));
        }
        CHECK(worst < 1e-9);
    }
}

TEST_CASE("moisture content beyond its range counts as the nearer end") {
    const Material& m = *built_in().material("osb");
    CHECK(moisture_content(m, -0.1) == 0.0);
    CHECK(moisture_content(m, 1.1) == moisture_content(m, 1.0));
    CHECK(relative_humidity(m, -1.0) == 0.0);
    CHECK(relative_humidity(m, 1e4) == doctest::Approx(1.0).epsilon(1e-12));
}

TEST_CASE("the points of a row are met") {
    for (const Material& m : built_in().materials) {
        CAPTURE(m.name);
        for (std::size_t i = 0; i < m.sorption.x.size(); ++i) {
            CHECK(moisture_content(m, m.sorption.x[i]) == doctest::Approx(m.sorption.y[i]).epsilon(1e-12));
        }
        for (std::size_t i = 0; i < m.permeability.x.size(); ++i) {
            CHECK(vapour_permeability(m, m.permeability.x[i]) == m.permeability.y[i]);
        }
    }
}

TEST_CASE("vapour permeability is positive, below still air, and does not jump") {
    for (const Material& m : built_in().materials) {
        CAPTURE(m.name);
        double before = vapour_permeability(m, 0.0);
        double jump = 0.0;
        for (int i = 0; i <= grid; ++i) {
            const double delta = vapour_permeability(m, static_cast<double>(i) / grid);
            CHECK_UNARY(delta > 0.0 && delta <= 2.2e-10);
            jump = std::max(jump, std::abs(std::log(delta / before)));
            before = delta;
        }
        // The steepest row, white cedar, gains a factor of 7 over 20 % of humidity.
        CHECK(jump < 2.0 * std::log(7.0) / (0.2 * grid));
    }
}

TEST_CASE("liquid diffusivity does not fall with water, and is nothing without absorption") {
    for (const Material& m : built_in().materials) {
        CAPTURE(m.name);
        double before = -1.0;
        for (int i = 0; i <= grid; ++i) {
            const double w = m.free_saturation * i / grid;
            const double d = liquid_diffusivity(m, w);
            if (m.absorption > 0.0) {
                CHECK_UNARY(d > before);
            } else {
                CHECK_UNARY(d == 0.0);
            }
            before = d;
        }
    }
}

TEST_CASE("conductivity grows with water and is as tested by default") {
    for (const Material& m : built_in().materials) {
        CAPTURE(m.name);
        CHECK(conductivity(m, m.test_temperature) == m.conductivity);
        double before = 0.0;
        for (int i = 0; i <= grid; ++i) {
            const double k = conductivity(m, 283.15, m.free_saturation * i / grid);
            CHECK_UNARY(k > 0.0 && k >= before);
            before = k;
        }
    }
}

TEST_CASE("the moisture supplement of conductivity is held beyond a tenth of the volume") {
    const Material& m = *built_in().material("brick");
    CHECK(conductivity(m, 297.15, 100.0) == doctest::Approx(m.conductivity * std::exp(1.0)));
    CHECK(conductivity(m, 297.15, 150.0) == conductivity(m, 297.15, 100.0));
}

TEST_CASE("conductivity of wool falls in the cold") {
    const Material& m = *built_in().material("stone wool batt");
    CHECK(conductivity(m, 273.15) < conductivity(m, 297.15));
    CHECK(conductivity(m, 283.15) ==
          doctest::Approx(m.conductivity * std::exp(-14.0 * m.temperature_factor)));
}

TEST_CASE("permeance of a membrane is positive and held outside its points") {
    for (const Membrane& m : built_in().membranes) {
        CAPTURE(m.name);
        CHECK(permeance(m, 0.0) == m.permeance.y.front());
        CHECK(permeance(m, 1.0) == m.permeance.y.back());
        for (int i = 0; i <= grid; ++i) CHECK_UNARY(permeance(m, static_cast<double>(i) / grid) > 0.0);
    }
}

TEST_CASE("the logarithm of permeance is linear in humidity between points") {
    const Membrane& m = *built_in().membrane("variable retarder");
    CHECK(permeance(m, 0.40) == doctest::Approx(std::sqrt(permeance(m, 0.30) * permeance(m, 0.50))));
}

TEST_CASE("a single sorption point or none still gives a rising curve") {
    Material metal;
    metal.permeability = {{0.5}, {1e-16}};
    CHECK(moisture_content(metal, 1.0) > moisture_content(metal, 0.5));
    CHECK(moisture_capacity(metal, 0.5) > 0.0);
    Material one;
    one.free_saturation = 100.0;
    one.sorption = {{0.8}, {5.0}};
    CHECK(moisture_content(one, 0.8) == doctest::Approx(5.0));
    CHECK(moisture_content(one, 0.4) > 0.0);
    CHECK(moisture_content(one, 0.4) < 5.0);
    CHECK(moisture_content(one, 1.0) == doctest::Approx(100.0));
}

TEST_CASE("a curve that is measured up to saturation needs no free saturation") {
    Material m;
    m.sorption = {{0.0, 0.5, 1.0}, {0.0, 10.0, 40.0}};
    CHECK(moisture_content(m, 1.0) == doctest::Approx(40.0));
    CHECK(relative_humidity(m, 40.0) == doctest::Approx(1.0));
}

TEST_CASE("label R is the package's, between packages by resistivity, and nothing without a label") {
    const Material& batt = *built_in().material("stone wool batt");
    constexpr double us_r = 0.17611018;
    CHECK(*label_resistance(batt, 0.1397) / us_r == doctest::Approx(23.0).epsilon(1e-4));
    CHECK(*label_resistance(batt, 0.140) / us_r == doctest::Approx(23.0).epsilon(1e-4));
    const double between = *label_resistance(batt, 0.1143) / us_r;  // 4 1/2 in
    CHECK(between > 4.5 * 23.0 / 5.5);
    CHECK(between < 4.5 * 15.0 / 3.5);
    CHECK_FALSE(label_resistance(*built_in().material("gypsum board"), 0.0127));
}
