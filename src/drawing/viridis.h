// Colour maps: viridis for humidity, from dark (dry) to bright (damp); inferno for temperature, dark is cold.
#pragma once

#include <array>
#include <cstdint>

namespace warmside::drawing {

/// 0xRRGGBB. Data: S. van der Walt and N. Smith, matplotlib, placed in the public domain (CC0).
extern const std::array<std::uint32_t, 256> viridis;
/// Data: the same authors and licence.
extern const std::array<std::uint32_t, 256> inferno;

/// Index of a value in [least, most], held at the ends; a value that is not a number, or a range without
/// extent, gives 0.
[[nodiscard]] std::uint8_t viridis_index(double value, double least, double most);

/// The carpets' range of relative humidity.
inline constexpr double carpet_least = 0.4, carpet_most = 1.0;

}  // namespace warmside::drawing
