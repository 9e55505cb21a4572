#include "drawing/plot.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "climate/year.h"
#include "drawing/type.h"
#include "moisture/measure.h"
#include "moisture/thresholds.h"

namespace warmside::drawing {
namespace {

constexpr double strip_left = 6.0, strip_width = 26.0, leader = 38.0, scale_width = 30.0, end_width = 172.0;
constexpr double wide = 700.0;    // a sheet from which names have all the room they want
constexpr double between = 17.0;  // panels
constexpr double small = 10.5;

double highest(std::span<const float> values) {
    double top = 0.0;
    for (const float v : values) {
        if (std::isfinite(v)) top = std::max(top, static_cast<double>(v));
    }
    return top;
}

std::string figure(double value, double top) {
    return fmt::format("{:.{}f}", value, top < 2.0 ? 2 : top < 100.0 ? 1 : 0);
}

/// One layer's picture: its box, and values up to `top` in it.
class Panel {
public:
    Panel(const LayerLine& line, const Box& box, const TimeAxis& axis) : line_(line), box_(box), axis_(axis) {
        const double values = std::max(highest(line.mean), highest(line.wettest));
        // A limit far above all values would flatten them: it is named at the edge then.
        top_ = values > 0.0 ? values * 1.06 : 1.0;
        if (line.watch > 0.0) top_ = std::max(top_, line.watch * 1.1);
        if (line.wet > 0.0 && values > 0.8 * line.watch) top_ = std::max(top_, line.wet * 1.06);
    }

    void draw(std::vector<Item>& items) {
        Group group{.title = line_.name + ", " + line_.unit, .part = "panel"};
        auto& out = group.items;
        scale(out);
        years(out);
        limits(out);
        const bool one = as_one();
        if (!one) curve(out, line_.mean, {.ink = Ink::quiet, .width = 0.8});
        curve(out, line_.wettest, {.ink = Ink::ink, .width = 1.1});
        if (line_.wet > 0.0) over(out);
        ends(out, one);
        add(items, std::move(group));
    }

private:
    [[nodiscard]] double y(double value) const {
        return box_.bottom() - box_.height * std::clamp(value / top_, 0.0, 1.0);
    }
    /// Both lines within the width of a pen: a thin layer.
    [[nodiscard]] bool as_one() const {
        for (std::size_t k = 0; k < std::min(line_.mean.size(), line_.wettest.size()); ++k) {
            if (static_cast<double>(std::abs(line_.wettest[k] - line_.mean[k])) > 0.03 * top_) return false;
        }
        return line_.mean.size() == line_.wettest.size();
    }
    [[nodiscard]] double x(std::size_t k, std::size_t count) const {
        return axis_.x((static_cast<double>(k) + 0.5) * axis_.hours / static_cast<double>(count));
    }

    void scale(std::vector<Item>& out) const {
        out.emplace_back(
            Line{{box_.x, box_.bottom()}, {box_.right(), box_.bottom()}, {.ink = Ink::quiet, .width = 0.6}});
        for (const double tick : round_ticks(0.0, top_, 3)) {
            if (tick > 0.0)
                out.emplace_back(
                    Line{{box_.x, y(tick)}, {box_.right(), y(tick)}, {.ink = Ink::hairline, .width = 0.4}});
            out.emplace_back(Text{.at = {box_.x - 5.0, y(tick) + 3.4},
                                  .text = fmt::format("{:g}", tick),
                                  .anchor = Anchor::end,
                                  .font = Font::condensed,
                                  .size = 9.5,
                                  .ink = Ink::quiet});
        }
    }

    void years(std::vector<Item>& out) const {
        for (int hour = climate::hours_in_year; hour < axis_.hours; hour += climate::hours_in_year)
            out.emplace_back(Line{{axis_.x(hour), box_.y},
                                  {axis_.x(hour), box_.bottom()},
                                  {.ink = Ink::hairline, .width = 0.6}});
    }

    void limits(std::vector<Item>& out) const {
        for (const double limit : {line_.watch, line_.wet}) {
            if (limit <= 0.0 || limit > top_) continue;
            out.emplace_back(Line{{box_.x, y(limit)},
                                  {box_.right(), y(limit)},
                                  {.ink = Ink::accent, .width = 0.7, .dash = {4.0, 3.0}}});
        }
    }

