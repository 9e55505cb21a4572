#include "drawing/png.h"

#include <fmt/format.h>
#include <png.h>

#include <optional>
#include <vector>

namespace warmside::drawing {

namespace {

Result<std::string> encoded(int width, int height, std::span<const std::uint8_t> pixels,
                            const std::array<std::uint32_t, 256>& palette,
                            std::optional<std::uint8_t> clear) {
    if (width <= 0 || height <= 0 ||
        pixels.size() != static_cast<std::size_t>(width) * static_cast<std::size_t>(height)) {
        return fail(Code::out_of_range,
                    fmt::format("a picture of {} x {} has {} pixels", width, height, pixels.size()));
    }
    std::vector<std::uint8_t> colours;
    for (std::size_t i = 0; i < palette.size(); ++i) {
        for (const unsigned shift : {16U, 8U, 0U})
            colours.push_back(static_cast<std::uint8_t>(palette[i] >> shift & 255U));
        if (clear) colours.push_back(i == *clear ? std::uint8_t{0} : std::uint8_t{255});
    }
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    image.width = static_cast<png_uint_32>(width);
    image.height = static_cast<png_uint_32>(height);
    image.format = clear ? PNG_FORMAT_RGBA_COLORMAP : PNG_FORMAT_RGB_COLORMAP;
    image.colormap_entries = 256;
    png_alloc_size_t size = 0;
    std::string bytes;
    // Asked twice: for the size, then for the bytes.
    for (int round = 0; round < 2; ++round) {
        bytes.resize(size);
        if (png_image_write_to_memory(&image, round ? bytes.data() : nullptr, &size, 0, pixels.data(), width,
                                      colours.data()) == 0)
            return fail(Code::unsupported, fmt::format("PNG: {}", image.message));
    }
    bytes.resize(size);
    return bytes;
}

}  // namespace

Result<std::string> png(int width, int height, std::span<const std::uint8_t> pixels,
                        const std::array<std::uint32_t, 256>& palette) {
    return encoded(width, height, pixels, palette, std::nullopt);
}

Result<std::string> png(int width, int height, std::span<const std::uint8_t> pixels,
                        const std::array<std::uint32_t, 256>& palette, std::uint8_t clear) {
    return encoded(width, height, pixels, palette, clear);
}

}  // namespace warmside::drawing
