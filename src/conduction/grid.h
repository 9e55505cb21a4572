// A rectilinear grid.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <vector>

namespace warmside::conduction {

inline constexpr std::uint16_t no_region = std::numeric_limits<std::uint16_t>::max();

/// Grid lines along each axis, m, ascending; a 2D grid has the two z lines 0 and 1. Cell (i, j, k) lies
/// between lines i and i + 1 along x and so on; its index is i + nx (j + ny k).
struct Grid {
    std::array<std::vector<double>, 3> line;

    [[nodiscard]] std::size_t count(std::size_t axis) const { return line[axis].size() - 1; }
    [[nodiscard]] std::size_t cells() const { return count(0) * count(1) * count(2); }
    [[nodiscard]] std::size_t index(std::size_t i, std::size_t j, std::size_t k = 0) const {
        return i + count(0) * (j + count(1) * k);
    }
    [[nodiscard]] double width(std::size_t axis, std::size_t i) const {
        return line[axis][i + 1] - line[axis][i];
    }
    [[nodiscard]] double centre(std::size_t axis, std::size_t i) const {
        return 0.5 * (line[axis][i + 1] + line[axis][i]);
    }
};

}  // namespace warmside::conduction
