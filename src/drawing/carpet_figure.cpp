#include "drawing/carpet_figure.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "air/saturation.h"
#include "drawing/png.h"
#include "drawing/type.h"
#include "drawing/viridis.h"
#include "units/quantity.h"

namespace warmside::drawing {
namespace {

constexpr double name_width = 176.0, leader = 26.0, strip_width = 30.0, gap = 5.0, depth_width = 58.0,
                 bar_width = 12.0, bar_numbers = 40.0;
constexpr double name_size = 11.0, note_size = 10.5, tick_size = 9.5;
constexpr double thin = 8e-4;         // m: a sheet that rounds to no sixteenth of an inch has a name only
constexpr double mark_height = 17.0;  // above the carpet, for the words of the mark

/// Values, colours and figures of what a carpet shows.
struct Scale {
    const std::vector<float>* values = nullptr;
    const std::array<std::uint32_t, 256>* palette = nullptr;
    double least = 0.0, most = 1.0;  // in the unit of the values
    std::string unit, words;
    std::vector<std::pair<double, std::string>> ticks;  // value, figure
};

Scale scale_of(const moisture::Carpet& carpet, Field field, bool inch_pound_first) {
    if (field == Field::relative_humidity) {
        Scale out{.values = &carpet.relative_humidity,
                  .palette = &viridis,
                  .least = carpet_least,
                  .most = carpet_most,
                  .unit = "% RH",
                  .words = "relative humidity, 40 % dark to 100 % bright",
                  .ticks = {}};
        for (int percent = 40; percent <= 100; percent += 10)
            out.ticks.emplace_back(percent / 100.0, fmt::format("{}", percent));
        return out;
    }
    double least = std::numeric_limits<double>::infinity(), most = -least;
    for (const float v : carpet.temperature) {
        if (!std::isfinite(v)) continue;
        least = std::min(least, static_cast<double>(v));
        most = std::max(most, static_cast<double>(v));
    }
    if (!std::isfinite(least)) least = most = air::zero_celsius;
    least = air::zero_celsius + 5.0 * std::floor((least - air::zero_celsius) / 5.0);
    most = std::max(least + 5.0, air::zero_celsius + 5.0 * std::ceil((most - air::zero_celsius) / 5.0));
    Scale out{.values = &carpet.temperature,
              .palette = &inferno,
              .least = least,
              .most = most,
              .unit = inch_pound_first ? "\u00b0F" : "\u00b0C",
              .words = "temperature, cold dark to warm bright",
              .ticks = {}};
    const auto shown = [&](double kelvin) {
        return inch_pound_first ? units::fahrenheit(kelvin) : units::celsius(kelvin);
    };
    const double low = shown(least), high = shown(most);
    for (const double tick : round_ticks(low, high, 7))
        out.ticks.emplace_back(least + (tick - low) / (high - low) * (most - least),
                               fmt::format("{:g}", tick));
    return out;
}

Result<std::string> pixels_of(const moisture::Carpet& carpet, const Scale& scale) {
    const auto columns = static_cast<std::size_t>(std::max(carpet.columns, 0)),
               rows = static_cast<std::size_t>(std::max(carpet.rows, 0));
    if (columns == 0 || rows == 0 || scale.values->size() != columns * rows) {
        return fail(Code::out_of_range, fmt::format("a carpet of {} columns and {} rows has {} values",
                                                    carpet.columns, carpet.rows, scale.values->size()));
    }
    std::vector<std::uint8_t> pixels(columns * rows);
    for (std::size_t column = 0; column < columns; ++column) {
        for (std::size_t row = 0; row < rows; ++row)
            pixels[(rows - 1 - row) * columns + column] = viridis_index(
                static_cast<double>((*scale.values)[column * rows + row]), scale.least, scale.most);
    }
    return png(carpet.columns, carpet.rows, pixels, *scale.palette);
}

/// Names of all layers and sheets left of the strip, each as near to its place as the others allow.
void draw_names(std::vector<Item>& items, const assembly::Assembly& assembly, moisture::Path path,
                const Box& band, bool inch_pound_first) {
    struct Name {
        double y;
        std::string words, size;
        Ink ink;
    };
    std::vector<Name> names;
    double depth = 0.0;
    for (std::size_t i = 0; i < assembly.layers.size(); ++i) {
        const auto& layer = assembly.layers[i];
        const double thickness = layer.thickness.metres();
        names.push_back({depth_y(assembly, band, depth + thickness / 2.0), layer_words(assembly, path, i),
                         thickness > thin ? length_words(thickness, inch_pound_first) : std::string(),
                         layer.airtight ? Ink::accent : Ink::ink});
        depth += thickness;
    }
    std::reverse(names.begin(), names.end());
    std::vector<double> wanted;
    for (const auto& name : names) wanted.push_back(name.y);
    const auto places = spread(wanted, 14.0, band.y + 3.0, band.bottom() - 3.0);
    Group group{.title = "layers", .part = "names"};
    for (std::size_t i = 0; i < names.size(); ++i) {
        const double right = band.x - leader;
        const double size =
            names[i].size.empty() ? 0.0 : width_of(names[i].size, Font::condensed, note_size) + 6.0;
        if (size > 0.0)
            group.items.emplace_back(Text{.at = {right, places[i] + 3.8},
                                          .text = names[i].size,
                                          .anchor = Anchor::end,
                                          .font = Font::condensed,
                                          .size = note_size,
                                          .ink = Ink::quiet});
        group.items.emplace_back(Text{.at = {right - size, places[i] + 3.8},
                                      .text = fitted(names[i].words, Font::body, name_size, right - size),
                                      .anchor = Anchor::end,
                                      .size = name_size,
                                      .ink = names[i].ink});
        group.items.emplace_back(Polygon{
            .points = {{right + 4.0, places[i]},
                       {right + 9.0, places[i]},
                       {band.x - 6.0, names[i].y},
                       {band.x, names[i].y}},
            .closed = false,
            .stroke = {.ink = names[i].ink == Ink::accent ? Ink::accent : Ink::hairline, .width = 0.7}});
    }
    add(items, std::move(group));
}

/// Depths from the inside, right of the carpet.
void draw_depths(std::vector<Item>& items, const assembly::Assembly& assembly, const Box& box,
                 bool inch_pound_first) {
    const double thickness = assembly.thickness().metres();
    const auto inch = units::parse("1 in", units::length);
    const double unit = inch_pound_first && inch ? *inch : 1e-3;
    Group group{.title = "depth from the inside", .part = "depth axis"};
    const auto ticks =
        round_ticks(0.0, thickness / unit, std::clamp(static_cast<int>(box.height / 55.0), 2, 8));
    for (std::size_t i = 0; i < ticks.size(); ++i) {
        const double y = depth_y(assembly, box, ticks[i] * unit);
        group.items.emplace_back(
            Line{{box.right(), y}, {box.right() + 3.5, y}, {.ink = Ink::quiet, .width = 0.6}});
        group.items.emplace_back(Text{.at = {box.right() + 6.5, y + 3.4},
                                      .text = fmt::format("{:g}{}", ticks[i],
                                                          i + 1 < ticks.size() ? ""
                                                          : inch_pound_first   ? " in"
                                                                               : " mm"),
                                      .font = Font::condensed,
                                      .size = tick_size,
                                      .ink = Ink::quiet});
    }
    add(items, std::move(group));
}

Result<void> draw_bar(std::vector<Item>& items, const Scale& scale, const Box& box) {
    std::array<std::uint8_t, 256> ramp{};
    std::iota(ramp.rbegin(), ramp.rend(), std::uint8_t{0});
    auto bar = png(1, 256, ramp, *scale.palette);
    if (!bar) return fail(bar.error());
    Group group{.title = scale.words, .part = "colours"};
    group.items.emplace_back(Image{.box = box, .png = std::move(*bar)});
    for (const auto& [value, figure] : scale.ticks) {
        const double y = box.bottom() - box.height * (value - scale.least) / (scale.most - scale.least);
        group.items.emplace_back(
            Line{{box.right(), y}, {box.right() + 3.5, y}, {.ink = Ink::quiet, .width = 0.6}});
        group.items.emplace_back(Text{.at = {box.right() + 6.5, y + 3.4},
                                      .text = figure,
                                      .font = Font::condensed,
                                      .size = tick_size,
                                      .ink = Ink::quiet});
    }
    group.items.emplace_back(Text{.at = {box.right(), box.y - 6.0},
                                  .text = scale.unit,
                                  .anchor = Anchor::middle,
                                  .font = Font::condensed,
                                  .size = note_size,
                                  .ink = Ink::quiet});
    add(items, std::move(group));
    return {};
}

void draw_mark(std::vector<Item>& items, const assembly::Assembly& assembly, const Box& box,
               const Mark& mark) {
    const Point at{box.x + box.width * std::clamp(mark.time, 0.0, 1.0), depth_y(assembly, box, mark.depth)};
    Group group{.title = mark.words, .part = "mark"};
    auto& out = group.items;
    out.emplace_back(Circle{.centre = at, .radius = 5.0, .stroke = {.ink = Ink::ink, .width = 3.0}});
    out.emplace_back(Circle{.centre = at, .radius = 5.0, .stroke = {.ink = Ink::paper, .width = 1.4}});
    const std::string words = fitted(mark.words, Font::condensed, note_size, box.width);
    const double half = width_of(words, Font::condensed, note_size) / 2.0;
    out.emplace_back(Line{{at.x, box.y - 5.0}, {at.x, box.y}, {.ink = Ink::ink, .width = 0.8}});
    out.emplace_back(
        Text{.at = {std::clamp(at.x, box.x + half, std::max(box.x + half, box.right() - half)), box.y - 7.5},
             .text = words,
             .anchor = Anchor::middle,
             .font = Font::condensed,
             .size = note_size});
    add(items, std::move(group));
}

}  // namespace

Result<Sheet> carpet_figure(const moisture::Carpet& carpet, const assembly::Assembly& assembly,
                            moisture::Path path, Field field, int start_hour, int hours,
                            const FigureFrame& frame, const std::optional<Mark>& mark,
                            const Caption& caption) {
    const Scale scale = scale_of(carpet, field, frame.inch_pound_first);
    auto picture = pixels_of(carpet, scale);
    if (!picture) return fail(picture.error());
    const double top = caption_height + mark_height;
    Sheet sheet{.width = frame.width, .height = top + frame.picture + 6.0 + time_axis_height, .root = {}};
    sheet.root.title = caption.title + ": " + scale.words;
    sheet.root.description = caption.line + ". Depth of the assembly up from the inside, time across.";
    auto& items = sheet.root.items;
    draw_caption(items, caption, frame.width);
    const Box band{name_width + leader, top, strip_width, frame.picture};
    const double left = band.right() + gap;
    const Box box{left, top, std::max(frame.width - left - depth_width - bar_width - bar_numbers, 60.0),
                  frame.picture};
    draw_names(items, assembly, path, band, frame.inch_pound_first);
    add(items, strip(assembly, path, band));
    items.emplace_back(Image{.box = box, .png = std::move(*picture)});
    draw_depths(items, assembly, box, frame.inch_pound_first);
    if (auto drawn = draw_bar(items, scale, {box.right() + depth_width, box.y, bar_width, box.height});
        !drawn)
        return fail(drawn.error());
    if (mark) draw_mark(items, assembly, box, *mark);
    draw_time_axis(items, {box.x, box.right(), start_hour, hours}, box.bottom() + 4.0);
    return sheet;
}

}  // namespace warmside::drawing
