#include "conduction/steady.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>

#include "conduction/bracket.h"
#include "conduction/lines.h"
#include "conduction/multigrid.h"
#include "conduction/shape.h"

namespace warmside::conduction {

namespace {

constexpr double loose = 1e-6, tight = 1e-11;  // residuals of rounds to come and of the last
constexpr std::size_t most_rounds = 30;

std::size_t cells_that_fit(std::size_t problems) {
    const double bytes = static_cast<double>(sysconf(_SC_PHYS_PAGES)) * static_cast<double>(sysconf(_SC_PAGE_SIZE));
    return static_cast<std::size_t>(0.25 * bytes / (200.0 + 60.0 * static_cast<double>(problems)));
}

// One grid with its solutions.
struct Round {
    System system;
    std::unique_ptr<Field> field;
    std::vector<std::vector<double>> x, t;  // [problem] by cell, by node
    Bracket bracket;
};

class Solver {
public:
    Solver(const Model& model, const SteadyOptions& options, const Control& control)
        : lines_(corner_lines(model)), model_(on_lines(model, lines_)), options_(options), control_(control),
          environments_(model.environments.size()), problems_(std::max<std::size_t>(1, environments_) - 1) {
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
            if (error_ <= options_.tolerance && sharp) break;
            if (rounds_ == most_rounds) return fail(too_many(now_->system.grid.cells()));
            grid = finer(sharp);
            if (grid.cells() == now_->system.grid.cells()) {
                // Nothing left that may be split.
                return fail(Code::out_of_range,
                            fmt::format("\"{}\" cannot be had to {:.2g}: with no cell below {:.3g} m the error is {:.2g}",
                                        model_.name, options_.tolerance, finest_, error_),
                            model_.where);
            }
        }
        if (auto done = settle(); !done) return fail(done.error());
        return finish();
    }

private:
    Problem too_many(std::size_t cells) const {
        return {.code = Code::out_of_range,
                .what = rounds_ > 1 ? fmt::format("\"{}\" needs {} cells or more for an error of {:.2g}, {} are allowed; "
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
        Multigrid multigrid(s.stencil, options_.threads);
        for (std::size_t e = 0; e < problems_; ++e) {
            unit_load(s, e, b);
            std::vector<double> x = now_ ? guess(*now_, e, s) : std::vector<double>(b.size(), 0.0);
            if (auto done = solve(multigrid, b, x, residual); !done) return done;
            next->x.push_back(std::move(x));
        }
        next->field = std::make_unique<Field>(model_, s, threads(s));
        before_ = std::move(now_);
        now_ = std::move(next);
        return evaluate();
    }

    Result<void> solve(Multigrid& multigrid, const std::vector<double>& b, std::vector<double>& x, double residual) {
        if (std::all_of(b.begin(), b.end(), [](double v) { return v == 0.0; })) {
            std::fill(x.begin(), x.end(), 0.0);
            return {};
        }
        auto done = multigrid.solve(b, x, {.residual = residual, .threads = options_.threads}, control_.stop);
        if (!done) return fail(done.error());
        iterations_ += done->iterations;
        return {};
    }

    unsigned threads(const System& s) const { return s.grid.cells() < 40000 ? 1 : options_.threads; }

    // The continuous fields and the bracket; its half width relative to the largest coupling.
    Result<void> evaluate() {
        Round& r = *now_;
        r.t.resize(problems_);
        const double enough = scale_ > 0.0 ? 0.02 * std::max(options_.tolerance, 0.2 * error_) * scale_ : 0.0;
        for (std::size_t e = 0; e < problems_; ++e) {
            r.field->recover(r.x[e], e, r.t[e]);
            r.field->improve(e, r.t[e], enough, 30);
            if (control_.stop.stopped()) return fail(Code::stopped, "stopped");
        }
        r.bracket = bracket(r.system, *r.field, r.x, r.t, near_, threads(r.system));
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
        error_ = scale_ > 0.0 ? 0.5 * std::max(widest, last) / scale_ : 0.0;
        return {};
    }

    Grid finer(bool sharp) const {
        const auto& share = now_->bracket.share;
        double gap = 0.0;
        for (const auto& axis : share)
            for (const double v : axis) gap += v;
        // The shares hold all problems: as much as the worst one has to fall, they do.
        const double fall = 0.7 * options_.tolerance / std::max(error_, 1e-300);
        auto parts = error_ <= options_.tolerance ? splits(now_->system.grid, share, 2.0 * gap, finest_)
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
        const Steady view = snapshot();
        for (const Point& p : options_.sharp)
            if (const auto w = weights_at(model_, view, p)) now.insert(now.end(), w->begin(), w->end());
        bool same = now.size() == sharp_.size();
        for (std::size_t i = 0; same && i < now.size(); ++i) same = std::abs(now[i] - sharp_[i]) <= options_.tolerance;
        sharp_ = std::move(now);
        return same;
    }

    // The last round again, to the tight residual.
    Result<void> settle() {
        Round& r = *now_;
        Multigrid multigrid(r.system.stencil, options_.threads);
        std::vector<double> b(r.system.grid.cells());
        for (std::size_t e = 0; e < problems_; ++e) {
            unit_load(r.system, e, b);
            if (auto done = solve(multigrid, b, r.x[e], tight); !done) return done;
        }
        return evaluate();
    }

    // The field of the round before at the centres of the new cells.
    static std::vector<double> guess(const Round& old, std::size_t e, const System& system) {
        const Grid& from = old.system.grid;
        const Grid& to = system.grid;
        std::array<std::vector<std::size_t>, 3> cell;
        std::array<std::vector<double>, 3> part;
        for (std::size_t axis = 0; axis < 3; ++axis)
            for (std::size_t i = 0, o = 0; i < to.count(axis); ++i) {
                while (o + 1 < from.count(axis) && from.line[axis][o + 1] <= to.centre(axis, i)) ++o;
                cell[axis].push_back(o);
                part[axis].push_back((to.centre(axis, i) - from.line[axis][o]) / from.width(axis, o));
            }
        std::vector<double> x(to.cells(), 0.0);
        const std::size_t row = from.count(0) + 1, levels = system.solid() ? 2 : 1;
        const auto& t = old.t[e];
        for (std::size_t k = 0, c = 0; k < to.count(2); ++k)
            for (std::size_t j = 0; j < to.count(1); ++j)
                for (std::size_t i = 0; i < to.count(0); ++i, ++c) {
                    if (!system.part[c]) continue;
                    const std::size_t o = from.index(cell[0][i], cell[1][j], cell[2][k]);
                    if (old.field->whole(o) == 0.0) {
                        x[c] = old.x[e][o];
                        continue;
                    }
                    const double u = part[0][i], v = part[1][j], w = levels == 2 ? part[2][k] : 0.0;
                    for (std::size_t l = 0; l < levels; ++l) {
                        const double* at = t.data() + cell[0][i] + row * cell[1][j] + old.field->stride() * (cell[2][k] + l);
                        x[c] += (l == 0 ? 1.0 - w : w) * ((1 - v) * ((1 - u) * at[0] + u * at[1]) +
                                                          v * ((1 - u) * at[row] + u * at[row + 1]));
                    }
                }
        return x;
    }

    // What the fields are read from: grid, weights, nodes.
    Steady snapshot() const {
        const Round& r = *now_;
        Steady out;
        out.grid = r.system.grid;
        out.region = r.system.region;
        out.stride = r.field->stride();
        out.weight = r.x;
        out.corner = r.t;
        if (environments_ > 0) {
            std::vector<double> last(out.grid.cells(), 0.0), corner(r.field->size(), 0.0);
            for (std::size_t c = 0; c < last.size(); ++c) {
                if (!r.system.part[c]) continue;
                last[c] = 1.0;
                for (const auto& w : r.x) last[c] -= w[c];
            }
            const std::vector<bool> used = r.field->used();
            for (std::size_t n = 0; n < corner.size(); ++n) {
                if (!used[n]) continue;
                corner[n] = 1.0;
                for (const auto& w : r.t) corner[n] -= w[n];
            }
            out.weight.push_back(std::move(last));
            out.corner.push_back(std::move(corner));
        }
        const Plan& plan = r.system.plan;
        out.node.assign(plan.node.begin() + static_cast<std::ptrdiff_t>(plan.corners()), plan.node.end());
        for (std::size_t c = 0; c < plan.cut.size(); ++c)
            for (std::size_t n = plan.first_triangle[c]; n < plan.first_triangle[c + 1]; ++n)
                out.triangle.push_back({plan.cut[c].cell, plan.triangle[n].node});
        return out;
    }

    Steady finish() const {
        const Round& r = *now_;
        Steady out = snapshot();
        const std::size_t n = environments_;
        out.patches = r.system.patches;
        out.rounds = rounds_;
        out.iterations = iterations_;
        out.error = r.field->clashes().empty() ? error_ : std::numeric_limits<double>::infinity();
        out.bound = r.bracket.bound;
        out.coupling.assign(n * n, 0.0);
        const auto middle = r.field->clashes().empty() ? middles() : balances();
        for (std::size_t i = 0; i + 1 < n; ++i) {
            double last = 0.0;
            for (std::size_t j = 0; j + 1 < n; ++j) {
                last += middle[i * problems_ + j];
                if (j != i) out.coupling[i * n + j] = -middle[i * problems_ + j];
            }
            out.coupling[i * n + n - 1] = out.coupling[(n - 1) * n + i] = last;
        }
        out.flow.assign(n, 0.0);
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t j = 0; j < n; ++j)
                out.flow[i] += out.coupling[i * n + j] *
                               (model_.environments[i].temperature - model_.environments[j].temperature);
        out.imbalance = imbalance(out);
        out.surface = surface_extremes(model_, out);
        return out;
    }

    std::vector<double> middles() const {
        std::vector<double> out(problems_ * problems_);
        for (std::size_t i = 0; i < problems_; ++i)
            for (std::size_t j = 0; j < problems_; ++j) out[i * problems_ + j] = now_->bracket.middle(i, j);
        return out;
    }

    // Flows of the cells' balances, where the bracket has no meaning.
    std::vector<double> balances() const {
        std::vector<double> flow(problems_ * problems_, 0.0), out(flow);
        for (const Patch& p : now_->system.patches)
            for (std::size_t e = 0; e < problems_; ++e)
                if (p.environment < problems_)
                    flow[e * problems_ + p.environment] +=
                        p.conductance * ((p.environment == e ? 1.0 : 0.0) - now_->x[e][p.cell]);
        for (std::size_t i = 0; i < problems_; ++i)
            for (std::size_t j = 0; j < problems_; ++j)
                out[i * problems_ + j] = 0.5 * (flow[i * problems_ + j] + flow[j * problems_ + i]);
        return out;
    }

    // Of the cells' balances, not of the couplings, which add up by construction.
    double imbalance(const Steady& s) const {
        std::vector<double> flow(environments_, 0.0);
        for (const Patch& p : now_->system.patches) {
            double t = 0.0;
            for (std::size_t e = 0; e < environments_; ++e) t += s.weight[e][p.cell] * model_.environments[e].temperature;
            flow[p.environment] += p.conductance * (model_.environments[p.environment].temperature - t);
        }
        double sum = 0.0, largest = 0.0;
        for (const double f : flow) {
            sum += f;
            largest = std::max(largest, std::abs(f));
        }
        return largest > 0.0 ? std::abs(sum) / largest : 0.0;
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
