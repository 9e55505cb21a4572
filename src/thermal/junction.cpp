#include "thermal/junction.h"

#include <algorithm>
#include <cmath>

#include "air/saturation.h"
#include "thermal/surface_mean.h"

namespace warmside::thermal {

namespace {

constexpr double mould_film = 0.25;  // m2 K/W, ISO 13788 (memory)
constexpr double same_place = 1e-3;  // m
constexpr int most_rounds = 4;

bool contains(const std::vector<std::size_t>& list, std::size_t value) {
    return std::find(list.begin(), list.end(), value) != list.end();
}

bool contains(const std::vector<conduction::Point>& list, const conduction::Point& p) {
    return std::any_of(list.begin(), list.end(), [&](const conduction::Point& q) {
        return std::hypot(p.x - q.x, p.y - q.y) < same_place;
    });
}

conduction::SteadyOptions options_for(double tolerance) {
    // Small models on one thread each: the callers solve many at once.
    return {.tolerance = tolerance, .threads = 1};
}

/// The films of the check for mould on every indoor surface.
conduction::Model for_mould(const JunctionDrawing& drawing, double glazing_film) {
    conduction::Model model = drawing.model;
    for (std::size_t i = 0; i < model.regions.size(); ++i) {
        conduction::Region& region = model.regions[i];
        if (region.environment == indoors) region.film = mould_film;
        if (region.own_film) region.own_film = mould_film;
    }
    for (const std::size_t i : drawing.glazing) model.regions[i].own_film = glazing_film;
    return model;
}

conduction::Model without_members(const JunctionDrawing& drawing) {
    conduction::Model model = drawing.model;
    model.regions.clear();
    for (std::size_t i = 0; i < drawing.model.regions.size(); ++i) {
        if (!contains(drawing.members, i)) model.regions.push_back(drawing.model.regions[i]);
    }
    return model;
}

struct Coupling {
    double value = 0.0, error = 0.0;  // W/(m K)
};

Result<Coupling> coupling_of(const conduction::Model& model, double tolerance, const Control& control) {
    const auto solved = conduction::steady(model, options_for(tolerance), control);
    if (!solved) return fail(solved.error());
    const double value = solved->between(indoors, outdoors);
    return Coupling{value, solved->error * value};
}

Result<void> find_factors(const JunctionDrawing& drawing, const JunctionOptions& options,
                          const Control& control, Junction& out) {
    const conduction::Model model = for_mould(drawing, options.glazing_film);
    std::vector<std::size_t> opaque;
    for (std::size_t i = 0; i < model.regions.size(); ++i) {
        if (!model.regions[i].environment && !contains(drawing.glazing, i)) opaque.push_back(i);
    }
    // Where it is coldest shows once it is solved; the grid is then made finer there, until the place stays.
    auto how = options_for(10.0 * options.factor_accuracy);
    for (int round = 0;; ++round) {
        const auto solved = conduction::steady(model, how, control);
        if (!solved) return fail(solved.error());
        const auto lowest = conduction::lowest_factor(model, *solved, indoors, opaque);
        auto cold = std::vector{lowest.at};
        out.factor = lowest.factor;
        out.coldest = lowest.at;
        if (!drawing.glazing.empty()) {
            const auto glazing = conduction::lowest_factor(model, *solved, indoors, drawing.glazing);
            out.factor_glazing = glazing.factor;
            cold.push_back(glazing.at);
        }
        const bool known = std::all_of(cold.begin(), cold.end(),
                                       [&](const conduction::Point& p) { return contains(how.sharp, p); });
        if (known || round == most_rounds) {
            if (options.spot > 0.0) {
                out.factor = lowest_mean_factor(*solved, indoors, opaque, options.spot);
                if (out.factor_glazing)
                    out.factor_glazing = lowest_mean_factor(*solved, indoors, drawing.glazing, options.spot);
            }
            break;
        }
        how.tolerance = options.factor_accuracy;
        if (round == 0) how.sharp = drawing.sharp;
        how.sharp.insert(how.sharp.end(), cold.begin(), cold.end());
    }
    out.humidity = highest_humidity(out.factor, options.outside);
    return {};
}

}  // namespace

double highest_humidity(double factor, double outside) {
    constexpr double inside = 293.15, limit = 0.8;
    const double surface = outside + factor * (inside - outside);
    return std::clamp(limit * air::over_water(surface) / air::over_water(inside), 0.0, 1.0);
}

Result<Junction> solve(const JunctionDrawing& drawing, const JunctionOptions& options,
                       const Control& control) {
    // The coupling is about what the plain parts pass. Half of the accuracy is left for that of the window
    // alone.
    const double expected = std::max(drawing.internal + drawing.opening, 1e-6);
    const double tolerance = std::min(0.5 * options.accuracy / expected, 0.01);
    const auto whole = coupling_of(drawing.model, tolerance, control);
    if (!whole) return fail(whole.error());
    double counted = 0.0;
    Junction out{.kind = drawing.kind,
                 .name = drawing.name,
                 .coupling = whole->value,
                 .error = whole->error,
                 .model = drawing.model,
                 .opening_members = drawing.opening_members,
                 .notes = drawing.notes};
    if (drawing.apart) {
        const auto alone = coupling_of(*drawing.apart, tolerance, control);
        if (!alone) return fail(alone.error());
        counted = alone->value;
        out.error += alone->error;
    }
    out.psi_internal = whole->value - counted - drawing.internal;
    out.psi_overall = whole->value - counted - drawing.overall;
    out.psi_external = whole->value - counted - drawing.external;
    if (options.plain) {
        const auto plain = coupling_of(without_members(drawing), tolerance, control);
        if (!plain) return fail(plain.error());
        out.psi_plain = plain->value - counted - drawing.internal;
    }
    if (options.factor) {
        if (auto found = find_factors(drawing, options, control, out); !found) return fail(found.error());
    }
    return out;
}

}  // namespace warmside::thermal
