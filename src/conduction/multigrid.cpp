#include "conduction/multigrid.h"

#include <cmath>
#include <fmt/format.h>
#include <vector>

namespace warmside::conduction {

// Interim: conjugate gradients with the diagonal.
struct Multigrid::Levels {
    const Stencil* stencil;
    std::vector<double> diagonal;
};

void multiply(const Stencil& s, const double* x, double* y) {
    const std::size_t row = s.nx, plane = s.nx * s.ny;
    for (std::size_t k = 0, c = 0; k < s.nz; ++k)
        for (std::size_t j = 0; j < s.ny; ++j)
            for (std::size_t i = 0; i < s.nx; ++i, ++c) {
                double v = static_cast<double>(s.ground[c]) * x[c];
                if (i + 1 < s.nx) v += static_cast<double>(s.east[c]) * (x[c] - x[c + 1]);
                if (i > 0) v += static_cast<double>(s.east[c - 1]) * (x[c] - x[c - 1]);
                if (j + 1 < s.ny) v += static_cast<double>(s.north[c]) * (x[c] - x[c + row]);
                if (j > 0) v += static_cast<double>(s.north[c - row]) * (x[c] - x[c - row]);
                if (k + 1 < s.nz) v += static_cast<double>(s.up[c]) * (x[c] - x[c + plane]);
                if (k > 0) v += static_cast<double>(s.up[c - plane]) * (x[c] - x[c - plane]);
                y[c] = v;
            }
}

Multigrid::Multigrid(const Stencil& s, unsigned) : levels_(new Levels{&s, {}}) {
    const std::size_t n = s.cells(), row = s.nx, plane = s.nx * s.ny;
    levels_->diagonal.assign(n, 0.0);
    for (std::size_t c = 0; c < n; ++c) {
        double d = static_cast<double>(s.ground[c]);
        const std::size_t i = c % row, j = c / row % s.ny, k = c / plane;
        if (i + 1 < s.nx) d += static_cast<double>(s.east[c]);
        if (i > 0) d += static_cast<double>(s.east[c - 1]);
        if (j + 1 < s.ny) d += static_cast<double>(s.north[c]);
        if (j > 0) d += static_cast<double>(s.north[c - row]);
        if (k + 1 < s.nz) d += static_cast<double>(s.up[c]);
        if (k > 0) d += static_cast<double>(s.up[c - plane]);
        levels_->diagonal[c] = d;
    }
}
Multigrid::~Multigrid() = default;

Result<SolveReport> Multigrid::solve(std::span<const double> b, std::span<double> x, const SolveOptions& options,
                                     const StopToken& stop) {
    const Stencil& s = *levels_->stencil;
    const std::size_t n = s.cells();
    std::vector<double> r(n), z(n), p(n), q(n);
    multiply(s, x.data(), q.data());
    double bb = 0.0, rz = 0.0, rr = 0.0;
    const auto precondition = [&] {
        rz = rr = 0.0;
        for (std::size_t c = 0; c < n; ++c) {
            z[c] = levels_->diagonal[c] > 0.0 ? r[c] / levels_->diagonal[c] : 0.0;
            rz += r[c] * z[c];
            rr += r[c] * r[c];
        }
    };
    for (std::size_t c = 0; c < n; ++c) {
        r[c] = b[c] - q[c];
        bb += b[c] * b[c];
    }
    precondition();
    p = z;
    SolveReport report;
    for (; std::sqrt(rr) > options.residual * std::sqrt(bb); ++report.iterations) {
        if (report.iterations > 20000) return fail(Code::not_converged, "conjugate gradients did not settle");
        if (stop.stopped()) return fail(Code::stopped, "stopped");
        multiply(s, p.data(), q.data());
        double pq = 0.0;
        for (std::size_t c = 0; c < n; ++c) pq += p[c] * q[c];
        const double alpha = rz / pq, before = rz;
        for (std::size_t c = 0; c < n; ++c) {
            x[c] += alpha * p[c];
            r[c] -= alpha * q[c];
        }
        precondition();
        for (std::size_t c = 0; c < n; ++c) p[c] = z[c] + rz / before * p[c];
    }
    report.residual = bb > 0.0 ? std::sqrt(rr / bb) : 0.0;
    return report;
}

}  // namespace warmside::conduction
