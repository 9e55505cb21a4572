// One level of the multigrid: its conductances and how its cells lie in the next coarser one.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "conduction/stencil.h"
#include "conduction/sweeps.h"

namespace warmside::conduction {

/// Values of cells with zeros in front and behind, so that neighbours of the first and last cell can be read.
template <class T>
class Padded {
public:
    Padded() = default;
    Padded(std::size_t cells, std::size_t pad) : pad_(pad), values_(cells + 2 * pad, T{}) {}
    [[nodiscard]] T* data() { return values_.data() + pad_; }
    [[nodiscard]] const T* data() const { return values_.data() + pad_; }
    [[nodiscard]] std::size_t bytes() const { return values_.size() * sizeof(T); }
    [[nodiscard]] bool empty() const { return values_.empty(); }

private:
    std::size_t pad_ = 0;
    std::vector<T> values_;
};

/// How the cells of one axis are merged in pairs.
struct Merge {
    std::vector<std::int32_t> parent, beside;  ///< [fine]
    std::vector<std::int32_t> first, last;     ///< [coarse] children, the same one where nothing is merged
    std::vector<float>
        to_centre;  ///< [fine] distance from the cell's centre to its parent's over that to its sibling's
    [[nodiscard]] bool merged(std::size_t fine) const { return to_centre[fine] > 0.0F; }
};

struct Level {
    std::array<std::size_t, 3> n{};
    std::array<std::vector<double>, 3> width;
    std::array<std::vector<bool>, 3> keep;
    Padded<float> east, north, up, ground, inverse;
    Padded<float> x, b, residual;
    std::array<Padded<float>, 3> weight;  ///< empty on the coarsest level
    std::array<Merge, 3> merge;
    bool solid = false;
    bool uneven = false;  ///< cells are of very unlike widths

    [[nodiscard]] std::size_t axes() const { return solid ? 3 : 2; }
    /// What is handed out to threads: rows in two dimensions, planes in three.
    [[nodiscard]] std::size_t slices() const { return solid ? n[2] : n[1]; }
    [[nodiscard]] std::size_t slice_rows() const { return solid ? n[1] : 1; }
    [[nodiscard]] std::size_t cells() const { return n[0] * n[1] * n[2]; }
    [[nodiscard]] std::size_t pad() const { return (solid ? n[0] * n[1] : n[0]) + 16; }
    [[nodiscard]] std::size_t bytes() const;
    /// The row that starts at cell `start`.
    [[nodiscard]] Row row(std::size_t start);
};

/// The finest level: a padded copy of the stencil. The coarser levels: cells are merged where the grid is
/// thinnest, across interfaces of materials only when nothing else is left; a coarse conductance is the
/// series and parallel of the fine ones between the centres of the coarse cells. Ends when a direct solution
/// is cheap.
[[nodiscard]] std::vector<Level> levels_of(const Stencil& stencil, unsigned threads = 0);

}  // namespace warmside::conduction
