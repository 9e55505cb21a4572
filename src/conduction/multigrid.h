// Conjugate gradients preconditioned by multigrid for stencils on rectilinear grids.
#pragma once

#include <memory>
#include <span>

#include "base/result.h"
#include "base/stop.h"
#include "conduction/stencil.h"

namespace warmside::conduction {

struct SolveOptions {
    /// Relative to the right-hand side, Euclidean norm, of x itself; or what rounding leaves of it, 8 epsilon
    /// times the norm of diagonal times x, where that is more.
    double residual = 1e-10;
    std::size_t most_iterations = 1000;
};

struct SolveReport {
    std::size_t iterations = 0;
    double residual = 0.0;  ///< reached, relative
    std::size_t levels = 0;
    std::size_t bytes =
        0;  ///< held by the solver and its levels at most, the caller's stencil, x and b included
};

/// A stencil with its coarser levels, ready for several right-hand sides. The stencil must outlive it.
class Multigrid {
public:
    /// threads  0: one a core
    explicit Multigrid(const Stencil& stencil, unsigned threads = 0);
    ~Multigrid();
    Multigrid(const Multigrid&) = delete;
    Multigrid& operator=(const Multigrid&) = delete;

    /// Solves A x = b. `x` holds the first guess and then the solution.
    ///
    /// b, x     [cells]
    /// Problem  not_converged: the residual reached after the iterations allowed; x is then the best so far
    /// and
    ///          must not be used; stopped. Deterministic: the same bits whatever the number of threads.
    [[nodiscard]] Result<SolveReport> solve(std::span<const double> b, std::span<double> x,
                                            const SolveOptions& options = {}, const StopToken& stop = {});

    struct Levels;  ///< internal

private:
    std::unique_ptr<Levels> levels_;
};

}  // namespace warmside::conduction
