#include "drawing/raster.h"

#include <doctest/doctest.h>
#include <png.h>

#include <cmath>

#include "drawing/png.h"
#include "drawing/svg.h"
#include "drawing/type.h"
#include "drawing/viridis.h"

using namespace warmside;
using namespace warmside::drawing;

namespace {

/// A picture read back.
struct Seen {
    int width = 0, height = 0;
    std::vector<std::uint8_t> rgb;
    [[nodiscard]] unsigned at(int x, int y) const {
        const auto i = static_cast<std::size_t>(y * width + x) * 3;
        return static_cast<unsigned>(rgb[i] << 16 | rgb[i + 1] << 8 | rgb[i + 2]);
    }
};

Seen seen(const Sheet& sheet, const RasterOptions& options = {.scale = 1.0}) {
    const auto bytes = picture(sheet, options);
    REQUIRE(bytes);
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    REQUIRE(png_image_begin_read_from_memory(&image, bytes->data(), bytes->size()) != 0);
    image.format = PNG_FORMAT_RGB;
    Seen out{static_cast<int>(image.width), static_cast<int>(image.height), {}};
    out.rgb.resize(PNG_IMAGE_SIZE(image));
    REQUIRE(png_image_finish_read(&image, nullptr, out.rgb.data(), 0, nullptr) != 0);
    return out;
}

Sheet sheet_of(std::vector<Item> items, double width = 40.0, double height = 20.0) {
    Sheet sheet{.width = width, .height = height, .root = {}};
    sheet.root.items = std::move(items);
    return sheet;
}

}  // namespace

TEST_CASE(
    "a filled rectangle has its colour within, paper without, half of both where it covers half a pixel") {
    const auto s = seen(sheet_of({rectangle({10.0, 5.0, 8.5, 6.0}, Ink::ink)}));
    CHECK(s.width == 40);
    CHECK(s.height == 20);
    CHECK(s.at(12, 7) == 0x23272b);
    CHECK(s.at(9, 7) == 0xfbfaf7);
    CHECK(s.at(12, 4) == 0xfbfaf7);
    CHECK(s.at(12, 11) == 0xfbfaf7);
    const auto half = static_cast<int>(s.at(18, 7) >> 16U);
    CHECK(std::abs(half - (0xfb + 0x23) / 2) <= 2);
}

TEST_CASE("the colours are those of the SVG, light and dark") {
    const auto text = svg(sheet_of({}));
    for (const bool dark : {false, true}) {
        for (const Ink ink : {Ink::paper, Ink::ink, Ink::quiet, Ink::hairline, Ink::accent, Ink::wood,
                              Ink::wool, Ink::pale}) {
            char hex[8];
            std::snprintf(hex, sizeof hex, "#%06x", colour_of(ink, dark));
            CHECK_MESSAGE(text.find(hex) != std::string::npos, hex);
        }
    }
    CHECK(seen(sheet_of({}), {.scale = 1.0, .dark = true}).at(3, 3) == colour_of(Ink::paper, true));
}

TEST_CASE("a long level line is drawn from end to end") {
    Polygon line{.closed = false, .stroke = {.ink = Ink::ink, .width = 2.0}};
    for (int k = 0; k <= 4000; ++k) line.points.push_back({10.0 + 0.49 * k, 20.0 + 0.3 * std::sin(0.3 * k)});
    const auto s = seen(sheet_of({line}, 2000.0, 40.0));
    for (int x = 12; x < 1968; ++x) CHECK((s.at(x, 20) >> 16U) < 0x60U);
}

TEST_CASE("what is clipped stays within its clip; dashes leave paper between them") {
    Group group{.clipped = true, .clip = {0.0, 0.0, 20.0, 20.0}};
    group.items.emplace_back(rectangle({0.0, 0.0, 40.0, 20.0}, Ink::accent));
    std::vector<Item> items;
    add(items, std::move(group));
    items.emplace_back(Line{{20.0, 10.0}, {40.0, 10.0}, {.ink = Ink::ink, .width = 4.0, .dash = {4.0, 4.0}}});
    const auto s = seen(sheet_of(std::move(items)));
    CHECK(s.at(19, 5) == 0xb4531f);
    CHECK(s.at(20, 5) == 0xfbfaf7);
    CHECK(s.at(22, 10) == 0x23272b);
    CHECK(s.at(26, 10) == 0xfbfaf7);
    CHECK(s.at(30, 10) == 0x23272b);
}

TEST_CASE("an image fills its box, rows and columns as they are") {
    const std::vector<std::uint8_t> pixels{0, 255, 128, 64};
    auto bytes = png(2, 2, pixels, viridis);
    REQUIRE(bytes);
    const auto s = seen(sheet_of({Image{.box = {10.0, 4.0, 20.0, 12.0}, .png = *bytes}}));
    CHECK(s.at(10, 4) == viridis[0]);
    CHECK(s.at(29, 4) == viridis[255]);
    CHECK(s.at(19, 15) == viridis[128]);
    CHECK(s.at(20, 10) == viridis[64]);
    CHECK(s.at(30, 4) == 0xfbfaf7);
    CHECK_FALSE(picture(sheet_of({Image{.box = {0, 0, 5, 5}, .png = "not a picture"}})));
}

TEST_CASE("text is drawn in our own face, where its anchor says, as wide as it is measured") {
    const std::string words = "March 1/2";
    const double width = width_of(words, Font::body, 20.0);
    CHECK(width > 60.0);
    CHECK(width < 120.0);
    for (const Anchor anchor : {Anchor::start, Anchor::middle, Anchor::end}) {
        const auto s = seen(sheet_of(
            {Text{.at = {100.0, 30.0}, .text = words, .anchor = anchor, .size = 20.0}}, 240.0, 40.0));
        int first = 1000, last = -1;
        for (int x = 0; x < s.width; ++x) {
            for (int y = 0; y < s.height; ++y) {
                if ((s.at(x, y) >> 16U) < 0x80U) {
                    first = std::min(first, x);
                    last = std::max(last, x);
                }
            }
        }
        const double left = anchor == Anchor::start    ? 100.0
                            : anchor == Anchor::middle ? 100.0 - width / 2.0
                                                       : 100.0 - width;
        CHECK(first >= left - 1.0);
        CHECK(first <= left + 4.0);
        CHECK(last <= left + width + 1.0);
        CHECK(last >= left + width - 4.0);
    }
}

TEST_CASE("figures are as wide as each other, so that columns of them stand in line") {
    for (const Font font : {Font::figure, Font::condensed, Font::mono}) {
        for (const char* digit : {"1", "4", "7", "9"})
            CHECK(width_of(digit, font, 10.0) == doctest::Approx(width_of("0", font, 10.0)));
    }
}

TEST_CASE("a text is cut to its room at a letter, two bytes are one letter") {
    CHECK(fitted("osb", Font::body, 10.0, 100.0) == "osb");
    const auto cut =
        fitted("Gr\u00fc\u00dfe aus der D\u00e4mmung, lang und l\u00e4nger", Font::body, 10.0, 60.0);
    CHECK(cut.ends_with("\u2026"));
    CHECK(width_of(cut, Font::body, 10.0) <= 60.0);
    CHECK(width_of("\u00fc", Font::body, 10.0) ==
          doctest::Approx(width_of("u", Font::body, 10.0)).epsilon(0.02));
}

TEST_CASE("a sheet without size or beyond all screens is a Problem") {
    CHECK(picture(Sheet{}).error().code == Code::out_of_range);
    CHECK(picture(sheet_of({}, 1e6, 10.0)).error().code == Code::out_of_range);
}
