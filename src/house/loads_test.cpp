#include "house/loads.h"

#include <cmath>
#include <doctest/doctest.h>
#include <numbers>

#include "base/what.h"
#include "house/cooling_day.h"

namespace warmside::house {

namespace {

using Kind = Loss::Kind;
using units::Exact;

Exact metres(double value) {
    return Exact::nearest(value);
}

// 10 m x 6 m, one storey of 2.5 m under an attic; windows south and east.
assembly::House box() {
    assembly::House house;
    const std::array<std::array<double, 2>, 4> corners{{{0, 0}, {10, 0}, {10, 6}, {0, 6}}};
    assembly::Storey storey{.name = "main", .height = metres(2.5)};
    for (const auto& [x, y] : corners) storey.outline.push_back({metres(x), metres(y)});
    house.storeys.push_back(storey);
    const std::array names{"south", "east", "north", "west"};
    for (std::size_t i = 0; i < 4; ++i) {
        assembly::Face face;
        face.name = names[i];
        face.storey = "main";
        face.from = storey.outline[i];
        face.to = storey.outline[(i + 1) % 4];
        face.height = metres(2.5);
        house.faces.push_back(face);
    }
    assembly::Opening window;
    window.name = "south window";
    window.width = metres(2.0);
    window.height = metres(1.0);
    window.left = metres(1.0);  // from 1 to 3 m
    window.u = 1.0;
    house.faces[0].openings.push_back(window);
    window.name = "east window";
    window.left = metres(2.0);
    window.u = 2.0;
    house.faces[1].openings.push_back(window);
    house.roofs.push_back({.name = "roof"});
    return house;
}

assembly::Room room(const char* name, double x0, double x1) {
    assembly::Room out;
    out.name = name;
    out.storey = "main";
    for (const auto& [x, y] : std::vector<std::array<double, 2>>{{x0, 0}, {x1, 0}, {x1, 6}, {x0, 6}})
        out.outline.push_back({metres(x), metres(y)});
    return out;
}

Loss loss(Kind kind, double conductance) {
    return {.kind = kind, .name = "x", .conductance = conductance};
}

constexpr double heat = 1230.0;

}  // namespace

TEST_CASE("air through leaks by the handbook's driving force") {
    const auto& data = load_data();
    REQUIRE_MESSAGE(data, what_of(data));
    // energy-checks.json, ashrae-hof17-infiltration: 64.0 L/s and 3148.8 W
    const LeakageArea leaks{.area = 0.05, .flue = 0.0, .height = 5.5};
    const double flow = design_infiltration(leaks, 40.0, data->heating);
    CHECK(flow == doctest::Approx(0.0640).epsilon(1e-6));
    CHECK(heat * flow * 40.0 == doctest::Approx(3148.8).epsilon(1e-6));
    CHECK(design_infiltration({.area = 0.05, .flue = 0.01, .height = 5.5}, 40.0, data->heating) ==
          doctest::Approx(500.0 * (51.0 + 220.0 * (0.35 + 0.23 * 0.2)) / 1e6));
    CHECK(design_infiltration({}, 40.0, data->heating) == 0.0);
}

TEST_CASE("fans: balanced air behind recovery, unbalanced air through the leaks") {
    const auto& data = load_data();
    REQUIRE(data);
    const LeakageArea leaks{.area = 0.05, .height = 5.5};
    const auto air = [&](DesignVentilation v) {
        return design_air(leaks, v, 293.15, 253.15, 101325.0, data->heating, *data);
    };
    const auto balanced = air({.supply = 0.04, .exhaust = 0.04, .sensible = 0.75});
    CHECK(balanced.infiltration == doctest::Approx(0.064));
    CHECK(balanced.ventilation == doctest::Approx(heat * 0.04 * 0.25 * 40.0));
    const auto exhaust = air({.exhaust = 0.04});
    CHECK(exhaust.infiltration == doctest::Approx(0.084));
    CHECK(exhaust.ventilation == 0.0);
    CHECK(air({.exhaust = 0.2}).infiltration == doctest::Approx(0.2));
    const auto preheat = air({.supply = 0.04, .exhaust = 0.04, .sensible = 0.75, .frost = 268.15});
    CHECK(preheat.ventilation == doctest::Approx(heat * 0.04 * 0.25 * 25.0));
    CHECK(preheat.preheat == doctest::Approx(heat * 0.04 * 15.0));
    const auto bypass =
        air({.supply = 0.04, .exhaust = 0.04, .sensible = 0.75, .frost = 268.15, .preheat = false});
    CHECK(bypass.ventilation == doctest::Approx(heat * 0.04 * 40.0));
    assembly::Ventilation file;
    file.kind.value = assembly::Ventilation::Kind::balanced;
    file.sensible.value = 0.8;
    file.run.value = 0.5;
    const auto from_file = design_ventilation(file, 0.06);
    CHECK(from_file.supply == doctest::Approx(0.03));
    CHECK(from_file.exhaust == doctest::Approx(0.03));
    CHECK(from_file.sensible == 0.8);
    file.kind.value = assembly::Ventilation::Kind::exhaust;
    CHECK(design_ventilation(file, 0.06).supply == 0.0);
    CHECK(design_ventilation(file, 0.06).sensible == 0.0);
}

TEST_CASE("the heating load is conductances x difference and air, and the rooms sum to it") {
    auto house = box();
    house.services.rooms = {room("a", 0.0, 4.0), room("b", 4.0, 8.0)};
    const auto shares = room_shares(house);
    REQUIRE_MESSAGE(shares, what_of(shares));
    REQUIRE(shares->size() == 3);
    CHECK(shares->back().room == "other rooms");
    const std::vector<Loss> envelope{loss(Kind::wall, 20.0),       loss(Kind::window, 6.0),
                                     loss(Kind::ceiling, 8.0),     loss(Kind::ground, 5.0),
                                     loss(Kind::junction, 3.0),    loss(Kind::leakage, 99.0),
                                     loss(Kind::ventilation, 99.0)};
    HeatingLoadInput in;
    in.outdoor.value = 253.15;
    in.envelope = envelope;
    in.leaks = {.area = 0.01, .height = 3.0};
    in.rooms = *shares;
    const auto done = heating_load(in);
    REQUIRE_MESSAGE(done, what_of(done));
    const double air = heat * 100.0 * (51.0 + 3.0 * 40.0 * 0.35) / 1e6 * 40.0;
    CHECK(done->heating == doctest::Approx(42.0 * 40.0 + air));
    double sum = 0.0;
    for (const auto& each : done->rooms) sum += each.heating;
    CHECK(sum == doctest::Approx(done->heating));
    // Room a by hand: walls 4 + 6 + 4 m of 32; net (14 x 2.5 - 2)/(80 - 4); window 2 x 1 of 2 x 1 + 2 x 2
    // W/K; 0.4 of the floor
    CHECK(done->rooms[0].heating == doctest::Approx(40.0 * (20.0 * 33.0 / 76.0 + 6.0 * 2.0 / 6.0 +
                                                            (8.0 + 5.0) * 0.4 + 3.0 * 14.0 / 32.0) +
                                                    air * 14.0 / 32.0));
    CHECK(done->rooms[1].heating ==
          doctest::Approx(40.0 * (20.0 * 20.0 / 76.0 + 13.0 * 0.4 + 3.0 * 8.0 / 32.0) + air * 8.0 / 32.0));
}

TEST_CASE("thinner air of a high place carries less") {
    HeatingLoadInput in;
    in.outdoor.value = 253.15;
    in.leaks = {.area = 0.01, .height = 3.0};
    const double low = heating_load(in)->heating;
    in.pressure = 0.8 * 101325.0;
    CHECK(heating_load(in)->heating == doctest::Approx(0.8 * low));
}

TEST_CASE("rooms that fill a storey leave nothing over; a window on a partition is shared") {
    auto house = box();
    house.services.rooms = {room("a", 0.0, 2.0), room("b", 2.0, 10.0)};
    const auto shares = room_shares(house);
    REQUIRE(shares);
    REQUIRE(shares->size() == 2);
    // the south window runs from 1 to 3 m: half is in a
    CHECK((*shares)[0].openings[0] == doctest::Approx(1.0));
    CHECK((*shares)[0].share(Kind::window) == doctest::Approx(1.0 / 6.0));
    CHECK((*shares)[1].share(Kind::window) == doctest::Approx(5.0 / 6.0));
    CHECK((*shares)[0].share(Kind::door) == doctest::Approx(0.2));  // the house shows none: by floor
    for (const auto kind : {Kind::wall, Kind::roof, Kind::ground, Kind::junction, Kind::leakage, Kind::other})
        CHECK((*shares)[0].share(kind) + (*shares)[1].share(kind) == doctest::Approx(1.0));
}

TEST_CASE("the sun's part of the cooling load goes to the rooms behind the glass") {
    auto house = box();
    house.services.rooms = {room("a", 0.0, 4.0), room("b", 4.0, 10.0)};
    const auto shares = room_shares(house);
    REQUIRE(shares);
    Loads loads;
    const std::vector<double> sun{1000.0, 300.0, 0.0, 50.0};  // west has no glass: its sun is nobody's
    REQUIRE(set_cooling_load(loads, 2000.0, sun, 299.15, {300.0, {}}, *shares));
    CHECK(loads.cooling == 2000.0);
    REQUIRE(loads.rooms.size() == 2);
    CHECK(loads.rooms[0].cooling == doctest::Approx(1000.0 + 0.4 * 700.0));
    CHECK(loads.rooms[1].cooling == doctest::Approx(300.0 + 0.6 * 700.0));
    REQUIRE(set_cooling_load(loads, 650.0, sun, 299.15, {300.0, {}}, *shares));
    CHECK(loads.rooms[0].cooling == doctest::Approx(500.0));
    CHECK(set_cooling_load(loads, 1.0, std::vector<double>(3), 299.15, {300.0, {}}, *shares).error().code ==
          Code::incomplete);
    CHECK(set_cooling_load(loads, std::nan(""), sun, 299.15, {300.0, {}}, *shares).error().code ==
          Code::out_of_range);
}

TEST_CASE("loads that cannot be are refused") {
    HeatingLoadInput in;
    in.outdoor.value = 300.0;
    CHECK(heating_load(in).error().code == Code::out_of_range);
    in.outdoor.value = 253.15;
    in.ventilation.sensible = 1.2;
    CHECK(heating_load(in).error().code == Code::out_of_range);
    in.ventilation.sensible = 0.0;
    in.leaks.area = -1.0;
    CHECK(heating_load(in).error().code == Code::out_of_range);
    auto house = box();
    house.services.rooms = {room("a", 0.0, 4.0)};
    house.services.rooms[0].storey = "upper";
    CHECK(room_shares(house).error().code == Code::unknown_name);
    house.storeys.clear();
    CHECK(room_shares(house).error().code == Code::incomplete);
    CHECK(read_loads("l.toml", "[heating]\nbase = 1\n").error().code == Code::missing);
}

TEST_CASE("the cooling design day: its range, clear sky at noon, dark at night, every day the same air") {
    const auto place = climate::find_place("Duluth, MN");
    REQUIRE(place);
    const auto year = climate::generate(**place);
    REQUIRE(year);
    const auto design = cooling_design_year(*year, 300.0, 10.0);
    REQUIRE_MESSAGE(design, what_of(design));
    const auto first = static_cast<std::size_t>(cooling_day(*year));
    CHECK(first == 201U * 24U);
    double high = 0.0, low = 400.0, sun = 0.0;
    for (std::size_t hour = first; hour < first + 24; ++hour) {
        high = std::max(high, design->temperature[hour]);
        low = std::min(low, design->temperature[hour]);
        sun = std::max(sun, design->direct[hour]);
        CHECK(design->temperature[hour] == design->temperature[hour - 24]);
        CHECK(design->global[hour] <= design->direct[hour] + design->diffuse[hour] + 1e-9);
    }
    CHECK(high == doctest::Approx(300.0));
    CHECK(low == doctest::Approx(290.0));
    CHECK(design->direct[first + 1] == 0.0);
    // Duluth's noon sun on 21 July stands at 63.7 degrees (90 - 46.83 + 20.5); thinner air lets more through
    const auto& data = load_data();
    CHECK(sun ==
          doctest::Approx(clear_sky(63.7 * std::numbers::pi / 180.0, 6, design->pressure[0], *data).direct)
              .epsilon(0.005));
    CHECK(cooling_design_year(*year, 300.0, -1.0).error().code == Code::out_of_range);
    CHECK(cooling_design_year({}, 300.0, 10.0).error().code == Code::incomplete);
}

// A zone without mass behind one pane of no mass: its peak is the warmest hour's, U x A x difference.
TEST_CASE("the peak of the design day on a house without mass is that of its warmest hour") {
    const auto year = climate::generate(**climate::find_place("Duluth, MN"));
    REQUIRE(year);
    const auto design = cooling_design_year(*year, 305.0, 12.0);
    REQUIRE(design);
    Network n;
    n.zones.push_back({.name = "room", .capacity = 1.0});
    n.zones[0].cooling.constant = 295.0;
    n.links.push_back({.name = "air", .conductance = {80.0, {}}, .temperature = {0.0, design->temperature}});
    const auto run = simulate(n, {.first_hour = cooling_day(*year), .hours = 24, .run_in = 3});
    REQUIRE_MESSAGE(run, what_of(run));
    const auto peak = cooling_peak(*run, 0);
    REQUIRE(peak);
    CHECK(peak->load == doctest::Approx(80.0 * 10.0));
    CHECK(peak->hour == 14);
    CHECK(cooling_peak(*run, 1).error().code == Code::out_of_range);
}

}  // namespace warmside::house
