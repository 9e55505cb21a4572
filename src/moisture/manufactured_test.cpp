// Manufactured solutions: T and u are prescribed functions of place and time, the sources that make them a
// solution are put into the nodes, and the solver must come back to them. The error is then known exactly and
// shows the order of the method with all coefficients varying: storage, permeability, liquid and heat
// conduction, latent heat, air flow.
//
// In space the sources are integrals of the balances over each control volume (flows at its faces, five-point
// Gauss for the stores), from the same property tables. In time the sources belong to the semi-discrete
// system, which then has the prescribed functions as its exact solution: no error of space is left.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "moisture/checks.h"
#include "moisture/lanes.h"
#include "moisture/potential.h"
#include "moisture/synthetic.h"

using namespace warmside;
using namespace warmside::moisture;

namespace {

// Orders must lie within this of 2.
constexpr double margin = 0.2;

struct State {
    double T, T_x, T_t, u, u_x, u_t;
};
using Made = std::function<State(double x, double t)>;

struct Flow {
    double water, energy;
};

double open_share(double t) {
    const double y = std::clamp(0.5 * t + 1.0, 0.0, 1.0);
    return y * y * (3.0 - 2.0 * y);
}

double vapour_pressure(const Substance& s, double T, double u) {
    return saturation_pressure(T) *
           std::exp(-s.tables.at(Substance::theta, u).value * reference_temperature / T);
}

// Flows through the place at which the state is given, as docs/methods/moisture.md writes them.
Flow flow(const Substance& s, const State& z, double air) {
    const double t = z.T - freezing;
    const auto theta = s.tables.at(Substance::theta, z.u);
    const double a = t >= 0.0 ? 17.269 : 21.875, b = t >= 0.0 ? 237.3 : 265.5;
    const double p = vapour_pressure(s, z.T, z.u);
    const double kelvin = reference_temperature / z.T;
    const double p_x = p * ((a * b / ((b + t) * (b + t)) + theta.value * kelvin / z.T) * z.T_x -
                            kelvin * theta.slope * z.u_x);
    const double delta = s.tables.at(Substance::vapour, z.u).value * (s.vapour_by_temperature ? kelvin : 1.0);
    const double vapour = -delta * p_x + carried_vapour * air * p;
    const double liquid = -open_share(t) * s.tables.at(Substance::liquid, z.u).slope * z.u_x;
    const double x = s.conductivity_factor * (z.T - conductivity_temperature);
    const double lambda = s.tables.at(Substance::conductivity, z.u).value * (1.0 + x + 0.5 * x * x);
    return {vapour + liquid, -lambda * z.T_x + (evaporation_heat + vapour_heat * t) * vapour +
                                 water_heat * t * liquid + air_heat * air * t};
}

// Rates of the stores per volume.
Flow storing(const Substance& s, const State& z) {
    const double t = z.T - freezing, y = std::clamp(0.5 * t + 1.0, 0.0, 1.0);
    const auto w = s.tables.at(Substance::water, z.u), ice = s.tables.at(Substance::freezable, z.u);
    const double by_t =
        s.heat_capacity + water_heat * w.value + fusion_heat * ice.value * 3.0 * y * (1.0 - y);
    const double by_u = water_heat * w.slope * t - fusion_heat * ice.slope * (1.0 - open_share(t));
    return {w.slope * z.u_t, by_t * z.T_t + by_u * z.u_t};
}

Flow stored_over(const Substance& s, const Made& made, double from, double to, double time) {
    constexpr std::array<double, 5> point{-0.9061798459386640, -0.5384693101056831, 0.0, 0.5384693101056831,
                                          0.9061798459386640};
    constexpr std::array<double, 5> weight{0.2369268850561891, 0.4786286704993665, 0.5688888888888889,
                                           0.4786286704993665, 0.2369268850561891};
    Flow sum{0.0, 0.0};
    for (std::size_t k = 0; k < 5; ++k) {
        const Flow at = storing(s, made(0.5 * (from + to) + 0.5 * (to - from) * point[k], time));
        sum.water += 0.5 * (to - from) * weight[k] * at.water;
        sum.energy += 0.5 * (to - from) * weight[k] * at.energy;
    }
    return sum;
}

// What a face takes from its air: a film, and air that comes in or leaves.
Flow from_air(const Substance& s, const State& z, const Ambient& a, double entering) {
    const double t = z.T - freezing, p = vapour_pressure(s, z.T, z.u);
    const double in = std::max(entering, 0.0), out = std::max(-entering, 0.0);
    const double water = a.vapour_film * (a.vapour_pressure - p) + in * carried_vapour * a.vapour_pressure -
                         out * carried_vapour * p;
    const double carries = water > 0.0 ? a.temperature - freezing : t;
    return {water, water * (evaporation_heat + vapour_heat * carries) + a.heat_film * (a.temperature - z.T) +
                       air_heat * (in * (a.temperature - freezing) - out * t)};
}

constexpr Ambient inside_air{
    .temperature = 294.15, .vapour_pressure = 1100.0, .heat_film = 8.0, .vapour_film = 2e-8};
constexpr Ambient outside_air{
    .temperature = 279.15, .vapour_pressure = 700.0, .heat_film = 16.0, .vapour_film = 6e-8};

// Layers side by side, each with its substance and thickness; the state may have a kink where two meet.
struct Part {
    const Substance* substance;
    double thickness;
};

// The column of `parts` cut into `pieces` each, with the sources that make `made(part, x, t)` its solution.
Column manufactured(Column column, const std::vector<Part>& parts, int pieces, double air,
                    const std::function<State(std::size_t part, double x, double t)>& made) {
    column.name = "manufactured";
    double start = 0.0;
    std::vector<std::size_t> first;
    for (std::size_t k = 0; k < parts.size(); ++k) {
        // A hundred times the conductances of walls, whose drop (1e-4 K at 100 W/m2) would hide the order.
        const Link contact{.vapour = 100.0 * contact_vapour,
                           .heat = 100.0 * contact_heat,
                           .carries_latent = false,
                           .carries_air = true};
        first.push_back(column.nodes.size());
        add_layer(column, parts[k].substance,
                  graded(parts[k].thickness, pieces, 0.6 * parts[k].thickness / pieces), start,
                  static_cast<int>(k), contact, 0.0, 0.0, true);
        start += parts[k].thickness;
    }
    first.push_back(column.nodes.size());
    for (std::size_t k = 0; k < parts.size(); ++k) {
        for (std::size_t j = first[k]; j < first[k + 1]; ++j) {
            const State z = made(k, column.nodes[j].position, 0.0);
            column.temperature[j] = z.T;
            column.potential[j] = z.u;
        }
    }
    const auto last = static_cast<int>(column.nodes.size()) - 1;
    column.exchanges = {{.node = 0, .kind = Exchange::Kind::inside, .takes_air = true},
                        {.node = last, .kind = Exchange::Kind::outside, .takes_air = true}};
    column.weather = [air](int, Hour& hour) {
        hour.ambient[0] = inside_air;
        hour.ambient[1] = outside_air;
        hour.air = air;
    };
    column.source = [nodes = column.nodes, parts, first, air, made](double time, std::span<double> energy,
                                                                    std::span<double> water) {
        Flow left = from_air(*parts[0].substance, made(0, 0.0, time), inside_air, air);
        for (std::size_t k = 0; k < parts.size(); ++k) {
            const Substance& s = *parts[k].substance;
            const auto here = [&, k](double x, double t) { return made(k, x, t); };
            for (std::size_t j = first[k]; j < first[k + 1]; ++j) {
                const bool ends = j + 1 == first[k + 1];
                const double from =
                    j == first[k] ? nodes[j].position : 0.5 * (nodes[j].position + nodes[j - 1].position);
                const double to =
                    ends ? nodes[j].position : 0.5 * (nodes[j].position + nodes[j + 1].position);
                Flow right = flow(s, here(to, time), air);
                if (ends && k + 1 == parts.size()) {
                    const Flow taken = from_air(s, here(to, time), outside_air, -air);
                    right = {-taken.water, -taken.energy};
                }
                const Flow gain = stored_over(s, here, from, to, time);
                energy[j] = gain.energy - left.energy + right.energy;
                water[j] = gain.water - left.water + right.water;
                left = right;
            }
        }
    };
    return column;
}

struct Error {
    double T = 0.0, u = 0.0;  // K, of u: largest over the nodes
};

struct LastState : Recorder {
    std::vector<double> T, u;
    void hour(int, const Snapshot& now) override {
        T.clear();
        u.clear();
        for (std::size_t j = 0; j < now.nodes; ++j) {
            T.push_back(now.t(j));
            u.push_back(now.u(j));
        }
    }
};

template <class Exact>
Error error_after(const Column& column, int hours, const MarchOptions& options, Exact exact) {
    LastState last;
    const Task task{.column = &column, .hours = hours, .recorder = &last};
    const auto done = march(std::span(&task, 1), options);
    REQUIRE_MESSAGE(done.has_value(), "the run failed");
    Error e;
    for (std::size_t j = 0; j < column.nodes.size(); ++j) {
        const State z = exact(column.nodes[j], 3600.0 * hours);
        e.T = std::max(e.T, std::abs(last.T[j] - z.T));
        e.u = std::max(e.u, std::abs(last.u[j] - z.u));
    }
    return e;
}

// Orders between errors at successively halved sizes, the last pair first printed.
double order(double coarse, double fine) {
    return std::log2(coarse / fine);
}

constexpr double depth = 0.04, turn = 2.0 * std::numbers::pi;

// Wood that is damp on one side: RH from some 45 to 96 %, 6 to 22 degC, both moving with periods of a day.
State wavy(double x, double t, double moving) {
    const double k = std::numbers::pi / depth, w = turn / 86400.0 * moving;
    const double ct = std::cos(w * t), st = std::sin(w * t);
    const double c = std::cos(0.8 * k * x), s = std::sin(0.8 * k * x);
    return {.T = 287.15 + 8.0 * c * ct,
            .T_x = -6.4 * k * s * ct,
            .T_t = -8.0 * w * c * st,
            .u = 0.85 - 0.38 * c * (1.0 + 0.3 * st),
            .u_x = 0.304 * k * s * (1.0 + 0.3 * st),
            .u_t = -0.114 * w * c * ct};
}

const Substance* wood_of(Column& c) {
    return c.keep(tabulate(*material::built_in().material("spruce siding")));
}

// A material of our own whose tables have the slopes of smooth functions: what is left is the order of the
// method. (Tables of the catalogue have monotone slopes: their second derivative jumps at every grid point.)
// Invented; wood-like amounts scaled by `scale`.
const Substance* smooth_of(Column& c, double scale = 1.0) {
    using Function = std::function<std::pair<double, double>(double u)>;
    const auto growing = [](double at, double rate) {
        return Function([=](double u) {
            const double y = at * std::exp(rate * u);
            return std::pair{y, rate * y};
        });
    };
    Substance s;
    s.name = "smooth material";
    s.tables = numerics::Tables(lowest_potential(), highest_potential(), table_intervals);
    const auto set = [&](int k, const Function& f) {
        std::vector<double> values, slopes;
        for (int i = 0; i <= table_intervals; ++i) {
            const auto [value, slope] = f(s.tables.first() + i * s.tables.spacing());
            values.push_back(value);
            slopes.push_back(slope);
        }
        s.tables.set(k, values, slopes);
    };
    set(Substance::water, growing(20.0 * scale, 1.6));
    set(Substance::liquid, growing(2e-11 * scale, 5.0));
    set(Substance::vapour, growing(1e-12 / scale, 2.0));
    set(Substance::conductivity, growing(0.09, 0.4));
    set(Substance::theta, [](double u) {
        const double theta = theta_of(u);
        return std::pair{theta, theta_slope(theta)};
    });
    set(Substance::humidity, [](double u) {
        const double theta = theta_of(u), humidity = std::exp(-theta);
        return std::pair{humidity, -humidity * theta_slope(theta)};
    });
    s.saturation = 400.0;
    s.heat_capacity = 7e5 * scale;
    s.conductivity_factor = 0.004;
    s.vapour_by_temperature = true;
    s.capillary = true;
    return c.keep(std::move(s));
}

void print(const std::vector<Error>& errors) {
    for (std::size_t k = 0; k < errors.size(); ++k) {
        MESSAGE("halved ", k, " times: ", errors[k].T, " K, ", errors[k].u, " of u",
                k == 0 ? std::string()
                       : ", orders " + std::to_string(order(errors[k - 1].T, errors[k].T)) + " and " +
                             std::to_string(order(errors[k - 1].u, errors[k].u)));
    }
}

void check_order_two(const std::vector<Error>& errors) {
    print(errors);
    const Error &coarse = errors[errors.size() - 2], &fine = errors.back();
    CHECK(std::abs(order(coarse.T, fine.T) - 2.0) < margin);
    CHECK(std::abs(order(coarse.u, fine.u) - 2.0) < margin);
}

constexpr int steady_hours = 24 * 100;  // what is left of the start by then is nothing
const MarchOptions steady{.tolerance = 1e-9, .fixed_steps = true};

std::vector<Error> steady_errors(const Substance* (*material)(Column&)) {
    std::vector<Error> errors;
    for (const int pieces : {12, 24, 48, 96}) {
        Column base;
        const Substance* substance = material(base);
        const auto made = [](std::size_t, double x, double) { return wavy(x, 0.0, 0.0); };
        const Column c = manufactured(std::move(base), {{substance, depth}}, pieces, 1e-4, made);
        errors.push_back(error_after(c, steady_hours, steady,
                                     [&](const Node& n, double) { return wavy(n.position, 0.0, 0.0); }));
    }
    return errors;
}

}  // namespace

