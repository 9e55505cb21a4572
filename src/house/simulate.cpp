#include "house/simulate.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

#include "house/balance.h"
#include "house/chains.h"

namespace warmside::house {

namespace {

constexpr double hour_seconds = 3600.0;
const double gamma_of_two = 1.0 - std::sqrt(0.5);  // Alexander 1977: stable, second order
constexpr double no_time = 1e300;                  // s; a step this long leaves nothing in store

/// A Series without its branch.
class Feed {
public:
    explicit Feed(const Series& s)
        : from_(s.hourly.empty() ? &s.constant : s.hourly.data()), step_(!s.hourly.empty()) {}
    double at(int hour) const { return from_[step_ ? hour : 0]; }

private:
    const double* from_;
    bool step_;
};

// An element with its surfaces solved away: what of it never changes, and what a stage needs twice.
struct Wall {
    std::array<std::size_t, 4> nodes{};  // inner air, inner radiant, outer air, outer radiant
    std::array<double, 4> films{};       // W/K
    double area = 0.0, radiation = 0.0, inner_film = 0.0;
    Surfaces surfaces;
    bool between = false;
    Film film = Film::fixed, film_beyond = Film::fixed;
    double outer_film = 0.0, radiation_beyond = 0.0;  // between zones
    // Surface temperatures per W between zones: (Q r_i + c r_o, c r_i + P r_o) / det
    double inner = 0.0, outer = 0.0, cross = 0.0;
    Feed gain, conductance, temperature;  // of the boundary
    // This stage: outer surface T_o = from_outside + per_outer T_s, inner T_s = (films' pull / area + own)
    // share
    double from_outside = 0.0, per_outer = 0.0, own = 0.0, share = 0.0;
};

const Series nothing{};

class Simulation {
public:
    Simulation(const Network& network, double interval, double start)
        : network_(network),
          chains_(network.elements, interval, start),
          balance_(network.zones),
          interval_(interval),
          base_(network.zones.size(), start),
          inner_(network.elements.size()),
          outer_(network.elements.size()) {
        for (std::size_t i = 0; i < network.elements.size(); ++i) add(network.elements[i], i);
        bare_.assign(network.zones.size(), true);
        for (const Wall& wall : walls_) {
            if (wall.films[1] > 0.0) bare_[wall.nodes[1] / 2] = false;
            if (wall.films[3] > 0.0) bare_[wall.nodes[3] / 2] = false;
        }
    }

    /// One implicit stage in an hour.
    [[nodiscard]] Result<void> stage(int hour);
    void settle() {
        chains_.settle();
        for (std::size_t z = 0; z < base_.size(); ++z) base_[z] = balance_.temperature(2 * z);
    }
    void advance(double factor) {
        chains_.advance(factor);
        for (std::size_t z = 0; z < base_.size(); ++z)
            base_[z] += factor * (balance_.temperature(2 * z) - base_[z]);
    }
    [[nodiscard]] const Balance& balance() const { return balance_; }
    [[nodiscard]] double inward(std::size_t element) const;
    [[nodiscard]] double through(const Link& link, int hour) const;
    [[nodiscard]] double residual() const { return residual_; }
    [[nodiscard]] double magnitude() const { return magnitude_; }

private:
    void add(const Element& element, std::size_t index);
    void assemble(std::size_t i, int hour);
    void follow(std::size_t i);
    static void couple(Wall& w);
    void assemble_between(std::size_t i, int hour);
    void surfaces(std::size_t i, int hour);
    void weigh(int hour, double stored);

