// The libraries that our multigrid is measured against.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "conduction_problem.h"

namespace warmside::bench_support {

struct Outcome {
    std::vector<double> x;
    double setup = 0.0, solve = 0.0;  ///< s of wall time; handing the matrix over is not counted
    std::size_t iterations = 0;       ///< 0: direct
    std::size_t bytes = 0;  ///< heap at most: matrix, right-hand side, solution and all that the solver holds
    std::string trouble;
};

/// Starts MPI and hypre, once a process.
void start_rivals(int& arguments, char**& argument);
void end_rivals();

/// Conjugate gradients with BoomerAMG (hypre, one rank) to a relative residual.
[[nodiscard]] Outcome by_hypre(const Linear& problem, double residual);
/// Supernodal Cholesky with AMD ordering (SuiteSparse CHOLMOD on OpenBLAS with that many threads).
[[nodiscard]] Outcome by_cholmod(const Linear& problem, int threads);

[[nodiscard]] double wall_seconds();

}  // namespace warmside::bench_support