TEST_CASE("order 2 in space: a steady manufactured state with air flow, all coefficients varying") {
    check_order_two(steady_errors([](Column& c) { return smooth_of(c); }));
}

TEST_CASE("order 2 in space and time together: cells and steps halved, the state moving with the day") {
    std::vector<Error> errors;
    for (const int halved : {1, 2, 4, 8}) {
        Column base;
        const Substance* substance = smooth_of(base);
        const auto made = [](std::size_t, double x, double t) { return wavy(x, t, 1.0); };
        Column c = manufactured(std::move(base), {{substance, depth}}, 12 * halved, 1e-4, made);
        c.highest_step = 3600.0 / halved;
        errors.push_back(error_after(c, 30, {.tolerance = 1e-9, .fixed_steps = true},
                                     [&](const Node& n, double t) { return wavy(n.position, t, 1.0); }));
    }
    check_order_two(errors);
}

TEST_CASE("two layers in contact keep order 2: temperature and potential kink at the interface") {
    std::vector<Error> errors;
    const auto made = [](std::size_t part, double x, double) {
        State z = wavy(x, 0.0, 0.0);
        if (part == 0) return z;
        const double over = x - 0.6 * depth;
        z.T -= 150.0 * over;
        z.T_x -= 150.0;
        z.u += 4.0 * over;
        z.u_x += 4.0;
        return z;
    };
    for (const int pieces : {8, 16, 32, 64}) {
        Column base;
        const Substance *one = smooth_of(base), *other = smooth_of(base, 0.25);
        const Column c =
            manufactured(std::move(base), {{one, 0.6 * depth}, {other, 0.4 * depth}}, pieces, 1e-4, made);
        errors.push_back(error_after(c, steady_hours, steady, [&](const Node& n, double) {
            return made(static_cast<std::size_t>(n.layer), n.position, 0.0);
        }));
    }
    check_order_two(errors);
}

