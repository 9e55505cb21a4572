#include "conduction/steady.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "conduction/lines.h"
#include "conduction/round.h"
#include "conduction/shape.h"

namespace warmside::conduction {

namespace {

constexpr double loose = 1e-6, tight = 1e-12;  // residuals of rounds to come and of the last
constexpr std::size_t most_rounds = 30;

std::size_t cells_that_fit(std::size_t problems) {
    const double bytes =
        static_cast<double>(sysconf(_SC_PHYS_PAGES)) * static_cast<double>(sysconf(_SC_PAGE_SIZE));
    return static_cast<std::size_t>(0.25 * bytes / (300.0 + 60.0 * static_cast<double>(problems)));
}

class Solver {
public:
    Solver(const Model& model, const SteadyOptions& options, const Control& control)
        : lines_(corner_lines(model)),
          model_(on_lines(model, lines_)),
          options_(options),
          control_(control),
          environments_(model.environments.size()),
          problems_(std::max<std::size_t>(1, environments_) - 1) {
        most_cells_ = options.most_cells > 0 ? options.most_cells : cells_that_fit(problems_);
        finest_ = options.finest;
        if (finest_ <= 0.0) {
            double thinnest = std::numeric_limits<double>::infinity();
            for (std::size_t axis = 0; axis < 3; ++axis)
                for (std::size_t i = 0; i < lines_.count(axis); ++i)
                    thinnest = std::min(thinnest, lines_.width(axis, i));
            finest_ = thinnest / 1000.0;
        }
        const Extent e = extent_of(model_);
        near_ = 0.02 * std::min(e.size(0), e.size(1));
    }

    Result<Steady> run() {
        Grid grid = first_grid(model_, options_.sharp);
        for (rounds_ = 1;; ++rounds_) {
            if (grid.cells() > most_cells_) return fail(too_many(grid.cells()));
            if (auto done = solve(std::move(grid), loose); !done) return fail(done.error());
            control_.report("conduction", std::min(1.0, options_.tolerance / std::max(error_, 1e-300)));
            const bool sharp = sharp_enough();
            if (error_ <= options_.tolerance && sharp && !lone_estimate()) break;
            if (rounds_ == most_rounds) return fail(too_many(now_->system.grid.cells()));
            grid = finer(sharp);
            const bool same = grid.cells() == now_->system.grid.cells();
            // Good enough, but no grid is left that could say so twice.
            if (error_ <= options_.tolerance && (same || (sharp && grid.cells() > most_cells_))) break;
            if (same) {
                // Nothing left that may be split.
                return fail(
                    Code::out_of_range,
                    fmt::format(
                        "\"{}\" cannot be had to {:.2g}: with no cell below {:.3g} m the error is {:.2g}",
                        model_.name, options_.tolerance, finest_, error_),
                    model_.where);
            }
        }
        if (auto done = settle(); !done) return fail(done.error());
        Steady out = outcome_of(model_, *now_, error_);
        out.rounds = rounds_;
        out.iterations = iterations_;
        return out;
    }

private:
    Problem too_many(std::size_t cells) const {
        return {
            .code = Code::out_of_range,
            .what = rounds_ > 1
                        ? fmt::format("\"{}\" needs {} cells or more for an error of {:.2g}, {} are allowed; "
                                      "{:.2g} was reached",
                                      model_.name, cells, options_.tolerance, most_cells_, error_)
                        : fmt::format("\"{}\" needs {} cells to begin with, {} are allowed", model_.name,
                                      cells, most_cells_),
            .where = model_.where};
    }

    Result<void> solve(Grid grid, double residual) {
        auto next = std::make_unique<Round>();
        next->system = discretise(model_, std::move(grid));
        const System& s = next->system;
        std::vector<double> b(s.grid.cells());
        next->multigrid = std::make_unique<Multigrid>(s.stencil, options_.threads);
        for (std::size_t e = 0; e < problems_; ++e) {
            unit_load(s, e, b);
            std::vector<double> x = now_ ? guess(*now_, e, s) : std::vector<double>(b.size(), 0.0);
            if (auto done = solve(*next->multigrid, b, x, residual); !done) return done;
            next->x.push_back(std::move(x));
        }
        next->field = std::make_unique<Field>(model_, s, threads(s));
        before_ = std::move(now_);
        if (before_) before_->multigrid.reset();
        now_ = std::move(next);
        return evaluate(residual);
    }

