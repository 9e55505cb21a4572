#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "material/buffer.h"
#include "material/material.h"
#include "material/wood.h"

using namespace warmside::material;

TEST_CASE("wood takes up more the damper and less the warmer the air") {
    for (int percent = 1; percent < 100; ++percent) {
        CHECK(wood_moisture(293.15, percent / 100.0) > wood_moisture(293.15, (percent - 1) / 100.0));
        if (percent >= 5)
            CHECK(wood_moisture(313.15, percent / 100.0) < wood_moisture(283.15, percent / 100.0));
    }
    CHECK(wood_moisture(293.15, 0.0) == 0.0);
}

TEST_CASE("wood at 21.1 degC holds 9.2, 12.0 and 16.0 % at 50, 65 and 80 %") {
    // Printed table of the Wood Handbook, from memory.
    CHECK(std::abs(100.0 * wood_moisture(294.25, 0.50) - 9.2) < 0.05);
    CHECK(std::abs(100.0 * wood_moisture(294.25, 0.65) - 12.0) < 0.05);
    CHECK(std::abs(100.0 * wood_moisture(294.25, 0.80) - 16.0) < 0.05);
}

TEST_CASE("the moisture factor of a wood row follows the Wood Handbook's conductivity") {
    for (const Material& m : built_in().materials) {
        if (m.family != "wood" || m.moisture_factor == 0.0) continue;
        CAPTURE(m.name);
        const double G = m.density / 1000.0;
        for (int percent = 0; percent <= 20; ++percent) {
            const double u = percent / 100.0;
            const double ratio = conductivity(m, m.test_temperature, u * m.density) / m.conductivity;
            const double handbook = wood_conductivity(G, u) / wood_conductivity(G, 0.12);
            // An exponential through 0 and 20 % bends below a straight line.
            CHECK(std::abs(ratio / handbook - 1.0) < 0.02);
        }
    }
}

TEST_CASE("the buffer value is the Fourier solution of the square wave") {
    // Half-space, surface humidity alpha = 1/3 of the day high: swing of the uptake is
    // b p_sat sqrt(t/pi) (2/pi) sum sin^2(n pi alpha)/n^(3/2). The sum's tail is added as an integral of its
    // mean.
    double sum = 0.0;
    constexpr int terms = 300000;
    for (int n = 1; n <= terms; ++n) {
        const double s = std::sin(n * std::numbers::pi / 3.0);
        sum += s * s / std::pow(n, 1.5);
    }
    sum += 0.5 * 2.0 / std::sqrt(terms + 0.5);
    const double exact = 2.0 / std::numbers::pi * sum / std::sqrt(std::numbers::pi);
    // 0.568 is printed to three figures.
    CHECK(std::abs(exact - 0.568) < 0.0008);
    CHECK(moisture_buffer_value(1e-12, 100.0, 2500.0) ==
          doctest::Approx(0.568 * std::sqrt(1e-12 * 100.0 * 2500.0 * 86400.0)));
}

TEST_CASE("liquid diffusivity gives back the water absorption coefficient") {
    // Parlange 1975: A^2 = integral of (w_f + w) D dw from dry to w_f. The factor 3.8 stands for 3.725.
    for (const Material& m : built_in().materials) {
        if (m.absorption <= 0.0) continue;
        CAPTURE(m.name);
        double sum = 0.0;
        constexpr int steps = 4000;
        const double dw = m.free_saturation / steps;
        for (int i = 0; i < steps; ++i) {
            const double w = (i + 0.5) * dw;
            sum += (m.free_saturation + w) * liquid_diffusivity(m, w) * dw;
        }
        CHECK(std::abs(std::sqrt(sum) / m.absorption - 1.0) < 0.015);
    }
}
