// Attics, crawl spaces and ground: balances, and limits that a hand can compute.
#include "moisture/beyond.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/what.h"
#include "moisture/march.h"
#include "moisture/measure.h"
#include "moisture/synthetic.h"
#include "moisture/verdict.h"

using namespace warmside;
using namespace warmside::moisture;
using assembly::Layer;

namespace {

using invented::board;
using invented::sheet;
std::vector<Layer> deck() {
    Layer felt = sheet("asphalt felt");
    felt.water = true;
    return {board("osb", 11.1), felt, board("asphalt shingles", 6.0)};
}

// A ceiling without a vapour retarder: gypsum board and wool.
assembly::Assembly ceiling() {
    assembly::Assembly a;
    a.name = "c";
    a.part = assembly::Part::ceiling;
    a.tilt = 0.0;
    a.layers = {board("gypsum board", 12.7), board("stone wool batt", 300)};
    return a;
}
assembly::Assembly wall_of(std::vector<Layer> layers, assembly::Part part) {
    assembly::Assembly a;
    a.name = "g";
    a.part = part;
    a.layers = std::move(layers);
    return a;
}

climate::FaceWeather steady(double temperature, double humidity, double wind) {
    climate::FaceWeather w = invented_weather(0.0, 0.0);
    const std::size_t n = climate::hours_in_year;
    w.temperature.assign(n, temperature);
    w.radiant.assign(n, temperature);
    w.solar.assign(n, 0.0);
    w.driving_rain.assign(n, 0.0);
    w.convection.assign(n, 20.0);
    w.wind_speed.assign(n, wind);
    w.vapour_pressure.assign(n, humidity * saturation_pressure(temperature));
    return w;
}
climate::Indoor room(double temperature, double humidity) {
    climate::Indoor in;
    in.temperature.assign(climate::hours_in_year, temperature);
    in.vapour_pressure.assign(climate::hours_in_year, humidity * saturation_pressure(temperature));
    return in;
}
std::shared_ptr<const std::vector<double>> always(double temperature) {
    return std::make_shared<const std::vector<double>>(std::size_t{climate::hours_in_year}, temperature);
}

// Keeps the last state of a column.
struct Last : Recorder {
    std::vector<double> t, u, p;
    const Column* column = nullptr;
    void hour(int, const Snapshot& now) override {
        t.resize(now.nodes);
        u.resize(now.nodes);
        for (std::size_t j = 0; j < now.nodes; ++j) {
            t[j] = now.t(j);
            u[j] = now.u(j);
        }
    }
    double pressure(std::size_t j) const {
        const double theta = column->nodes[j].substance->tables.at(Substance::theta, u[j]).value;
        return saturation_pressure(t[j]) * std::exp(-theta * reference_temperature / t[j]);
    }
};

struct Steady {
    Built built;
    Last last;
    MarchResult result;
};
void settle(const Run& run, int hours, Steady& out) {
    Shelf shelf;
    auto built = build(run, {}, shelf);
    REQUIRE_MESSAGE(built, (built ? std::string() : built.error().what));
    out.built = std::move(*built);
    out.last.column = &out.built.column;
    const Task task{.column = &out.built.column, .hours = hours, .recorder = &out.last};
    const auto done = march(std::span(&task, 1), {.tolerance = 2e-4});
    REQUIRE_MESSAGE(done, (done ? std::string() : done.error().what));
    out.result = done->front();
}

Run run_of(const assembly::Assembly& a, const climate::FaceWeather& outside, const climate::Indoor& inside,
           const Beyond& beyond) {
    Run run;
    run.name = "c bay typical";
    run.assembly = &a;
    run.outside = &outside;
    run.inside = &inside;
    run.beyond = &beyond;
    run.rain_leak = 0.0;
    run.years = 2;
    return run;
}

std::size_t space_node(const Built& built) {
    const auto& all = built.column.exchanges;
    const auto found = std::find_if(all.begin(), all.end(),
                                    [](const Exchange& e) { return e.kind == Exchange::Kind::cavity; });
    REQUIRE(found != all.end());
    return static_cast<std::size_t>(found->node);
}

double conductivity(const Layer& layer, double temperature) {
    return material::conductivity(*layer.material, temperature, 0.0);
}

const Probe& probe(const History& h, const std::string& name) {
    const auto found =
        std::find_if(h.probes.begin(), h.probes.end(), [&](const Probe& p) { return p.name == name; });
    REQUIRE_MESSAGE(found != h.probes.end(), name);
    return *found;
}

}  // namespace