namespace {

// Vapour resistance that falls from 10 to 2 Gs m2 Pa/kg with humidity. Invented.
std::shared_ptr<const numerics::Tables> variable_sheet() {
    numerics::Tables sheet(0.0, 1.0, 64);
    std::vector<double> values, slopes;
    for (int i = 0; i <= 64; ++i) {
        const double h = i / 64.0, open = 1.0 + 4.0 * h * h;
        values.push_back(1e10 / open);
        slopes.push_back(-1e10 * 8.0 * h / (open * open));
    }
    sheet.set(0, values, slopes);
    return std::make_shared<const numerics::Tables>(std::move(sheet));
}

// Two layers with a variable sheet between them and radiation outside, whose nodes all follow functions of
// time. Sources are what the semi-discrete system leaves over: y(t) solves it exactly.
struct Moving {
    explicit Moving(double air) {
        Column& c = column;
        const Substance *wood = smooth_of(c), *wool = smooth_of(c, 0.1);
        const auto sheet = variable_sheet();
        c.membranes.push_back(sheet);
        add_layer(c, wool, graded(0.1, 6, 0.008), 0.0, 0, {}, 0.0, 0.0, true);
        const Link joint{.heat = contact_heat, .carries_air = true, .membrane = sheet.get()};
        add_layer(c, wood, graded(0.02, 8, 0.001), 0.1, 1, joint, 0.0, 0.0, true);
        const int last = static_cast<int>(c.nodes.size()) - 1;
        c.exchanges = {{.node = 0, .kind = Exchange::Kind::inside, .takes_air = true},
                       {.node = last, .kind = Exchange::Kind::outside, .takes_air = true}};
        c.weather = [air](int, Hour& hour) {
            hour.ambient[0] = inside_air;
            hour.ambient[1] = outside_air;
            hour.ambient[1].emission = 0.9 * 5.67e-8;
            hour.ambient[1].radiant = 275.15;
            hour.air = air;
        };
        c.name = "moving";
        for (std::size_t j = 0; j < c.nodes.size(); ++j) {
            const State z = at(c.nodes[j], 0.0);
            c.temperature[j] = z.T;
            c.potential[j] = z.u;
        }
        plain = c;
        c.source = [this, air](double t, std::span<double> energy, std::span<double> water) {
            supply(t, air, energy, water);
        };
    }
    static State at(const Node& n, double t) { return wavy(0.3 * n.position, t, 2.0); }

