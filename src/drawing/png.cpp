#include "drawing/png.h"

#include <fmt/format.h>
#include <png.h>

#include <vector>

namespace warmside::drawing {

Result<std::string> png(int width, int height, std::span<const std::uint8_t> pixels,
                        const std::array<std::uint32_t, 256>& palette) {
    if (width <= 0 || height <= 0 ||
        pixels.size() != static_cast<std::size_t>(width) * static_cast<std::size_t>(height)) {
        return fail(Code::out_of_range,
                    fmt::format("a picture of {} x {} has {} pixels", width, height, pixels.size()));
    }
    std::vector<std::uint8_t> colours;
    colours.reserve(palette.size() * 3);
    for (const auto colour : palette) {
        for (const unsigned shift : {16U, 8U, 0U})
            colours.push_back(static_cast<std::uint8_t>(colour >> shift & 255U));
    }
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    image.width = static_cast<png_uint_32>(width);
    image.height = static_cast<png_uint_32>(height);
    image.format = PNG_FORMAT_RGB_COLORMAP;
    image.colormap_entries = 256;
    png_alloc_size_t size = 0;
    if (png_image_write_to_memory(&image, nullptr, &size, 0, pixels.data(), width, colours.data()) == 0) {
        return fail(Code::unsupported, fmt::format("PNG: {}", image.message));
    }
    std::string bytes(size, '\0');
    if (png_image_write_to_memory(&image, bytes.data(), &size, 0, pixels.data(), width, colours.data()) ==
        0) {
        return fail(Code::unsupported, fmt::format("PNG: {}", image.message));
    }
    bytes.resize(size);
    return bytes;
}

}  // namespace warmside::drawing
