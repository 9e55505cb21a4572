#include "numerics/pack.h"

#include <doctest/doctest.h>

#include <cmath>

using namespace warmside::numerics;

TEST_CASE("the exponential of a pack agrees with the library's to two units in the last place") {
    double worst = 0.0;
    for (double x = -690.0; x < 690.0; x += 0.0137) {
        alignas(64) double out[8];
        store<8>(out, exponential<8>(fill<8>(x)));
        worst = std::max(worst, std::abs(out[3] / std::exp(x) - 1.0));
    }
    CHECK(worst < 2.0 * 2.3e-16);
}

TEST_CASE("an exponential out of range is held, not infinite") {
    alignas(64) double out[8];
    store<8>(out, exponential<8>(fill<8>(-1e6)));
    CHECK(out[0] >= 0.0);
    CHECK(out[0] < 1e-300);
    store<8>(out, exponential<8>(fill<8>(1e6)));
    CHECK(std::isfinite(out[0]));
}

TEST_CASE("transposing puts element l of pack k at element k of pack l") {
    Pack<8> x[8];
    for (int k = 0; k < 8; ++k)
        for (int l = 0; l < 8; ++l) x[k][l] = 10.0 * k + l;
    transpose(x);
    for (int k = 0; k < 8; ++k)
        for (int l = 0; l < 8; ++l) CHECK(x[k][l] == 10.0 * l + k);
}
