#include "conduction/steady.h"

#include <algorithm>
#include <cmath>

#include "conduction/lines.h"
#include "conduction/multigrid.h"
#include "conduction/system.h"

namespace warmside::conduction {

namespace {

// The flow from each environment into the material in the problem with 1 K in one of them.
std::vector<double> flows(const System& system, std::size_t warm, std::size_t environments,
                          std::span<const double> x) {
    std::vector<double> flow(environments, 0.0);
    for (const Patch& p : system.patches)
        flow[p.environment] += p.conductance * ((p.environment == warm ? 1.0 : 0.0) - x[p.cell]);
    return flow;
}

// Weights add up to one in each cell that takes part, so the last need not be solved for.
std::vector<double> rest(const std::vector<std::vector<double>>& weights, const std::vector<bool>& part) {
    std::vector<double> last(part.size(), 0.0);
    for (std::size_t c = 0; c < part.size(); ++c) {
        if (!part[c]) continue;
        last[c] = 1.0;
        for (const auto& w : weights) last[c] -= w[c];
    }
    return last;
}

std::vector<bool> part_of(const Stencil& s) {
    std::vector<bool> part(s.cells(), false);
    const std::size_t row = s.nx, plane = s.nx * s.ny;
    for (std::size_t c = 0; c < s.cells(); ++c) {
        if (s.ground[c] > 0.0F) part[c] = true;
        if (s.east[c] > 0.0F) part[c] = part[c + 1] = true;
        if (s.north[c] > 0.0F) part[c] = part[c + row] = true;
        if (s.nz > 1 && s.up[c] > 0.0F) part[c] = part[c + plane] = true;
    }
    return part;
}

}  // namespace

double Steady::between(std::size_t i, std::size_t j) const {
    return coupling[i * weight.size() + j];
}

Result<Steady> steady(const Model& model, const SteadyOptions& options, const Control& control) {
    Problems problems;
    check(model, problems);
    for (const Problem& p : problems)
        if (p.severity == Severity::error) return fail(p);
    const std::size_t n = model.environments.size();
    System system = discretise(model, first_grid(model));
    Steady out;
    const auto part = part_of(system.stencil);
    Multigrid solver(system.stencil, options.threads);
    std::vector<double> b(system.grid.cells());
    std::vector<std::vector<double>> flow;
    for (std::size_t e = 0; e + 1 < n; ++e) {
        unit_load(system, e, b);
        std::vector<double> x(b.size(), 0.0);
        if (std::any_of(b.begin(), b.end(), [](double v) { return v != 0.0; })) {
            auto done = solver.solve(b, x, {.residual = 1e-12, .threads = options.threads}, control.stop);
            if (!done) return fail(done.error());
            out.iterations += done->iterations;
        }
        flow.push_back(flows(system, e, n, x));
        out.weight.push_back(std::move(x));
    }
    out.weight.push_back(rest(out.weight, part));
    out.coupling.assign(n * n, 0.0);
    for (std::size_t i = 0; i + 1 < n; ++i)
        for (std::size_t j = i + 1; j < n; ++j) {
            const double l = j + 1 < n ? -0.5 * (flow[i][j] + flow[j][i]) : -flow[i][j];
            out.coupling[i * n + j] = out.coupling[j * n + i] = l;
        }
    for (std::size_t e = 0; e < n; ++e) {
        std::vector<double> air(n, 0.0), corner;
        air[e] = 1.0;
        to_corners(model, system, out.weight[e], air, corner);
        out.corner.push_back(std::move(corner));
    }
    out.flow.assign(n, 0.0);
    double sum = 0.0, largest = 0.0;
    for (const Patch& p : system.patches) {
        double t = 0.0;
        for (std::size_t e = 0; e < n; ++e) t += out.weight[e][p.cell] * model.environments[e].temperature;
        out.flow[p.environment] += p.conductance * (model.environments[p.environment].temperature - t);
    }
    for (const double f : out.flow) {
        sum += f;
        largest = std::max(largest, std::abs(f));
    }
    out.imbalance = largest > 0.0 ? std::abs(sum) / largest : 0.0;
    out.rounds = 1;
    out.grid = std::move(system.grid);
    out.region = std::move(system.region);
    out.patches = std::move(system.patches);
    out.surface = surface_extremes(model, out);
    return out;
}

}  // namespace warmside::conduction
