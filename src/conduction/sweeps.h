// Row kernels of the multigrid cycle. Arrays of a level are padded in front and behind, and a conductance
// across the edge of the grid is zero, so no row needs a special case.
#pragma once

#include <cstddef>
#include <cstdint>

namespace warmside::conduction {

/// A row of cells of one level: pointers to its first cell. `up` is null in two dimensions.
struct Row {
    const float* east = nullptr;
    const float* north = nullptr;
    const float* up = nullptr;
    const float* inverse = nullptr;  ///< 1/diagonal, 0 for a cell outside the problem
    const float* b = nullptr;
    float* x = nullptr;
    std::size_t count = 0;
    std::ptrdiff_t row = 0, plane = 0;  ///< cells to the next row, to the next plane
};

/// x = b/diagonal where (i + parity) is even, 0 elsewhere: the first half sweep from a guess of zero.
void start_row(const Row& row, unsigned parity);

/// Gauss-Seidel on the cells where (i + parity) is even.
void relax_row(const Row& row, unsigned parity);

/// residual = b - A x.
void residual_row(const Row& row, float* residual);

/// The parents of a row's cells: cell i lies in coarse cell parent[i]; it looks towards parent[i] + side[i],
/// side being -1, 0 or 1.
struct Parents {
    const std::int32_t* parent = nullptr;
    const std::int32_t* beside = nullptr;  ///< parent[i] + side[i]
};

/// Shares of the values beside the parent, [cell]; a cell takes the product of its shares along the axes.
struct Weights {
    const float* x = nullptr;
    const float* y = nullptr;
    const float* z = nullptr;  ///< null in two dimensions
};

/// Rows of the coarse grid that a fine row reads: its own parent's and those beside it. The z ones are null
/// in 2D.
struct CoarseRows {
    const float* own = nullptr;
    const float* y = nullptr;
    const float* z = nullptr;
    const float* yz = nullptr;
};

/// x += P coarse.
void prolong_row(float* x, std::size_t count, const Parents& parents, const Weights& weights,
                 const CoarseRows& coarse);

/// One fine row's part of a coarse row, before the sum along x, by the row's share f = (wy or 1 - wy)(wz or 1
/// - wz): stay[i] += r f (1 - wx), move[i] += r f wx.
void gather_row(const float* residual, std::size_t count, const Weights& weights, bool beside_y,
                bool beside_z, float* stay, float* move);

/// coarse[I] = sum over children of stay + move of the two neighbours that look at I.
void reduce_row(float* coarse, std::size_t count, const std::int32_t* first, const std::int32_t* last,
                const float* stay, const float* move);

/// A row of q = A p in double; returns p . q of the row.
struct OuterRow {
    const float* east = nullptr;
    const float* north = nullptr;
    const float* up = nullptr;  ///< null in two dimensions
    const float* ground = nullptr;
    std::size_t count = 0;
    std::ptrdiff_t row = 0, plane = 0;
};
double multiply_row(const OuterRow& row, const double* p, double* q);

/// x += alpha p, r -= alpha q; returns r . r.
double step(std::size_t count, double alpha, const double* p, const double* q, double* x, double* r);

/// small = scale r, in single precision.
void narrow(std::size_t count, double scale, const double* r, float* small);

double dot(std::size_t count, const double* r, const float* z);
double dot(std::size_t count, const float* r, const float* z);

/// p = z + beta p
void turn(std::size_t count, double scale, double beta, const float* z, double* p);

}  // namespace warmside::conduction
