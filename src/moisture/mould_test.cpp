#include "moisture/mould.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

using namespace warmside;
using material::MouldClass;
using moisture::MouldSurface;

namespace {

double after(MouldClass sensitivity, double celsius, double humidity, int hours) {
    MouldSurface surface({.sensitivity = sensitivity});
    const auto n = static_cast<std::size_t>(hours);
    const std::vector<float> T(n, static_cast<float>(273.15 + celsius)), r(n, static_cast<float>(humidity));
    surface.march(T, r, 1.0);
    return surface.index();
}

/// The equations of the header with the library's functions, in steps of a tenth of an hour (explicit Euler).
struct Plain {
    moisture::MouldGrowth g;
    double decline = 0.1, index = 0.0, idle = 1e9;
    void hour(double t, double r) {
        if (t <= 0.0) return;
        const double critical = 100.0 * moisture::mould_critical_humidity(t + 273.15, g.least_humidity);
        if (r < critical) {
            const double rate = idle < 6.0 ? 0.032 : idle < 24.0 ? 0.0 : 0.016;
            index = std::max(0.0, index - decline * rate / 24.0);
            idle += 1.0;
            return;
        }
        idle = 0.0;
        const double x = (critical - r) / (critical - 100.0), most = g.a + g.b * x - g.c * x * x;
        const double tm = std::exp(-0.68 * std::log(t) - 13.9 * std::log(r) + 66.02);
        for (int i = 0; i < 10; ++i) {
            const double k1 = index < 1.0 ? g.k1_below : g.k1_above;
            index += 0.1 / 168.0 * k1 * std::max(0.0, 1.0 - std::exp(2.3 * (index - most))) / tm;
        }
    }
};

}  // namespace

TEST_CASE("mould grows under constant conditions as the closed form says") {
    // mould-constant (computed from the closed form): index after 4, 12, 52 weeks
    CHECK(std::abs(after(MouldClass::very_sensitive, 10, 0.90, 4 * 168) - 0.59) < 0.01);
    CHECK(std::abs(after(MouldClass::very_sensitive, 20, 0.97, 4 * 168) - 4.36) < 0.01);
    CHECK(std::abs(after(MouldClass::very_sensitive, 20, 0.97, 52 * 168) - 5.50) < 0.01);
    CHECK(std::abs(after(MouldClass::sensitive, 20, 0.97, 12 * 168) - 3.43) < 0.01);
    CHECK(std::abs(after(MouldClass::sensitive, 5, 0.95, 52 * 168) - 3.40) < 0.01);
    CHECK(std::abs(after(MouldClass::medium_resistant, 20, 0.97, 52 * 168) - 2.74) < 0.01);
    CHECK(std::abs(after(MouldClass::resistant, 20, 0.97, 52 * 168) - 1.03) < 0.01);
}

TEST_CASE("mould with tables stays within 1e-3 of the plain equations on three ragged years") {
    std::mt19937 random(7);
    std::normal_distribution<double> noise;
    for (const auto sensitivity : {MouldClass::very_sensitive, MouldClass::sensitive,
                                   MouldClass::medium_resistant, MouldClass::resistant}) {
        MouldSurface fast({.sensitivity = sensitivity});
        Plain plain{.g = moisture::mould_growth(sensitivity)};
        double t_drift = 0.0, r_drift = 0.0, worst = 0.0;
        for (int hour = 0; hour < 3 * 8760; ++hour) {
            t_drift = 0.97 * t_drift + noise(random);
            r_drift = 0.98 * r_drift + 0.012 * noise(random);
            const double season = std::cos(2.0 * 3.141592653589793 * hour / 8760.0);
            const auto T = static_cast<float>(273.15 + 8.0 - 14.0 * season + t_drift);
            const auto r = static_cast<float>(std::clamp(0.93 + 0.03 * season + r_drift, 0.3, 1.0));
            fast.march({&T, 1}, {&r, 1}, 1.0);
            plain.hour(static_cast<double>(T) - 273.15, 100.0 * static_cast<double>(r));
            worst = std::max(worst, std::abs(fast.index() - plain.index));
        }
        CHECK(plain.index > 0.05);  // the years did grow mould
        CHECK(worst < 1e-3);
    }
}

TEST_CASE("mould never starts on a dry, a frozen or a hot surface") {
    CHECK(after(MouldClass::very_sensitive, 20, 0.79, 8760) == 0.0);
    CHECK(after(MouldClass::very_sensitive, -5, 1.0, 8760) == 0.0);
    CHECK(after(MouldClass::very_sensitive, 55, 1.0, 8760) == 0.0);
    CHECK(after(MouldClass::resistant, 20, 0.849, 8760) == 0.0);
}

