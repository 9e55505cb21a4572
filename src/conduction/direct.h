// The coarsest level, solved directly.
#pragma once

#include <array>
#include <vector>

#include "conduction/level.h"

namespace warmside::conduction {

/// Banded Cholesky factor of a level, its axes ordered so that the band is narrow. Cells outside the problem
/// have a row of the identity; a part of the material that nothing grounds gets a grain of ground, which
/// conjugate gradients forgive.
class Direct {
public:
    /// Little work beside a solve on a grid of `finest` cells.
    [[nodiscard]] static bool cheap(const Level& level, std::size_t finest);
    explicit Direct(const Level& level);
    /// level.x = A^-1 level.b
    void solve(Level& level);
    [[nodiscard]] std::size_t bytes() const { return factor_.size() * sizeof(double); }

private:
    std::size_t cells_ = 0, band_ = 0;
    std::vector<std::size_t> order_;  // position -> cell
    std::vector<double> factor_;      // [position][band + 1], row i holds columns i - band .. i
    std::vector<double> work_;
};

}  // namespace warmside::conduction
