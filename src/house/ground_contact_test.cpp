#include "house/ground_contact.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "house/made_up.h"
#include "house/simulate.h"

namespace warmside::house {

using namespace made_up;

namespace {

constexpr double area = 80.0, perimeter = 36.0, indoors = 293.15;
const Soil sandy{climate::sand, {.mean = 278.15, .amplitude = 15.0, .coldest = 15.0 * 24.0}};

Chain slab() {
    Assembly a = wall({board("concrete", 0.1), board("eps", 0.1)});
    a.part = assembly::Part::slab;
    a.tilt = std::numbers::pi;
    auto made = chain_of(a, cold);
    REQUIRE(made);
    return *made;
}

struct Floor {
    double u = 0.0, swing = 0.0;  // W/(m2 K)
};
Floor iso(const Chain& layers) {
    const thermal::Ground ground{.conductivity = 2.0, .inside_film = layers.inside_film};
    const auto floor = thermal::slab({area, perimeter}, ground, layers.resistance());
    REQUIRE(floor);
    const auto swing = thermal::ground_swing(perimeter, ground, floor->equivalent,
                                             climate::penetration_depth(climate::sand));
    REQUIRE(swing);
    return {floor->u, swing->floor / area};
}

Network room_on(const GroundContact& contact) {
    Network n;
    n.zones.push_back({.name = "room", .capacity = 1e5});
    n.zones[0].heating.constant = indoors;
    n.zones[0].cooling.constant = indoors + 1e-6;
    n.boundaries.push_back(contact.boundary);
    Element e{.name = "floor",
              .area = area,
              .zone = 0,
              .boundary = 0,
              .conductance = contact.chain.conductance,
              .capacity = contact.chain.capacity};
    e.convection = 1.0 / contact.chain.inside_film;
    e.radiation = 0.0;
    n.elements.push_back(e);
    return n;
}

}  // namespace

TEST_CASE("a steady room loses by ISO 13370's U to the ground's yearly mean") {
    const Chain layers = slab();
    const Floor floor = iso(layers);
    auto contact = ground_contact(layers, sandy, floor.u, 0.0, true, 1.0);
    REQUIRE(contact);
    const auto done = steady(room_on(*contact), 0);
    REQUIRE(done);
    CHECK(done->heating[0] == doctest::Approx(area * floor.u * (indoors - sandy.air.mean)).epsilon(1e-9));
}

TEST_CASE("a year on the ground loses its mean and swings as ISO 13370 says") {
    const Chain layers = slab();
    const Floor floor = iso(layers);
    const auto contact = ground_contact(layers, sandy, floor.u, floor.swing, false, 1.0);
    REQUIRE(contact);
    // A year to settle by, the weather repeated: the deep soil forgets its start.
    const auto run = simulate(room_on(*contact), {.run_in = 200});
    REQUIRE(run);
    const auto& in = run->inward[0];
    double mean = 0.0;
    for (const double w : in) mean -= w / hours_in_year;
    const auto [low, high] = std::minmax_element(in.begin(), in.end());
    CHECK(mean == doctest::Approx(area * floor.u * (indoors - sandy.air.mean)).epsilon(0.005));
    // The soil of half a metre damps a year's swing by little: within 3 %.
    CHECK(0.5 * (*high - *low) == doctest::Approx(area * floor.swing * sandy.air.amplitude).epsilon(0.03));
    // Heat is lost most about a month after the coldest day, and the soil takes some days more.
    const auto most = static_cast<double>(std::min_element(in.begin(), in.end()) - in.begin());
    CHECK(most / 24.0 > 15.0 + 28.0);
    CHECK(most / 24.0 < 15.0 + 50.0);
}

TEST_CASE("a U that the layers alone do not pass is refused") {
    const auto contact = ground_contact(slab(), sandy, 5.0, 0.0, true, 1.0);
    REQUIRE_FALSE(contact);
    CHECK(contact.error().code == Code::out_of_range);
}

}  // namespace warmside::house