    void curve(std::vector<Item>& out, const std::vector<float>& values, const Stroke& stroke) const {
        Polygon piece{.closed = false, .stroke = stroke};
        const auto flush = [&] {
            if (piece.points.size() > 1) out.emplace_back(piece);
            piece.points.clear();
        };
        for (std::size_t k = 0; k < values.size(); ++k) {
            if (std::isfinite(values[k])) {
                piece.points.push_back({x(k, values.size()), y(static_cast<double>(values[k]))});
            } else {
                flush();
            }
        }
        flush();
    }

    /// The same line in accent, cut off below the wet limit.
    void over(std::vector<Item>& out) const {
        if (highest(line_.wettest) <= line_.wet) return;
        Group part{.title = "beyond the limit", .part = "over", .clipped = true, .clip = box_};
        part.clip.height = y(line_.wet) - box_.y;
        curve(part.items, line_.wettest, {.ink = Ink::accent, .width = 1.6});
        add(out, std::move(part));
    }

    /// What the lines are, beside their ends; limits too.
    void ends(std::vector<Item>& out, bool one) const {
        struct Label {
            double y;
            std::string words;
            Ink ink;
        };
        std::vector<Label> labels;
        const auto last = [&](const std::vector<float>& values) {
            for (auto v = values.rbegin(); v != values.rend(); ++v) {
                if (std::isfinite(*v)) return static_cast<double>(*v);
            }
            return 0.0;
        };
        const double top = highest(line_.wettest);
        const auto line = [&](const char* words, const std::vector<float>& values, Ink ink) {
            const double most = highest(values);
            labels.push_back({y(last(values)), fmt::format("{}, peak {}", words, figure(most, top)), ink});
        };
        const bool any =
            std::any_of(line_.wettest.begin(), line_.wettest.end(), [](float v) { return std::isfinite(v); });
        if (any) line(one ? "wettest 10 mm and mean" : "wettest 10 mm", line_.wettest, Ink::ink);
        if (any && !one) line("mean", line_.mean, Ink::quiet);
        if (!any) labels.push_back({box_.y + box_.height / 2.0, "no values", Ink::quiet});
        const auto limit = [&](const char* words, double value) {
            if (value > 0.0 && value <= top_)
                labels.push_back({y(value), fmt::format("{} {:g}", words, value), Ink::accent});
        };
        limit("dry ends at", line_.watch);
        limit("wet begins at", line_.wet);
        std::stable_sort(labels.begin(), labels.end(),
                         [](const Label& a, const Label& b) { return a.y < b.y; });
        std::vector<double> wanted;
        for (const auto& label : labels) wanted.push_back(label.y);
        const auto places = spread(wanted, 11.0, box_.y - 2.0, box_.bottom() + 1.0);
        for (std::size_t i = 0; i < labels.size(); ++i) {
            const Stroke hair{.ink = Ink::hairline, .width = 0.5};
            out.emplace_back(Line{{box_.right() + 1.5, labels[i].y}, {box_.right() + 8.0, places[i]}, hair});
            out.emplace_back(Text{.at = {box_.right() + 11.0, places[i] + 3.5},
                                  .text = labels[i].words,
                                  .font = Font::condensed,
                                  .size = small,
                                  .ink = labels[i].ink});
        }
    }

