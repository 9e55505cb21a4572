#include "leakage/humidity.h"

#include <doctest/doctest.h>

#include <cmath>

#include "air/moist_air.h"

using namespace warmside;
using namespace warmside::leakage;

namespace {

constexpr double hour = 3600.0;
constexpr double room = 293.15;
const double saturation = air::over_water(room);

VapourStore air_alone(double volume) {
    return {.air = volume / (air::vapour_gas_constant * room)};
}
VapourStore lined(double volume) {
    VapourStore out = air_alone(volume);
    out.lining = 6.0;        // kg
    out.conductance = 4e-6;  // kg/(s Pa)
    return out;
}
VapourLoad load_of(double air_change, double volume, double outdoor, double source) {
    const double carried = air_change * volume / hour / (air::vapour_gas_constant * room);
    return {.carried_out = carried,
            .carried_in = carried * outdoor,
            .source = source,
            .saturation = saturation,
            .most = saturation};
}

}  // namespace

TEST_CASE("steady state by hand: the excess is the source over the air's volume flow") {
    // 10 kg a day into 400 m3 at half an air change an hour: 0.41667 kg/h over 200 m3/h is 2.0833 g/m3.
    const auto load = load_of(0.5, 400.0, 500.0, 10.0 / 86400.0);
    const VapourState still = settled(load);
    const double excess = air::vapour_density(still.pressure, room) - air::vapour_density(500.0, room);
    CHECK(excess == doctest::Approx(0.00208333).epsilon(1e-5));
    const auto next = step(lined(400.0), still, load, hour);
    CHECK(next.end.pressure == doctest::Approx(still.pressure).epsilon(1e-13));
    CHECK(next.end.lining == doctest::Approx(still.lining).epsilon(1e-13));
}

TEST_CASE("air alone decays by e in one air change, in one step as in many") {
    const auto load = load_of(1.0, 300.0, 600.0, 0.0);
    const auto once = step(air_alone(300.0), {1600.0, 0.5}, load, hour);
    CHECK(once.end.pressure == doctest::Approx(600.0 + 1000.0 * std::exp(-1.0)).epsilon(1e-13));
    CHECK(once.mean == doctest::Approx(600.0 + 1000.0 * (1.0 - std::exp(-1.0))).epsilon(1e-13));
    CHECK(once.end.lining == 0.5);
    VapourState state{1600.0, 0.5};
    for (int i = 0; i < 60; ++i) state = step(air_alone(300.0), state, load, 60.0).end;
    CHECK(state.pressure == doctest::Approx(once.end.pressure).epsilon(1e-12));
}

TEST_CASE("room and lining agree with a Runge-Kutta solution in small steps") {
    const auto store = lined(400.0);
    const auto load = load_of(0.3, 400.0, 300.0, 2e-4);
    const double lining = store.lining / saturation;
    double p = 900.0, q = 0.55 * saturation;
    const auto slope = [&](double a, double b, double& da, double& db) {
        const double over = store.conductance * (a - b);
        da = (load.source + load.carried_in - load.carried_out * a - over) / store.air;
        db = over / lining;
    };
    constexpr int steps = 20000;
    const double t = hour / steps;
    for (int i = 0; i < steps; ++i) {
        double a1, b1, a2, b2, a3, b3, a4, b4;
        slope(p, q, a1, b1);
        slope(p + 0.5 * t * a1, q + 0.5 * t * b1, a2, b2);
        slope(p + 0.5 * t * a2, q + 0.5 * t * b2, a3, b3);
        slope(p + t * a3, q + t * b3, a4, b4);
        p += t / 6.0 * (a1 + 2.0 * a2 + 2.0 * a3 + a4);
        q += t / 6.0 * (b1 + 2.0 * b2 + 2.0 * b3 + b4);
    }
    const auto once = step(store, {900.0, 0.55}, load, hour);
    CHECK(once.end.pressure == doctest::Approx(p).epsilon(1e-10));
    CHECK(once.end.lining * saturation == doctest::Approx(q).epsilon(1e-10));
}

TEST_CASE("vapour is neither made nor lost, whatever acts on it") {
    unsigned draw = 3;
    const auto next = [&](double least, double most) {
        draw = draw * 1664525U + 1013904223U;
        return least + (most - least) * (draw >> 8U) / 16777216.0;
    };
    int humidified = 0, dried = 0;
    for (int i = 0; i < 2000; ++i) {
        VapourStore store = air_alone(next(100.0, 900.0));
        if (i % 3 != 0) {
            store.lining = next(0.1, 30.0);
            store.conductance = next(1e-8, 2e-5);
        }
        VapourLoad load =
            load_of(i % 7 == 0 ? 0.0 : next(0.0, 5.0), 400.0, next(50.0, 2000.0), next(0.0, 1e-3));
        load.least = next(0.0, 0.4) * saturation;
        load.most = next(0.5, 1.0) * saturation;
        const VapourState before{next(100.0, 2200.0), next(0.0, 1.0)};
        const auto after = step(store, before, load, hour);
        const double in = (load.carried_in + load.source) * hour + after.added;
        const double out = after.carried_out + after.removed + after.into_lining;
        const double kept = store.air * (after.end.pressure - before.pressure);
        const double size = in + std::abs(out) + store.air * before.pressure;
        CHECK(std::abs(kept - in + out) < 1e-12 * size);
        const double lining = store.lining * (after.end.lining - before.lining);
        if (store.lining > 0.0) CHECK(std::abs(lining - after.into_lining) < 1e-12 * (store.lining + size));
        CHECK(after.end.pressure >= load.least * (1.0 - 1e-12));
        CHECK(after.end.pressure <= load.most * (1.0 + 1e-12));
        humidified += after.added > 0.0 ? 1 : 0;
        dried += after.removed > 0.0 ? 1 : 0;
    }
    CHECK(humidified > 50);
    CHECK(dried > 50);
}

TEST_CASE("a limit above saturation is saturation") {
    VapourLoad load = load_of(0.1, 400.0, 900.0, 1e-2);
    load.most = 1e9;
    const auto after = step(air_alone(400.0), {1000.0, 0.5}, load, hour);
    CHECK(after.end.pressure == doctest::Approx(saturation).epsilon(1e-12));
    CHECK(after.removed > 0.0);
}

TEST_CASE("more lining, slower room") {
    const auto load = load_of(0.5, 400.0, 300.0, 0.0);
    auto store = lined(400.0);
    const double some = step(store, {1200.0, 0.5}, load, hour).end.pressure;
    store.lining *= 3.0;
    store.conductance *= 3.0;
    const double much = step(store, {1200.0, 0.5}, load, hour).end.pressure;
    const double none = step(air_alone(400.0), {1200.0, 0.5}, load, hour).end.pressure;
    CHECK(none < some);
    CHECK(some < much);
}

TEST_CASE("depth of a daily swing in gypsum board and the film before it, by hand") {
    // delta 2e-11 kg/(s m Pa), 2339 Pa, 86400 s, xi 10 kg/m3: sqrt(2e-11 x 2339 x 86400 / (10 pi)) = 11.34 mm
    CHECK(penetration_depth(2e-11, 10.0, 2339.0, 86400.0) == doctest::Approx(0.011343).epsilon(1e-4));
    // 2.5 / (1.2041 x 1006 x 461.524 x 293.15) = 1.5255e-8
    CHECK(vapour_film(2.5, 293.15, 101325.0) == doctest::Approx(1.5255e-8).epsilon(1e-3));
}