    const Network& network_;
    Chains chains_;
    Balance balance_;
    double interval_;
    std::vector<Wall> walls_;
    std::vector<double> air_, base_;     // K, [zone]
    std::vector<double> inner_, outer_;  // K, surfaces, [element]
    std::vector<bool> bare_;             // zones whose radiant node no surface meets
    double residual_ = 0.0, magnitude_ = 0.0;
    bool solved_ = false;  // a stage has been: there are temperatures to follow
};

void Simulation::add(const Element& e, std::size_t index) {
    const Boundary* b = e.boundary != none ? &network_.boundaries[e.boundary] : nullptr;
    Wall w{.gain = Feed(e.gain),
           .conductance = Feed(b ? b->conductance : nothing),
           .temperature = Feed(b ? b->temperature : nothing)};
    w.area = e.area;
    w.radiation = e.radiation;
    w.inner_film = e.convection + e.radiation;
    w.surfaces = chains_.surfaces(index);
    w.nodes = {2 * e.zone, 2 * e.zone + 1, 0, 0};
    w.films = {e.area * e.convection, e.area * e.radiation, 0.0, 0.0};
    w.between = e.beyond != none;
    w.film = e.film;
    if (w.between) {
        w.nodes[2] = 2 * e.beyond;
        w.nodes[3] = 2 * e.beyond + 1;
        w.films[2] = e.area * e.convection_beyond;
        w.films[3] = e.area * e.radiation_beyond;
        w.film_beyond = e.film_beyond;
        w.radiation_beyond = e.radiation_beyond;
        w.outer_film = e.convection_beyond + e.radiation_beyond;
        couple(w);
    }
    walls_.push_back(w);
}

void Simulation::couple(Wall& w) {
    const double p = w.inner_film + w.surfaces.self_inner;
    const double q = w.outer_film + w.surfaces.self_outer;
    const double c = w.surfaces.cross;
    const double determinant = w.area * (p * q - c * c);
    w.inner = q / determinant;
    w.outer = p / determinant;
    w.cross = c / determinant;
}

// Free convection by the temperatures of the stage before, halfway from the last film: it depends on them
// weakly, and the stage stays linear, so its balance closes.
void Simulation::follow(std::size_t i) {
    Wall& w = walls_[i];
    if (w.film != Film::fixed) {
        const double h = free_convection(w.film, inner_[i] - balance_.temperature(w.nodes[0]));
        w.films[0] = 0.5 * (w.films[0] + w.area * h);
        w.inner_film = w.films[0] / w.area + w.radiation;
    }
    if (!w.between) return;
    if (w.film_beyond != Film::fixed) {
        const double h = free_convection(w.film_beyond, outer_[i] - balance_.temperature(w.nodes[2]));
        w.films[2] = 0.5 * (w.films[2] + w.area * h);
        w.outer_film = w.films[2] / w.area + w.radiation_beyond;
    }
    couple(w);
}

// Node p gets films_p (T_surface - T_p); with the surfaces solved away nodes are joined pair by pair.
void Simulation::assemble_between(std::size_t i, int hour) {
    const Wall& w = walls_[i];
    const double pulls[2] = {w.area * (chains_.pull_inner[i] + w.gain.at(hour)),
                             w.area * chains_.pull_outer[i]};
    const auto influence = [&](std::size_t p, std::size_t q) {
        return p / 2 != q / 2 ? w.cross : p / 2 == 0 ? w.inner : w.outer;
    };
    for (std::size_t p = 0; p < 4; ++p) {
        double kept = 1.0;
        for (std::size_t q = 0; q < 4; ++q) {
            const double share = w.films[q] * influence(p, q);
            kept -= share;
            if (q > p) balance_.join(w.nodes[p], w.nodes[q], w.films[p] * share);
        }
        balance_.feed(w.nodes[p], w.films[p] * (influence(p, 0) * pulls[0] + influence(p, 2) * pulls[1]),
                      w.films[p] * kept);
    }
}

void Simulation::assemble(std::size_t i, int hour) {
    Wall& w = walls_[i];
    if (w.between) return assemble_between(i, hour);
    const double h = w.conductance.at(hour);
    const double per_whole = 1.0 / (h + w.surfaces.self_outer);
    w.per_outer = w.surfaces.cross * per_whole;
    w.from_outside = (h * w.temperature.at(hour) + chains_.pull_outer[i]) * per_whole;
    w.own = chains_.pull_inner[i] + w.surfaces.cross * w.from_outside + w.gain.at(hour);
    const double a = w.surfaces.self_inner - w.surfaces.cross * w.per_outer;
    w.share = 1.0 / (w.inner_film + a);
    balance_.join(w.nodes[0], w.nodes[1], w.films[0] * w.radiation * w.share);
    for (const std::size_t p : {std::size_t{0}, std::size_t{1}})
        balance_.feed(w.nodes[p], w.films[p] * w.own * w.share, w.films[p] * a * w.share);
}

void Simulation::surfaces(std::size_t i, int hour) {
    const Wall& w = walls_[i];
    const auto met = [&](std::size_t side) {
        return w.films[2 * side] * balance_.temperature(w.nodes[2 * side]) +
               w.films[2 * side + 1] * balance_.temperature(w.nodes[2 * side + 1]);
    };
    if (w.between) {
        const double r = met(0) + w.area * (chains_.pull_inner[i] + w.gain.at(hour));
        const double s = met(1) + w.area * chains_.pull_outer[i];
        inner_[i] = w.inner * r + w.cross * s;
        outer_[i] = w.cross * r + w.outer * s;
        return;
    }
    inner_[i] = (met(0) / w.area + w.own) * w.share;
    outer_[i] = w.from_outside + w.per_outer * inner_[i];
}

double Simulation::inward(std::size_t i) const {
    const Wall& w = walls_[i];
    return w.films[0] * (inner_[i] - balance_.temperature(w.nodes[0])) +
           w.films[1] * (inner_[i] - balance_.temperature(w.nodes[1]));
}

double Simulation::through(const Link& link, int hour) const {
    const double from =
        link.beyond == none ? link.temperature.at(hour) : balance_.temperature(2 * link.beyond);
    return link.conductance.at(hour) * (from - balance_.temperature(2 * link.zone));
}

// What came in less what was stored; both ends of a link or an element between zones count.
void Simulation::weigh(int hour, double stored) {
    double in = 0.0;
    magnitude_ = 0.0;
    const auto count = [&](double flow) {
        in += flow;
        magnitude_ += std::abs(flow);
    };
    for (std::size_t i = 0; i < walls_.size(); ++i) {
        const Wall& w = walls_[i];
        count(w.area * w.gain.at(hour));
        if (!w.between) count(w.area * w.conductance.at(hour) * (w.temperature.at(hour) - outer_[i]));
    }
    for (const Link& link : network_.links) {
        if (link.beyond == none || !link.mutual) count(through(link, hour));
    }
    for (std::size_t z = 0; z < network_.zones.size(); ++z) {
        const Zone& zone = network_.zones[z];
        count(zone.convective.at(hour));
        count(zone.radiant.at(hour));
        count(balance_.heat(z));
        stored += zone.capacity / interval_ * (balance_.temperature(2 * z) - base_[z]);
    }
    residual_ = in - stored;
}

Result<void> Simulation::stage(int hour) {
    chains_.carry();
    balance_.clear();
    for (std::size_t i = 0; i < walls_.size(); ++i) {
        const bool fixed = walls_[i].film == Film::fixed && walls_[i].film_beyond == Film::fixed;
        if (!fixed && solved_) follow(i);
        assemble(i, hour);
    }
    for (const Link& link : network_.links) {
        const double g = link.conductance.at(hour);
        if (link.beyond == none)
            balance_.feed(2 * link.zone, g * link.temperature.at(hour), g);
        else if (link.mutual)
            balance_.join(2 * link.zone, 2 * link.beyond, g);
        else
            balance_.blow(2 * link.zone, 2 * link.beyond, g);
    }
    for (std::size_t z = 0; z < network_.zones.size(); ++z) {
        const Zone& zone = network_.zones[z];
        const double store = zone.capacity / interval_;
        balance_.feed(2 * z, zone.convective.at(hour) + store * base_[z], store);
        balance_.feed(2 * z + 1, zone.radiant.at(hour));
        if (bare_[z]) balance_.join(2 * z, 2 * z + 1, 1.0);
    }
    if (auto solved = balance_.solve(hour); !solved) return solved;
    for (std::size_t i = 0; i < walls_.size(); ++i) surfaces(i, hour);
    weigh(hour, chains_.finish(inner_, outer_));
    solved_ = true;
    return {};
}

// Results of an hour as they add up over its stages.
class Log {
public:
    Log(const Network& network, int hours) : network_(network) {
        const auto size = [&](auto& rows, std::size_t n) {
            rows.assign(n, std::vector<double>(static_cast<std::size_t>(hours), 0.0));
        };
        size(run.air, network.zones.size());
        size(run.radiant, network.zones.size());
        size(run.heating, network.zones.size());
        size(run.cooling, network.zones.size());
        size(run.inward, network.elements.size());
        size(run.links, network.links.size());
    }