    // dM/dt of y(t) less the flows at y(t), by the kernel's own balances.
    void supply(double t, double air, std::span<double> energy, std::span<double> water) const {
        const std::size_t n = plain.nodes.size();
        Lanes<1> lane(static_cast<int>(n));
        lane.put(0, plain);
        for (std::size_t j = 0; j < n; ++j) {
            const State z = at(plain.nodes[j], t);
            lane.temperature[j] = z.T;
            lane.potential[j] = z.u;
        }
        Hour hour;
        plain.weather(0, hour);
        lane.properties();
        lane.membranes(0, plain);
        lane.settle_air(0, plain, air);
        lane.exchange(0, plain, hour);
        std::vector<double> gain_e(n), gain_w(n), e_t(n), e_u(n), w_u(n);
        lane.balances(gain_e.data(), gain_w.data(), nullptr);
        lane.store_slopes(e_t.data(), e_u.data(), w_u.data());
        for (std::size_t j = 0; j < n; ++j) {
            const State z = at(plain.nodes[j], t);
            energy[j] = e_t[j] * z.T_t + e_u[j] * z.u_t - gain_e[j];
            water[j] = w_u[j] * z.u_t - gain_w[j];
        }
    }

    Column column, plain;
};

std::vector<Error> errors_in_time(double air) {
    std::vector<Error> errors;
    for (const double step : {1800.0, 900.0, 450.0, 225.0}) {
        Moving moving(air);
        moving.column.highest_step = step;
        errors.push_back(
            error_after(moving.column, 12, {.tolerance = 1e-10, .fixed_steps = true}, Moving::at));
    }
    return errors;
}

}  // namespace

