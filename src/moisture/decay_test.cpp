#include "moisture/decay.h"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "moisture/criteria.h"

using namespace warmside::moisture;

TEST_CASE("decay starts only above 0 degC and 95 %") {
    CHECK(std::isinf(decay_start_time(293.15, 0.95)));
    CHECK(std::isinf(decay_start_time(273.15, 1.0)));
    CHECK(decay_loss_rate(293.15, 0.95) == 0.0);
    CHECK(decay_loss_rate(268.15, 1.0) == 0.0);
    CHECK(decay_start_time(293.15, 0.98) ==
          doctest::Approx(430.2 * 3600.0).epsilon(0.001));  // decay-viitanen-2010
}

TEST_CASE("the decay fit gives a positive time or none, over all favourable conditions") {
    for (double t = 0.1; t < 60.0; t += 0.7)
        for (double r = 0.951; r <= 1.0; r += 0.003) {
            CHECK(decay_start_time(273.15 + t, r) > 0.0);
            CHECK(decay_loss_rate(273.15 + t, r) >= 0.0);
        }
}

TEST_CASE("activation falls from 1 to 0 in two dry years and mass is lost only at 1") {
    DecaySurface surface;
    const std::vector<float> warm(17520, 293.15F), damp(17520, 1.0F), dry(17520, 0.5F);
    surface.march(std::span(warm).first(220), std::span(damp).first(220), 1.0);
    CHECK(surface.peak() == doctest::Approx(220.0 / 220.4).epsilon(0.001));
    CHECK(surface.mass_loss() == 0.0);
    surface.march(std::span(warm).first(1001), std::span(damp).first(1001), 1.0);
    CHECK(surface.mass_loss() == doctest::Approx(1000.0 * 0.00682 / 100.0).epsilon(0.002));
    surface.march(std::span(warm).first(8760), std::span(dry).first(8760), 1.0);
    surface.march(std::span(warm).first(1), std::span(dry).first(1), 1.0);
    CHECK(surface.peak() == doctest::Approx(0.5).epsilon(0.001));
}

TEST_CASE("a running mean is the largest full window that ends in the range") {
    const std::vector<float> series{1, 2, 9, 2, 1, 1, 5, 5};
    const auto all = worst_running_mean(series, 3, 0, 8);
    CHECK(all.value == doctest::Approx(13.0 / 3.0));
    CHECK(all.sample == 3);
    const auto late = worst_running_mean(series, 2, 5, 8);
    CHECK(late.value == 5.0);
    CHECK(late.sample == 7);
    CHECK_FALSE(worst_running_mean(series, 9, 0, 8).found);
    CHECK(worst_running_mean(series, 1, 2, 3).value == 9.0);
}

TEST_CASE("surface humidity counts only windows of the right mean temperature") {
    const std::vector<float> cold(10, 274.0F), warm(10, 290.0F), damp(10, 0.9F);
    CHECK_FALSE(worst_surface_humidity(cold, damp, 5, 0, 10, 278.15, 313.15).found);
    CHECK(worst_surface_humidity(warm, damp, 5, 0, 10, 278.15, 313.15).value == doctest::Approx(0.9));
}

TEST_CASE("the longest spell ends where it ends") {
    const std::vector<float> series{1, 1, 0, 1, 1, 1, 0, 1};
    CHECK(longest_spell(series, 1.0F, 0, 8).value == 3.0);
    CHECK(longest_spell(series, 1.0F, 0, 8).sample == 5);
    CHECK(longest_spell(series, 1.0F, 0, 3).value == 2.0);
    CHECK_FALSE(longest_spell(series, 2.0F, 0, 8).found);
}
