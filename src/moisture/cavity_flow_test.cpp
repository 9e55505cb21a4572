#include "moisture/cavity_flow.h"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "moisture/ventilation.h"

using namespace warmside;
using namespace warmside::moisture;

namespace {

constexpr CavityShape siding{
    .length = 2.4, .gap = 0.019, .opening_in = 0.01, .opening_out = 0.01, .rise = 2.4};

}  // namespace

TEST_CASE("the flow meets openings and friction with exactly the pressure that drives it") {
    const Draught d = draught(siding);
    for (const double wind : {0.001, 0.1, 1.0, 20.0}) {
        const double q = draw({d.openings, d.friction, 0.0}, 280.0, 700.0, 280.0, 700.0, wind * wind).flow;
        const double dp = std::sqrt(wind * wind + 1e-4);
        CHECK(d.openings * q * q + d.friction * q == doctest::Approx(dp).epsilon(1e-12));
    }
}

TEST_CASE("derivatives of the flow agree with central differences, warm and cold, still and windy") {
    const Draught d = draught(siding);
    for (const double T : {250.0, 263.14, 263.15, 263.3, 290.0, 320.0}) {
        for (const double wind : {0.0, 0.01, 0.5}) {
            const auto flow = [&](double t, double p) { return draw(d, 263.15, 200.0, t, p, wind).flow; };
            const Draw at = draw(d, 263.15, 200.0, T, 300.0, wind);
            const double by_t = (flow(T + 1e-4, 300.0) - flow(T - 1e-4, 300.0)) / 2e-4;
            const double by_p = (flow(T, 300.01) - flow(T, 299.99)) / 0.02;
            CHECK(at.by_temperature == doctest::Approx(by_t).epsilon(1e-5).scale(1e-6));
            CHECK(at.by_vapour == doctest::Approx(by_p).epsilon(1e-4).scale(1e-9));
        }
    }
}

TEST_CASE("warmer, damper or windier, the air of a cavity is changed faster; friction slows it") {
    const Draught d = draught(siding);
    const double base = draw(d, 273.15, 400.0, 278.15, 400.0, 0.01).flow;
    CHECK(draw(d, 273.15, 400.0, 283.15, 400.0, 0.01).flow > base);
    CHECK(draw(d, 273.15, 400.0, 278.15, 800.0, 0.01).flow > base);
    CHECK(draw(d, 273.15, 400.0, 278.15, 400.0, 0.02).flow > base);
    CavityShape narrow = siding;
    narrow.gap = 0.010;
    CHECK(draw(draught(narrow), 273.15, 400.0, 278.15, 400.0, 0.01).flow < base);
    // Colder than outdoors (a clear night) it sinks: the same flow but for the density.
    CHECK(draw(d, 273.15, 400.0, 268.15, 400.0, 0.01).flow == doctest::Approx(base).epsilon(0.02));
}

TEST_CASE("what a layer says of its openings counts, else its cladding") {
    assembly::Assembly a;
    a.part = assembly::Part::wall;
    assembly::Layer cavity;
    cavity.kind = assembly::Layer::Kind::air;
    cavity.air = assembly::AirKind::ventilated;
    cavity.thickness = units::Exact::millimetres(25);
    assembly::Layer cladding;
    cladding.material = material::built_in().material("spruce siding");
    REQUIRE(cladding.material);
    cladding.thickness = units::Exact::millimetres(20);
    a.layers = {cavity, cladding};
    const Ventilation siding_rule = ventilation_of(a, 0);
    CHECK(siding_rule.draught.rise == doctest::Approx(2.4));
    CHECK(siding_rule.words == "slots of 10 mm below and 10 mm above, 2.4 m apart");
    a.layers[0].framing =
        assembly::Framing{.depth = units::Exact::millimetres(25), .run = assembly::Run::horizontal};
    CHECK(ventilation_of(a, 0).draught.openings > 100.0 * siding_rule.draught.openings);
    a.layers[0].framing.reset();
    a.layers[0].opening = units::Exact::millimetres(5);
    a.layers[0].opening_top = units::Exact{};
    CHECK(ventilation_of(a, 0).draught.rise == 0.0);
    CHECK(ventilation_of(a, 0).words == "openings of 5 mm below alone");
    a.layers[0].opening.reset();
    a.layers[0].opening_top.reset();
    a.layers[1].material = material::built_in().material("brick");
    REQUIRE(a.layers[1].material);
    a.layers[1].thickness = units::Exact::millimetres(90);
    CHECK(ventilation_of(a, 0).draught.rise == 0.0);
    CHECK(ventilation_of(a, 0).wind_coefficient == 0.05);
    a.part = assembly::Part::roof;
    a.tilt = 0.5;
    CHECK(ventilation_of(a, 0).draught.rise == doctest::Approx(5.0 * std::sin(0.5)));
}