TEST_CASE("the star of a space is its triangle of convection and radiation") {
    // Unit heat put in at each pair of corners meets the same resistance in both.
    const double c = 3.0, r = 4.4, area = 1.25;
    const Star s = star_of(c, r, area);
    const auto triangle = [](double direct, double one, double two) {
        return 1.0 / (direct + one * two / (one + two));
    };
    CHECK(s.inner + s.outer == doctest::Approx(triangle(r, c, area * c)));
    CHECK(s.inner + s.air == doctest::Approx(triangle(c, r, area * c)));
    CHECK(s.outer + s.air == doctest::Approx(triangle(area * c, r, c)));
}

TEST_CASE(
    "wind moves about one attic volume an hour for each metre a second, with 1/300 and a metre of attic") {
    const auto changes = [](double share, double wind) {
        const Space space = attic(share, 0.0, 1.0);
        const double at_house = 0.62 * wind;
        return 3600.0 * draw(space.draught, 273.15, 400.0, 273.15, 400.0,
                             wind_square_of(space.wind_coefficient, at_house))
                            .flow;
    };
    CHECK(changes(1.0 / 300.0, 4.0) / 4.0 > 0.7);
    CHECK(changes(1.0 / 300.0, 4.0) / 4.0 < 1.4);
    CHECK(changes(1.0 / 150.0, 4.0) == doctest::Approx(2.0 * changes(1.0 / 300.0, 4.0)).epsilon(1e-3));
    // q = C_d A_e v sqrt(dC_p)
    const double opening = 0.6 * (1.0 / 300.0) / (2.0 * std::sqrt(2.0));
    CHECK(changes(1.0 / 300.0, 8.0) ==
          doctest::Approx(3600.0 * opening * 0.62 * 8.0 * std::sqrt(0.6)).epsilon(2e-3));
}

TEST_CASE("steady attic air has the temperature and vapour of a hand-made balance") {
    const auto a = ceiling();
    const auto outside = steady(263.15, 0.8, 4.0);
    const auto inside = room(294.15, 0.3);
    Beyond beyond{.space = attic(1.0 / 300.0, 1.5, 1.0), .layers = deck(), .area = 1.2, .emissivity = 0.0};
    const auto run = run_of(a, outside, inside, beyond);
    Steady s;
    settle(run, 24 * 600, s);
    const std::size_t node = space_node(s.built);
    // Heat: room - ceiling - star point; star point - air - outdoors; star point - deck - outdoors.
    const double radiation = 4.0 * stefan_boltzmann * std::pow(278.15, 3) / (1.0 + (1.0 + 1.0 / 1.2) / 9.0);
    const Star arms = star_of(3.0, radiation, beyond.area);
    const double T = s.last.t[node];
    // Wind and stack together; the stack is that of the star point, a little warmer than the air.
    const double stack = 9.80665 * 1.5 * 101325.0 / 287.042 * (1.0 / 263.15 - 1.0 / T);
    const double wind = 0.6 * 0.5 * 1.25 * std::pow(run.wind_share * 4.0, 2);
    const double opening = 0.6 * (1.0 / 300.0) / (2.0 * std::sqrt(2.0));
    const double flow = opening * std::sqrt(2.0 / 1.25 * std::sqrt(stack * stack + wind * wind + 1e-4));
    const double gypsum = 0.0127 / conductivity(a.layers[0], 293.0),
                 wool = 0.3 / conductivity(a.layers[1], 279.0);
    const double up = 1.0 / (1.0 / 7.7 + gypsum + wool + arms.inner);
    const double vents = 1.0 / (arms.air + 1.0 / (1.25 * 1005.0 * flow));
    const double osb = 0.0111 / conductivity(beyond.layers[0], T), shingles = 0.006 / 0.077;
    const double roof = 1.0 / (arms.outer + (osb + shingles + 1.0 / 20.0) / beyond.area);
    // The vapour that passes brings next to no heat (it neither condenses nor thaws on the way).
    const double expected = (up * 294.15 + (vents + roof) * 263.15) / (up + vents + roof);
    CHECK(T - 263.15 == doctest::Approx(expected - 263.15).epsilon(0.03));
    // Vapour: what comes up through the ceiling leaves with the vents; the roofing lets next to none out.
    const double per_heat = 1.0 / (1.25 * 1005.0 * 461.5 * 283.15);
    const double z = 1.0 / (2.5 * per_heat) +
                     0.0127 / material::vapour_permeability(*a.layers[0].material, 0.3) +
                     0.3 / material::vapour_permeability(*a.layers[1].material, 0.5) + 1.0 / (3.0 * per_heat);
    const double in = inside.vapour_pressure[0], out = outside.vapour_pressure[0];
    const double k = flow / (461.5 * 263.15), p = (in / z + out * k) / (1.0 / z + k);
    CHECK(s.last.pressure(node) - out == doctest::Approx(p - out).epsilon(0.05));
    CHECK(s.result.water_error() < 1e-6);
    CHECK(s.result.energy_error() < 1e-6);
}

