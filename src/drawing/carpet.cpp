#include "drawing/carpet.h"

#include <fmt/format.h>

#include <algorithm>

#include "drawing/png.h"
#include "drawing/viridis.h"

namespace warmside::drawing {
namespace {

constexpr double edge = carpet_edge;
constexpr double foot = 17.0;  // below it, for the years

/// Depth that the rows cover: they are cells, and `depth` holds their centres.
double covered(const moisture::Carpet& carpet, double thickness) {
    const auto n = carpet.depth.size();
    if (n < 2) return thickness;
    const auto last = static_cast<double>(carpet.depth[n - 1]),
               before = static_cast<double>(carpet.depth[n - 2]);
    return last + (last - before) / 2.0;
}

void axes(std::vector<Item>& items, const assembly::Assembly& a, const CarpetFrame& frame, double depth) {
    const double bottom = frame.picture;
    if (depth <= 0.0) return;
    double at = 0.0;
    for (const auto& layer : a.layers) {
        const double y = bottom - at / depth * frame.picture;
        if (y < -0.01) break;
        const bool airtight = layer.airtight;
        items.emplace_back(Line{{airtight ? 0.0 : 1.5, y},
                                {edge, y},
                                {.ink = airtight ? Ink::accent : Ink::quiet, .width = airtight ? 1.6 : 0.6}});
        at += layer.thickness.metres();
    }
    for (int year = 0; frame.years > 0 && year <= frame.years; ++year) {
        const double x = edge + (frame.width - edge) * year / frame.years;
        items.emplace_back(Line{{x, bottom}, {x, bottom + 3.5}, {.ink = Ink::quiet, .width = 0.6}});
        if (year < frame.years) {
            items.emplace_back(Text{.at = {x + (frame.width - edge) / frame.years / 2.0, bottom + 13.0},
                                    .text = fmt::format("year {}", year + 1),
                                    .anchor = Anchor::middle,
                                    .font = Font::condensed,
                                    .size = 10.5,
                                    .ink = Ink::quiet});
        }
    }
}

}  // namespace

Result<std::vector<std::uint8_t>> carpet_pixels(const moisture::Carpet& carpet) {
    const auto columns = static_cast<std::size_t>(std::max(carpet.columns, 0)),
               rows = static_cast<std::size_t>(std::max(carpet.rows, 0));
    if (columns == 0 || rows == 0 || carpet.relative_humidity.size() != columns * rows) {
        return fail(Code::out_of_range,
                    fmt::format("a carpet of {} columns and {} rows has {} values", carpet.columns,
                                carpet.rows, carpet.relative_humidity.size()));
    }
    std::vector<std::uint8_t> pixels(columns * rows);
    for (std::size_t column = 0; column < columns; ++column) {
        for (std::size_t row = 0; row < rows; ++row) {
            pixels[(rows - 1 - row) * columns + column] =
                viridis_index(static_cast<double>(carpet.relative_humidity[column * rows + row]),
                              carpet_least, carpet_most);
        }
    }
    return pixels;
}

Result<Sheet> carpet(const moisture::Carpet& carpet, const assembly::Assembly& assembly,
                     const CarpetFrame& frame, const std::optional<Mark>& mark, const std::string& title) {
    const auto pixels = carpet_pixels(carpet);
    if (!pixels) return fail(pixels.error());
    auto picture = png(carpet.columns, carpet.rows, *pixels, viridis);
    if (!picture) return fail(picture.error());
    const double depth = covered(carpet, assembly.thickness().metres());
    Sheet sheet{
        .width = frame.width, .height = frame.picture + foot, .root = {.title = title, .description = {}}};
    sheet.root.description =
        "Relative humidity, 40 % dark to 100 % bright; depth of the assembly up from the inside, time "
        "across.";
    auto& items = sheet.root.items;
    items.emplace_back(
        Image{.box = {edge, 0.0, frame.width - edge, frame.picture}, .png = std::move(*picture)});
    axes(items, assembly, frame, depth);
    if (mark && depth > 0.0) {
        const Point at{edge + (frame.width - edge) * std::clamp(mark->time, 0.0, 1.0),
                       frame.picture * (1.0 - std::clamp(mark->depth / depth, 0.0, 1.0))};
        Group ring{.title = mark->words, .part = "mark"};
        ring.items.emplace_back(
            Circle{.centre = at, .radius = 3.4, .stroke = {.ink = Ink::ink, .width = 2.2}});
        ring.items.emplace_back(
            Circle{.centre = at, .radius = 3.4, .stroke = {.ink = Ink::paper, .width = 1.0}});
        add(items, std::move(ring));
    }
    return sheet;
}

Sheet empty_carpet(const assembly::Assembly& assembly, const CarpetFrame& frame, const std::string& title) {
    Sheet sheet{
        .width = frame.width, .height = frame.picture + foot, .root = {.title = title, .description = {}}};
    sheet.root.items.emplace_back(rectangle({edge, 0.0, frame.width - edge, frame.picture}, Ink::none,
                                            {.ink = Ink::hairline, .width = 0.6}));
    axes(sheet.root.items, assembly, frame, assembly.thickness().metres());
    return sheet;
}

}  // namespace warmside::drawing