    Result<void> solve(Multigrid& multigrid, const std::vector<double>& b, std::vector<double>& x,
                       double residual) {
        if (std::all_of(b.begin(), b.end(), [](double v) { return v == 0.0; })) {
            std::fill(x.begin(), x.end(), 0.0);
            return {};
        }
        auto done = multigrid.solve(b, x, {.residual = residual}, control_.stop);
        if (!done) return fail(done.error());
        iterations_ += done->iterations;
        return {};
    }

    unsigned threads(const System& s) const { return s.grid.cells() < 40000 ? 1 : options_.threads; }

    // The continuous fields and balanced fluxes.
    Result<void> evaluate(double residual) {
        Round& r = *now_;
        r.t.resize(problems_);
        r.flux.resize(problems_);
        r.sent.resize(problems_);
        const double enough = scale_ > 0.0 ? 0.02 * std::max(options_.tolerance, 0.2 * error_) * scale_ : 0.0;
        for (std::size_t e = 0; e < problems_; ++e) {
            r.flux[e] = fluxes_of(r.system, r.x[e], e);
            r.field->recover(r.x[e], r.flux[e], e, r.t[e]);
            if (before_) {
                std::vector<double> carried = r.t[e];
                r.field->carry_over(*before_->field, before_->t[e], carried);
                r.field->mix(e, carried, r.t[e]);
            }
            if (auto done = improve(r, e, enough); !done) return done;
            if (!r.system.plan.cut.empty())
                if (auto done = balance(r, e, residual); !done) return done;
            if (control_.stop.stopped()) return fail(Code::stopped, "stopped");
        }
        weigh();
        return {};
    }

    Result<void> balance(Round& r, std::size_t e, double residual) {
        auto flux = balanced(r.system, *r.field, r.t[e], e, *r.multigrid, {.residual = residual},
                             control_.stop, r.sent[e], iterations_);
        if (!flux) return fail(flux.error());
        r.flux[e] = std::move(*flux);
        return {};
    }

    // The bracket; its half width relative to the largest coupling.
    void weigh() {
        Round& r = *now_;
        r.bracket = bracket(r.system, *r.field, r.flux, r.sent, r.t, near_, threads(r.system));
        scale_ = 0.0;
        double widest = 0.0, last = 0.0;
        const std::size_t n = problems_;
        for (std::size_t i = 0; i < n; ++i) {
            double row = 0.0;
            for (std::size_t j = 0; j < n; ++j) {
                if (i != j) scale_ = std::max(scale_, -r.bracket.middle(i, j));
                row += r.bracket.middle(i, j);
                last += r.bracket.gap[i * n + j];
            }
            scale_ = std::max(scale_, row);
            widest = std::max(widest, r.bracket.gap[i * n + i]);
        }
        // Where only one environment meets material all flows are rounding.
        if (scale_ < rounding(r.system)) scale_ = 0.0;
        double half = 0.5 * std::max(widest, last);
        if (!r.bracket.bound && before_) half = std::max(half, 0.5 * change());
        error_ = scale_ > 0.0 ? half / scale_ : 0.0;
    }

    // An estimate is believed only when a finer grid agrees.
    bool lone_estimate() const { return !now_->bracket.bound && !before_ && scale_ > 0.0; }

    // W/K, the most that a coupling has moved since the round before.
    double change() const {
        double most = 0.0, all = 0.0;
        for (std::size_t i = 0; i < problems_; ++i) {
            double row = 0.0;
            for (std::size_t j = 0; j < problems_; ++j) {
                const double moved = now_->bracket.middle(i, j) - before_->bracket.middle(i, j);
                most = std::max(most, std::abs(moved));
                row += moved;
            }
            most = std::max(most, std::abs(row));
            all += row;
        }
        return std::max(most, std::abs(all));
    }