TEST_CASE("mould grows more on a damper and on a more sensitive surface") {
    double before = 0.0;
    for (double r = 0.80; r < 1.005; r += 0.01) {
        const double now = after(MouldClass::sensitive, 15, std::min(r, 1.0), 26 * 168);
        CHECK(now >= before);
        before = now;
    }
    CHECK(after(MouldClass::very_sensitive, 15, 0.95, 2000) > after(MouldClass::sensitive, 15, 0.95, 2000));
    CHECK(after(MouldClass::sensitive, 15, 0.95, 2000) > after(MouldClass::medium_resistant, 15, 0.95, 2000));
    CHECK(after(MouldClass::medium_resistant, 15, 0.95, 2000) > after(MouldClass::resistant, 15, 0.95, 2000));
}

TEST_CASE("mould declines 0.008 in six hours, rests until the day is over, then loses 0.016 a day") {
    MouldSurface surface({.sensitivity = MouldClass::very_sensitive, .decline = 1.0});
    const std::vector<float> warm(1000, 293.15F), damp(1000, 0.97F), dry(1000, 0.5F);
    surface.march(warm, damp, 1.0);
    const double full = surface.index();
    const auto dry_for = [&](std::size_t hours) {
        surface.march(std::span(warm).first(hours), std::span(dry).first(hours), 1.0);
        return full - surface.index();
    };
    CHECK(dry_for(6) == doctest::Approx(0.032 * 6.0 / 24.0));
    CHECK(dry_for(18) == doctest::Approx(0.032 * 6.0 / 24.0));
    CHECK(dry_for(24) == doctest::Approx(0.032 * 6.0 / 24.0 + 0.016));
}

TEST_CASE("mould declines the same in one long sample as in short ones") {
    MouldSurface hourly({.decline = 0.5}), coarse({.decline = 0.5});
    const std::vector<float> warm(48, 293.15F), damp(48, 0.99F), dry(48, 0.5F);
    for (auto* surface : {&hourly, &coarse})
        for (int i = 0; i < 20; ++i) surface->march(warm, damp, 1.0);
    hourly.march(warm, dry, 1.0);
    coarse.march(std::span(warm).first(3), std::span(dry).first(3), 16.0);
    CHECK(hourly.index() == doctest::Approx(coarse.index()).epsilon(1e-9));
}

TEST_CASE("a frozen surface holds its index, or declines when told to") {
    const std::vector<float> warm(700, 293.15F), cold(2000, 263.15F), damp(2000, 0.97F);
    MouldSurface held({.sensitivity = MouldClass::sensitive});
    MouldSurface falling(
        {.sensitivity = MouldClass::sensitive, .below_freezing = moisture::BelowFreezing::decline});
    for (auto* surface : {&held, &falling}) surface->march(warm, std::span(damp).first(700), 1.0);
    const double start = held.index();
    for (auto* surface : {&held, &falling}) surface->march(cold, damp, 1.0);
    CHECK(held.index() == start);
    CHECK(falling.index() < start - 0.1);
}

TEST_CASE("the two times of the first mould model") {
    // mould-tm-tv (computed from the formulas), weeks
    const double week = 168.0 * 3600.0;
    const auto times = moisture::mould_times(293.15, 0.97);
    CHECK(times.to_index_1 / week == doctest::Approx(1.484).epsilon(0.001));
    CHECK(times.to_index_3 / week == doctest::Approx(2.983).epsilon(0.001));
}

TEST_CASE("the critical humidity keeps the class's least where the polynomial dips below it") {
    CHECK(moisture::mould_critical_humidity(290.25, 0.8) == 0.8);  // 17.1 degC
    CHECK(moisture::mould_critical_humidity(288.15, 0.8) == doctest::Approx(0.8004).epsilon(1e-4));
    CHECK(moisture::mould_critical_humidity(298.15, 0.85) == 0.85);
}

TEST_CASE("the original model declines as pine does, the improved one at its class's share") {
    moisture::MouldSurface first(moisture::original_mould_model(moisture::BelowFreezing::hold)),
        improved({.decline = 0.1});
    const std::vector<float> warm(3000, 293.15F), damp(3000, 0.97F), dry(3000, 0.5F);
    first.march(warm, damp, 1.0);
    improved.march(warm, damp, 1.0);
    const double high = first.index(), classed = improved.index();
    CHECK(high > classed);  // pine sapwood grows faster than the sensitive class
    first.march(warm, dry, 1.0);
    improved.march(warm, dry, 1.0);
    // hukka-viitanen-1999: 0.032 a day for 6 h, nothing to 24 h, 0.016 a day from then on.
    CHECK(high - first.index() ==
          doctest::Approx(0.032 / 4.0 + 0.016 * (3000.0 - 24.0) / 24.0).epsilon(1e-6));
    CHECK(classed - improved.index() == doctest::Approx(0.1 * (high - first.index())).epsilon(1e-6));
}