    void add(const Simulation& s, std::size_t at, int hour, double share) {
        for (std::size_t z = 0; z < network_.zones.size(); ++z) {
            const double heat = s.balance().heat(z);
            (heat > 0.0 ? run.heating : run.cooling)[z][at] += share * std::abs(heat);
        }
        for (std::size_t i = 0; i < network_.elements.size(); ++i) run.inward[i][at] += share * s.inward(i);
        for (std::size_t i = 0; i < network_.links.size(); ++i)
            run.links[i][at] += share * s.through(network_.links[i], hour);
        if (std::abs(s.residual()) > run.worst_balance) {
            run.worst_balance = std::abs(s.residual());
            run.largest_flow = s.magnitude();
        }
    }

    void close(const Simulation& s, std::size_t at, int hour) {
        constexpr double missed = 0.1;  // K
        for (std::size_t z = 0; z < network_.zones.size(); ++z) {
            run.air[z][at] = s.balance().temperature(2 * z);
            run.radiant[z][at] = s.balance().temperature(2 * z + 1);
            const Zone& zone = network_.zones[z];
            if (run.air[z][at] < zone.heating.at(hour) - missed ||
                run.air[z][at] > zone.cooling.at(hour) + missed)
                ++run.unmet;
        }
    }
    Run run;

private:
    const Network& network_;
};

}  // namespace

Result<Run> simulate(const Network& network, const Stepping& stepping, const Control& control) {
    if (auto good = check(network); !good) return fail(good.error());
    if (stepping.steps < 1 || stepping.hours < 1 || stepping.first_hour < 0 ||
        stepping.first_hour + stepping.hours > hours_in_year)
        return fail(Code::out_of_range, fmt::format("{} hours from hour {} in {} steps each cannot be run",
                                                    stepping.hours, stepping.first_hour, stepping.steps));
    const bool two = stepping.scheme == Stepping::Scheme::second_order;
    const double share = two ? gamma_of_two : 1.0;
    Simulation simulation(network, share * hour_seconds / stepping.steps, stepping.start);
    Log log(network, stepping.hours);
    for (int k = -24 * stepping.run_in; k < stepping.hours; ++k) {
        if (k % 168 == 0 && control.stop.stopped()) return fail(Code::stopped, "the run was stopped");
        const int hour = stepping.first_hour + (k < 0 ? (k + 24 * stepping.run_in) % 24 : k);
        for (int step = 0; step < stepping.steps; ++step) {
            const auto take = [&](double weight) -> Result<void> {
                if (auto done = simulation.stage(hour); !done) return done;
                if (k >= 0) log.add(simulation, static_cast<std::size_t>(k), hour, weight / stepping.steps);
                return {};
            };
            if (two) {
                if (auto first = take(1.0 - share); !first) return fail(first.error());
                simulation.advance((1.0 - share) / share);
            }
            if (auto last = take(share); !last) return fail(last.error());
            simulation.settle();
        }
        if (k >= 0) log.close(simulation, static_cast<std::size_t>(k), hour);
    }
    return std::move(log.run);
}

Result<Steady> steady(const Network& network, int hour) {
    if (auto good = check(network); !good) return fail(good.error());
    Simulation simulation(network, no_time, 293.15);
    // Films that follow the temperatures need a few rounds; each halves what is left at least.
    bool follows = false;
    for (const Element& e : network.elements)
        follows = follows || e.film != Film::fixed || e.film_beyond != Film::fixed;
    for (int round = 0; round < (follows ? 60 : 1); ++round)
        if (auto done = simulation.stage(hour); !done) return fail(done.error());
    Steady out;
    for (std::size_t z = 0; z < network.zones.size(); ++z) {
        out.air.push_back(simulation.balance().temperature(2 * z));
        out.radiant.push_back(simulation.balance().temperature(2 * z + 1));
        const double heat = simulation.balance().heat(z);
        out.heating.push_back(std::max(0.0, heat));
        out.cooling.push_back(std::max(0.0, -heat));
    }
    for (std::size_t i = 0; i < network.elements.size(); ++i) out.inward.push_back(simulation.inward(i));
    for (const Link& link : network.links) out.links.push_back(simulation.through(link, hour));
    return out;
}

}  // namespace warmside::house
