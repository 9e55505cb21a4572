// Palette pictures as PNG.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <string>

#include "base/result.h"

namespace warmside::drawing {

/// pixels   [height * width] palette indices, top row first
/// palette  0xRRGGBB
/// Returns the bytes of a PNG file. Problem: out_of_range (sizes), unsupported (libpng's own complaint).
[[nodiscard]] Result<std::string> png(int width, int height, std::span<const std::uint8_t> pixels,
                                      const std::array<std::uint32_t, 256>& palette);

/// The same where nothing is shown at pixels of index `clear`.
[[nodiscard]] Result<std::string> png(int width, int height, std::span<const std::uint8_t> pixels,
                                      const std::array<std::uint32_t, 256>& palette, std::uint8_t clear);

}  // namespace warmside::drawing
