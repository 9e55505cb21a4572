// The continuous temperature field of a problem: the other side of the bracket.
//
// Values at the corners of the cells and at the nodes that cutting adds; linear along each axis in whole
// cells, linear in the triangles of cut ones, joined along z. By Dirichlet's principle the dissipation of any
// such field that has the temperatures of the air beyond the films is not below the exact one, and it falls
// as the values are improved.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "conduction/system.h"

namespace warmside::conduction {

/// A piece of surface with a film, and the integrals of the products of its nodes' shape functions.
struct Facet {
    std::array<std::uint32_t, 4> node{};
    std::uint8_t count = 0;      ///< 2 line, 3 triangle, 4 rectangle (a, b, a above, b above)
    std::array<double, 3> mass;  ///< m2: line aa, ab, bb; triangle and rectangle: area
    double film = 0.0;           ///< m2 K/W
    std::size_t patch = 0;

    /// out = mass matrix x v, both [count].
    void product(const double* v, double* out) const;
};

class Field {
public:
    Field(const Model& model, const System& system, unsigned threads);

    [[nodiscard]] std::size_t stride() const { return stride_; }  ///< nodes of one level
    [[nodiscard]] std::size_t size() const { return stride_ * levels_; }

    /// First values, with 1 K in one environment: each cell carries its temperature out to its nodes by the
    /// fluxes through its faces; a node takes the mean weighted by conductivity. x [cells], t [nodes].
    void recover(std::span<const double> x, const Fluxes& flux, std::size_t warm,
                 std::vector<double>& t) const;

    /// The field of another grid of the same model at this one's nodes; t [nodes of this].
    void carry_over(const Field& other, const std::vector<double>& from, std::vector<double>& t) const;

    /// What the conjugate gradients leave over, W, shared out to the cells that a node belongs to; b [cells].
    void left_over(std::size_t warm, const std::vector<double>& t, std::span<double> b) const;
    /// Moves `t` along the means of cell values `x` as far as it does good. Returns by how much the
    /// dissipation fell, W/K2.
    double correct(std::size_t warm, std::span<const double> x, std::vector<double>& t) const;

    /// Values at the centres of the cells, where they lie in material; x [cells] is left as it is elsewhere.
    void to_centres(const std::vector<double>& t, std::vector<double>& x) const;

    /// Moves `t` to the best of all t + beta (other - t). Returns by how much the dissipation fell, W/K2.
    double mix(std::size_t warm, const std::vector<double>& other, std::vector<double>& t) const;

    /// Conjugate gradients with the diagonal, until they lower the dissipation by less than `enough`, W/K2,
    /// in their last steps. Returns by how much it fell.
    double improve(std::size_t warm, std::vector<double>& t, double enough, std::size_t most) const;

    /// [node] of a cell that takes part.
    [[nodiscard]] std::vector<bool> used() const;
    /// W/(m K) of a whole cell that takes part, else 0.
    [[nodiscard]] double whole(std::size_t cell) const { return whole_[cell]; }
    [[nodiscard]] const std::vector<Facet>& facets() const { return facets_; }
    [[nodiscard]] double area(const Triangle& t) const;  ///< m2, of a revolution times 2 pi r
    /// Gradients of the shape functions of a triangle, 1/m.
    [[nodiscard]] std::array<Point, 3> slopes(const Triangle& t) const;
    /// W/(m K) of a triangle's piece in a slab; 0 of air, holes and what takes no part.
    [[nodiscard]] double lambda(const CutCell& cut, const Triangle& t, std::size_t slab) const;
    /// Where two temperatures without films meet: flow has no finite value there.
    [[nodiscard]] const std::vector<Point>& clashes() const { return clashes_; }

private:
    void place_facets();
    void fix(const Patch& patch, const std::array<std::uint32_t, 2>& foot);
    void carry(std::span<const double> x, const Fluxes& flux, std::size_t slab, std::vector<double>& sum,
               std::vector<double>& weight) const;
    /// Value at a place in a plane cell and slab, and whether it lies in material there.
    [[nodiscard]] std::pair<double, bool> value(const std::vector<double>& t, std::size_t i, std::size_t j,
                                                std::size_t slab, const Point& at) const;
    /// What drives the nodes: loads of the films less what the field takes away.
    void residual(std::size_t warm, const std::vector<double>& t, std::vector<double>& r) const;
    void carry_cut(const CutCell& cut, std::size_t slab, double value, const std::array<double, 7>& out,
                   std::vector<double>& sum, std::vector<double>& weight) const;
    void slab_product(std::size_t slab, const double* t, double* y) const;
    void row_product_flat(std::size_t j, const double* t, double* y, double* buffer) const;
    void row_product_solid(std::size_t j, std::size_t slab, const double* t, double* y, double* buffer) const;
    void cut_product(std::size_t slab, const double* t, double* y) const;
    void product(const double* t, double* y) const;
    void diagonal();
    void weigh();
    /// f(cell, node, weight) for each node that belongs to the cell, in a slab.
    template <class F>
    void each_weight(std::size_t slab, F&& f) const;
    template <class F>
    void by_slabs(F&& f) const;

    const Model& model_;
    const System& system_;
    unsigned threads_;
    std::size_t stride_ = 0, levels_ = 0;
    std::vector<double> whole_;
    std::vector<std::array<double, 3>>
        column_;  ///< [x cell] integrals of shape functions across x, aa, ab, bb
    std::vector<Facet> facets_;
    std::vector<std::int16_t> fixed_;  ///< [node] environment without film, -1 of a free node
    std::vector<double> diagonal_;     ///< [node] 0 of a node that is fixed or of no material
    std::vector<double> weight_;       ///< [node] sum of the conductivities of the cells and triangles there
    std::vector<Point> clashes_;
};

}  // namespace warmside::conduction
