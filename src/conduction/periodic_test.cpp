#include "conduction/periodic.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <complex>
#include <limits>
#include <numbers>
#include <span>
#include <vector>

using namespace warmside;
using conduction::PlaneLayer;

namespace {
constexpr double day = 86400.0;
constexpr PlaneLayer concrete{.thickness = 0.2, .conductivity = 1.8, .density = 2400, .specific_heat = 1000};
constexpr PlaneLayer stucco{.thickness = 0.005, .conductivity = 1.0, .density = 1200, .specific_heat = 1500};
constexpr PlaneLayer wool{.thickness = 0.1, .conductivity = 0.04, .density = 30, .specific_heat = 1400};

struct Swing {
    std::complex<double> inside,
        outside;  // heat flux that goes in inside and comes out outside, W/m2, with 1 K inside
};

// The same without the two-port matrix: each layer in `cells` slices, k T'' = i w rho c T by finite volumes,
// a complex tridiagonal system.
Swing sliced(std::span<const PlaneLayer> layers, double inside_film, double outside_film, double period,
             int cells) {
    using Complex = std::complex<double>;
    const double w = 2.0 * std::numbers::pi / period;
    std::vector<double> half, store;  // resistance of half a slice, heat capacity of one
    for (const PlaneLayer& layer : layers) {
        for (int i = 0; i < cells; ++i) {
            half.push_back(0.5 * layer.thickness / layer.conductivity / cells);
            store.push_back(layer.density * layer.specific_heat * layer.thickness / cells);
        }
    }
    const std::size_t n = half.size();
    std::vector<double> g(n + 1);
    g[0] = 1.0 / (inside_film + half[0]);
    g[n] = 1.0 / (outside_film + half[n - 1]);
    for (std::size_t i = 1; i < n; ++i) g[i] = 1.0 / (half[i - 1] + half[i]);
    std::vector<Complex> diagonal(n), x(n);
    x[0] = g[0];
    for (std::size_t i = 0; i < n; ++i) {
        diagonal[i] = g[i] + g[i + 1] + Complex(0.0, w * store[i]);
        if (i == 0) continue;
        const Complex factor = g[i] / diagonal[i - 1];
        diagonal[i] -= factor * g[i];
        x[i] += factor * x[i - 1];
    }
    x[n - 1] /= diagonal[n - 1];
    for (std::size_t i = n - 1; i-- > 0;) x[i] = (x[i] + g[i + 1] * x[i + 1]) / diagonal[i];
    return {g[0] * (1.0 - x[0]), g[n] * x[n - 1]};
}
}  // namespace

TEST_CASE("the matrix of a layer has determinant 1") {
    for (const double period : {3600.0, day, 365 * day}) {
        const auto z = conduction::transfer_matrix(concrete, period);
        CHECK(std::abs(z[0] * z[3] - z[1] * z[2] - 1.0) < 1e-10);
    }
}

TEST_CASE("a very long period leaves the steady transmittance and no lag") {
    const std::array layers{concrete, wool};
    const auto slow = conduction::periodic(layers, 0.13, 0.04, 1e6 * day);
    REQUIRE(slow);
    CHECK(slow->decrement == doctest::Approx(1.0).epsilon(1e-6));
    CHECK(slow->transmittance == doctest::Approx(1 / (0.13 + 0.2 / 1.8 + 2.5 + 0.04)));
    CHECK(std::abs(slow->inside_admittance) == doctest::Approx(slow->transmittance).epsilon(1e-5));
}

TEST_CASE("two halves of a layer do what the whole does") {
    PlaneLayer half = concrete;
    half.thickness /= 2;
    const auto whole = conduction::periodic(std::array{concrete}, 0.13, 0.04, day);
    const auto halves = conduction::periodic(std::array{half, half}, 0.13, 0.04, day);
    CHECK(std::abs(whole->periodic_transmittance - halves->periodic_transmittance) < 1e-12);
    CHECK(std::abs(whole->inside_admittance - halves->inside_admittance) < 1e-12);
}

TEST_CASE("turned round, inside and outside change places and the transmittance stays") {
    const auto one = conduction::periodic(std::array{concrete, wool}, 0.13, 0.04, day);
    const auto other = conduction::periodic(std::array{wool, concrete}, 0.04, 0.13, day);
    CHECK(std::abs(one->inside_admittance - other->outside_admittance) < 1e-9);
    CHECK(std::abs(one->periodic_transmittance - other->periodic_transmittance) < 1e-12);
}

TEST_CASE("a lag of more than half a day is still a lag") {
    PlaneLayer thick = concrete;
    thick.thickness = 0.6;
    const auto out = conduction::periodic(std::array{thick}, 0.13, 0.04, day);
    CHECK(out->time_shift < -12 * 3600.0);
}

TEST_CASE("figures that cannot be are refused") {
    PlaneLayer bad = concrete;
    bad.conductivity = 0.0;
    CHECK(conduction::periodic(std::array{bad}, 0.13, 0.04, day).error().code == Code::out_of_range);
    CHECK_FALSE(conduction::periodic(std::array{concrete}, 0.0, 0.04, day));
    CHECK_FALSE(
        conduction::periodic(std::array{concrete}, 0.13, 0.04, std::numeric_limits<double>::quiet_NaN()));
    PlaneLayer endless = concrete;
    endless.thickness = 1000.0;
    CHECK_FALSE(conduction::periodic(std::array{endless}, 0.13, 0.04, day));
}

// No worked example of ISO 13786 was to be had: an independent computation stands in for it.
TEST_CASE("slices by finite volumes come to the matrix, second order") {
    for (const double period : {3600.0, day, 365 * day}) {
        CAPTURE(period);
        const std::array layers{concrete, wool, stucco};
        const auto exact = conduction::periodic(layers, 0.13, 0.04, period);
        REQUIRE(exact.has_value());
        const Swing coarse = sliced(layers, 0.13, 0.04, period, 200),
                    fine = sliced(layers, 0.13, 0.04, period, 400);
        const auto apart = [](std::complex<double> a, std::complex<double> b) {
            return std::abs(a - b) / std::abs(b);
        };
        const double yii = apart(fine.inside, exact->inside_admittance);
        const double yie = apart(fine.outside, exact->periodic_transmittance);
        CHECK(yii < 1e-4);
        CHECK(yie < 1e-3);
        // Richardson: two meshes of a second-order method leave far less.
        CHECK(apart((4.0 * fine.inside - coarse.inside) / 3.0, exact->inside_admittance) < 0.01 * yii + 1e-9);
        CHECK(apart((4.0 * fine.outside - coarse.outside) / 3.0, exact->periodic_transmittance) <
              0.01 * yie + 1e-9);
    }
}
