#include "house/network.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <optional>

namespace warmside::house {

namespace {

/// Collects what is wrong with one part; the first is kept.
class Checker {
public:
    explicit Checker(const std::string& part) : part_(part) {}
    void ask(bool good, const char* what) {
        if (!good && !problem_)
            problem_ = Problem{.code = Code::out_of_range, .what = fmt::format("{}: {}", part_, what)};
    }
    void series(const Series& s, double least, const char* what) {
        if (!s.hourly.empty() && s.hourly.size() != hours_in_year && !problem_)
            problem_ = Problem{.code = Code::incomplete,
                               .what = fmt::format("{}: {} has {} hours", part_, what, s.hourly.size())};
        const auto good = [&](double v) { return std::isfinite(v) && v >= least; };
        if (s.hourly.empty()) return ask(good(s.constant), what);
        for (const double v : s.hourly) ask(good(v), what);
    }
    [[nodiscard]] Result<void> done() const {
        if (problem_) return fail(*problem_);
        return {};
    }

private:
    const std::string& part_;
    std::optional<Problem> problem_;
};

constexpr double any = -1e300;

Result<void> check(const Element& e, const Network& n) {
    Checker c(e.name);
    c.ask(std::isfinite(e.area) && e.area > 0.0, "area is not above 0");
    c.ask(e.zone < n.zones.size(), "has no zone");
    c.ask(e.beyond == none || e.beyond < n.zones.size(), "the zone beyond does not exist");
    c.ask(e.boundary == none || e.boundary < n.boundaries.size(), "the boundary does not exist");
    c.ask(e.beyond == none || e.boundary == none, "has a zone and a boundary beyond");
    c.ask(e.conductance.size() == e.capacity.size() + 1, "needs one conductance more than cells");
    for (const double g : e.conductance) c.ask(std::isfinite(g) && g > 0.0, "conductance is not above 0");
    for (const double v : e.capacity) c.ask(std::isfinite(v) && v > 0.0, "capacity is not above 0");
    for (const double h : {e.convection, e.radiation, e.convection_beyond, e.radiation_beyond})
        c.ask(std::isfinite(h) && h >= 0.0, "film is below 0");
    c.ask(e.convection + e.radiation > 0.0, "has no inner film");
    c.series(e.gain, any, "gain");
    return c.done();
}

Result<void> check(const Zone& z) {
    Checker c(z.name);
    c.ask(std::isfinite(z.capacity) && z.capacity >= 0.0, "capacity is below 0");
    c.ask(z.system_convective > 0.0 && z.system_convective <= 1.0, "convective share is not within 0 to 1");
    c.ask(z.heating_limit >= 0.0 && z.cooling_limit >= 0.0, "a limit is below 0");
    c.series(z.convective, any, "convective gain");
    c.series(z.radiant, any, "radiant gain");
    for (int i = 0; i < hours_in_year; ++i)
        c.ask(z.heating.at(i) < z.cooling.at(i), "heating set-point is not below cooling set-point");
    return c.done();
}

}  // namespace

double free_convection(Film film, double warmer) {
    const double root = std::cbrt(std::max(0.1, std::abs(warmer)));
    if (film == Film::wall) return 1.31 * root;
    const bool rises = (film == Film::floor) == (warmer > 0.0);
    return (rises ? 1.52 : 0.76) * root;
}

Result<void> check(const Network& network) {
    for (const Zone& z : network.zones)
        if (auto good = check(z); !good) return good;
    for (const Boundary& b : network.boundaries) {
        Checker c(b.name);
        c.series(b.conductance, 0.0, "conductance");
        c.series(b.temperature, 0.0, "temperature");
        if (auto good = c.done(); !good) return good;
    }
    for (const Element& e : network.elements)
        if (auto good = check(e, network); !good) return good;
    for (const Link& l : network.links) {
        Checker c(l.name);
        c.ask(l.zone < network.zones.size(), "has no zone");
        c.ask(l.beyond == none || l.beyond < network.zones.size(), "the zone beyond does not exist");
        // A junction may take heat off what the areas around it count: psi below 0.
        c.series(l.conductance, l.beyond == none ? any : 0.0, "conductance");
        if (l.beyond == none) c.series(l.temperature, 0.0, "temperature");
        if (auto good = c.done(); !good) return good;
    }
    return {};
}

}  // namespace warmside::house