TEST_CASE("steady crawl-space air has the temperature and vapour of a hand-made balance") {
    const auto floor =
        wall_of({board("softwood flooring", 19), board("stone wool batt", 200)}, assembly::Part::floor);
    const auto outside = steady(288.15, 0.7, 3.0);
    const auto inside = room(294.15, 0.5);
    Layer cover = sheet("polyethylene");
    for (const bool covered : {true, false}) {
        Beyond beyond{.space = crawl_space(1.0 / 150.0, 0.6, 0.4)};
        if (covered) beyond.layers = {cover};
        beyond.ground = Ground{.temperature = always(281.15), .path = 1.2, .soil = climate::clay};
        Steady s;
        settle(run_of(floor, outside, inside, beyond), 24 * 600, s);
        const std::size_t node = space_node(s.built);
        const double flow = 0.6 * 0.05 * 3.0 / 150.0;
        CHECK(beyond.space->wind_flow * 3.0 == doctest::Approx(flow));
        const double radiation = 4.0 * stefan_boltzmann * std::pow(278.15, 3) / (2.0 / 0.9 - 1.0);
        const Star arms = star_of(3.0, radiation, 1.0);
        const double up = 1.0 / (1.0 / 7.7 + 0.019 / conductivity(floor.layers[0], 293.0) +
                                 0.2 / conductivity(floor.layers[1], 291.0) + arms.inner);
        const double air = 1.25 * 1005.0 * flow + 0.4, vents = 1.0 / (arms.air + 1.0 / air);
        const double soil = 1.0 / (arms.outer + 1.2);
        const double T = s.last.t[node];
        if (covered) {
            const double expected = (up * 294.15 + vents * 288.15 + soil * 281.15) / (up + vents + soil);
            CHECK(T == doctest::Approx(expected).epsilon(0.1 / 288.0));
        } else {
            // Evaporation from bare ground cools it: the latent heat of the flow found below.
            CHECK(T < 288.15);
        }
        // Vapour from the room, from outdoors and from the ground's face at 99 %.
        const double per_heat = 1.0 / (1.25 * 1005.0 * 461.5 * 283.15), film = 1.0 / (3.0 * per_heat);
        const double z_up = 1.0 / (2.5 * per_heat) +
                            0.019 / material::vapour_permeability(*floor.layers[0].material, 0.55) +
                            0.2 / material::vapour_permeability(*floor.layers[1].material, 0.6) + film;
        const double z_down = film + (covered ? 1.0 / 3.4e-12 : 0.0);
        const double face = 0.99 * saturation_pressure(s.last.t[node + 1]);
        const double k = flow / (461.5 * 288.15), in = inside.vapour_pressure[0],
                     out = outside.vapour_pressure[0];
        const double p = (in / z_up + out * k + face / z_down) / (1.0 / z_up + k + 1.0 / z_down);
        CHECK(s.last.pressure(node) == doctest::Approx(p).epsilon(0.01));
        CHECK(s.last.pressure(node + 1) == doctest::Approx(face).epsilon(2e-3));  // the ground stays damp
        CHECK(s.result.water_error() < 1e-6);
        CHECK(s.result.energy_error() < 1e-6);
    }
}