    // Conjugate gradients take the ragged part of the error away, the multigrid the smooth one.
    Result<void> improve(Round& r, std::size_t e, double enough) {
        std::vector<double> b(r.system.grid.cells()), x(b.size());
        for (int cycle = 0; cycle < (scale_ > 0.0 ? 6 : 2); ++cycle) {
            double fallen = r.field->improve(e, r.t[e], 0.5 * enough, 12);
            r.field->left_over(e, r.t[e], b);
            std::fill(x.begin(), x.end(), 0.0);
            if (auto done = solve(*r.multigrid, b, x, 0.1); !done) return done;
            const double more = r.field->correct(e, x, r.t[e]);
            if (more < enough && (cycle > 0 || fallen < enough)) break;
        }
        r.field->improve(e, r.t[e], 0.5 * enough, 5);
        return {};
    }

    Grid finer(bool sharp) const {
        const auto& share = now_->bracket.share;
        double gap = 0.0;
        for (const auto& axis : share)
            for (const double v : axis) gap += v;
        // The shares hold all problems: as much as the worst one has to fall, they do.
        double fall = 0.7 * options_.tolerance / std::max(error_, 1e-300);
        if (lone_estimate()) fall = std::min(fall, now_->system.solid() ? 0.5 : 0.25);
        auto parts = fall > 0.7 ? splits(now_->system.grid, share, 2.0 * gap, finest_)
                                : splits(now_->system.grid, share, gap * std::max(fall, 0.1), finest_);
        if (!sharp)
            for (const Point& p : options_.sharp)
                for (std::size_t axis = 0; axis < (now_->system.solid() ? 3U : 2U); ++axis)
                    for (std::size_t i = 0; i < parts[axis].size(); ++i) {
                        const auto& line = now_->system.grid.line[axis];
                        const double v = coordinate(p, axis);
                        if (v > line[i] - 2 * same_place && v < line[i + 1] + 2 * same_place &&
                            line[i + 1] - line[i] >= 2.0 * finest_)
                            parts[axis][i] = std::max(parts[axis][i], 2);
                    }
        return split(now_->system.grid, parts);
    }

    // The weights at the sharp points have settled to the tolerance.
    bool sharp_enough() {
        if (options_.sharp.empty()) return true;
        std::vector<double> now;
        const Steady view = view_of(*now_);
        for (const Point& p : options_.sharp)
            if (const auto w = weights_at(model_, view, p)) now.insert(now.end(), w->begin(), w->end());
        bool same = now.size() == sharp_.size();
        for (std::size_t i = 0; same && i < now.size(); ++i)
            same = std::abs(now[i] - sharp_[i]) <= options_.tolerance;
        sharp_ = std::move(now);
        return same;
    }

    // The last round again, to the tight residual; with cut cells the fluxes do not come from there.
    Result<void> settle() {
        Round& r = *now_;
        std::vector<double> b(r.system.grid.cells());
        for (std::size_t e = 0; e < problems_; ++e) {
            if (!r.system.plan.cut.empty()) {
                if (auto done = balance(r, e, 1e-3 * loose); !done) return done;
                continue;
            }
            unit_load(r.system, e, b);
            if (auto done = solve(*r.multigrid, b, r.x[e], tight); !done) return done;
            r.flux[e] = fluxes_of(r.system, r.x[e], e);
        }
        weigh();
        return {};
    }

    Grid lines_;
    Model model_;
    const SteadyOptions& options_;
    const Control& control_;
    std::size_t environments_, problems_, most_cells_ = 0, rounds_ = 0, iterations_ = 0;
    double finest_ = 0.0, near_ = 0.0, error_ = 0.0, scale_ = 0.0;
    std::unique_ptr<Round> now_, before_;
    std::vector<double> sharp_;
};

}  // namespace

double Steady::between(std::size_t i, std::size_t j) const {
    return coupling[i * weight.size() + j];
}

Result<Steady> steady(const Model& model, const SteadyOptions& options, const Control& control) {
    Problems problems;
    check(model, problems);
    for (const Problem& p : problems)
        if (p.severity == Severity::error) return fail(p);
    return Solver(model, options, control).run();
}

}  // namespace warmside::conduction
