#include "conduction/periodic.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <limits>

using namespace warmside;
using conduction::PlaneLayer;

namespace {
constexpr double day = 86400.0;
constexpr PlaneLayer concrete{.thickness = 0.2, .conductivity = 1.8, .density = 2400, .specific_heat = 1000};
constexpr PlaneLayer wool{.thickness = 0.1, .conductivity = 0.04, .density = 30, .specific_heat = 1400};
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