TEST_CASE("a wall below grade at constant ground temperature takes the profile of its resistances") {
    const auto a = wall_of({board("xps", 100), board("xps", 50)}, assembly::Part::basement_wall);
    const auto outside = steady(265.15, 0.8, 4.0);
    const auto inside = room(293.15, 0.4);
    const Beyond beyond{.ground = Ground{.temperature = always(280.15), .path = 0.9, .soil = climate::sand}};
    Steady s;
    settle(run_of(a, outside, inside, beyond), 24 * 400, s);
    // The conductivity follows the temperature: the profile of a flow q by small steps from the room, then
    // the q that ends at the ground.
    const auto profile = [&](double q, double x) {
        constexpr int steps = 3000;
        double T = 293.15 - q / 7.7;
        const double depth = std::min(x, 0.15);
        for (int k = 0; k < steps; ++k) T -= q / conductivity(a.layers[0], T) * depth / steps;
        return T - q * std::max(0.0, x - 0.15) / 2.0;
    };
    double low = 0.0, high = 13.0;
    for (int k = 0; k < 50; ++k) {
        const double q = 0.5 * (low + high);
        (profile(q, 0.15) - 0.9 * q > 280.15 ? low : high) = q;
    }
    for (std::size_t j = 0; j < s.last.t.size(); ++j)
        CHECK(s.last.t[j] ==
              doctest::Approx(profile(low, s.built.column.nodes[j].position)).epsilon(0.02 / 290.0));
    // The vapour pressure falls in a straight line from the room's film to 99 % at the soil's face.
    std::size_t face = 0;
    while (s.built.column.nodes[face].layer >= 0) ++face;
    const double damp = 0.99 * saturation_pressure(s.last.t[face]);
    CHECK(s.last.pressure(face) == doctest::Approx(damp).epsilon(1e-3));
    const double mid = s.last.pressure(face / 2), x = s.built.column.nodes[face / 2].position;
    const double p0 = s.last.pressure(0);
    CHECK(mid == doctest::Approx(p0 + (damp - p0) * x / 0.15).epsilon(0.01));
    CHECK(s.result.energy_error() < 1e-6);
    CHECK(s.result.water_error() < 1e-6);
}

TEST_CASE("years under an attic: balances close, the deck is a judged place beyond the assembly's layers") {
    const auto a = ceiling();
    const auto slope = invented_weather(0.3, 0.0);
    const auto inside = invented_indoor(slope);
    const Beyond vented{.space = attic(1.0 / 300.0, 1.5, 1.0), .layers = deck(), .area = 1.25};
    Beyond shut = vented;
    shut.space = attic(0.0, 1.5, 1.0);
    std::vector<Run> runs{run_of(a, slope, inside, vented), run_of(a, slope, inside, vented),
                          run_of(a, slope, inside, shut)};
    runs[1].air_flow = 1e-4;
    runs[2].air_flow = 1e-4;
    const auto done = simulate(runs, {.mesh_level = 0});
    REQUIRE_MESSAGE(done, (done ? std::string() : done.error().what));
    for (const History& h : *done) {
        CHECK(h.balance.water_error < 1e-6);
        CHECK(h.balance.energy_error < 1e-6);
        REQUIRE(h.beyond.size() == 3);
        CHECK(h.sheltered);
        const Probe& under = probe(h, "attic side of osb");
        CHECK(under.layer == 2);
        CHECK(under.sensitive);
        CHECK(under.depth == doctest::Approx(0.0127 + 0.3 + 1.0).epsilon(1e-6));
        CHECK_FALSE(probe(h, "outer face of asphalt shingles").sensitive);
        const auto verdict = try_judge(a, std::span(&h, 1), {.stressed_year_run = true});
        REQUIRE_MESSAGE(verdict, (verdict ? std::string() : verdict.error().what));
        const auto& all = verdict->findings;
        const auto judged = [&](const char* criterion, const char* place) {
            return std::any_of(all.begin(), all.end(), [&](const Finding& f) {
                return f.judged && f.criterion == criterion && f.place == place && f.layer == 2;
            });
        };
        CHECK(judged("mould index", "attic side of osb"));
        CHECK(judged("wood moisture content", "wettest 10 mm of osb"));
        CHECK(std::none_of(all.begin(), all.end(), [](const Finding& f) { return f.judged && f.layer > 3; }));
    }
    const auto mean = [&](std::size_t i) {
        double sum = 0.0;
        for (const float v : probe((*done)[i], "attic side of osb").relative_humidity) sum += v;
        return sum / 17520.0;
    };
    MESSAGE("mean humidity at the deck: tight ", mean(0), ", house air in ", mean(1), ", and no vents ",
            mean(2));
    CHECK(mean(1) > mean(0));
    CHECK(mean(2) > mean(1));
}

