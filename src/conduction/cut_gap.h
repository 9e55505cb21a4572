// What a cut cell adds to the bracket: the energy of its triangles exactly, the gap by an estimate.
#pragma once

#include "conduction/field.h"

namespace warmside::conduction {

struct CutSums {
    std::vector<double> energy, gap;  ///< [problem][problem] W/K, added to
    double along_z = 0.0;             ///< part of the gap that finer slabs would take away, all problems
};

/// The gap is estimated by what the field's own flux lacks: its jumps across the edges between triangles and
/// at films, 1/6 of (edge length x jump)^2 over the sum of the conductivities on both sides (the part of a
/// residual estimate that a linear element leaves, 1/12 of it on each side), and what balancing had to send
/// through the cell's faces and surfaces, over their conductances.
struct CutGap {
    const System& s_;
    const Field& field_;
    const std::vector<Fluxes>& sent_;
    const std::vector<std::vector<double>>& t_;

    using Place3 = std::array<std::size_t, 3>;
    void add(const CutCell& cut, const Place3& at, std::size_t patch, CutSums& sums) const;

private:
    using Slope = std::array<Point, 2>;  // of a triangle below and above, K/m
    void energies(const CutCell& cut, std::size_t slab, std::vector<Slope>& slope, CutSums& sums) const;
    void jumps(const CutCell& cut, std::size_t slab, const std::vector<Slope>& slope,
               std::vector<double>& gap) const;
    void unbalanced(const Place3& at, std::size_t patch, std::vector<double>& gap) const;
    bool film_of(const Triangle& material, const Triangle& beyond, std::size_t slab, double& film,
                 std::size_t& environment) const;
};

}  // namespace warmside::conduction
