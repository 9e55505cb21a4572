#include "moisture/checks.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "moisture/potential.h"

namespace warmside::moisture {
namespace {

constexpr double no_film = 1e6;          // W/(m2 K): the face takes the value of the air
constexpr double no_vapour_film = 1e-2;  // kg/(s m2 Pa)

double linear(const std::vector<double>& x, const std::vector<double>& y, double at) {
    const auto above = std::upper_bound(x.begin() + 1, x.end() - 1, at);
    const auto i = static_cast<std::size_t>(above - x.begin());
    return y[i - 1] + (y[i] - y[i - 1]) * (at - x[i - 1]) / (x[i] - x[i - 1]);
}

double suction_of(double theta) {
    return theta * suction_scale;
}

Ambient held(double temperature, double humidity) {
    return {.temperature = temperature,
            .vapour_pressure = humidity * saturation_pressure(temperature),
            .heat_film = no_film,
            .vapour_film = no_vapour_film};
}

// Schirmer's vapour diffusivity over R_v T as the checks write it: M_w/(R T) 26.1e-6/mu, at T_0.
double free_permeability(double mu) {
    return 0.018 / (8.314 * reference_temperature) * 26.1e-6 / mu;
}

}  // namespace

double ProfileAt::temperature_at(double x) const {
    return linear(depth, temperature, x);
}
double ProfileAt::water_at(double x) const {
    return numerics::MonotoneCurve(depth, water)(x);
}

void ProfileRecorder::hour(int hours_done, const Snapshot& now) {
    if (std::find(hours_.begin(), hours_.end(), hours_done) == hours_.end()) return;
    ProfileAt p{.time = 3600.0 * hours_done};
    for (std::size_t j = 0; j < now.nodes; ++j) {
        p.depth.push_back(column_.nodes[j].position);
        p.temperature.push_back(now.t(j));
        p.water.push_back(column_.nodes[j].substance->tables.at(Substance::water, now.u(j)).value);
        p.pressure.push_back(saturation_pressure(now.t(j)) * humidity_at(column_, now, j));
        p.total += now.w(j);
    }
    profiles_.push_back(std::move(p));
}

Column en15026_step(int refine) {
    Functions f;
    f.name = "EN 15026 Annex A material";
    f.water = [](double theta) {
        return 146.0 * std::pow(1.0 + std::pow(8e-8 * suction_of(theta), 1.6), -0.375);
    };
    f.saturation = 146.0;
    f.most = 146.0;
    f.vapour = [water = f.water](double theta) {
        const double dry = 1.0 - water(theta) / 146.0;
        return free_permeability(200.0) * dry / (0.503 * dry * dry + 0.497);
    };
    f.vapour_by_temperature = true;
    f.liquid_conductivity = [](double w) {
        const double d = w - 73.0;
        return std::exp(
            -39.2619 + d * (0.0704 + d * (-1.7420e-4 + d * (-2.7953e-6 + d * (-1.1566e-7 + d * 2.5969e-9)))));
    };
    f.conductivity = [](double w) { return 1.5 + 15.8 * w / 1000.0; };
    f.heat_capacity = 1.824e6;
    Column c;
    c.name = "EN 15026 step";
    c.heat = Column::Heat::en15026;
    const Substance* s = c.keep(tabulate(f));
    // Cells of 0.2 mm at the face, growing by 4 % (half as much, twice as many, when refined) up to 60 m.
    std::vector<double> places{0.0};
    const double first = 0.4e-3 / refine, growth = std::pow(1.055, 1.0 / refine);
    for (double size = first; places.back() < 60.0; size *= growth) places.push_back(places.back() + size);
    add_layer(c, s, places, 0.0, 0, {}, 293.15, potential_of_humidity(0.5, 293.15), false);
    c.exchanges = {{.node = 0, .kind = Exchange::Kind::outside}};
    c.weather = [](int, Hour& hour) { hour.ambient[0] = held(303.15, 0.95); };
    return c;
}

Column isothermal_drying(int refine) {
    Functions f;
    f.name = "isothermal drying material";
    f.water = [](double theta) { return 116.0 * std::pow(1.0 + theta / 0.118, -0.869); };
    f.saturation = 116.0;
    f.most = 116.0;
    f.vapour = [](double) { return 1e-15; };
    f.diffusivity = [](double) { return 6e-10; };
    f.conductivity = [](double) { return 0.15; };
    f.heat_capacity = 525.0 * 800.0;
    Column c;
    c.name = "isothermal drying";
    c.heat = Column::Heat::isothermal;
    const Substance* s = c.keep(tabulate(f));
    add_layer(c, s, graded(0.2, 60 * refine, 1e-3 / refine), 0.0, 0, {}, 293.15,
              potential_of_humidity(0.95, 293.15), false);
    c.exchanges = {{.node = 0, .kind = Exchange::Kind::outside},
                   {.node = static_cast<int>(c.nodes.size()) - 1, .kind = Exchange::Kind::inside}};
    c.weather = [](int, Hour& hour) {
        const double full = saturation_pressure(293.15);
        hour.ambient[0] = {
            .temperature = 293.15, .vapour_pressure = 0.45 * full, .heat_film = 25.0, .vapour_film = 1e-3};
        hour.ambient[1] = {
            .temperature = 293.15, .vapour_pressure = 0.65 * full, .heat_film = 8.0, .vapour_film = 1e-3};
    };
    return c;
}

Column air_leak_wall(int refine) {
    Functions f;
    f.name = "light wall with air leakage";
    f.water = [](double theta) {
        const double p = suction_of(theta);
        return 871.0 * (0.41 * std::pow(1.0 + std::pow(6.12e-7 * p, 2.4882), -0.5981) +
                        0.59 * std::pow(1.0 + std::pow(1.22e-6 * p, 2.3901), -0.5816));
    };
    f.saturation = 871.0;
    f.most = 871.0;
    f.vapour = [water = f.water](double theta) {
        const double dry = 1.0 - water(theta) / 871.0;
        return free_permeability(5.6) * dry / (0.503 * dry * dry + 0.497);
    };
    f.vapour_by_temperature = true;
    f.liquid_conductivity = [](double w) {
        const double t = w / 1000.0;
        return std::exp(-46.245 + t * (294.506 + t * (-1439.0 + t * (3249.0 + t * (-3370.0 + t * 1305.0)))));
    };
    f.conductivity = [](double w) { return 0.06 + 0.56 * w / 1000.0; };
    f.heat_capacity = 212000.0;
    f.freezes = false;
    Column c;
    c.name = "air-leakage wall";
    c.heat = Column::Heat::en15026;
    const Substance* s = c.keep(tabulate(f));
    add_layer(c, s, graded(0.2, 60 * refine, 1.5e-3 / refine), 0.0, 0, {}, 293.15,
              potential_of_humidity(0.95, 293.15), true);
    c.exchanges = {
        {.node = 0, .kind = Exchange::Kind::inside, .takes_air = true},
        {.node = static_cast<int>(c.nodes.size()) - 1, .kind = Exchange::Kind::outside, .takes_air = true}};
    c.weather = [](int i, Hour& hour) {
        hour.ambient[0] = {.temperature = 293.15,
                           .vapour_pressure = 0.7 * saturation_pressure(293.15),
                           .heat_film = 10.0,
                           .vapour_film = 2e-7};
        hour.ambient[1] = {.temperature = 275.15,
                           .vapour_pressure = 0.8 * saturation_pressure(275.15),
                           .heat_film = 10.0,
                           .vapour_film = 7.38e-12};
        const double day = (i + 0.5) / 24.0;
        const double pressure = day < 20.0 ? 30.0 : day > 21.0 ? -30.0 : 30.0 - 60.0 * (day - 20.0);
        hour.air = 3e-5 * 1.2 * pressure;
    };
    return c;
}

Column advection(const AdvectionCase& given, int pieces) {
    Functions f;
    f.name = "porous layer";
    f.water = [](double theta) { return 0.01 * std::exp(-theta); };
    f.saturation = 0.01;
    f.most = 1.0;
    f.vapour = [d = given.permeability](double) { return d; };
    f.conductivity = [](double) { return 0.04; };
    f.heat_capacity = 100.0;
    f.freezes = false;
    Column c;
    c.name = "air advection";
    c.heat = Column::Heat::isothermal;
    const Substance* s = c.keep(tabulate(f));
    std::vector<double> places;
    for (int i = 0; i <= pieces; ++i) places.push_back(0.2 * i / pieces);
    add_layer(c, s, places, 0.0, 0, {}, 293.15, potential_of_humidity(0.3, 293.15), true);
    c.exchanges = {{.node = 0, .kind = Exchange::Kind::inside, .takes_air = true},
                   {.node = pieces, .kind = Exchange::Kind::outside, .takes_air = true}};
    c.weather = [given](int, Hour& hour) {
        hour.ambient[0] = {.temperature = given.temperature_left,
                           .vapour_pressure = given.pressure_left,
                           .heat_film = no_film,
                           .vapour_film = no_vapour_film};
        hour.ambient[1] = {.temperature = given.temperature_right,
                           .vapour_pressure = given.pressure_right,
                           .heat_film = no_film,
                           .vapour_film = no_vapour_film};
        hour.air = given.air;
    };
    return c;
}

Column constant_diffusivity(double diffusivity, double water_difference, double thickness, int pieces) {
    Functions f;
    f.name = "constant diffusivity";
    f.water = [water_difference](double theta) { return water_difference * std::exp(-theta); };
    f.saturation = water_difference;
    f.most = water_difference;
    f.vapour = [](double) { return 1e-18; };
    f.diffusivity = [diffusivity](double) { return diffusivity; };
    f.conductivity = [](double) { return 1.0; };
    f.heat_capacity = 1e6;
    Column c;
    c.name = "capillary uptake";
    c.heat = Column::Heat::isothermal;
    const Substance* s = c.keep(tabulate(f));
    add_layer(c, s, graded(thickness, pieces, 0.2 * thickness / pieces), 0.0, 0, {}, 293.15,
              potential_of_humidity(1e-4, 293.15), false);
    c.exchanges = {{.node = 0, .kind = Exchange::Kind::outside}};
    c.weather = [](int, Hour& hour) { hour.ambient[0] = held(293.15, std::exp(-wettest_theta)); };
    return c;
}

Column moisture_buffer(const BufferCase& given) {
    Functions f;
    f.name = "buffering slab";
    f.water = [T = given.temperature, capacity = given.capacity](double theta) {
        return capacity * std::exp(-theta * reference_temperature / T);
    };
    f.saturation = given.capacity;
    f.most = given.capacity;
    f.vapour = [delta = given.permeability](double) { return delta; };
    f.conductivity = [](double) { return 0.1; };
    f.heat_capacity = 1e6;
    f.freezes = false;
    Column c;
    c.name = "moisture buffer";
    c.heat = Column::Heat::isothermal;
    const Substance* s = c.keep(tabulate(f));
    // Twelve penetration depths of the daily wave, finest at the face.
    const double diffusivity = given.permeability * saturation_pressure(given.temperature) / given.capacity;
    const double depth = 12.0 * std::sqrt(diffusivity * 86400.0 / std::numbers::pi);
    const double mean = (8.0 * given.high + 16.0 * given.low) / 24.0;
    add_layer(c, s, graded(depth, 200, depth / 2000.0), 0.0, 0, {}, given.temperature,
              potential_of_humidity(mean, given.temperature), false);
    c.exchanges = {{.node = 0, .kind = Exchange::Kind::inside}};
    c.weather = [given](int i, Hour& hour) {
        hour.ambient[0] = held(given.temperature, i % 24 < 8 ? given.high : given.low);
    };
    return c;
}

Column planes(const Planes& given) {
    Functions f;
    f.name = "plane";
    f.water = [](double theta) { return 0.1 * std::exp(-theta); };
    f.saturation = 0.1;
    f.most = 1000.0;
    f.vapour = [](double) { return 1e-10; };
    f.conductivity = [](double) { return 1.0; };
    f.heat_capacity = 1e6;
    f.freezes = false;
    Column c;
    c.name = "planes";
    c.heat = Column::Heat::isothermal;
    const Substance* s = c.keep(tabulate(f));
    const std::size_t n = given.resistance.size();
    for (std::size_t i = 1; i < n; ++i) {
        Link link;
        link.heat = 1.0 / given.resistance[i - 1];
        link.vapour = given.permeance[i - 1];
        add_node(c,
                 {.substance = s,
                  .volume = 1e-3,
                  .position = static_cast<double>(i),
                  .layer = static_cast<int>(i)},
                 link, 273.15, potential_of_humidity(0.4, 273.15));
    }
    c.exchanges = {{.node = 0, .kind = Exchange::Kind::inside},
                   {.node = static_cast<int>(n) - 2, .kind = Exchange::Kind::outside}};
    c.weather = [given, n](int, Hour& hour) {
        hour.ambient[0] = {.temperature = given.temperature_inside,
                           .vapour_pressure = given.pressure_inside,
                           .heat_film = 1.0 / given.resistance[0],
                           .vapour_film = given.permeance[0]};
        hour.ambient[1] = {.temperature = given.temperature_outside,
                           .vapour_pressure = given.pressure_outside,
                           .heat_film = 1.0 / given.resistance[n - 1],
                           .vapour_film = given.permeance[n - 1]};
    };
    return c;
}

Result<CheckRun> run_check(const Column& column, const std::vector<int>& hours, const MarchOptions& options) {
    ProfileRecorder recorder(column, hours);
    const Task task{.column = &column, .hours = hours.back(), .recorder = &recorder};
    auto done = march(std::span(&task, 1), options);
    if (!done) return fail(done.error());
    return CheckRun{recorder.profiles(), done->front()};
}

}  // namespace warmside::moisture
