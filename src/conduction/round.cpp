#include "conduction/round.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace warmside::conduction {

namespace {

std::vector<double> middles(const Round& r) {
    const std::size_t n = r.x.size();
    std::vector<double> out(n * n);
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < n; ++j) out[i * n + j] = r.bracket.middle(i, j);
    return out;
}

// Flows of the cells' balances, where the bracket has no meaning.
std::vector<double> balances(const Round& r) {
    const std::size_t n = r.x.size();
    std::vector<double> flow(n * n, 0.0), out(flow);
    const auto& patches = r.system.patches;
    for (std::size_t p = 0; p < patches.size(); ++p)
        for (std::size_t e = 0; e < n; ++e)
            if (patches[p].environment < n) flow[e * n + patches[p].environment] -= r.flux[e].patch[p];
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < n; ++j) out[i * n + j] = 0.5 * (flow[i * n + j] + flow[j * n + i]);
    return out;
}

// Of the cells' balances, not of the couplings, which add up by construction.
double imbalance(const Model& model, const Round& r) {
    const std::size_t n = r.x.size();
    std::vector<double> flow(model.environments.size(), 0.0);
    const auto& patches = r.system.patches;
    for (std::size_t e = 0; e < n; ++e) {
        const double over = model.environments[e].temperature - model.environments.back().temperature;
        for (std::size_t p = 0; p < patches.size(); ++p)
            flow[patches[p].environment] -= over * r.flux[e].patch[p];
    }
    double sum = 0.0, largest = 0.0;
    for (const double f : flow) {
        sum += f;
        largest = std::max(largest, std::abs(f));
    }
    double span = 0.0;
    for (const Environment& e : model.environments)
        span = std::max(span, std::abs(e.temperature - model.environments.back().temperature));
    return largest > rounding(r.system) * span ? std::abs(sum) / largest : 0.0;
}

// Weights add up to one wherever they are known.
std::vector<double> rest(const std::vector<std::vector<double>>& weights, const std::vector<bool>& known) {
    std::vector<double> last(known.size(), 0.0);
    for (std::size_t c = 0; c < known.size(); ++c) {
        if (!known[c]) continue;
        last[c] = 1.0;
        for (const auto& w : weights) last[c] -= w[c];
    }
    return last;
}

}  // namespace

double rounding(const System& system) {
    double sum = 0.0;
    for (const Patch& p : system.patches) sum += p.conductance;
    return 1e-14 * sum;
}

std::vector<double> guess(const Round& old, std::size_t e, const System& system) {
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
                    const double* at =
                        t.data() + cell[0][i] + row * cell[1][j] + old.field->stride() * (cell[2][k] + l);
                    x[c] += (l == 0 ? 1.0 - w : w) * ((1 - v) * ((1 - u) * at[0] + u * at[1]) +
                                                      v * ((1 - u) * at[row] + u * at[row + 1]));
                }
            }
    return x;
}

Steady view_of(const Round& r) {
    Steady out;
    out.grid = r.system.grid;
    out.region = r.system.region;
    out.stride = r.field->stride();
    out.weight = r.x;
    if (!r.system.plan.cut.empty())
        for (std::size_t e = 0; e < r.x.size(); ++e) r.field->to_centres(r.t[e], out.weight[e]);
    out.corner = r.t;
    out.weight.push_back(rest(out.weight, r.system.part));
    out.corner.push_back(rest(out.corner, r.field->used()));
    const Plan& plan = r.system.plan;
    out.node.assign(plan.node.begin() + static_cast<std::ptrdiff_t>(plan.corners()), plan.node.end());
    for (const CutCell& cut : plan.cut)
        for (const Triangle& each : plan.triangles(cut)) out.triangle.push_back({cut.cell, each.node});
    return out;
}

Steady outcome_of(const Model& model, const Round& r, double error) {
    Steady out = view_of(r);
    const std::size_t n = model.environments.size(), problems = r.x.size();
    out.patches = r.system.patches;
    out.error = r.field->clashes().empty() ? error : std::numeric_limits<double>::infinity();
    out.bound = r.bracket.bound;
    out.coupling.assign(n * n, 0.0);
    const auto middle = r.field->clashes().empty() ? middles(r) : balances(r);
    for (std::size_t i = 0; i + 1 < n; ++i) {
        double last = 0.0;
        for (std::size_t j = 0; j + 1 < n; ++j) {
            last += middle[i * problems + j];
            if (j != i) out.coupling[i * n + j] = -middle[i * problems + j];
        }
        out.coupling[i * n + n - 1] = out.coupling[(n - 1) * n + i] = last;
    }
    out.flow.assign(n, 0.0);
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < n; ++j)
            out.flow[i] += out.coupling[i * n + j] *
                           (model.environments[i].temperature - model.environments[j].temperature);
    out.imbalance = imbalance(model, r);
    out.surface = surface_extremes(model, out);
    return out;
}

}  // namespace warmside::conduction