    const LayerLine& line_;
    Box box_;
    const TimeAxis& axis_;
    double top_ = 1.0;
};

double middle_of(const assembly::Assembly& assembly, std::size_t layer) {
    double depth = 0.0;
    for (std::size_t i = 0; i < layer && i < assembly.layers.size(); ++i)
        depth += assembly.layers[i].thickness.metres();
    return depth + (layer < assembly.layers.size() ? assembly.layers[layer].thickness.metres() / 2.0 : 0.0);
}

}  // namespace

std::vector<LayerLine> layer_lines(const assembly::Assembly& assembly, moisture::Path path,
                                   std::span<const moisture::LayerMoisture> layers) {
    std::vector<LayerLine> out;
    const auto wood = moisture::wood_on(assembly, path);
    const auto& limits = moisture::built_in_thresholds();
    for (const auto& layer : layers) {
        if (layer.layer >= assembly.layers.size()) continue;
        LayerLine line{.layer = layer.layer,
                       .name = layer_words(assembly, path, layer.layer),
                       .unit = "kg/m\u00b3",
                       .mean = layer.moisture,
                       .wettest = layer.wettest};
        if (const auto* m = wood[layer.layer]; m && m->density > 0.0) {
            line.unit = "% of dry mass";
            for (auto* values : {&line.mean, &line.wettest}) {
                for (float& v : *values) v *= static_cast<float>(100.0 / m->density);
            }
            if (limits) {
                line.watch = 100.0 * limits->wood_moisture.watch;
                line.wet = 100.0 * limits->wood_moisture.wet;
            }
        }
        out.push_back(std::move(line));
    }
    std::stable_sort(out.begin(), out.end(), [](const auto& a, const auto& b) { return a.layer > b.layer; });
    return out;
}

void draw_caption(std::vector<Item>& items, const Caption& caption, double width) {
    const double word = caption.word.empty() ? 0.0 : width_of(caption.word, Font::strong, 15.0) + 16.0;
    items.emplace_back(Text{.at = {0.0, 16.0},
                            .text = fitted(caption.title, Font::strong, 15.0, width - word),
                            .font = Font::strong,
                            .size = 15.0});
    items.emplace_back(Text{.at = {0.0, 32.0},
                            .text = fitted(caption.line, Font::body, 11.0, width),
                            .size = 11.0,
                            .ink = Ink::quiet});
    if (word > 0.0)
        items.emplace_back(Text{.at = {width, 16.0},
                                .text = caption.word,
                                .anchor = Anchor::end,
                                .font = Font::strong,
                                .size = 15.0,
                                .ink = caption.accent ? Ink::accent : Ink::ink});
}

Sheet layer_plot(const assembly::Assembly& assembly, moisture::Path path, std::span<const LayerLine> lines,
                 int start_hour, int hours, const PlotFrame& frame, const Caption& caption) {
    const auto count = static_cast<double>(lines.size());
    const double top = caption_height + 4.0,
                 height = std::max(count * (frame.panel + between) - between, frame.panel);
    Sheet sheet{.width = frame.width, .height = top + height + 6.0 + time_axis_height, .root = {}};
    sheet.root.title = caption.title + ": moisture of each layer";
    sheet.root.description = caption.line + ". Each layer over the run, the inside at the bottom.";
    auto& items = sheet.root.items;
    draw_caption(items, caption, frame.width);
    const Box band{strip_left, top, strip_width, height};
    add(items, strip(assembly, path, band));
    const double name_width = frame.width < wide ? 116.0 : 150.0;
    const double names = band.right() + leader, left = names + name_width + scale_width;
    const TimeAxis axis{left, std::max(frame.width - end_width, left + 60.0), start_hour, hours};
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const Box box{left, top + static_cast<double>(i) * (frame.panel + between), axis.right - left,
                      frame.panel};
        const double from = depth_y(assembly, band, middle_of(assembly, lines[i].layer)),
                     to = box.y + box.height / 2.0;
        items.emplace_back(
            Polygon{.points = {{band.right() + 2.0, from}, {names - 12.0, to}, {names - 4.0, to}},
                    .closed = false,
                    .stroke = {.ink = Ink::hairline, .width = 0.8}});
        items.emplace_back(Text{.at = {names, to - 1.0},
                                .text = fitted(lines[i].name, Font::body, 11.5, name_width),
                                .size = 11.5});
        const double thick = assembly.layers[lines[i].layer].thickness.metres();
        items.emplace_back(
            Text{.at = {names, to + 12.5},
                 .text = fitted(length_words(thick, frame.inch_pound_first) + "; " + lines[i].unit,
                                Font::condensed, small, name_width),
                 .font = Font::condensed,
                 .size = small,
                 .ink = Ink::quiet});
        Panel(lines[i], box, axis).draw(items);
    }
    draw_time_axis(items, axis, top + height + 4.0);
    return sheet;
}

}  // namespace warmside::drawing
