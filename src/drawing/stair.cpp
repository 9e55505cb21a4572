#include "drawing/stair.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "units/quantity.h"

namespace warmside::drawing {
namespace {

constexpr double unseen = 1e-9;  // m2 K/W: a tread that changes nothing

/// A tread that is drawn.
struct Step {
    double change = 0.0, after = 0.0;  // m2 K/W
    const std::string* words = nullptr;
};

std::vector<Step> steps_of(const thermal::Worth& worth) {
    std::vector<Step> out;
    for (const auto& tread : worth.stair) {
        const double change = tread.r_change.value_or(0.0);
        if (tread.name != "label" && std::abs(change) > unseen)
            out.push_back({change, tread.r_after, &tread.words});
    }
    return out;
}

}  // namespace

double highest(const thermal::Worth& worth) {
    double top = worth.label_r;
    for (const auto& step : steps_of(worth)) top = std::max({top, step.after, step.after - step.change});
    return top;
}

Sheet stair(const thermal::Worth& worth, const StairFrame& frame, bool inch_pound_first) {
    Sheet sheet{
        .width = frame.width, .height = frame.height, .root = {.title = "R stair", .description = {}}};
    auto& items = sheet.root.items;
    const double base = frame.height - 2.0, room = base - 14.0;
    const double scale = frame.highest > 0.0 ? room / frame.highest : 0.0;
    const auto shown = steps_of(worth);
    const double bar = 20.0, gap = 2.0;
    const double step =
        shown.empty()
            ? 0.0
            : std::max((frame.width - 2.0 * bar - gap * 2.0) / static_cast<double>(shown.size()), 4.0);
    const auto show = [&](double r) {
        return fmt::format("{:.{}f}", inch_pound_first ? units::ip_r(r) : r, inch_pound_first ? 0 : 1);
    };

    const double label_height = worth.label_r * scale;
    items.emplace_back(rectangle({0.0, base - label_height, bar, label_height}, Ink::pale));
    items.emplace_back(Text{.at = {bar / 2.0, base - label_height - 4.0},
                            .text = show(worth.label_r),
                            .anchor = Anchor::middle,
                            .font = Font::condensed,
                            .size = 11.5,
                            .ink = Ink::quiet});
    double x = bar + gap, level = worth.label_r;
    for (const auto& tread : shown) {
        const bool up = tread.change > 0.0;
        const double from = base - level * scale, to = base - tread.after * scale;
        const Box box{x + 0.4, std::min(from, to), step - 0.8, std::max(std::abs(to - from), 1.0)};
        Group group{.title = *tread.words, .part = up ? "tread up" : "tread down"};
        group.items.emplace_back(up ? rectangle(box, Ink::paper, {.ink = Ink::quiet, .width = 0.8})
                                    : rectangle(box, Ink::accent));
        add(items, std::move(group));
        level = tread.after;
        x += step;
        sheet.root.description += *tread.words + ". ";
    }
    items.emplace_back(rectangle({frame.width - bar, base - level * scale, bar, level * scale}, Ink::ink));
    items.emplace_back(Line{{0.0, base + 0.4}, {frame.width, base + 0.4}, {.ink = Ink::quiet, .width = 0.8}});
    sheet.root.title = fmt::format("R stair from label R {} to {}", show(worth.label_r), show(level));
    return sheet;
}

}  // namespace warmside::drawing
