#include "drawing/carpet.h"

#include <doctest/doctest.h>
#include <png.h>

#include <limits>

#include "drawing/made_up.h"
#include "drawing/png.h"
#include "drawing/svg.h"
#include "drawing/viridis.h"
#include "drawing/xml_check.h"

using namespace warmside;
using namespace warmside::drawing;

namespace {

moisture::Carpet three_by_two() {
    moisture::Carpet c{.columns = 3, .rows = 2};
    c.relative_humidity = {0.4F, 1.0F, 0.4F, 0.75F, 0.4F, 0.4F};
    c.depth = {0.05F, 0.15F};
    return c;
}

}  // namespace

TEST_CASE("viridis has its published ends and middle") {
    // matplotlib: #440154, #21918c, #fde725. Evidence: memory.
    CHECK(viridis.front() == 0x440154);
    CHECK(viridis[128] == 0x21918c);
    CHECK(viridis.back() == 0xfde725);
}

TEST_CASE("an index is held at the ends of the range, and no number is the dark end") {
    CHECK(viridis_index(0.4, 0.4, 1.0) == 0);
    CHECK(viridis_index(1.0, 0.4, 1.0) == 255);
    CHECK(viridis_index(-5.0, 0.4, 1.0) == 0);
    CHECK(viridis_index(5.0, 0.4, 1.0) == 255);
    CHECK(viridis_index(std::numeric_limits<double>::quiet_NaN(), 0.4, 1.0) == 0);
}

TEST_CASE("the outermost depth is the top row of the picture, time runs to the right") {
    const auto pixels = carpet_pixels(three_by_two());
    REQUIRE(pixels);
    // (0.75 - 0.4) / (1 - 0.4) x 255 = 148.75
    CHECK(*pixels == std::vector<std::uint8_t>{255, 149, 0, 0, 0, 0});
}

TEST_CASE("a carpet whose sizes do not fit its values is a Problem") {
    auto c = three_by_two();
    c.rows = 3;
    CHECK(carpet_pixels(c).error().code == Code::out_of_range);
    CHECK_FALSE(carpet_pixels({}));
    CHECK_FALSE(carpet({}, made_up::house().assemblies.front(), {}, std::nullopt, "t"));
}

TEST_CASE("libpng reads back the colours that went into a picture") {
    const std::vector<std::uint8_t> pixels{0, 255, 7, 128, 64, 32};
    const auto bytes = png(3, 2, pixels, viridis);
    REQUIRE(bytes);
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    REQUIRE(png_image_begin_read_from_memory(&image, bytes->data(), bytes->size()) != 0);
    image.format = PNG_FORMAT_RGB;
    CHECK(image.width == 3);
    CHECK(image.height == 2);
    std::vector<std::uint8_t> rgb(PNG_IMAGE_SIZE(image));
    REQUIRE(png_image_finish_read(&image, nullptr, rgb.data(), 0, nullptr) != 0);
    for (std::size_t i = 0; i < pixels.size(); ++i) {
        const auto colour =
            static_cast<std::uint32_t>(rgb[3 * i] << 16 | rgb[3 * i + 1] << 8 | rgb[3 * i + 2]);
        CHECK(colour == viridis[pixels[i]]);
    }
    CHECK_FALSE(png(3, 3, pixels, viridis));
}

TEST_CASE("a carpet is well-formed, has its years and its mark, and the airtight sheet in accent") {
    const auto house = made_up::house();
    const auto sheet = carpet(three_by_two(), house.assemblies[2], {.years = 3},
                              Mark{.time = 0.5, .depth = 0.1, .words = "here"}, "made up");
    REQUIRE(sheet);
    const auto text = svg(*sheet);
    CHECK_MESSAGE(made_up::xml_fault(text).empty(), made_up::xml_fault(text));
    for (const char* words :
         {"year 1", "year 3", "<title>here</title>", "s-accent", "data:image/png;base64,"})
        CHECK(text.find(words) != std::string::npos);
    CHECK(text.find("year 4") == std::string::npos);
    CHECK(made_up::xml_fault(svg(empty_carpet(house.assemblies[2], {}, "empty"))).empty());
}