TEST_CASE("order 2 in time: layers, a variable sheet and radiation against an exact solution of the system") {
    check_order_two(errors_in_time(0.0));
}

TEST_CASE("with air flow temperature keeps order 2 in time, u falls to 1 at an error of 1e-5") {
    // The stabilisation of air flow is taken once a solve, at the predicted state, which is of first order.
    const auto errors = errors_in_time(1e-3);
    print(errors);
    CHECK(std::abs(order(errors[2].T, errors[3].T) - 2.0) < margin);
    CHECK(order(errors[2].u, errors[3].u) > 0.9);
    CHECK(errors.back().u < 2e-5);
}

TEST_CASE("with tables of the catalogue the order falls once cells are narrower than a table's piece") {
    // Errors are then below 1e-4 of u and 1e-3 K: no wall sees it.
    const auto errors = steady_errors(wood_of);
    print(errors);
    CHECK(std::abs(order(errors[1].T, errors[2].T) - 2.0) < margin);
    CHECK(errors.back().u < 1e-4);
    CHECK(errors.back().T < 1e-3);
    CHECK(order(errors[2].u, errors[3].u) > 0.8);
}

TEST_CASE(
    "at a sharp wetting front the order falls to about 1 until cells resolve it; the uptake is right to "
    "2e-4") {
    // A dry brick sucks water for an hour; liquid conductivity grows a thousandfold over the front.
    struct Wet {
        double uptake = 0.0;
        std::vector<double> water;  // every 2 mm
    };
    std::vector<Wet> runs;
    for (const int pieces : {20, 40, 80, 160}) {
        Column c;
        c.name = "brick";
        const Substance* brick = c.keep(tabulate(*material::built_in().material("brick")));
        std::vector<double> places;
        for (int i = 0; i <= pieces; ++i) places.push_back(0.08 * i / pieces);
        add_layer(c, brick, places, 0.0, 0, {}, 293.15, potential_of_humidity(0.5, 293.15), false);
        c.heat = Column::Heat::isothermal;
        c.exchanges = {{.node = 0, .kind = Exchange::Kind::outside}};
        c.weather = [](int, Hour& hour) {
            hour.ambient[0] = {.temperature = 293.15,
                               .vapour_pressure = std::exp(-wettest_theta) * saturation_pressure(293.15),
                               .heat_film = 1e6,
                               .vapour_film = 1e-2};
        };
        const auto run = run_check(c, {1}, {.tolerance = 2e-4});
        REQUIRE(run);
        Wet wet{run->profiles[0].total - run->result.water_start, {}};
        for (double x = 0.0; x < 0.0801; x += 0.002) wet.water.push_back(run->profiles[0].water_at(x));
        runs.push_back(std::move(wet));
    }
    const auto apart = [&](std::size_t k) {
        double most = 0.0;
        for (std::size_t i = 0; i < runs[k].water.size(); ++i)
            most = std::max(most, std::abs(runs[k].water[i] - runs[k + 1].water[i]));
        return most;
    };
    for (std::size_t k = 0; k + 1 < runs.size(); ++k)
        MESSAGE("halved ", k + 1, " times: uptake ", runs[k].uptake, " to ", runs[k + 1].uptake,
                " kg/m2, profile moves by ", apart(k), " kg/m3");
    CHECK(order(apart(0), apart(1)) > 0.8);
    CHECK(order(apart(1), apart(2)) > 0.8);
    for (const Wet& run : runs) CHECK(run.uptake == doctest::Approx(runs.back().uptake).epsilon(2e-4));
}