TEST_CASE("years over a crawl space: a ground cover keeps the floor drier than bare soil") {
    const auto floor =
        wall_of({board("osb", 18), board("stone wool batt", 200), board("wood fibreboard sheathing", 12)},
                assembly::Part::floor);
    const auto weather = invented_weather(0.0, 0.0);
    const auto inside = invented_indoor(weather);
    const climate::AnnualWave air{277.15, 14.5, 672.0};
    const auto ground = below_floor({.area = 80.0, .perimeter = 36.0}, climate::clay, air);
    REQUIRE(ground);
    Beyond covered{.space = crawl_space(1.0 / 150.0, 0.6, 0.3), .ground = *ground}, bare = covered;
    covered.layers = {sheet("polyethylene")};
    std::vector<Run> runs{run_of(floor, weather, inside, covered), run_of(floor, weather, inside, bare)};
    const auto done = simulate(runs, {.mesh_level = 0});
    REQUIRE_MESSAGE(done, (done ? std::string() : done.error().what));
    double sum[2] = {0.0, 0.0};
    for (std::size_t i = 0; i < 2; ++i) {
        const History& h = (*done)[i];
        CHECK(h.balance.water_error < 1e-6);
        CHECK(h.balance.energy_error < 1e-6);
        const Probe& under = probe(h, "outer face of wood fibreboard sheathing");
        CHECK(under.sensitive);
        for (const float v : under.relative_humidity) sum[i] += v / 17520.0;
        const auto verdict = try_judge(floor, std::span(&h, 1), {.stressed_year_run = true});
        REQUIRE(verdict);
        CHECK(std::any_of(verdict->findings.begin(), verdict->findings.end(), [](const Finding& f) {
            return f.judged && f.criterion == "mould index" &&
                   f.place == "outer face of wood fibreboard sheathing";
        }));
    }
    MESSAGE("mean humidity below the floor: covered ", sum[0], ", bare ", sum[1]);
    CHECK(sum[1] > sum[0] + 0.03);
}

TEST_CASE("ground deep beside a wall swings less and later than ground near the surface") {
    const climate::AnnualWave air{277.15, 14.5, 500.0};
    const Ground near = beside(0.3, climate::sand, air), deep = beside(2.0, climate::sand, air);
    const auto swing = [](const Ground& g) {
        const auto [low, high] = std::minmax_element(g.temperature->begin(), g.temperature->end());
        return *high - *low;
    };
    CHECK(swing(deep) < 0.6 * swing(near));
    CHECK(deep.path == doctest::Approx(std::numbers::pi * 2.0 / 4.0));
}

TEST_CASE("shade leaves the air and takes sun, rain and sky") {
    const auto open = invented_weather(1.0, 1.0);
    const auto under = shaded(open);
    CHECK(under.temperature == open.temperature);
    CHECK(under.radiant == open.temperature);
    CHECK(*std::max_element(under.solar.begin(), under.solar.end()) == 0.0);
    CHECK(*std::max_element(under.driving_rain.begin(), under.driving_rain.end()) == 0.0);
}

TEST_CASE(
    "what lies beyond without a far side, and ground without a year of temperatures, are refused by name") {
    const auto a = ceiling();
    const auto outside = steady(263.15, 0.8, 4.0);
    const auto inside = room(294.15, 0.3);
    const Beyond nothing{.space = attic(1.0 / 300.0, 1.5, 1.0)};
    Run run = run_of(a, outside, inside, nothing);
    auto done = simulate(std::span(&run, 1), {});
    REQUIRE_FALSE(done);
    CHECK(done.error().what == "c bay typical: beyond the assembly stand neither layers nor ground");
    const Beyond ground{.ground = Ground{}};
    run = run_of(a, outside, inside, ground);
    done = simulate(std::span(&run, 1), {});
    REQUIRE_FALSE(done);
    CHECK(done.error().what == "c bay typical: the ground has no temperature of 8760 hours");
    CHECK_FALSE(below_floor({.area = 0.0}, climate::clay, {280.0, 10.0, 0.0}));
}
